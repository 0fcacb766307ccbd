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
				denied := hasAny(text, denials()...) && !hasAny(text, silences()...) || hasAny(text, effect.denies...)
				affirmed := hasAny(withoutDenials(text, effect.denies), append(effect.phrases(), effect.affirms...)...)
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

// effect is one endpoint of section 11, the class it belongs to, the statements whose standard phrases affirm it in any of
// the languages carried, and further words that affirm or deny it.
type effect struct {
	key     string
	hazard  ghs.Hazard // mildest of the class
	codes   []ghs.Code
	affirms []string
	denies  []string
}

// phrases are the standard phrases of the effect in all languages carried, in lower case, up to their first open place.
func (x effect) phrases() []string {
	var out []string
	for _, code := range x.codes {
		for _, l := range ghs.Langs() {
			p := strings.ToLower(phraseOf(code, l))
			if i := strings.IndexAny(p, "…<[("); i >= 0 {
				p = p[:i]
			}
			if p = strings.Trim(p, " .,;"); len(p) > 12 {
				out = append(out, p)
			}
		}
	}
	return out
}

// effects lists the endpoints; the words are those of sheets in English, French, German and Spanish (common practice).
func effects() []effect {
	irritates := []string{"not irritating", "non-irritating", "not irritant", "no irritation", "non irritant", "pas irritant", "pas d'irritation", "nicht reizend", "keine reiz", "no irrita", "no provoca irritación"}
	return []effect{
		{"skin_sens", ghs.SkinSens1B, []ghs.Code{"H317"}, []string{"may cause an allergic", "may cause sensiti", "causes sensiti", "skin sensitiser", "skin sensitizer", "sensitising to skin", "is sensiti"},
			[]string{"not sensiti", "non-sensiti", "not a skin sensiti", "not a sensiti", "no sensiti", "does not cause sensiti", "not cause skin sensiti",
				"non sensibilis", "pas sensibilis", "pas de sensibilis", "nicht sensibilisierend", "keine sensibilisier", "no sensibiliz", "no es sensibiliz", "no causa sensibiliz"}},
		{"resp_sens", ghs.RespSens1B, []ghs.Code{"H334"}, []string{"may cause allergy or asthma", "may cause asthma", "respiratory sensitiser", "respiratory sensitizer"},
			[]string{"not sensiti", "non-sensiti", "not a respiratory sensiti", "no sensiti", "non sensibilis", "pas sensibilis", "nicht sensibilisierend", "keine sensibilisier", "no sensibiliz", "no es sensibiliz"}},
		{"skin", ghs.SkinIrrit2, []ghs.Code{"H314", "H315"}, []string{"causes skin irritation", "causes severe skin burns", "causes burns", "corrosive to skin", "irritating to skin"},
			append([]string{"no skin irritation", "not corrosive", "keine hautreizung"}, irritates...)},
		{"eye", ghs.EyeIrrit2, []ghs.Code{"H318", "H319"}, []string{"causes serious eye", "causes eye irritation", "irritating to eyes"},
			append([]string{"no eye irritation", "keine augenreizung"}, irritates...)},
		{"muta", ghs.Muta2, []ghs.Code{"H340", "H341"}, []string{"may cause genetic defects", "suspected of causing genetic"},
			[]string{"not mutagenic", "no mutagenic", "non-mutagenic", "non mutagène", "pas mutagène", "nicht mutagen", "nicht erbgutverändernd", "no mutag", "no es mutag"}},
		{"carc", ghs.Carc2, []ghs.Code{"H350", "H351"}, []string{"may cause cancer", "suspected of causing cancer"},
			[]string{"not carcinogenic", "no carcinogenic", "non-carcinogenic", "non cancérogène", "pas cancérogène", "nicht krebserzeugend", "nicht karzinogen", "no carcin", "no es carcin"}},
		{"repr", ghs.Repr2, []ghs.Code{"H360", "H361"}, []string{"may damage fertility", "may damage the unborn", "suspected of damaging"},
			[]string{"not toxic to reproduction", "no reproductive toxicity", "no effects on fertility", "non toxique pour la reproduction", "pas toxique pour la reproduction", "nicht reproduktionstoxisch", "no es tóxico para la reproducción", "no tóxico para la reproducción"}},
		{"stot_re", ghs.STOTRE2, []ghs.Code{"H372", "H373"}, []string{"causes damage to organs", "may cause damage to organs"}, nil},
		{"asp", ghs.AspTox1, []ghs.Code{"H304"}, []string{"may be fatal if swallowed and enters"},
			[]string{"no aspiration", "not an aspiration", "pas de danger par aspiration", "keine aspirationsgefahr", "no hay peligro por aspiración", "no presenta peligro de aspiración"}},
	}
}

// denials are the standing sentences by which sheets say that a class does not apply.
func denials() []string {
	return []string{"not classified", "criteria are not met", "criteria is not met", "does not meet the criteria", "no known significant effect", "not expected to",
		"non classé", "critères ne sont pas remplis", "critères de classification ne sont pas remplis", "ne remplit pas les critères", "ne répond pas aux critères",
		"nicht eingestuft", "kriterien nicht erfüllt", "kriterien sind nicht erfüllt", "einstufungskriterien nicht erfüllt",
		"no clasificado", "no se cumplen los criterios", "no cumple los criterios"}
}

// silences are words by which a sheet does not answer; what else the sentence says is then no denial.
func silences() []string {
	return []string{"not applicable", "no data", "not available", "unknown", "non applicable", "pas de données", "aucune donnée", "non disponible", "nicht anwendbar", "keine daten", "nicht verfügbar",
		"no aplicable", "no hay datos", "sin datos", "no disponible"}
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
