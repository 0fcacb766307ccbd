package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"

	"sixteen/demo"
)

// reading prints the reader's accuracy per field on generated sheets, by the same command that measures any folder.
func reading(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "sixteen-reading-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	const n = 320
	if err := demo.WriteGenerated(dir, demo.Generated{N: n, Seed: 11}); err != nil {
		return err
	}
	fmt.Printf("%d generated sheets, every layout and language:\n\n", n)
	cmd := exec.CommandContext(ctx, "go", "run", "./cmd/score", "sheets", dir)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	return cmd.Run()
}
