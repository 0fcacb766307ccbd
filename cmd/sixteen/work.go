package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"sixteen/shelf"
)

// workCommand reads what waits on a shelf that several machines share.
type workCommand struct {
	Readers int  `help:"Documents read at once; 0 for one per processor." default:"0"`
	Once    bool `help:"End when nothing waits any more."`
}

// Run reads waiting documents until interrupted, or with Once until nothing waits. It fails for a negative number of readers
// and for what shelf.Open fails for.
func (c *workCommand) Run(ctx context.Context, io streams) error {
	if c.Readers < 0 {
		return errors.New("--readers: give how many documents to read at once, or 0 for one per processor")
	}
	o := io.shelf
	o.Log = slog.New(slog.NewTextHandler(io.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	s, err := shelf.Open(ctx, o)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.StartReading(ctx, c.Readers); err != nil {
		return err
	}
	fmt.Fprintln(io.err, "sixteen: reading what waits on the shelf; Ctrl-C ends, and what was begun is read by another process or at the next start")
	if !c.Once {
		<-ctx.Done()
		return nil
	}
	return untilRead(ctx, s)
}

// untilRead returns when nothing waits on the shelf and nothing is being read, by this process or another.
func untilRead(ctx context.Context, s *shelf.Shelf) error {
	look := time.NewTicker(250 * time.Millisecond)
	defer look.Stop()
	for {
		p, err := s.Progress(ctx)
		if err != nil {
			return err
		}
		if p.Waiting == 0 && len(p.Reading) == 0 {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-look.C:
		}
	}
}
