package audit

import (
	"sixteen/ghs"
)

func checkSensitiserHidden() Check {
	return lackCheck(Check{
		ID: "sensitiser-hidden", Title: "A sensitiser among irritants, and no allergy in section 2", Harm: HarmLasting,
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.4.3, Table A.4.5", ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.4.3, Table A.4.5",
			ghs.EUCLP: "CLP Annex I 3.4.3.3, Table 3.4.5", ghs.GBCLP: "GB CLP Annex I 3.4.3.3, Table 3.4.5 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations subpart 4 of part 8 (section numbers from memory)", ghs.AUWHS: "GHS 3.4.3 as adopted (from memory)", ghs.UNGHS: "UN GHS Table 3.4.5 (from memory)",
		},
		Example: "70 % epoxy resin with H317 in section 3; section 2 says H315 and H319 only.",
		Do:      "Treat every drop on the skin as a step towards an allergy: gloves that hold, no bare hands, no sanding of what is half cured.",
	}, func(h ghs.Hazard) bool {
		return h.Class() == ghs.SkinSensitisation || h.Class() == ghs.RespiratorySensitisation
	})
}
