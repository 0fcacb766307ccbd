package audit

import (
	"sixteen/ghs"
)

func checkClassMissing() Check {
	return lackCheck(Check{
		ID: "class-missing", Title: "A class that follows from the ingredients is not stated", Harm: HarmPassing,
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(d)(3) and App. A", ghs.USHCS2012: "29 CFR 1910.1200(d)(3) and App. A",
			ghs.EUCLP: "CLP Article 9 and Annex I parts 3 and 4", ghs.GBCLP: "GB CLP Article 9 and Annex I parts 3 and 4 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations part 8", ghs.AUWHS: "model WHS Regulations schedule 6 (from memory)", ghs.UNGHS: "UN GHS 1.3.3",
		},
		Example: "60 % of a Skin Irrit. 2 ingredient and no H315; 40 % of an Aquatic Chronic 2 ingredient and no H411.",
		Do:      "Act as if the class were stated.",
	}, func(h ghs.Hazard) bool {
		switch h.Class() {
		case ghs.SkinCorrosion, ghs.EyeDamage:
			return base(h) != "1"
		case ghs.STOTSingleExposure:
			return base(h) == "3"
		case ghs.AquaticAcute, ghs.AquaticChronic, ghs.OzoneLayer, ghs.PersistentBioaccumulative, ghs.PersistentMobile, ghs.EndocrineDisruptionEnvironment:
			return true
		}
		return false
	})
}
