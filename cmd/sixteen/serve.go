package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"path/filepath"
	"time"

	"sixteen/web"
)

// address is where pages are served.
type address struct {
	Port int `help:"Port on this machine's loopback address; 0 takes a free one." default:"0"`
}

type serveCommand struct {
	address
	Files []string `arg:"" optional:"" name:"file" help:"Sheets to begin with."`
}

// Run serves the judgement pages until interrupted.
func (c *serveCommand) Run(ctx context.Context, io streams) error {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	server := web.NewServer(desk)
	server.Expect(len(c.Files))
	go addFiles(ctx, io, server, c.Files)
	return serve(ctx, io, server, c.address)
}

// addFiles puts the files on the bench one after another while pages are already served.
func addFiles(ctx context.Context, io streams, server *web.Server, files []string) {
	for _, file := range files {
		data, err := readFile(file)
		if err == nil {
			_, err = server.Add(ctx, filepath.Base(file), data)
		}
		server.Arrived()
		if ctx.Err() != nil {
			return
		}
		if err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
		}
	}
}

// serve answers on loopback until ctx ends, then lets running answers finish.
func serve(ctx context.Context, io streams, server *web.Server, at address) error {
	listener, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", at.Port))
	if err != nil {
		return fmt.Errorf("port %d cannot be used (%w): choose another with --port, or leave it out", at.Port, err)
	}
	h := &http.Server{
		Handler:           server.Handler(),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       5 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	fmt.Fprintf(io.out, "\nPages: http://%s/   (only this machine can open them; Ctrl-C ends)\n", listener.Addr())
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
