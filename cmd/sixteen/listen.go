package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"

	"golang.org/x/net/netutil"

	"sixteen/shelf"
	"sixteen/web"
)

// listenFlags say where pages are served, and how others than this machine reach them.
type listenFlags struct {
	Listen      string   `help:"Address to listen on. Other addresses than loopback need users with passwords (sixteen user add) and a certificate." default:"127.0.0.1:0" placeholder:"ADDR"`
	Host        []string `help:"A name that the server answers to, besides those of this machine." placeholder:"NAME"`
	TLSCert     string   `name:"tls-cert" help:"File with the certificate and its chain (PEM)." type:"existingfile" placeholder:"FILE"`
	TLSKey      string   `name:"tls-key" help:"File with the certificate's private key (PEM)." type:"existingfile" placeholder:"FILE"`
	BehindProxy bool     `name:"behind-proxy" help:"A proxy of yours stands before the server, ends the encryption, and writes the caller's address as the last in X-Forwarded-For."`
}

// entry is how a server is entered: its guard, and whether readers come by https.
type entry struct {
	guard interface {
		web.Guard
		web.Entrance
	}
	https  bool
	beyond bool // machines besides this one reach it
}

// entry checks the flags against the users of the shelf. It fails with what to do.
func (f listenFlags) entry(ctx context.Context, s *shelf.Shelf, log *slog.Logger) (entry, error) {
	host, _, err := net.SplitHostPort(f.Listen)
	if err != nil {
		return entry{}, fmt.Errorf("%q is no address to listen on (%w): write host:port, such as 127.0.0.1:8016", f.Listen, err)
	}
	ip := net.ParseIP(host)
	beyond := host != "localhost" && (ip == nil || !ip.IsLoopback())
	users, err := s.Users(ctx)
	if err != nil {
		return entry{}, err
	}
	manages := slices.ContainsFunc(users, func(u shelf.User) bool { return u.Role == shelf.MayManage })
	switch {
	case (f.TLSCert == "") != (f.TLSKey == ""):
		return entry{}, errors.New("a certificate needs its key: give both --tls-cert and --tls-key")
	case f.BehindProxy && f.TLSCert != "":
		return entry{}, errors.New("behind a proxy the proxy has the certificate: leave out --tls-cert and --tls-key, or --behind-proxy")
	case (beyond || f.BehindProxy) && !manages:
		return entry{}, fmt.Errorf("%s can be reached from other machines, and the shelf has no user who may manage it: open the first account with 'sixteen user add NAME --role manage', or listen on 127.0.0.1", f.Listen)
	case beyond && f.TLSCert == "" && !f.BehindProxy:
		return entry{}, fmt.Errorf("on %s passwords would pass through the network for everybody to read: give --tls-cert and --tls-key, or put a proxy with a certificate before the server and give --behind-proxy", f.Listen)
	case f.BehindProxy && len(f.Host) == 0:
		return entry{}, errors.New("behind a proxy the server has to know the name it is called by: give it with --host, and let the proxy pass the Host header on")
	}
	out := entry{https: f.TLSCert != "" || f.BehindProxy, beyond: beyond || f.BehindProxy}
	if len(users) == 0 {
		out.guard = web.Alone{Account: account()}
		return out, nil
	}
	out.guard = web.NewAccounts(s, web.AccountsOptions{HTTPS: out.https, Proxied: f.BehindProxy, Log: log})
	return out, nil
}

// Limits of the server. A request's header has to arrive within headerTime and be smaller than headerBytes; uploads get
// longer. connections bounds how many are open at once.
const (
	headerTime  = 10 * time.Second
	headerBytes = 32 << 10
	bodyTime    = 15 * time.Minute
	answerTime  = 30 * time.Minute // from the header on, so with the body's
	idleTime    = 2 * time.Minute
	connections = 1000
)

// server is the HTTP server of the pages.
func server(ctx context.Context, pages http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           oneAtATime(pages),
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       bodyTime,
		WriteTimeout:      answerTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    headerBytes,
		TLSConfig:         &tls.Config{MinVersion: tls.VersionTLS12},
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelError),
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
}

// oneAtATime ends the connection after a request whose body comes in chunks. Such a request may have named a length as
// well, which nobody sees any more, and a proxy that went by the length would take what follows for another request
// (RFC 9112 §6.1 wants the connection closed then).
func oneAtATime(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if len(r.TransferEncoding) > 0 {
			w.Header().Set("Connection", "close")
		}
		next.ServeHTTP(w, r)
	})
}

// serve answers until ctx ends, then lets running answers finish.
func (a *app) serve(ctx context.Context, io streams, f listenFlags) error {
	e, err := f.entry(ctx, a.shelf, a.log)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", f.Listen)
	if err != nil {
		return fmt.Errorf("%s cannot be listened on (%w): choose another port with --listen, or leave it out", f.Listen, err)
	}
	listener = netutil.LimitListener(listener, connections)
	h := server(ctx, a.pages(e, f.Host), a.log)
	where, _ := a.shelf.Where()
	fmt.Fprintf(io.out, "Shelf: %s\nPages: %s\n", where, e.words(listener.Addr(), f))
	done := make(chan error, 1)
	go func() {
		if f.TLSCert != "" {
			done <- h.ServeTLS(listener, f.TLSCert, f.TLSKey)
			return
		}
		done <- h.Serve(listener)
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 3*time.Second)
	defer cancel()
	if err := h.Shutdown(grace); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}

// words say where the pages are and who can open them.
func (e entry) words(at net.Addr, f listenFlags) string {
	scheme, host := "http", at.String()
	if e.https {
		scheme = "https"
	}
	if len(f.Host) > 0 {
		if _, port, err := net.SplitHostPort(host); err == nil && !f.BehindProxy {
			host = net.JoinHostPort(f.Host[0], port)
		} else {
			host = f.Host[0]
		}
	}
	who := "only this machine can open them"
	if e.beyond {
		who = "users of the shelf sign in"
	} else if _, signs := e.guard.(*web.Accounts); signs {
		who = "only this machine can open them; users of the shelf sign in"
	}
	return fmt.Sprintf("%s://%s/   (%s; Ctrl-C ends)", scheme, strings.TrimSuffix(host, "/"), who)
}
