package audit

import (
	"strings"
)

func checkReproductiveEffect() Check {
	return Check{
		ID: "reproductive-effect", Title: "Reproductive toxicity without saying whether fertility or the unborn child", Group: Inside2, Kinds: []Kind{Gap}, Harm: HarmDeath,
		Compares: "H360 and H361 with the effect that their phrases ask to state.",
		Clauses:  classCodeClauses(),
		Example:  "“H361 Suspected of damaging fertility or the unborn child.”",
		Do:       "Reckon with both; keep pregnant people away.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Statements {
				code, phrase := f.Value.Code, strings.ToLower(f.Value.Phrase)
				if !f.Known() || (code != "H360" && code != "H361") || f.Value.Detail != "" || phrase == "" {
					continue
				}
				if !(strings.Contains(phrase, "fertil") && hasAny(phrase, "unborn", "fœtus", "foetus", "kind im mutterleib", "feto")) || hasAny(phrase, ". suspected", ". may damage", "fertility. ", " and ") {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Hazard: mildest(code, c.RuleSet), Section: 2, Title: string(code) + " leaves open which effect",
					Says: []Side{says(2, string(code)+" "+f.Value.Phrase, f)}, Ask: ask("state", "@effect", "2"), Key: []string{string(code)},
				})
			}
		},
	}
}
