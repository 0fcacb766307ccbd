package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/web"
)

type demoCommand struct {
	address
	Dir     string `help:"Folder to write the workshop into; a temporary one when not given." type:"path"`
	NoServe bool   `help:"Print the judgements and end, without serving pages."`
}

// Run writes the demo workshop, judges its sheets one after another and serves the pages.
func (c *demoCommand) Run(ctx context.Context, io streams) error {
	dir := c.Dir
	if dir == "" {
		var err error
		if dir, err = os.MkdirTemp("", "sixteen-demo-"); err != nil {
			return err
		}
	}
	fmt.Fprintf(io.out, "The demo workshop is written to %s.\nEverything in it is invented; its README.md tells which faults were planted.\n", dir)
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	if err := demo.Write(dir); err != nil {
		return err
	}
	server := web.NewServer(desk)
	for _, item := range demo.Described().Products {
		file := item.Sheet
		j, data, err := judgeFile(ctx, desk, filepath.Join(dir, file), judge.Request{})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
			continue
		}
		p := &printer{w: io.out}
		printJudgement(p, j, false)
		if p.err != nil {
			return p.err
		}
		if err := server.AddJudged(filepath.Base(file), data, j); err != nil {
			return err
		}
	}
	if c.NoServe {
		return nil
	}
	return serve(ctx, io, server, c.address)
}
