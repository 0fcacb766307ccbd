package audit

import (
	"time"

	"sixteen/sheet"
)

func checkDateImpossible() Check {
	return Check{
		ID: "date-impossible", Title: "A date cannot be right", Group: Paper, Kinds: []Kind{Contradiction}, Harm: HarmPaper,
		Could:    "The sheet cannot be put in order with its other revisions.",
		Compares: "Revision date, issue date and superseded date with each other and with today.",
		Clauses:  common("a revision is not older than what it replaces, and not from the future"),
		Example:  "Revised 2021-03-01, replaces the version of 2022-05-10.",
		Do:       "Ask which date is right before you file the sheet.",
		Run: func(c *Case, e *Emit) {
			id := c.Sheet.Identification
			rev, ok := dateOf(id.RevisionDate)
			if !ok {
				return
			}
			if !c.Today.IsZero() && rev.After(c.Today.AddDate(0, 0, 1)) {
				e.Report(Fault{
					Kind: Contradiction, Section: 16, Title: "The revision date lies in the future",
					Says:    []Side{says(16, "Revised "+id.RevisionDate.Value, id.RevisionDate)},
					Follows: []Side{follows("Today is " + c.Today.Format(time.DateOnly))},
					Ask:     ask("state", "@date", "16"), Key: []string{"future", id.RevisionDate.Value},
				})
			}
			if old, ok := dateOf(id.SupersedesDate); ok && old.After(rev) {
				e.Report(Fault{
					Kind: Contradiction, Section: 16, Title: "The sheet is older than the one it replaces",
					Says: []Side{says(16, "Revised "+id.RevisionDate.Value, id.RevisionDate),
						says(16, "Replaces the version of "+id.SupersedesDate.Value, id.SupersedesDate)},
					Ask: ask("state", "@date", "16"), Key: []string{"replaces", id.RevisionDate.Value, id.SupersedesDate.Value},
				})
			}
		},
	}
}

// dateOf reads a date fact.
func dateOf(f sheet.Fact[string]) (time.Time, bool) {
	if !f.Known() {
		return time.Time{}, false
	}
	t, err := time.Parse(time.DateOnly, f.Value)
	return t, err == nil
}
