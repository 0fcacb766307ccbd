package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Inputs that are kept as files are few and small: they run with every test.
const (
	maxKept = 20
	maxSize = 2 << 10
	// maxTried bounds how many inputs are looked at after one turn; those are not looked at again in the same run.
	maxTried = 50
)

// spent is what one turn of a target took.
type spent struct {
	cpu        time.Duration
	executions int
}

// commitOf returns the short name of the commit that is checked out in dir.
func commitOf(dir string) (string, error) {
	out, err := output(dir, "git", "rev-parse", "--short=10", "HEAD")
	return strings.TrimSpace(out), err
}

// fuzzCache returns the folder in which the Go fuzzer keeps the interesting inputs of this module.
func fuzzCache(dir string) (string, error) {
	out, err := output(dir, "go", "env", "GOCACHE")
	return filepath.Join(strings.TrimSpace(out), "fuzz", "sixteen"), err
}

func output(dir, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return string(out), nil
}

// build returns the test program of a package, built once with the given flags.
func (r *run) build(ctx context.Context, pkg, kind string, flags ...string) (string, error) {
	program := filepath.Join(r.work, strings.ReplaceAll(pkg, "/", "-")+"."+kind)
	if _, err := os.Stat(program); err == nil {
		return program, nil
	}
	cmd := exec.CommandContext(ctx, "go", slices.Concat([]string{"test", "-c", "-o", program}, flags, []string{"./" + pkg})...)
	cmd.Dir = r.root
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("building the tests of %s: %w\n%s", pkg, err, out)
	}
	return program, nil
}

var executionsLine = regexp.MustCompile(`execs: (\d+)`)

// fuzz gives a target one turn of about the given length. An error is an input that fails, or a target that does not run.
func (r *run) fuzz(ctx context.Context, t target, length time.Duration) (spent, error) {
	program, err := r.build(ctx, t.Package, "fuzz", "-fuzz=^"+t.Name+"$")
	if err != nil {
		return spent{}, err
	}
	cmd := exec.CommandContext(ctx, program, "-test.run=^$", "-test.fuzz=^"+t.Name+"$", "-test.parallel=1",
		"-test.fuzztime="+length.Round(time.Second).String(), "-test.fuzzminimizetime=2s", "-test.fuzzcachedir="+filepath.Join(r.cache, filepath.FromSlash(t.Package)))
	cmd.Dir = filepath.Join(r.root, filepath.FromSlash(t.Package))
	cmd.Cancel = func() error { return cmd.Process.Signal(syscall.SIGINT) }
	cmd.WaitDelay = 20 * time.Second
	out, err := cmd.CombinedOutput()
	var s spent
	if cmd.ProcessState != nil {
		s.cpu = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	if all := executionsLine.FindAllSubmatch(out, -1); all != nil {
		s.executions, _ = strconv.Atoi(string(all[len(all)-1][1])) // the pattern has digits only
	}
	if err == nil || ctx.Err() != nil || outOfTime(out) {
		return s, nil
	}
	return s, fmt.Errorf("%s %s: %w\n%s", t.Package, t.Name, err, out)
}

// outOfTime tells a turn that ended while an interesting input was being shrunk: the Go fuzzer then fails with "context
// deadline exceeded" though nothing failed. A failing input is always written to a file, and said.
func outOfTime(out []byte) bool {
	return bytes.Contains(out, []byte("context deadline exceeded")) && !bytes.Contains(out, []byte("Failing input written"))
}

// keep copies the inputs that reach statements nothing else of the target reaches to testdata/fuzz, the smallest first, and
// returns how many lie there.
func (r *run) keep(ctx context.Context, t target) (int, error) {
	kept := filepath.Join(r.root, filepath.FromSlash(t.Package), "testdata", "fuzz", t.Name)
	have, err := os.ReadDir(kept)
	if err != nil && !os.IsNotExist(err) {
		return 0, err
	}
	found, err := smallInputs(filepath.Join(r.cache, filepath.FromSlash(t.Package), t.Name))
	if err != nil || len(found) == 0 || len(have) >= maxKept {
		return len(have), err
	}
	program, err := r.build(ctx, t.Package, "cover", "-cover", "-covermode=set", "-coverpkg=sixteen/...")
	if err != nil {
		return len(have), err
	}
	reached, err := r.reach(ctx, program, t, "")
	if err != nil {
		return len(have), err
	}
	n, tried := len(have), 0
	for _, path := range found {
		name := filepath.Base(path)
		if n >= maxKept || tried >= maxTried || ctx.Err() != nil {
			break
		}
		if r.tried[path] {
			continue
		}
		r.tried[path] = true
		tried++
		to := filepath.Join(kept, name)
		if _, err := os.Stat(to); err == nil {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return n, err
		}
		if err := os.MkdirAll(kept, 0o755); err != nil {
			return n, err
		}
		if err := os.WriteFile(to, data, 0o644); err != nil {
			return n, err
		}
		its, err := r.reach(ctx, program, t, name)
		if err != nil || !grow(reached, its) {
			if err := os.Remove(to); err != nil {
				return n, err
			}
			continue
		}
		n++
	}
	if n == 0 {
		_ = os.Remove(kept) // made for a trial and empty again
		_ = os.Remove(filepath.Dir(kept))
	}
	return n, nil
}

// smallInputs returns the inputs in a folder that are small enough to keep, the smallest first.
func smallInputs(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	sizes := map[string]int64{}
	var out []string
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			return nil, err
		}
		if path := filepath.Join(dir, e.Name()); info.Mode().IsRegular() && info.Size() <= maxSize {
			sizes[path] = info.Size()
			out = append(out, path)
		}
	}
	slices.SortFunc(out, func(a, b string) int {
		if sizes[a] != sizes[b] {
			return int(sizes[a] - sizes[b])
		}
		return strings.Compare(a, b)
	})
	return out, nil
}

// reach returns the blocks of statements that a target reaches with one of its inputs, or with all when none is named.
func (r *run) reach(ctx context.Context, program string, t target, input string) (map[string]bool, error) {
	profile := filepath.Join(r.work, "reach")
	pattern := "^" + t.Name + "$"
	if input != "" {
		pattern += "/^" + regexp.QuoteMeta(input) + "$"
	}
	cmd := exec.CommandContext(ctx, program, "-test.run="+pattern, "-test.coverprofile="+profile)
	cmd.Dir = filepath.Join(r.root, filepath.FromSlash(t.Package))
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%s %s with input %q: %w\n%s", t.Package, t.Name, input, err, out)
	}
	data, err := os.ReadFile(profile)
	if err != nil {
		return nil, err
	}
	return blocks(string(data)), nil
}

// blocks returns the blocks that a coverage profile counts as reached.
func blocks(profile string) map[string]bool {
	out := map[string]bool{}
	for line := range strings.Lines(profile) {
		line = strings.TrimSpace(line)
		if block, ok := strings.CutSuffix(line, " 1"); ok {
			out[block] = true
		}
	}
	return out
}

// grow adds what is new to all and says whether anything was.
func grow(all, more map[string]bool) bool {
	before := len(all)
	for b := range more {
		all[b] = true
	}
	return len(all) > before
}
