package main

import (
	"context"
	"slices"

	"sixteen/audit"
	"sixteen/judge"
)

// judgeOne opens the desk for one document and judges it.
func judgeOne(ctx context.Context, io streams, file string, req judge.Request) (*judge.Judgement, error) {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return nil, err
	}
	defer desk.Close()
	j, _, err := judgeFile(ctx, desk, file, req)
	return j, err
}

// findingsIn lists the findings of a report that checks of one group made, the overruled ones too.
func findingsIn(r audit.Report, g audit.Group) []audit.Finding {
	of := map[string]bool{}
	for _, c := range audit.Catalogue() {
		of[c.ID] = c.Group == g
	}
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f audit.Finding) bool { return !of[f.Check] })
}

// endWith is errFindings when any finding still needs an answer.
func endWith(fs []audit.Finding) error {
	if slices.ContainsFunc(fs, func(f audit.Finding) bool { return f.Overruled == nil }) {
		return errFindings
	}
	return nil
}

// encode prints one value as one line of JSON.
func encode(io streams, v any) error { return encodeTo(io.out, v) }
