package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkEffectAgainstClass() Check {
	return Check{
		ID: "effect-against-class", Title: "Section 11 and section 2 disagree on an effect", Group: With11,
		Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "What section 11 says of each effect with the classes of section 2.",
		Clauses:  contents("11(c)", "11.1 (from memory)", "item 11(c)", "section 11"),
		Example:  "Section 2: H317. Section 11: “Sensitisation: not sensitising.”",
		Do:       "Act on the stricter of the two.",
		Run: func(c *Case, e *Emit) {
			for _, effect := range effects() {
				f, ok := c.Sheet.Toxicology.Endpoints[effect.key]
				if !ok || !f.Known() || c.namesAnIngredient(f.Value) {
					continue
				}
				text := strings.ToLower(f.Value)
				denied := hasAny(text, denials()...) && !hasAny(text, "not applicable", "no data", "not available", "unknown") || hasAny(text, effect.denies...)
				affirmed := hasAny(withoutDenials(text, effect.denies), effect.affirms...)
				declared := c.declaredOf(effect)
				switch {
				case denied && !affirmed && declared != ghs.NoHazard:
					e.Report(effectFault(c, Contradiction, declared, f, "Section 2 states "+declared.String()+", section 11 denies it"))
				case affirmed && !denied && declared == ghs.NoHazard && c.RuleSet.Exists(localised(effect.hazard, c.RuleSet)):
					e.Report(effectFault(c, Doubt, effect.hazard, f, "Section 11 speaks of "+effect.hazard.Class().Title(ghs.English)+", section 2 does not"))
				}
			}
		},
	}
}

func effectFault(c *Case, kind Kind, h ghs.Hazard, f sheet.Fact[string], title string) Fault {
	return Fault{
		Kind: kind, Hazard: h, Section: 11, Title: title,
		Says: []Side{says(11, f.Value, f), {Section: 2, Text: "Section 2: " + c.summary(), Evidence: c.declaredAt(h)}},
		Ask:  ask("clash", "2", h.String(), "11", f.Value), Key: []string{h.String(), kind.String()},
	}
}

// effect is one endpoint of section 11, the words that affirm or deny it, and the class it belongs to.
type effect struct {
	key     string
	hazard  ghs.Hazard // mildest of the class
	affirms []string
	denies  []string
}

// effects carries English words only: other languages are compared by what they declare, not by what they describe.
func effects() []effect {
	return []effect{
		{"skin_sens", ghs.SkinSens1B, []string{"may cause an allergic", "may cause sensiti", "causes sensiti", "skin sensitiser", "skin sensitizer", "sensitising to skin", "is sensiti"},
			[]string{"not sensiti", "non-sensiti", "not a skin sensiti", "not a sensiti", "no sensiti", "does not cause sensiti", "not cause skin sensiti"}},
		{"resp_sens", ghs.RespSens1B, []string{"may cause allergy or asthma", "may cause asthma", "respiratory sensitiser", "respiratory sensitizer"},
			[]string{"not sensiti", "non-sensiti", "not a respiratory sensiti", "no sensiti"}},
		{"skin", ghs.SkinIrrit2, []string{"causes skin irritation", "causes severe skin burns", "causes burns", "corrosive to skin", "irritating to skin"},
			[]string{"not irritating", "non-irritating", "not irritant", "no irritation", "no skin irritation", "not corrosive"}},
		{"eye", ghs.EyeIrrit2, []string{"causes serious eye", "causes eye irritation", "irritating to eyes"},
			[]string{"not irritating", "non-irritating", "not irritant", "no irritation", "no eye irritation"}},
		{"muta", ghs.Muta2, []string{"may cause genetic defects", "suspected of causing genetic"}, []string{"not mutagenic", "no mutagenic", "non-mutagenic"}},
		{"carc", ghs.Carc2, []string{"may cause cancer", "suspected of causing cancer"}, []string{"not carcinogenic", "no carcinogenic", "non-carcinogenic"}},
		{"repr", ghs.Repr2, []string{"may damage fertility", "may damage the unborn", "suspected of damaging"}, []string{"not toxic to reproduction", "no reproductive toxicity", "no effects on fertility"}},
		{"stot_re", ghs.STOTRE2, []string{"causes damage to organs", "may cause damage to organs"}, nil},
		{"asp", ghs.AspTox1, []string{"may be fatal if swallowed and enters"}, []string{"no aspiration", "not an aspiration"}},
	}
}

// denials are the standing sentences by which sheets say that a class does not apply.
func denials() []string {
	return []string{"not classified", "criteria are not met", "criteria is not met", "does not meet the criteria", "no known significant effect", "not expected to"}
}

func withoutDenials(text string, denies []string) string {
	for _, d := range append(denials(), denies...) {
		text = strings.ReplaceAll(text, d, "")
	}
	return text
}

// namesAnIngredient tells whether a text speaks of one of the ingredients and so not of the product.
func (c *Case) namesAnIngredient(text string) bool {
	for _, ing := range c.Sheet.Composition.Ingredients {
		if ing.CAS.Known() && strings.Contains(text, ing.CAS.Value) {
			return true
		}
		if ing.Name.Known() && len(ing.Name.Value) > 3 && strings.Contains(strings.ToLower(text), strings.ToLower(ing.Name.Value)) {
			return true
		}
	}
	return false
}

// declaredOf is the declared hazard that answers to an effect, NoHazard when there is none.
func (c *Case) declaredOf(x effect) ghs.Hazard {
	for _, h := range c.declares().All() {
		if h.Class() == x.hazard.Class() {
			return h
		}
		if x.key == "eye" && h.Class() == ghs.SkinCorrosion && base(h) == "1" {
			return h
		}
	}
	return ghs.NoHazard
}
