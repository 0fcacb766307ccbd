package audit

import (
	"fmt"
)

func checkSumOver100() Check {
	return Check{
		ID: "sum-over-100", Title: "The shares of section 3 add up to more than 100 %", Group: Section3, Kinds: []Kind{Contradiction}, Harm: HarmPaper,
		Could:    "At least one share is wrong, and every class worked out from it.",
		Compares: "The sum of the lower ends of all shares with 100 %.",
		Clauses:  common("parts do not exceed the whole; one tenth of a percent per row is allowed for rounding"),
		Example:  "60 – 80 %, 30 – 40 % and 15 – 20 %.",
		Do:       "Do not work out classes from this composition.",
		Run: func(c *Case, e *Emit) {
			if len(c.Sheet.Parts) > 0 {
				return
			}
			sum, room := 0.0, 100.0
			var sides []Side
			var key []string
			for _, ing := range c.Sheet.Composition.Ingredients {
				if ing.Percent.Known() && ing.Percent.Value.Unit != "%" && ing.Percent.Value.Unit != "" {
					return
				}
				if ing.Percent.Known() && ing.Percent.Value.HasLo {
					sum += ing.Percent.Value.Lo
					room += 0.1
					sides = append(sides, says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent))
					key = append(key, nameOf(ing), number(ing.Percent.Value.Lo))
				}
			}
			if sum <= room {
				return
			}
			e.Report(Fault{
				Kind: Contradiction, Section: 3, Title: fmt.Sprintf("The smallest shares already add up to %s %%", share(sum)), Says: sides,
				Follows: []Side{follows("The parts cannot exceed 100 %")}, Ask: ask("state", "@percent", "3"), Key: key,
			})
		},
	}
}
