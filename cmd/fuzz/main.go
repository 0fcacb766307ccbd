// Command fuzz runs the fuzz targets of the module one after another, for as long as there is time, and keeps a ledger of
// the processor time each of them has had in all. The next run goes on with the target that has had the least, so that
// many short runs add up to a long one.
//
//	fuzz -for 30m              go on for half an hour (make fuzz-long)
//	fuzz -for 8h -goal 10m     until every target has had ten minutes of processor time
//	fuzz -for 0                only keep what was found (see below), run nothing
//
// Processor time is what the target's own processes took, user and system, as the kernel counts it; building is not in it.
// Inputs that reach statements which the target's own seeds do not reach are kept under the package's testdata/fuzz, at
// most 2 KB and 20 of a target, so that every run of the tests tries them. An input that fails is written there too, and
// the command ends with an error that names it.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"
)

func main() {
	var r run
	whole := flag.Duration("for", 30*time.Minute, "how long to go on")
	flag.DurationVar(&r.slice, "slice", 2*time.Minute, "how long one target runs at a time")
	flag.DurationVar(&r.goal, "goal", 10*time.Minute, "processor time after which a target is left alone")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := r.whole(ctx, ".", *whole); err != nil {
		fmt.Fprintln(os.Stderr, "fuzz:", err)
		os.Exit(1)
	}
}

// A run is what one call of the command does.
type run struct {
	slice, goal time.Duration
	root        string          // folder of the module
	work        string          // folder of the programs that are built
	cache       string          // folder of the inputs the Go fuzzer found interesting
	tried       map[string]bool // inputs of the cache that this run has looked at
}

// whole gives the targets of the module in root their turns until the time is over.
func (r *run) whole(ctx context.Context, root string, whole time.Duration) error {
	end := time.Now().Add(whole)
	r.root, r.tried = root, map[string]bool{}
	ledger, err := readLedger(filepath.Join(root, ledgerFile))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	targets, err := findTargets(root)
	if err != nil {
		return err
	}
	if len(targets) == 0 {
		return fmt.Errorf("no fuzz targets below %s: run it in the module's folder", root)
	}
	ledger = ledger.of(targets)
	if r.work, err = os.MkdirTemp("", "sixteen-fuzz-"); err != nil {
		return err
	}
	defer os.RemoveAll(r.work)
	if r.cache, err = fuzzCache(root); err != nil {
		return err
	}
	commit, err := commitOf(root)
	if err != nil {
		return err
	}

	var failed []error
	given := map[target]bool{}
	for time.Until(end) > 5*time.Second && ctx.Err() == nil {
		entry := ledger.least(r.goal, given)
		if entry == nil {
			break
		}
		spent, err := r.fuzz(ctx, entry.target, min(r.slice, time.Until(end)))
		entry.CPU += spent.cpu
		entry.Executions += spent.executions
		entry.Last, entry.Commit = time.Now().UTC().Format(time.DateOnly), commit
		if err != nil {
			failed = append(failed, err)
			given[entry.target] = true // a target that fails at once would be the least fuzzed for ever
			fmt.Fprintln(os.Stderr, "fuzz:", err)
		} else if entry.Kept, err = r.keep(ctx, entry.target); err != nil && ctx.Err() == nil {
			return err
		}
		fmt.Printf("%s %s: %.0f s of processor time, %d executions; %.0f s and %d in all, %d inputs kept\n", entry.Package, entry.Name, spent.cpu.Seconds(), spent.executions, entry.CPU.Seconds(), entry.Executions, entry.Kept)
		if err := ledger.write(filepath.Join(root, ledgerFile)); err != nil {
			return err
		}
	}
	if whole == 0 {
		for i := range ledger {
			if ledger[i].Kept, err = r.keep(ctx, ledger[i].target); err != nil {
				return err
			}
		}
		if err := ledger.write(filepath.Join(root, ledgerFile)); err != nil {
			return err
		}
	}
	return errors.Join(failed...)
}
