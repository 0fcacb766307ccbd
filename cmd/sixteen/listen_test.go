package main

import (
	"bufio"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// raw starts the server of the pages and returns a way to talk to it byte by byte.
func raw(t *testing.T, change func(*http.Server)) func(text string) string {
	t.Helper()
	seen := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, _ := io.ReadAll(r.Body)
		fmt.Fprintf(w, "saw %s %s %q", r.Method, r.URL.Path, body)
	})
	h := server(t.Context(), seen, slog.New(slog.DiscardHandler))
	if h.ReadHeaderTimeout == 0 || h.ReadTimeout == 0 || h.WriteTimeout == 0 || h.IdleTimeout == 0 || h.MaxHeaderBytes > 64<<10 {
		t.Fatalf("the server has no limits: %+v", h)
	}
	if change != nil {
		change(h)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go h.Serve(listener)
	t.Cleanup(func() { h.Close() })
	return func(text string) string {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		conn.SetDeadline(time.Now().Add(5 * time.Second))
		go io.WriteString(conn, text)
		out, _ := io.ReadAll(bufio.NewReader(conn)) // until the server hangs up
		return string(out)
	}
}

// A header that never ends, or is too large, ends the connection.
func TestSlowAndLargeHeaders(t *testing.T) {
	talk := raw(t, func(h *http.Server) { h.ReadHeaderTimeout = 200 * time.Millisecond })
	began := time.Now()
	if out := talk("GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: "); strings.Contains(out, "saw") || time.Since(began) > 10*time.Second {
		t.Errorf("a header that never ends got %q after %v", out, time.Since(began))
	}
	large := raw(t, nil)
	if out := large("GET / HTTP/1.1\r\nHost: localhost\r\nX-Large: " + strings.Repeat("x", 128<<10) + "\r\n\r\n"); !strings.HasPrefix(out, "HTTP/1.1 431 ") {
		t.Errorf("a header of 128 KB got %.60q", out)
	}
	if out := large("GET / HTTP/1.1\r\nHost: localhost\r\n" + strings.Repeat("X-Many: x\r\n", 10_000) + "\r\n"); !strings.HasPrefix(out, "HTTP/1.1 431 ") {
		t.Errorf("ten thousand headers got %.60q", out)
	}
}

// Requests whose length is ambiguous are refused, or the connection ends after the first: no second request is smuggled in
// (RFC 9112 §6.1, §6.3, §11.2).
func TestNoSmuggledRequests(t *testing.T) {
	talk := raw(t, nil)
	const hidden = "GET /hidden HTTP/1.1\r\nHost: localhost\r\n\r\n"
	for name, request := range map[string]string{
		"length and chunks":         "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
		"two lengths":               "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\nContent-Length: 44\r\n\r\n",
		"a list of lengths":         "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0, 44\r\n\r\n",
		"a signed length":           "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: +0\r\n\r\n",
		"an unknown coding":         "POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: xchunked\r\n\r\n",
		"two codings":               "POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked, identity\r\n\r\n",
		"a blank before the colon":  "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length : 0\r\n\r\n",
		"a folded header":           "POST / HTTP/1.1\r\nHost: localhost\r\nX: a\r\n b\r\nTransfer-Encoding:\r\n chunked\r\nContent-Length: 3\r\n\r\n",
		"a chunk with bad length":   "POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n-1\r\n\r\n",
		"two hosts":                 "GET / HTTP/1.1\r\nHost: localhost\r\nHost: elsewhere.example\r\n\r\n",
		"no host":                   "GET / HTTP/1.1\r\n\r\n",
		"a NUL in a header's value": "GET / HTTP/1.1\r\nHost: localhost\r\nX: a\x00b\r\n\r\n",
	} {
		if out := talk(request + hidden); strings.Contains(out, "/hidden") {
			t.Errorf("%s lets a second request in: %q", name, out)
		}
	}
}
