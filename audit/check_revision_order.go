package audit

func checkRevisionOrder() Check {
	return Check{
		ID: "revision-order", Title: "The sheet is older than the one you have", Group: Revision, Kinds: []Kind{Note}, Harm: HarmPaper,
		Could:    "The older sheet takes the place of the newer.",
		Compares: "The date of the sheet with that of the revision before.",
		Clauses:  common("the newest revision is the one to act on"),
		Example:  "A sheet of 2021 arrives, the shelf holds one of 2024.",
		Do:       "Keep the newer one; ask why you were sent the older.",
		Run: func(c *Case, e *Emit) {
			if c.Previous == nil {
				return
			}
			was, ok1 := dateOf(c.Previous.Identification.RevisionDate)
			is, ok2 := dateOf(c.Sheet.Identification.RevisionDate)
			if !ok1 || !ok2 || !is.Before(was) {
				return
			}
			e.Report(Fault{
				Kind: Note, Section: 16, Title: "This sheet is older than the one it was compared with",
				Says: []Side{says(16, "Dated "+c.Sheet.Identification.RevisionDate.Value, c.Sheet.Identification.RevisionDate), says(16, "The other is dated "+c.Previous.Identification.RevisionDate.Value, c.Previous.Identification.RevisionDate)},
				Ask:  ask("newer", c.Sheet.Identification.RevisionDate.Value), Key: []string{c.Sheet.Identification.RevisionDate.Value},
			})
		},
	}
}
