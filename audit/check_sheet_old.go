package audit

import (
	"time"

	"sixteen/ghs"
)

func checkSheetOld() Check {
	return Check{
		ID: "sheet-old", Title: "The sheet is old", Group: Paper, Kinds: []Kind{Gap, Note}, Harm: HarmPaper,
		Could:    "New hazards found since then are missing.",
		Compares: "The revision date with today and with the times the law sets.",
		Clauses: Clauses{
			ghs.AUWHS: "model WHS Regulations r. 330(3): review at least every five years (read in a public article)",
			ghs.EUCLP: "Regulation (EU) 2020/878: its format is compulsory since 2023-01-01 (from memory); asking again after three years is common practice",
			"":        "common practice: ask again when a sheet is older than three years; the law sets no age",
		},
		Example: "A sheet of 2014 in 2026.",
		Do:      "Ask for the newest revision before the next order.",
		Run: func(c *Case, e *Emit) {
			fact := c.Sheet.Identification.RevisionDate
			if !fact.Known() {
				fact = c.Sheet.Identification.IssueDate
			}
			date, ok := dateOf(fact)
			if !ok {
				return
			}
			if c.Today.IsZero() {
				e.Cannot("the day to judge the sheet's age by was not given")
				return
			}
			kind, title := Note, ""
			switch {
			case c.RuleSet == ghs.EUCLP && date.Before(time.Date(2020, 7, 16, 0, 0, 0, 0, time.UTC)):
				kind, title = Gap, "The sheet is older than the format that is compulsory since 2023"
			case c.RuleSet == ghs.AUWHS && date.AddDate(5, 0, 0).Before(c.Today):
				kind, title = Gap, "The sheet has not been reviewed for five years"
			case date.AddDate(3, 0, 0).Before(c.Today):
				title = "The sheet is more than three years old"
			default:
				return
			}
			e.Report(Fault{
				Kind: kind, Section: 16, Title: title, Says: []Side{says(16, "Dated "+fact.Value, fact)},
				Follows: []Side{follows("Judged on " + c.Today.Format(time.DateOnly))},
				Ask:     ask("newer", fact.Value), Key: []string{title, fact.Value},
			})
		},
	}
}
