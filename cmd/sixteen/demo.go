package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
)

type demoCommand struct {
	Dir     string `help:"Folder to write the workshop and its shelf into; a temporary one when not given." type:"path"`
	Listen  string `help:"Address to listen on." default:"127.0.0.1:0" placeholder:"ADDR"`
	NoServe bool   `help:"Print the judgements and end, without a shelf and pages."`
}

// Run writes the demo workshop and shows it as pages on a shelf of its own, or prints the judgements of its sheets.
func (c *demoCommand) Run(ctx context.Context, io streams) error {
	dir := c.Dir
	if dir == "" {
		var err error
		if dir, err = os.MkdirTemp("", "sixteen-demo-"); err != nil {
			return err
		}
	}
	fmt.Fprintf(io.out, "The demo workshop is written to %s.\nEverything in it is invented; its README.md tells which faults were planted.\n", dir)
	if err := demo.Write(dir); err != nil {
		return err
	}
	if c.NoServe {
		return c.print(ctx, io, dir)
	}
	app, err := openApp(ctx, io, shelf.Options{URL: filepath.Join(dir, "shelf.sqlite")}, 0)
	if err != nil {
		return err
	}
	defer app.close()
	seq, err := app.shelf.Seq(ctx)
	if err != nil {
		return err
	}
	settings, err := app.shelf.Settings(ctx)
	if err != nil {
		return err
	}
	if seq == 0 || !settings.Demo {
		if err := demo.Fill(ctx, app.shelf, account(), dir); err != nil {
			return err
		}
	}
	return app.serve(ctx, io, listenFlags{Listen: c.Listen})
}

// print prints the judgement of every sheet.
func (c *demoCommand) print(ctx context.Context, io streams, dir string) error {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	for _, item := range demo.Described().Products {
		j, _, err := judgeFile(ctx, desk, filepath.Join(dir, item.Sheet), judge.Request{})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", item.Sheet, err)
			continue
		}
		p := &printer{w: io.out}
		printJudgement(p, j, false)
		if p.err != nil {
			return p.err
		}
	}
	return nil
}

// demoFolder is a temporary folder for the files of the demo.
func demoFolder() (dir string, remove func(), err error) {
	if dir, err = os.MkdirTemp("", "sixteen-demo-"); err != nil {
		return "", nil, err
	}
	return dir, func() { os.RemoveAll(dir) }, nil
}
