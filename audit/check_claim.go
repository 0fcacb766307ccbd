package audit

import (
	"sixteen/ghs"
)

func checkClaim() Check {
	return Check{
		ID: "claim", Title: "A sales claim against the sheet", Group: ClaimsAll, Kinds: []Kind{Contradiction, Gap, Doubt, Note}, Harm: HarmLasting,
		Could:    "Somebody leaves off gloves or fresh air because the advertisement says so.",
		Compares: "Each claim found in advertisements and on the label with everything that the sheet states.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.3.1: supplementary information must not contradict or weaken the standard elements",
			ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.3.1",
			ghs.EUCLP:     "CLP Article 25(4) and 48 (from memory): no statements such as “non-toxic” on the label of a classified product",
			ghs.GBCLP:     "GB CLP Article 25(4) and 48 (from memory)",
			"":            "common practice: a claim is taken at its word and set beside the sheet",
		},
		Example: "“No VOC!” beside 15 % butyl acetate.",
		Do:      "Go by the sheet; ask for the report on which the claim rests.",
		Run: func(c *Case, e *Emit) {
			for _, x := range JudgeClaims(c) {
				kind := map[Verdict]Kind{ClaimContradicted: Contradiction, ClaimUnsupported: Gap, ClaimNeedsTest: Doubt, ClaimConsistent: Note}[x.Verdict]
				e.Report(Fault{
					Kind: kind, Title: "“" + x.Words + "”: " + x.Verdict.String(),
					Says: []Side{{Text: "Claim: " + x.Text}}, Follows: append(x.Sides, follows("Taken at its word: "+x.Means), follows("What would support it: "+x.Support)),
					Ask: ask("claim", x.Words), Key: []string{x.Claim, x.Verdict.String()},
				})
			}
		},
	}
}
