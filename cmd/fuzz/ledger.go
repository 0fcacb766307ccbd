package main

import (
	"encoding/csv"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// ledgerFile is where the ledger lies in the module.
const ledgerFile = "docs/fuzzing.csv"

// A target is one fuzz function of one package.
type target struct {
	Package string // folder below the module's
	Name    string
}

// An entry is what a target has had so far.
type entry struct {
	target
	CPU        time.Duration
	Executions int
	Kept       int    // inputs under testdata/fuzz
	Last       string // date of the last run; empty before the first
	Commit     string // of the last run
}

// A ledger has one entry for each target, in the order of packages and names.
type ledger []entry

var columns = []string{"package", "target", "cpu seconds", "executions", "inputs kept", "last run", "commit"}

// readLedger reads the ledger from a CSV file.
func readLedger(path string) (ledger, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if len(rows) == 0 || !slices.Equal(rows[0], columns) {
		return nil, fmt.Errorf("%s: the first row must be %s", path, strings.Join(columns, ","))
	}
	var l ledger
	for i, row := range rows[1:] {
		seconds, err1 := strconv.Atoi(row[2])
		executions, err2 := strconv.Atoi(row[3])
		kept, err3 := strconv.Atoi(row[4])
		if err1 != nil || err2 != nil || err3 != nil {
			return nil, fmt.Errorf("%s, row %d: seconds, executions and inputs are whole numbers", path, i+2)
		}
		l = append(l, entry{target{row[0], row[1]}, time.Duration(seconds) * time.Second, executions, kept, row[5], row[6]})
	}
	return l, nil
}

// write puts the ledger in the place of the file in one step.
func (l ledger) write(path string) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".fuzzing-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	w := csv.NewWriter(f)
	_ = w.Write(columns) // what goes wrong is kept for Error
	for _, e := range l {
		_ = w.Write([]string{e.Package, e.Name, strconv.Itoa(int(e.CPU.Round(time.Second).Seconds())), strconv.Itoa(e.Executions), strconv.Itoa(e.Kept), e.Last, e.Commit})
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// of returns the ledger of just these targets: new ones with nothing, without those that are no more.
func (l ledger) of(targets []target) ledger {
	var out ledger
	for _, t := range targets {
		if i := slices.IndexFunc(l, func(e entry) bool { return e.target == t }); i >= 0 {
			out = append(out, l[i])
		} else {
			out = append(out, entry{target: t})
		}
	}
	return out
}

// least returns the entry that has had the least processor time, or nil when all have had as much as the goal. Those in
// without are passed over.
func (l ledger) least(goal time.Duration, without map[target]bool) *entry {
	var least *entry
	for i := range l {
		if e := &l[i]; !without[e.target] && e.CPU < goal && (least == nil || e.CPU < least.CPU) {
			least = e
		}
	}
	return least
}

// findTargets returns the fuzz targets of the module in root, sorted by package and name.
func findTargets(root string) ([]target, error) {
	var out []target
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		dir, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			if f, ok := decl.(*ast.FuncDecl); ok && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Fuzz") {
				out = append(out, target{filepath.ToSlash(dir), f.Name.Name})
			}
		}
		return nil
	})
	slices.SortFunc(out, func(a, b target) int {
		if c := strings.Compare(a.Package, b.Package); c != 0 {
			return c
		}
		return strings.Compare(a.Name, b.Name)
	})
	return out, err
}
