package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkGlovesMissing() Check {
	return Check{
		ID: "gloves-missing", Title: "No gloves for a skin hazard", Group: Protect8, Kinds: []Kind{Contradiction, Gap}, Harm: HarmLasting,
		Compares: "The skin hazards of section 2 with what section 8 says of the hands.",
		Clauses:  protectClauses("REACH Annex II 8.2.2.2(b)(i)"),
		Example:  "H317 and “hand protection: not required”.",
		Do:       "Wear chemical protective gloves all the same.",
		Run: func(c *Case, e *Emit) {
			h, hands := c.skinHazard(), c.Sheet.Control.Hands
			if h == ghs.NoHazard || !c.has(e, 8) || hands.Known() && !deniesNeed(hands.Value.Text) {
				return
			}
			kind, title := Gap, "Section 8 says nothing of gloves"
			if hands.State == sheet.NoneStated || hands.State == sheet.NotApplicable || hands.Known() {
				kind, title = Contradiction, "Section 8 says that gloves are not needed"
			} else if hasAny(c.text(8), "glove", "gant", "handschuh", "guante") {
				return
			}
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 8, Title: title + "; section 2 states " + h.String(),
				Says: []Side{says(8, title, hands), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Ask:  ask("state", "@gloves", "8"), Key: []string{kind.String()},
			})
		},
	}
}

// deniesNeed tells whether a text says that no protection is needed, without a condition.
func deniesNeed(text string) bool {
	text = strings.ToLower(text)
	return hasAny(text, "not required", "not necessary", "not needed", "none required", "none needed", "no special", "nicht erforderlich", "non requis", "pas nécessaire", "no es necesari", "no se requiere") &&
		!hasAny(text, "if ", "when", "unless", "normal", "under ", "provided", "except", "sufficient", "adequate", "wenn", "si ", "bei ")
}
