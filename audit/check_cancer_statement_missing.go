package audit

import (
	"sixteen/ghs"
)

func checkCancerStatementMissing() Check {
	return mention{
		ID: "cancer-statement-missing", Title: "Section 11 does not say whether anything in it is listed as a carcinogen", Group: With11, Sections: []int{11}, Harm: HarmDeath,
		Could: "Silence is taken for no.", What: "whether an ingredient is listed by NTP, IARC or OSHA",
		Words: []string{"iarc", "ntp", "carcinogen", "cancer", "cancér", "krebs", "cáncer"},
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. D, Table D.1, 11(f)", ghs.USHCS2012: "29 CFR 1910.1200 App. D, Table D.1, 11(f)",
		},
		Example: "Section 11 gives LD50 values only.", Do: "Look the ingredients up yourself.",
	}.check()
}
