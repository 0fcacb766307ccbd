package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkEyesMissing() Check {
	return Check{
		ID: "eyes-missing", Title: "No eye protection, or too little, for an eye hazard", Group: Protect8, Kinds: []Kind{Contradiction, Gap}, Harm: HarmLasting,
		Compares: "The eye hazards of section 2 with what section 8 says of the eyes.",
		Clauses:  protectClauses("REACH Annex II 8.2.2.2(a): type of eye or face protection"),
		Example:  "H318 and “safety glasses recommended”.",
		Do:       "Wear tight goggles; for splashes of a corrosive product a face shield over them.",
		Run: func(c *Case, e *Emit) {
			h, eyes := c.eyeHazard(), c.Sheet.Control.Eyes
			if h == ghs.NoHazard || !c.has(e, 8) {
				return
			}
			text := strings.ToLower(eyes.Value)
			kind, title := Gap, ""
			switch {
			case eyes.State == sheet.NoneStated || eyes.State == sheet.NotApplicable || (eyes.Known() && deniesNeed(text)):
				kind, title = Contradiction, "Section 8 says that eye protection is not needed"
			case !eyes.Known() && !hasAny(c.text(8), "eye", "goggle", "yeux", "lunettes", "augen", "brille", "ojos", "gafas"):
				title = "Section 8 says nothing of eye protection"
			case eyes.Known() && HarmOf(h) == HarmLasting && hasAny(text, "safety glasses", "spectacles") &&
				!hasAny(text, "goggle", "shield", "tight", "splash", "seal", "side"):
				title = "Open safety glasses for a product that can blind"
			default:
				return
			}
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 8, Title: title + "; section 2 states " + h.String(),
				Says: []Side{says(8, eyes.Value, eyes), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Ask:  ask("state", "@eyes", "8"), Key: []string{title},
			})
		},
	}
}
