package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os/user"
	"path/filepath"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

type serveCommand struct {
	Listen string   `help:"Address to listen on." default:"127.0.0.1:0" placeholder:"ADDR"`
	Files  []string `arg:"" optional:"" name:"file" help:"Sheets to put on the shelf first."`
}

// Run serves the pages of a shelf until interrupted.
func (c *serveCommand) Run(ctx context.Context, io streams) error {
	app, err := openApp(ctx, io, io.shelf)
	if err != nil {
		return err
	}
	defer app.close()
	for _, file := range c.Files {
		if err := app.add(ctx, file); err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
		}
	}
	return app.serve(ctx, io, c.Listen)
}

// app is what the pages need: the shelf, and the desk that reads and judges.
type app struct {
	shelf *shelf.Shelf
	desk  *judge.Desk
	log   *slog.Logger
}

// sharedDesk is the desk of the pages given to the queue, which does not close it.
type sharedDesk struct{ *judge.Desk }

// Close does nothing: the desk is closed by its owner.
func (sharedDesk) Close() error { return nil }

// openApp opens a shelf and begins to read what waits on it.
func openApp(ctx context.Context, io streams, o shelf.Options) (*app, error) {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return nil, err
	}
	log := slog.New(slog.NewTextHandler(io.err, &slog.HandlerOptions{Level: slog.LevelError}))
	o.Log = log
	o.Desk = func(context.Context) (shelf.Desk, error) { return sharedDesk{desk}, nil }
	s, err := shelf.Open(ctx, o)
	if err != nil {
		return nil, errors.Join(err, desk.Close())
	}
	if err := s.StartReading(ctx, 0); err != nil {
		return nil, errors.Join(err, s.Close(), desk.Close())
	}
	return &app{s, desk, log}, nil
}

func (a *app) close() { _ = errors.Join(a.shelf.Close(), a.desk.Close()) } // what was asked for is done; the shelf says itself what it left

func (a *app) add(ctx context.Context, file string) error {
	data, err := readFile(file)
	if err != nil {
		return err
	}
	_, err = a.shelf.AddDocument(ctx, account(), filepath.Base(file), data, "")
	return err
}

// account is the name of this account, kept with what is done on a server that only this machine can reach.
func account() string {
	u, err := user.Current()
	if err != nil {
		return "this account"
	}
	if u.Name != "" {
		return u.Name
	}
	return u.Username
}

// fillDemo fills a shelf with the demo workshop.
func fillDemo(ctx context.Context, s *shelf.Shelf, by string) error {
	dir, remove, err := demoFolder()
	if err != nil {
		return err
	}
	defer remove()
	if err := demo.Write(dir); err != nil {
		return err
	}
	return demo.Fill(ctx, s, by, dir)
}

// serve answers until ctx ends, then lets running answers finish. Only loopback is listened on without users.
func (a *app) serve(ctx context.Context, io streams, address string) error {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return fmt.Errorf("%q is no address to listen on (%w): write host:port, such as 127.0.0.1:8016", address, err)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("%s can be reached from other machines, which needs users with passwords: listen on 127.0.0.1", address)
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return fmt.Errorf("%s cannot be listened on (%w): choose another port with --listen, or leave it out", address, err)
	}
	pages := web.New(web.Options{Shelf: a.shelf, Desk: a.desk, Guard: web.Alone{Account: account()}, Demo: fillDemo, Log: a.log, Version: versionWords()})
	h := &http.Server{
		Handler:           pages.Handler(),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       15 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	where, _ := a.shelf.Where()
	fmt.Fprintf(io.out, "Shelf: %s\nPages: http://%s/   (only this machine can open them; Ctrl-C ends)\n", where, listener.Addr())
	done := make(chan error, 1)
	go func() { done <- h.Serve(listener) }()
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
