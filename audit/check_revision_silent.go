package audit

import (
	"sixteen/ghs"
)

func checkRevisionSilent() Check {
	return Check{
		ID: "revision-silent", Title: "The sheet has changed, its date and version have not", Group: Revision, Kinds: []Kind{Contradiction}, Harm: HarmPaper,
		Could:    "Two sheets that say different things cannot be told apart.",
		Compares: "Date and version of the sheet with those of the revision before, and the meaning of one with the other.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. D, Table D.1, 16: date of preparation or last change", ghs.USHCS2012: "29 CFR 1910.1200 App. D, Table D.1, 16",
			ghs.EUCLP: "REACH Article 31(9) and Annex II 0.2.5, 16 (from memory)", ghs.GBCLP: "UK REACH Article 31(9) (from memory)",
			"": "common practice: a changed sheet carries a new date",
		},
		Example: "Two files dated 2024-05-01; one has H351.",
		Do:      "Ask which of the two holds; act on the sterner.",
		Run: func(c *Case, e *Emit) {
			if c.Previous == nil {
				return
			}
			was, is := c.Previous.Identification, c.Sheet.Identification
			if !is.RevisionDate.Known() || was.RevisionDate.Value != is.RevisionDate.Value || was.Version.Value != is.Version.Value {
				return
			}
			changes := Revise(c.Previous, c.Sheet, c.RuleSet)
			if len(changes) == 0 {
				return
			}
			e.Report(Fault{
				Kind: Contradiction, Section: 16, Title: "The sheet differs from one of the same date: " + changes[0].What,
				Says: []Side{says(16, "Dated "+is.RevisionDate.Value+", as the other", is.RevisionDate), changes[0].Was, changes[0].Is}, Ask: ask("newer", is.RevisionDate.Value),
				Key: []string{is.RevisionDate.Value, changes[0].What},
			})
		},
	}
}
