package audit

import (
	"sixteen/ghs"
)

func checkCorrosiveHidden() Check {
	return lackCheck(Check{
		ID: "corrosive-hidden", Title: "A corrosive ingredient under an irritant label", Harm: HarmLasting,
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.2.4.3, Tables A.2.3 and A.2.4; A.3.4.3, Tables A.3.3 and A.3.4", ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.2.4.3 and A.3.4.3",
			ghs.EUCLP: "CLP Annex I 3.2.3.3 and 3.3.3.3 (from memory in part)", ghs.GBCLP: "GB CLP Annex I 3.2.3.3 and 3.3.3.3 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations subparts 2 and 3 of part 8 (section numbers from memory)", ghs.AUWHS: "GHS 3.2.3.3 and 3.3.3.3 as adopted (from memory)", ghs.UNGHS: "UN GHS 3.2.3.3 and 3.3.3.3 (from memory)",
		},
		Example: "30 % isophorone diamine with H314 in section 3; section 2 says Skin Irrit. 2.",
		Do:      "Goggles, gloves, an eye wash within ten seconds' reach.",
	}, func(h ghs.Hazard) bool {
		return (h.Class() == ghs.SkinCorrosion || h.Class() == ghs.EyeDamage) && base(h) == "1"
	})
}
