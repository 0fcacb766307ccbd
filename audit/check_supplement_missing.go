package audit

import (
	"slices"
	"strings"

	"sixteen/ghs"
)

func checkSupplementMissing() Check {
	return Check{
		ID: "supplement-missing", Title: "A supplemental statement is missing", Group: With3, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Could:    "Somebody who is already allergic, or asthmatic, is not warned.",
		Compares: "The supplemental statements that the ingredients of section 3 ask for with those of section 2.",
		Clauses: Clauses{
			ghs.EUCLP: "CLP Annex II 2.4, 2.5 (from memory), 2.8 (read)", ghs.GBCLP: "GB CLP Annex II 2.4, 2.5, 2.8 (from memory)",
		},
		Example: "0.2 % of a sensitiser, no H317 and no EUH208.",
		Do:      "Who is allergic to the ingredient does not touch the product.",
		Run: func(c *Case, e *Emit) {
			d := c.derived()
			if d.strict.err != nil {
				return
			}
			for _, code := range []ghs.Code{"EUH208", "EUH204", "EUH205"} {
				if c.states(code) || slices.Contains(c.codes(), code) || hasAny(c.text(2, 15, 16), strings.ToLower(string(code))) {
					continue
				}
				names := supplementAtLeast(d.strict, code)
				if len(names) == 0 || (code != "EUH208" && c.namesAll(names)) || code == "EUH208" && c.sensitiserNamed(names) {
					continue
				}
				kind := Doubt
				if len(supplementAtLeast(d.firm, code)) > 0 && code == "EUH208" {
					kind = Contradiction
				}
				e.Report(Fault{
					Kind: kind, Section: 2, Title: string(code) + " is missing for " + strings.Join(names, ", "),
					Says: []Side{silent(2, string(code))}, Follows: []Side{follows(string(code)+" for "+strings.Join(names, ", "), "the smallest share of section 3 already reaches the limit")},
					Ask: ask("state", string(code), "2"), Key: append([]string{string(code)}, names...),
				})
			}
		},
	}
}

// supplementAtLeast names the ingredients for which a supplemental statement is due even at their smallest share.
func supplementAtLeast(v verdicts, code ghs.Code) []string {
	if v.err != nil {
		return nil
	}
	x := make([]float64, len(v.program.Mixture.Ingredients))
	for i, ing := range v.program.Mixture.Ingredients {
		x[i] = lowest(ing.Percent)
	}
	if v.program.CheckPoint(x) != nil {
		return nil
	}
	at := v.program.At(x)
	for _, s := range at.Supplements() {
		if s.Code == code {
			return s.Ingredients
		}
	}
	return nil
}

// namesAll tells whether section 2 names all of them, which makes EUH204 and EUH205 unnecessary.
func (c *Case) namesAll(names []string) bool {
	text := c.text(2)
	for _, n := range names {
		if !strings.Contains(text, strings.ToLower(n)) {
			return false
		}
	}
	return true
}

// sensitiserNamed tells whether the product is classified a sensitiser and section 2 names the ingredients; the law then
// asks for EUH208 only for the other ones.
func (c *Case) sensitiserNamed(names []string) bool {
	d := c.declares()
	return coversAny(d, ghs.SkinSens1B) || coversAny(d, ghs.RespSens1B) || c.namesAll(names)
}
