package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os/user"
	"path/filepath"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
	"sixteen/web/api"
)

type serveCommand struct {
	Where   listenFlags `embed:""`
	Readers int         `help:"Documents read at once; 0 for one per processor, --readers=-1 to leave reading to other processes (sixteen work)." default:"0"`
	Files   []string    `arg:"" optional:"" name:"file" help:"Sheets to put on the shelf first."`
}

// Run serves the pages of a shelf until interrupted.
func (c *serveCommand) Run(ctx context.Context, io streams) error {
	app, err := openApp(ctx, io, io.shelf, c.Readers)
	if err != nil {
		return err
	}
	defer app.close()
	for _, file := range c.Files {
		if err := app.add(ctx, file); err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
		}
	}
	return app.serve(ctx, io, c.Where)
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

// openApp opens a shelf and begins to read what waits on it, so many at once: 0 for one per processor, negative for none.
func openApp(ctx context.Context, io streams, o shelf.Options, readers int) (*app, error) {
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
	if readers >= 0 {
		if err := s.StartReading(ctx, readers); err != nil {
			return nil, errors.Join(err, s.Close(), desk.Close())
		}
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

// pages is the web application on the shelf, with the API of programs.
func (a *app) pages(e entry, hosts []string) http.Handler {
	pages := web.New(web.Options{Shelf: a.shelf, Desk: a.desk, Guard: e.guard, Hosts: hosts, HTTPS: e.https, Demo: fillDemo, Log: a.log, Version: versionWords()})
	pages.Mount("/api/", api.New(api.Options{App: pages, Shelf: a.shelf, Desk: a.desk, Entrance: e.guard}))
	return pages.Handler()
}
