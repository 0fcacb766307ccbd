package audit

import (
	"sixteen/ghs"
)

func checkAcuteHidden() Check {
	return lackCheck(Check{
		ID: "acute-hidden", Title: "The acute toxicity that follows from the ingredients is not stated", Harm: HarmDeath,
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.1.3.6", ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.1.3.6",
			ghs.EUCLP: "CLP Annex I 3.1.3.6", ghs.GBCLP: "GB CLP Annex I 3.1.3.6 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations s. 8.1.5 and 8.1.6", ghs.AUWHS: "GHS 3.1.3.6 as adopted (from memory)", ghs.UNGHS: "UN GHS 3.1.3.6",
		},
		Example: "40 % of an ingredient with an oral estimate of 500 mg/kg and no H302.",
		Do:      "Do not eat, drink or smoke at the bench; keep it locked away.",
	}, func(h ghs.Hazard) bool { return h.Class() == ghs.AcuteToxicity })
}
