package audit

func checkKitLaw() Check {
	return kitCheck(Check{
		ID: "kit-law", Title: "The parts of the kit are described under different laws", Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "The classes of the parts cannot be set beside each other.",
		Compares: "The law that this sheet is written for with that of the other parts' sheets.",
		Clauses:  common("limits of classification differ between laws, so that parts under two laws cannot be compared as they stand"),
		Example:  "A European sheet for the resin, an American one for the hardener.",
		Do:       "Ask for both sheets under your law.",
	}, func(c *Case, k *Kit, e *Emit) {
		own := c.Sheet.Jurisdiction
		for _, p := range k.Parts {
			if p.Sheet == nil || p.Sheet == c.Sheet || !own.Known() || !p.Sheet.Jurisdiction.Known() || p.Sheet.Jurisdiction.Value == own.Value {
				continue
			}
			e.Report(Fault{
				Kind: Gap, Section: 1, Title: "This part is described under the law of " + own.Value.Name() + ", part " + p.Name + " under that of " + p.Sheet.Jurisdiction.Value.Name(),
				Says: []Side{says(1, own.Value.Name(), own), says(1, p.Sheet.Jurisdiction.Value.Name(), p.Sheet.Jurisdiction)}, Ask: ask("market", c.RuleSet.Law()), Key: []string{k.Name, p.Name},
			})
		}
	})
}
