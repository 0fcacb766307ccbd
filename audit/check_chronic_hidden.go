package audit

import (
	"sixteen/ghs"
)

func checkChronicHidden() Check {
	return lackCheck(Check{
		ID: "chronic-hidden", Title: "Cancer, genes, reproduction or organs: an ingredient says so, section 2 does not", Harm: HarmDeath,
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, Tables A.5.1, A.6.1, A.7.1, A.8.2 and A.9.3", ghs.USHCS2012: "29 CFR 1910.1200 App. A, Tables A.5.1, A.6.1, A.7.1, A.8.2 and A.9.3",
			ghs.EUCLP: "CLP Annex I Tables 3.5.2, 3.6.2, 3.7.2 (read), 3.8.3 and 3.9.4 (from memory)", ghs.GBCLP: "GB CLP Annex I Tables 3.5.2 to 3.9.4 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations subparts 5 to 9 of part 8; s. 8.8.5 and 8.9.5", ghs.AUWHS: "WHS Regulations schedule 6 (from memory)", ghs.UNGHS: "UN GHS Tables 3.5.1 to 3.9.3 (from memory)",
		},
		Example: "0.5 % of a Carc. 1B ingredient and no H350.",
		Do:      "Keep it out of the air and off the skin; pregnant people do other work.",
	}, func(h ghs.Hazard) bool {
		switch h.Class() {
		case ghs.GermCellMutagenicity, ghs.Carcinogenicity, ghs.ReproductiveToxicity, ghs.ReproductiveToxicityLactation, ghs.STOTRepeatedExposure,
			ghs.EndocrineDisruptionHealth:
			return true
		case ghs.STOTSingleExposure:
			return base(h) != "3"
		}
		return false
	})
}
