package main

import (
	"context"
	"fmt"
	"os"
	"strconv"

	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
)

// auditSeed is where the seeds of the printed figures begin.
const auditSeed = 52_000

// auditFigures does what the arguments after "audit" ask for.
func auditFigures(ctx context.Context, args []string) error {
	switch {
	case len(args) == 0:
		return auditing(ctx, auditSeed, false)
	case len(args) == 1 && args[0] == "misses":
		return auditing(ctx, auditSeed, true)
	case len(args) == 2 && args[0] == "misses":
		seed, err := strconv.ParseUint(args[1], 10, 64)
		if err != nil {
			return fmt.Errorf("%q is no seed: use a whole number", args[1])
		}
		return auditing(ctx, seed, true)
	case len(args) == 2 && args[0] == "sheet":
		return auditSheet(args[1], "")
	case len(args) == 3 && args[0] == "sheet":
		return auditSheet(args[1], args[2])
	}
	return fmt.Errorf("figures audit takes nothing, \"misses [SEED]\", or \"sheet SEED [FAULT]\"")
}

// auditSheet writes one sheet of the audit's figures as PDF to standard output, so that a miss can be looked at: its seed
// as "figures audit misses" prints it, and the kind of fault to plant, "" for none.
func auditSheet(seed, kind string) error {
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		return fmt.Errorf("%q is no seed: use a number that \"figures audit misses\" prints", seed)
	}
	s, err := auditSpec(n)
	if err != nil {
		return err
	}
	if kind != "" {
		f, ok := invent.FaultOf(kind)
		if !ok {
			return fmt.Errorf("no fault is called %q", kind)
		}
		if s, ok = f.Plant(s); !ok {
			return fmt.Errorf("sheet %d cannot carry the fault %s", n, kind)
		}
	}
	layout, err := auditLayout(auditTrial{spec: s, seed: n})
	if err != nil {
		return err
	}
	printed, _, err := sheetprint.Print(s, layout)
	if err != nil {
		return err
	}
	_, err = os.Stdout.Write(printed)
	return err
}

// auditLayout is the layout that a trial is printed in: each in turn.
func auditLayout(a auditTrial) (sheetprint.Layout, error) {
	return sheetprint.NewLayout(auditLayoutNumber(a), a.spec.Rules, a.spec.Lang, a.seed)
}

func auditLayoutNumber(a auditTrial) int { return int(a.seed)%sheetprint.LayoutCount() + 1 }
