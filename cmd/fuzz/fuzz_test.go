package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const module = "../.."

// Every fuzz target of the module has its row in the ledger, and no row is of a target that is no more.
func TestEveryTargetIsInTheLedger(t *testing.T) {
	targets, err := findTargets(module)
	if err != nil {
		t.Fatal(err)
	}
	if len(targets) < 20 || !slices.Contains(targets, target{"read/pdf", "FuzzPages"}) {
		t.Fatalf("%d targets found: %v", len(targets), targets)
	}
	l, err := readLedger(filepath.Join(module, ledgerFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range targets {
		if !slices.ContainsFunc(l, func(e entry) bool { return e.target == want }) {
			t.Errorf("%s %s is not in %s: run 'make fuzz-long'", want.Package, want.Name, ledgerFile)
		}
	}
	for i, e := range l {
		if !slices.Contains(targets, e.target) {
			t.Errorf("%s has a row of %s %s, which is no target: run 'make fuzz-long'", ledgerFile, e.Package, e.Name)
		}
		if i > 0 && l[i-1].target == e.target {
			t.Errorf("%s %s has two rows", e.Package, e.Name)
		}
	}
}

// What lies under testdata/fuzz belongs to a target, is small and not too many; but for inputs that failed once, which are
// named for what they showed.
func TestKeptInputsAreSmallAndFew(t *testing.T) {
	targets, err := findTargets(module)
	if err != nil {
		t.Fatal(err)
	}
	folders, err := filepath.Glob(filepath.Join(module, "*", "testdata", "fuzz", "*"))
	if err != nil {
		t.Fatal(err)
	}
	deeper, err := filepath.Glob(filepath.Join(module, "*", "*", "testdata", "fuzz", "*"))
	if err != nil {
		t.Fatal(err)
	}
	deepest, err := filepath.Glob(filepath.Join(module, "*", "*", "*", "testdata", "fuzz", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range slices.Concat(folders, deeper, deepest) {
		pkg, err := filepath.Rel(module, filepath.Join(folder, "../../.."))
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(targets, target{filepath.ToSlash(pkg), filepath.Base(folder)}) {
			t.Errorf("%s belongs to no target", folder)
		}
		inputs, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, in := range inputs {
			info, err := in.Info()
			if err != nil {
				t.Fatal(err)
			}
			if info.Size() > maxSize {
				t.Errorf("%s/%s has %d bytes", folder, in.Name(), info.Size())
			}
			if !strings.Contains(in.Name(), "-") {
				found++
			}
		}
		if found > maxKept {
			t.Errorf("%s holds %d inputs, at most %d are kept", folder, found, maxKept)
		}
	}
}

func TestLedgerIsReadAsWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "l.csv")
	want := ledger{{target{"read/pdf", "FuzzPages"}, 61 * time.Second, 1234, 3, "2026-12-01", "0123456789"}, {target: target{"ghs", "FuzzParseCodes"}}}
	if err := want.write(path); err != nil {
		t.Fatal(err)
	}
	got, err := readLedger(path)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	for name, text := range map[string]string{"no heading": "a,b\n", "no number": strings.Join(columns, ",") + "\nx,y,much,1,1,,\n", "empty": ""} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := readLedger(path); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// The least fuzzed target is next, until all have had what they should.
func TestLeastFuzzedIsNext(t *testing.T) {
	a, b, c := target{"x", "A"}, target{"x", "B"}, target{"y", "C"}
	l := ledger{{target: a, CPU: 5 * time.Second}, {target: target{"x", "Gone"}}, {target: b, CPU: time.Minute}}.of([]target{a, b, c})
	if len(l) != 3 {
		t.Fatalf("%v", l)
	}
	var order []string
	for e := l.least(30*time.Second, nil); e != nil; e = l.least(30*time.Second, nil) {
		order = append(order, e.Name)
		e.CPU += 20 * time.Second
	}
	if got := strings.Join(order, ""); got != "CACA" && got != "CAAC" {
		t.Errorf("order %s", got)
	}
	if e := l.least(time.Hour, map[target]bool{a: true, c: true}); e == nil || e.target != b {
		t.Errorf("passing over two leaves %v", e)
	}
}

// A module of one package with a target that fails on one input and reaches a branch with another.
const (
	sampleCode = `package sample

func Deep(s string) bool {
	if len(s) > 3 && s[0] == 'd' {
		return true
	}
	return false
}
`
	sampleTest = `package sample

import "testing"

func FuzzDeep(f *testing.F) {
	f.Add("abc")
	f.Fuzz(func(t *testing.T, s string) {
		if Deep(s); s == "boom" {
			t.Fatal("boom")
		}
	})
}
`
)

// A turn counts its processor time and executions; an input is kept when it reaches what nothing else reaches; a failing
// input is an error.
func TestTurnOfATarget(t *testing.T) {
	root := t.TempDir()
	file := func(name, text string) {
		t.Helper()
		name = filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	file("go.mod", "module sixteen\n\ngo 1.24\n")
	file("sample/deep.go", sampleCode)
	file("sample/deep_test.go", sampleTest)
	tt := target{"sample", "FuzzDeep"}
	r := run{root: root, work: t.TempDir(), cache: t.TempDir(), tried: map[string]bool{}}

	const header = "go test fuzz v1\nstring(%)\n"
	put := func(name, value string) {
		t.Helper()
		dir := filepath.Join(r.cache, "sample", "FuzzDeep")
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Replace(header, "%", value, 1)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s, err := r.fuzz(t.Context(), tt, time.Second)
	if err != nil {
		t.Fatal(err)
	}
	if s.cpu <= 0 || s.executions <= 0 {
		t.Errorf("a turn of one second: %+v", s)
	}
	r.cache = t.TempDir() // without what that turn may have found
	put("aa", `"deeper still"`)
	put("bb", `"nothing new"`)
	put("cc", `"`+strings.Repeat("d", maxSize)+`"`)

	n, err := r.keep(t.Context(), tt)
	if err != nil || n != 1 {
		t.Fatalf("%d inputs kept: %v", n, err)
	}
	if _, err := os.Stat(filepath.Join(root, "sample/testdata/fuzz/FuzzDeep/aa")); err != nil {
		t.Error(err)
	}
	put("boom", `"boom"`)
	if _, err := r.fuzz(t.Context(), tt, 5*time.Second); err == nil || !strings.Contains(err.Error(), "boom") {
		t.Errorf("a target that fails: %v", err)
	}
}

// A turn that ends while an input is being shrunk has found nothing; one that wrote a failing input has.
func TestTheEndOfATurnIsNoFinding(t *testing.T) {
	if !outOfTime([]byte("--- FAIL: FuzzX\n    context deadline exceeded\n")) {
		t.Error("the end of the time was taken for a finding")
	}
	for _, out := range []string{"--- FAIL\n Failing input written to testdata/fuzz/FuzzX/ab\ncontext deadline exceeded", "panic: x"} {
		if outOfTime([]byte(out)) {
			t.Errorf("%q is a finding", out)
		}
	}
}

func TestSmallestInputsFirst(t *testing.T) {
	dir := t.TempDir()
	for name, size := range map[string]int{"b": 10, "a": 10, "c": 3, "d": maxSize + 1} {
		if err := os.WriteFile(filepath.Join(dir, name), make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := smallInputs(dir)
	if err != nil || len(got) != 3 || filepath.Base(got[0]) != "c" || filepath.Base(got[1]) != "a" {
		t.Errorf("%v, %v", got, err)
	}
}
