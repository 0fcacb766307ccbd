package audit

import (
	"sixteen/ghs"
)

func checkEndocrineStatementMissing() Check {
	return mention{
		ID: "endocrine-statement-missing", Title: "Neither section 2 nor 12 says whether it is persistent or disrupts hormones", Group: Inside2, Sections: []int{2, 12, 11}, Harm: HarmLasting,
		Could: "Silence is taken for no.", What: "whether it holds PBT, vPvB or endocrine-disrupting substances",
		Words: []string{"pbt", "vpvb", "endocrin", "endokrin", "hormon"},
		Clauses: Clauses{
			ghs.EUCLP: "REACH Annex II 2.3, 11.2, 12.5 and 12.6 as amended by Regulation (EU) 2020/878 (from memory)",
		},
		Example: "2.3 Other hazards: none known.", Do: "Take the answer as unknown.",
	}.check()
}
