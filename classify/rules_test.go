package classify_test

import (
	"slices"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
)

const (
	eu  = "eu-clp gb-clp eu-clp-2021"
	us  = "us-hcs-2012 us-hcs-2024"
	all = "eu-clp gb-clp eu-clp-2021 us-hcs-2012 us-hcs-2024 ca-hpr au-whs un-ghs"
)

// statement is one statement of the trade: under these rule sets this mixture is classified so.
type statement struct{ clause, rs, mix, want string }

func check(t *testing.T, statements []statement) {
	t.Helper()
	for _, s := range statements {
		for _, rs := range strings.Fields(s.rs) {
			t.Run(s.clause+"/"+rs+"/"+s.mix, func(t *testing.T) {
				if got := classes(t, mix(t, s.mix), ghs.RuleSet(rs)); got != s.want {
					t.Errorf("%s: %s is %q, want %q", s.clause, s.mix, got, s.want)
				}
			})
		}
	}
}

// Sources: 29 CFR 1910.1200 App. A A.1 (2012 and 2024 texts), HPR ss. 8.1.1 to 8.1.7, CLP Annex I 3.1.3 (part recalled), GHS 3.1.3 (recalled).
func TestAcuteToxicity(t *testing.T) {
	check(t, []statement{
		{"Table 3.1.2 / A.1.2: category 4 oral counts as 500", all, "20 Acute Tox. 4 oral / 5 Acute Tox. 3 oral / 75 not toxic", "Acute Tox. 4 oral"},
		{"Table 3.1.1 / A.1.1: ATE of exactly 2000 is category 4", all, "55 Acute Tox. 4 dermal / 45 not toxic", "Acute Tox. 4 dermal"},
		{"Table 3.1.1 / A.1.1: 2037 is not", "eu-clp us-hcs-2024 ca-hpr au-whs", "54 Acute Tox. 4 dermal / 46 not toxic", ""},
		{"GHS Table 3.1.1: 2037 is category 5 in the UN", "un-ghs", "54 Acute Tox. 4 dermal / 46 not toxic", "Acute Tox. 5 dermal"},
		{"Table 3.1.1: exactly 5 mg/l of dust or mist is category 4", all, "30 Acute Tox. 4 inhalation_dust / 70 not toxic", "Acute Tox. 4 inhalation_dust"},
		{"Table 3.1.1: exactly 300 mg/kg is category 3", all, "100 oral=300", "Acute Tox. 3 oral"},
		{"Table 3.1.1: exactly 50 mg/kg is category 2", all, "100 oral=50", "Acute Tox. 2 oral"},
		{"Table 3.1.1: exactly 5 mg/kg is category 1", all, "100 oral=5", "Acute Tox. 1 oral"},
		{"Table 3.1.1: exactly 0.5 mg/l vapour is category 1", all, "100 vapour=0.5", "Acute Tox. 1 inhalation_vapour"},
		{"Table 3.1.1: 2 mg/l vapour is category 2", all, "100 vapour=2", "Acute Tox. 2 inhalation_vapour"},
		{"Table 3.1.1: 10 mg/l vapour is category 3", all, "100 vapour=10", "Acute Tox. 3 inhalation_vapour"},
		{"Table 3.1.1: 20 mg/l vapour is category 4", all, "100 vapour=20", "Acute Tox. 4 inhalation_vapour"},
		{"Table 3.1.1: 2500 ppm gas is category 3", all, "100 gas=2500", "Acute Tox. 3 inhalation_gas"},
		{"Table 3.1.1: 20000 ppm gas is category 4", all, "100 gas=20000", "Acute Tox. 4 inhalation_gas"},
		{"Table 3.1.1: 1 mg/l dust is category 3", all, "100 dust=1", "Acute Tox. 3 inhalation_dust"},
		{"3.1.3.2: each route on its own", all, "60 Acute Tox. 4 inhalation_vapour, Acute Tox. 4 dermal / 40 not toxic", "Acute Tox. 4 dermal, Acute Tox. 4 inhalation_vapour"},
		{"3.1.3.6.2.3 / A.1.3.6.2.4: above 10 % unknown the formula is corrected", all, "24 oral=500 / 20 unknown oral / 56 not toxic", "Acute Tox. 4 oral"},
		{"3.1.3.6.2.3 / A.1.3.6.2.4: at exactly 10 % it is not", "eu-clp us-hcs-2024 ca-hpr au-whs", "24 oral=500 / 10 unknown oral / 66 not toxic", ""},
		{"3.1.3.6.2.3: the share is a sum, 0.1 + 0.2 + 9.7 is 10", "eu-clp us-hcs-2024 ca-hpr", "24 oral=500 / 3.1 unknown oral / 3.2 unknown oral / 3.7 unknown oral / 66 not toxic", ""},
		{"3.1.3.6.2.3: the unknown share is counted by route", "eu-clp us-hcs-2024 ca-hpr", "24 oral=500 / 20 unknown dermal, oral=5001 / 56 not toxic", ""},
		{"3.1.3.3(a): an unknown ingredient below 1 % is not relevant", "eu-clp us-hcs-2024 ca-hpr", "24 oral=500 / 10 unknown oral / 0.9 unknown oral / 65.1 not toxic", ""},
		{"3.1.3.6.1(a): a mixture of unknowns only has no estimate", all, "100 unknown oral", ""},
		{"3.1.3.6.1 CLP: an LD50 above 2000 is left out", "eu-clp gb-clp au-whs", "12 oral=500 / 70 oral=2500 / 18 not toxic", ""},
		{"A.1.3.6.1(a), HPR 8.1.5: an LD50 up to 5000 counts", "us-hcs-2012 us-hcs-2024 ca-hpr un-ghs", "12 oral=500 / 70 oral=2500 / 18 not toxic", "Acute Tox. 4 oral"},
		{"HPR 8.1.2(2): below 1 % not considered", "ca-hpr", "0.9 Acute Tox. 1 oral / 99.1 not toxic", ""},
		{"CLP Table 1.1: category 1 to 3 count from 0.1 %", "eu-clp", "0.9 Acute Tox. 1 oral / 99.1 not toxic", "Acute Tox. 3 oral"},
		{"CLP Table 1.1: category 4 counts from 1 %", "eu-clp", "0.9 oral=301 / 99.1 not toxic", ""},
		{"A.1.3.3(a): category 1 counts below 1 % (our reading: from 0.1 %)", us, "0.9 Acute Tox. 1 oral / 99.1 not toxic", "Acute Tox. 3 oral"},
		{"A.1.3.3(a): 0.09 % does not", us, "0.09 Acute Tox. 1 oral / 99.91 not toxic", ""},
		{"3.1.3.4 / A.1.3.4: a test of the mixture beats the calculation", all, "55 Acute Tox. 4 dermal / 45 not toxic / @tested dermal 150", "Acute Tox. 2 dermal"},
		{"3.1.3.4: a test above every category rules out", all, "100 Acute Tox. 3 oral / @tested oral 6000", ""},
	})
}

// Sources: 29 CFR 1910.1200 App. A A.2, A.3; HPR ss. 8.2, 8.3; CLP Annex I 3.2.3, 3.3.3 (part recalled); GHS 3.2, 3.3 (recalled).
func TestSkinAndEye(t *testing.T) {
	check(t, []statement{
		{"Table 3.2.3: 5 % of a corrosive makes the mixture corrosive", "eu-clp us-hcs-2024 ca-hpr au-whs un-ghs", "5 Skin Corr. 1B / 95 inert", "Skin Corr. 1B, Eye Dam. 1"},
		{"A.2.2.1.2 (2012): a mixture has no subcategory", "us-hcs-2012", "5 Skin Corr. 1B / 95 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"Table 3.2.3: 4 % irritates the skin and damages the eye", "eu-clp us-hcs-2012 us-hcs-2024 ca-hpr au-whs", "4 Skin Corr. 1B / 96 inert", "Skin Irrit. 2, Eye Dam. 1"},
		{"Table 3.2.3: 10 × 2 + 10 = 30", "eu-clp", "10 Skin Irrit. 2 / 2 Skin Corr. 1B / 88 inert", "Skin Irrit. 2, Eye Irrit. 2"},
		{"Table A.2.3: 10 × 2 + 10 = 30", "us-hcs-2012 us-hcs-2024 au-whs un-ghs", "10 Skin Irrit. 2 / 2 Skin Corr. 1B / 88 inert", "Skin Irrit. 2, Eye Irrit. 2A"},
		{"Table 3.2.3: irritants add up to 10 %", "eu-clp us-hcs-2024 ca-hpr au-whs", "6 Skin Irrit. 2 / 4 Skin Irrit. 2 / 90 inert", "Skin Irrit. 2"},
		{"Table 3.2.3: 9 % is not enough", "eu-clp us-hcs-2024 ca-hpr au-whs", "6 Skin Irrit. 2 / 3 Skin Irrit. 2 / 91 inert", ""},
		{"GHS Table 3.2.3: 9 % is category 3 in the UN", "un-ghs", "6 Skin Irrit. 2 / 3 Skin Irrit. 2 / 91 inert", "Skin Irrit. 3"},
		{"GHS Table 3.2.3: category 3 ingredients count from 10 %", "un-ghs", "10 Skin Irrit. 3 / 90 inert", "Skin Irrit. 3"},
		{"3.2.3.3.1 / A.2.3.3.1: below 1 % each, not relevant", all, "0.9 Eye Dam. 1 / 0.9 Skin Corr. 1B / 98.2 inert", ""},
		{"Table A.2.3 note: 1A reaches 5 %", "eu-clp us-hcs-2024 au-whs un-ghs", "5 Skin Corr. 1A / 3 Skin Corr. 1B / 92 inert", "Skin Corr. 1A, Eye Dam. 1"},
		{"Table A.2.3 note: 1A below 5, 1A+1B from 5", "eu-clp us-hcs-2024 au-whs un-ghs", "3 Skin Corr. 1A / 2 Skin Corr. 1B / 95 inert", "Skin Corr. 1B, Eye Dam. 1"},
		{"Table A.2.3 note: 1A+1B below 5, 1A+1B+1C from 5", "eu-clp us-hcs-2024 au-whs un-ghs", "2 Skin Corr. 1A / 2 Skin Corr. 1B / 1 Skin Corr. 1C / 95 inert", "Skin Corr. 1C, Eye Dam. 1"},
		{"HPR 8.2.11(2)(a.4): mixed subcategories give none", "ca-hpr", "3 Skin Corr. 1A / 2 Skin Corr. 1B / 95 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"HPR 8.2.11(2)(a.1): not with any other corrosive, however little", "ca-hpr", "5 Skin Corr. 1A / 0.2 Skin Corr. 1B / 94 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"HPR 8.3.11(2)(c): Eye Irrit. 2 stays 2", "ca-hpr", "10 Eye Irrit. 2 / 90 inert", "Eye Irrit. 2"},
		{"HPR 8.3.11(2)(c.3): mixed subcategories give plain 2", "ca-hpr", "6 Eye Irrit. 2A / 6 Eye Irrit. 2B / 88 inert", "Eye Irrit. 2"},
		{"HPR 8.3.11(2)(b), (d): from corrosives plain 2", "ca-hpr", "1 Skin Corr. 1B / 5 Eye Irrit. 2A / 94 inert", "Skin Irrit. 2, Eye Irrit. 2"},
		{"HPR 8.2.11(2): a pure 1C keeps it", "ca-hpr", "5 Skin Corr. 1C / 95 inert", "Skin Corr. 1C, Eye Dam. 1"},
		{"Table A.2.3 note: one ingredient without a subcategory takes it from all", "eu-clp us-hcs-2024 au-whs un-ghs", "6 Skin Corr. 1A / 1 Skin Corr. 1 / 93 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"Table A.2.3 note: not when it is below 1 %", "eu-clp us-hcs-2024 au-whs un-ghs", "6 Skin Corr. 1A / 0.9 Skin Corr. 1 / 93.1 inert", "Skin Corr. 1A, Eye Dam. 1"},
		{"Table 3.2.4 / A.2.4: acid of pH ≤ 2 from 1 %", all, "1 prop ph=2 / 99 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"Table 3.2.4 / A.2.4: base of pH ≥ 11.5 from 1 %", all, "1 prop ph=11.5 / 99 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"Table 3.2.4 / A.2.4: below 1 % not", all, "0.9 prop ph=1 / 99.1 inert", ""},
		{"Table 3.2.4 / A.2.4: non-additive corrosive from 1 %", all, "1 Skin Corr. 1B, prop non_additive=1 / 99 inert", "Skin Corr. 1, Eye Dam. 1"},
		{"Table 3.2.4 / A.2.4: non-additive irritant from 3 %", "eu-clp", "3 Skin Irrit. 2, Eye Irrit. 2, prop non_additive=1 / 97 inert", "Skin Irrit. 2, Eye Irrit. 2"},
		{"HPR 8.2.11(3), 8.3.11(3): non-additive irritant from 3 %", "ca-hpr", "3 Skin Irrit. 2, Eye Irrit. 2, prop non_additive=1 / 97 inert", "Skin Irrit. 2, Eye Irrit. 2"},
		{"Table A.2.4, A.3.4: non-additive irritant from 3 %", "us-hcs-2012 us-hcs-2024 au-whs un-ghs", "3 Skin Irrit. 2, Eye Irrit. 2, prop non_additive=1 / 97 inert", "Skin Irrit. 2, Eye Irrit. 2A"},
		{"Table 3.2.4: 2.9 % not", "eu-clp us-hcs-2024 ca-hpr au-whs", "2.9 Skin Irrit. 2, Eye Irrit. 2, prop non_additive=1 / 97.1 inert", ""},
		{"3.2.3.1.2 / A.2.3.1.3: pH 11.5", all, "0.9 inert / 99.1 not toxic / @ph 11.5", "Skin Corr. 1, Eye Dam. 1"},
		{"3.2.3.1.2 / A.2.3.1.3: pH 2", all, "0.9 inert / 99.1 not toxic / @ph 2", "Skin Corr. 1, Eye Dam. 1"},
		{"3.2.3.1.2: pH 11.4", all, "0.9 inert / 99.1 not toxic / @ph 11.4", ""},
		{"3.2.3.1.2: tests show a low reserve", all, "0.9 inert / 99.1 not toxic / @ph 1 / @no reserve", ""},
		{"3.2.3.1.1: a test of the mixture comes first", eu, "10 Skin Corr. 1B / 90 inert / @tested Skin Irrit. 2 / @tested not Eye Dam. 1", "Skin Irrit. 2, Eye Irrit. 2"},
		{"3.2.3.1.1: a test that excludes both", eu, "10 Skin Corr. 1B / 90 inert / @tested not Skin Corr. 1 / @tested not Skin Irrit. 2 / @tested not Eye Dam. 1 / @tested not Eye Irrit. 2", ""},
		{"3.3.2: a mixture tested corrosive damages the eye", all, "10 Eye Irrit. 2 / 90 inert / @tested Skin Corr. 1B", "Skin Corr. 1B, Eye Dam. 1"},
		{"Table 3.3.3 / A.3.3: 3 % of Eye Dam. 1", all, "3 Eye Dam. 1 / 97 inert", "Eye Dam. 1"},
		{"Table 3.3.3 / A.3.3: corrosives and Eye Dam. 1 add up", "eu-clp us-hcs-2024 ca-hpr au-whs", "1.5 Skin Corr. 1B / 1.5 Eye Dam. 1 / 97 inert", "Skin Irrit. 2, Eye Dam. 1"},
		{"Table 3.3.3 note / A.3.3 note a: an ingredient of both classes counts once", "eu-clp", "2 Skin Corr. 1B, Eye Dam. 1 / 98 inert", "Skin Irrit. 2, Eye Irrit. 2"},
		{"Table 3.3.3: eye irritants add up to 10 %", "eu-clp", "6 Eye Irrit. 2 / 4 Eye Irrit. 2 / 90 inert", "Eye Irrit. 2"},
		{"Table A.3.3: the category is called 2A", "us-hcs-2012 us-hcs-2024 ca-hpr un-ghs au-whs", "12 Eye Irrit. 2A / 88 inert", "Eye Irrit. 2A"},
		{"Table A.3.3: 2B when every relevant ingredient is", "us-hcs-2012 us-hcs-2024 ca-hpr un-ghs", "6 Eye Irrit. 2B / 6 Eye Irrit. 2B / 88 inert", "Eye Irrit. 2B"},
		{"Table A.3.3: 2A when one is not", "us-hcs-2012 us-hcs-2024 un-ghs", "9 Eye Irrit. 2B / 1 Eye Irrit. 2A / 90 inert", "Eye Irrit. 2A"},
		{"Table A.3.3: one below 1 % does not matter", "us-hcs-2012 us-hcs-2024 un-ghs", "10 Eye Irrit. 2B / 0.9 Eye Irrit. 2A / 89.1 inert", "Eye Irrit. 2B"},
	})
}

// CLP Art. 10 and 3.2.3.3.5; values of the entries are examples chosen here.
func TestSpecificLimits(t *testing.T) {
	resin := " Skin Irrit. 2, Eye Irrit. 2, scl Skin Irrit. 2>=5, scl Eye Irrit. 2>=5 / 80 inert"
	lye := " Skin Corr. 1A, scl Skin Corr. 1A>=5, scl Skin Corr. 1B>=2<5, scl Skin Irrit. 2>=0.5<2, scl Eye Irrit. 2>=0.5<2 / 90 inert"
	check(t, []statement{
		{"Art. 10: a specific limit replaces the generic one", eu, "5" + resin, "Skin Irrit. 2, Eye Irrit. 2"},
		{"Art. 10: below it nothing follows", eu, "4" + resin, ""},
		{"A.0.4.3: a lower limit counts in the US too", us, "5" + resin, "Skin Irrit. 2, Eye Irrit. 2A"},
		{"Art. 10: shares over limits add up, 4/5 + 2/10 = 1", eu, "4 Skin Irrit. 2, scl Skin Irrit. 2>=5 / 2 Skin Irrit. 2 / 94 inert", "Skin Irrit. 2"},
		{"Art. 10: 4/5 + 1.9/10 is not", eu, "4 Skin Irrit. 2, scl Skin Irrit. 2>=5 / 1.9 Skin Irrit. 2 / 94.1 inert", ""},
		{"Art. 10: limits per subcategory, 5 %", eu, "5" + lye, "Skin Corr. 1A, Eye Dam. 1"},
		{"Art. 10: limits per subcategory, 2 %", eu, "2" + lye, "Skin Corr. 1B, Eye Dam. 1"},
		{"Art. 10: limits per subcategory, 0.5 %", eu, "0.5" + lye, "Skin Irrit. 2, Eye Irrit. 2"},
		{"Art. 10: limits per subcategory, 0.4 %", eu, "0.4" + lye, ""},
		{"Art. 10: a limit above the generic one lets more in", eu, "9 Skin Corr. 1A, scl Skin Corr. 1A>=90, scl Skin Corr. 1B>=25<90, scl Skin Irrit. 2>=10<25, scl Eye Irrit. 2>=10<25 / 91 inert", ""},
		{"A.0.4.3: the US uses the generic limit then", "us-hcs-2024", "9 Skin Corr. 1A, scl Skin Corr. 1A>=90, scl Skin Corr. 1B>=25<90, scl Skin Irrit. 2>=10<25, scl Eye Irrit. 2>=10<25 / 91 inert", "Skin Corr. 1A, Eye Dam. 1"},
		{"Art. 10: sensitisers", eu, "0.001 Skin Sens. 1A, scl Skin Sens. 1A>=0.001 / 99 inert", "Skin Sens. 1A"},
		{"Art. 10: carcinogens", eu, "0.01 Carc. 1B, scl Carc. 1B>=0.01 / 99 inert", "Carc. 1B"},
		{"Art. 10: respiratory irritation, 5/5", eu, "5 STOT SE 3 respiratory, scl STOT SE 3 respiratory>=5 / 95 inert", "STOT SE 3 respiratory"},
		{"Art. 10: a class that exists through its limit only", eu, "1 inert, scl STOT RE 2>=1 / 99 inert", "STOT RE 2"},
		{"Art. 10: STOT RE 1 and 2 with their own limits", eu, "5 STOT RE 1, scl STOT RE 1>=5, scl STOT RE 2>=0.5<5 / 95 inert", "STOT RE 1"},
	})
}

// Sources: 29 CFR 1910.1200 App. A A.4 to A.9; HPR ss. 8.4 to 8.9; CLP Annex I 3.4 to 3.9 (part recalled).
func TestSingleIngredientClasses(t *testing.T) {
	low := "us-hcs-2012 us-hcs-2024 ca-hpr un-ghs"
	high := "eu-clp gb-clp au-whs"
	check(t, []statement{
		{"Table 3.4.5 / A.4.5: Skin Sens. 1A from 0.1 %", all, "0.1 Skin Sens. 1A / 99.9 inert", "Skin Sens. 1A"},
		{"Table 3.4.5: Skin Sens. 1 from 1 %", high, "1 Skin Sens. 1 / 99 inert", "Skin Sens. 1"},
		{"Table 3.4.5: not from 0.99 %", high, "0.99 Skin Sens. 1 / 99 inert", ""},
		{"Table A.4.5, HPR 8.4.5: Skin Sens. 1 from 0.1 %", low, "0.1 Skin Sens. 1 / 99.9 inert", "Skin Sens. 1"},
		{"Table 3.4.5 / A.4.5: Skin Sens. 1B from 1 %", all, "1 Skin Sens. 1B / 99 inert", "Skin Sens. 1B"},
		{"HPR 8.4.5(b): 1B not from 0.5 %", all, "0.5 Skin Sens. 1B / 99.5 inert", ""},
		{"3.4.3.3: sensitisers do not add up", all, "0.6 Skin Sens. 1B / 0.6 Skin Sens. 1B / 98 inert", ""},
		{"3.4.3.3: the stricter subcategory wins", all, "0.1 Skin Sens. 1A / 2 Skin Sens. 1B / 97 inert", "Skin Sens. 1A"},
		{"Table 3.4.5: Resp. Sens. 1 from 1 %", high, "1 Resp. Sens. 1 / 99 inert", "Resp. Sens. 1"},
		{"Table A.4.5: Resp. Sens. 1 from 0.1 %", low, "0.1 Resp. Sens. 1 / 99 inert", "Resp. Sens. 1"},
		{"Table 3.4.5: in a gas from 0.2 %", high, "0.2 Resp. Sens. 1 / 99 inert / @form gas", "Resp. Sens. 1"},
		{"Table A.4.5: 1B in a gas from 0.2 %", all, "0.2 Resp. Sens. 1B / 99 inert / @form gas", "Resp. Sens. 1B"},
		{"Table A.4.5: 1B in a liquid from 1 %", all, "0.9 Resp. Sens. 1B / 99 inert / @form liquid", ""},
		{"Table 3.5.2 / A.5.1: Muta. 1B from 0.1 %", all, "0.1 Muta. 1B / 99.9 inert", "Muta. 1B"},
		{"Table 3.5.2 / A.5.1: Muta. 2 from 1 %", all, "1 Muta. 2 / 99 inert", "Muta. 2"},
		{"Table 3.5.2: not from 0.9 %", all, "0.9 Muta. 2 / 99 inert", ""},
		{"Table 3.6.2 / A.6.1: Carc. 1A from 0.1 %", all, "0.1 Carc. 1A / 99.9 inert", "Carc. 1A"},
		{"Table 3.6.2: Carc. 2 from 1 %", high, "1 Carc. 2 / 99 inert", "Carc. 2"},
		{"Table 3.6.2: not from 0.5 %", high, "0.5 Carc. 2 / 99 inert", ""},
		{"Table A.6.1: Carc. 2 from 0.1 %", low, "0.1 Carc. 2 / 99 inert", "Carc. 2"},
		{"3.6.3.1.1 / A.6.3.1: carcinogens do not add up", high, "0.6 Carc. 2 / 0.6 Carc. 2 / 98.8 inert", ""},
		{"Table 3.7.2: Repr. 1B from 0.3 %", high, "0.3 Repr. 1B / 99 inert", "Repr. 1B"},
		{"Table 3.7.2: not from 0.2 %", high, "0.2 Repr. 1B / 99 inert", ""},
		{"Table A.7.1: Repr. 1B from 0.1 %", low, "0.1 Repr. 1B / 99 inert", "Repr. 1B"},
		{"Table 3.7.2: Repr. 2 from 3 %", high, "3 Repr. 2 / 97 inert", "Repr. 2"},
		{"Table 3.7.2: not from 2 %", high, "2 Repr. 2 / 98 inert", ""},
		{"Table A.7.1: Repr. 2 from 0.1 %", low, "0.1 Repr. 2 / 99 inert", "Repr. 2"},
		{"Table 3.7.2: Lact. from 0.3 %", high, "0.3 Lact. / 99 inert", "Lact."},
		{"Table A.7.1: Lact. from 0.1 %", low, "0.1 Lact. / 99 inert", "Lact."},
		{"3.7.3.1: Repr. and Lact. stand beside each other", "eu-clp", "3 Repr. 2, Lact. / 97 inert", "Repr. 2, Lact."},
		{"Table 3.8.3: STOT SE 1 from 10 %", high, "10 STOT SE 1 / 90 inert", "STOT SE 1"},
		{"Table 3.8.3: from 1 to below 10 % category 2", high, "9.9 STOT SE 1 / 90 inert", "STOT SE 2"},
		{"Table 3.8.3: STOT SE 2 from 10 %", high, "10 STOT SE 2 / 90 inert", "STOT SE 2"},
		{"Table 3.8.3: not below", high, "9 STOT SE 2 / 0.9 STOT SE 1 / 90 inert", ""},
		{"Table A.8.2, HPR 8.8.5: STOT SE 1 from 1 %", low, "1 STOT SE 1 / 99 inert", "STOT SE 1"},
		{"Table A.8.2: STOT SE 2 from 1 %", low, "1 STOT SE 2 / 99 inert", "STOT SE 2"},
		{"Table 3.9.4: STOT RE 1, 5 % gives category 2", high, "5 STOT RE 1 / 95 inert", "STOT RE 2"},
		{"Table A.9.3, HPR 8.9.5: STOT RE 1, 5 % gives category 1", low, "5 STOT RE 1 / 95 inert", "STOT RE 1"},
		{"Table 3.9.4: STOT RE 2, 5 % gives nothing", high, "5 STOT RE 2 / 95 inert", ""},
		{"Table A.9.3: STOT RE 2 from 1 %", low, "1 STOT RE 2 / 99 inert", "STOT RE 2"},
		{"3.8.3.4.5 / A.8.3.4.5: narcotics add up to 20 %", all, "12 STOT SE 3 narcotic / 8 STOT SE 3 narcotic / 80 inert", "STOT SE 3 narcotic"},
		{"3.8.3.4.5: unlike effects do not", all, "12 STOT SE 3 narcotic / 12 STOT SE 3 respiratory / 76 inert", ""},
		{"3.8.3.4.5: respiratory irritants", all, "20 STOT SE 3 respiratory / 80 inert", "STOT SE 3 respiratory"},
		{"A.8.3.4.6 (2024), 3.8.3.4.6: below 1 % not relevant", "eu-clp us-hcs-2024 un-ghs", "19.1 STOT SE 3 narcotic / 0.9 STOT SE 3 narcotic / 80 inert", ""},
		{"A.8.3.4.5 (2012): no such rule", "us-hcs-2012 ca-hpr", "19.1 STOT SE 3 narcotic / 0.9 STOT SE 3 narcotic / 80 inert", "STOT SE 3 narcotic"},
		{"HPR 8.8.5(2): category 3 beside category 1", "ca-hpr us-hcs-2024", "25 STOT SE 1, STOT SE 3 respiratory / 75 inert", "STOT SE 1, STOT SE 3 respiratory"},
		{"3.10.3.3 / A.10.3.3: thin and 10 %", all, "6 Asp. Tox. 1 / 4 Asp. Tox. 1 / 90 inert / @visc 20.5", "Asp. Tox. 1"},
		{"3.10.3.3: too thick", "eu-clp us-hcs-2012 us-hcs-2024 ca-hpr au-whs", "30 Asp. Tox. 1 / 70 inert / @visc 20.6", ""},
		{"3.10.3.3 / A.10.3.3.2.1 (2024): below 1 % not relevant", "eu-clp us-hcs-2024 ca-hpr un-ghs", "9.2 Asp. Tox. 1 / 0.9 Asp. Tox. 1 / 89 inert / @visc 10", ""},
		{"A.10.3.3.1 (2012): no such rule", "us-hcs-2012", "9.2 Asp. Tox. 1 / 0.9 Asp. Tox. 1 / 89 inert / @visc 10", "Asp. Tox. 1"},
		{"GHS 3.10.3.3.2: category 2 up to 14 mm²/s", "un-ghs", "10 Asp. Tox. 2 / 90 inert / @visc 14", "Asp. Tox. 2"},
		{"3.10.3.3: viscosity not known, not given", all, "30 Asp. Tox. 1 / 70 inert", ""},
		{"Table 3.11.2: ED HH 1 from 0.1 %", "eu-clp", "0.1 ED HH 1 / 99 inert", "ED HH 1"},
		{"Table 3.11.2: ED HH 2 from 1 %", "eu-clp", "1 ED HH 2 / 99 inert", "ED HH 2"},
		{"Table 4.2.2: ED ENV 1 from 0.1 %, 2 from 1 %", "eu-clp", "0.1 ED ENV 1 / 1 ED ENV 2 / 98 inert", "ED ENV 1"},
		{"4.3.3, 4.4.3: PBT, vPvB, PMT, vPvM from 0.1 %", "eu-clp", "0.1 PBT / 0.1 PMT / 99 inert", "PBT, PMT"},
		{"4.3.3, 4.4.3: vPvB, vPvM from 0.1 %", "eu-clp", "0.1 vPvB / 0.1 vPvM / 99 inert", "vPvB, vPvM"},
		{"Delegated Regulation (EU) 2023/707 is not law in Great Britain", "gb-clp", "1 ED HH 1, PBT, PMT, ED ENV 1 / 99 inert", ""},
		{"5.1.3: Ozone 1 from 0.1 %", "eu-clp gb-clp un-ghs", "0.1 Ozone 1 / 99.9 inert", "Ozone 1"},
		{"1910.1200(c), HPR Part 8, WHS: no environmental classes", "us-hcs-2012 us-hcs-2024 ca-hpr au-whs", "1 Ozone 1 / 30 Aquatic Acute 1, Aquatic Chronic 1 / 69 inert", ""},
	})
}

// Sources: 29 CFR 1910.1200 App. B (2024 text); HPR Part 7; CLP Annex I part 2 (2.6 read).
func TestPhysicalClasses(t *testing.T) {
	check(t, []statement{
		{"Table 2.6.1 / B.6.1: flash point below 23, boiling up to 35", all, "100 inert / @flash -20 / @boil 35", "Flam. Liq. 1"},
		{"Table 2.6.1 / B.6.1: boiling above 35", all, "100 inert / @flash 22.9 / @boil 80", "Flam. Liq. 2"},
		{"Table 2.6.1 / B.6.1: from 23", all, "100 inert / @flash 23 / @boil 80", "Flam. Liq. 3"},
		{"Table 2.6.1 / B.6.1: up to 60", all, "100 inert / @flash 60", "Flam. Liq. 3"},
		{"Table 2.6.1: above 60 not in the EU", eu, "100 inert / @flash 60.5", ""},
		{"Table B.6.1, HPR 7.6.1: above 60 up to 93", "us-hcs-2012 us-hcs-2024 ca-hpr au-whs un-ghs", "100 inert / @flash 93", "Flam. Liq. 4"},
		{"Table B.6.1: above 93", all, "100 inert / @flash 93.1", ""},
		{"2.6.4.5: not when it does not sustain combustion", eu, "100 inert / @flash 40 / @does not sustain", ""},
		{"2.6.4.5: but up to 35 it is", eu, "100 inert / @flash 35 / @does not sustain", "Flam. Liq. 3"},
		{"Table B.6.1: the US has no such rule", us, "100 inert / @flash 40 / @does not sustain", "Flam. Liq. 3"},
		{"Table 2.6.1 footnote: gas oils from 55 to 75", eu, "100 inert / @flash 75 / @use gas oil", "Flam. Liq. 3"},
		{"2.6.2 note: an aerosol is no flammable liquid", all, "100 not toxic / @flash 10 / @boil 50 / @form solid", ""},
		{"Table B.3.1 note 3: more than 1 % flammable and untested", all, "50 Flam. Liq. 2 / 50 inert / @form aerosol", "Aerosol 1"},
		{"Table B.3.1: up to 1 % and below 20 kJ/g", "us-hcs-2024 eu-clp un-ghs au-whs ca-hpr", "1 Flam. Liq. 2, prop heat_of_combustion_kj_g=28 / 99 inert / @form aerosol", "Aerosol 3"},
		{"B.3.2 (2012): there is no category 3", "us-hcs-2012", "1 Flam. Liq. 2, prop heat_of_combustion_kj_g=28 / 99 inert / @form aerosol", ""},
		{"Table B.3.1: from 20 kJ/g", "us-hcs-2024 eu-clp", "80 inert, prop heat_of_combustion_kj_g=25 / 20 inert / @form aerosol", "Aerosol 1"},
		{"Table B.3.2: 85 % and 20 kJ/g", "us-hcs-2024 un-ghs ca-hpr", "90 Flam. Gas 1A, prop heat_of_combustion_kj_g=40 / 10 inert / @form chemical under pressure", "Chem. Press. 1"},
		{"Table B.3.2: more than 1 % flammable", "us-hcs-2024 un-ghs ca-hpr", "30 Flam. Gas 1A, prop heat_of_combustion_kj_g=40 / 70 inert / @form chemical under pressure", "Chem. Press. 2"},
		{"Table B.3.2: from 20 kJ/g", "us-hcs-2024", "1 Flam. Gas 1A / 99 inert, prop heat_of_combustion_kj_g=21 / @form chemical under pressure", "Chem. Press. 2"},
		{"Table B.3.2: the others", "us-hcs-2024", "1 Flam. Gas 1A / 99 inert / @form chemical under pressure", "Chem. Press. 3"},
		{"ISO 10156: 7 % of a gas of Tc 5.7 in nitrogen burns", "us-hcs-2024 eu-clp", "7 Flam. Gas 1A, prop flammable_tc_pct=5.7 / 93 inert, prop nitrogen_equivalence_k=1 / @form gas", "Flam. Gas 1A"},
		{"ISO 10156: 5 % does not", "us-hcs-2024 eu-clp", "5 Flam. Gas 1A, prop flammable_tc_pct=5.7 / 95 inert, prop nitrogen_equivalence_k=1 / @form gas", ""},
		{"B.4.1 note: oxidising power above 23.5 %", all, "24 Ox. Gas 1, prop oxygen_equivalence_c=1 / 76 inert, prop nitrogen_equivalence_k=1 / @form gas", "Ox. Gas 1"},
		{"B.4.1 note: 23.5 % is not above", all, "23.5 Ox. Gas 1, prop oxygen_equivalence_c=1 / 76.5 inert, prop nitrogen_equivalence_k=1 / @form gas", ""},
		{"Table B.2.1 note 4: more than 1 % pyrophoric gas", "us-hcs-2024 eu-clp un-ghs au-whs", "2 Flam. Gas 1A pyrophoric / 98 inert / @form gas", "Flam. Gas 1A pyrophoric"},
		{"B.15.2.1(a): more than 1 % available oxygen", all, "20 Org. Perox. D, oxygen=6 / 80 inert", "Org. Perox. D"},
		{"B.15.2.1(a): exactly 1 % is exempt", all, "20 Org. Perox. D, oxygen=5 / 80 inert", ""},
		{"B.15.2.1(b): with 2 % hydrogen peroxide the limit is 0.5", all, "12 Org. Perox. D, oxygen=5 / 2 inert, prop hydrogen_peroxide=1 / 86 inert", "Org. Perox. D"},
		{"B.15.2.1(b): 0.5 is exempt", all, "10 Org. Perox. D, oxygen=5 / 2 inert, prop hydrogen_peroxide=1 / 88 inert", ""},
		{"B.15.2.1: more than 7 % hydrogen peroxide", all, "1 Org. Perox. D, oxygen=5 / 8 inert, prop hydrogen_peroxide=1 / 91 inert", "Org. Perox. D"},
		{"B.15.3.3: the type of the most dangerous", all, "10 Org. Perox. D, oxygen=6 / 10 Org. Perox. C, oxygen=6 / 80 inert", "Org. Perox. C"},
		{"HPR 7.17.1, item 1(b): 5 % of a flammable solid in fine particles", "ca-hpr", "5 Flam. Sol. 1, prop particle_size_um_max=500 / 95 inert / @form powder / @tested Flam. Sol. 2", "Flam. Sol. 2, Comb. Dust"},
		{"HPR 7.17.1, item 1(b): not in coarse ones", "ca-hpr", "5 Flam. Sol. 1, prop particle_size_um_max=501 / 95 inert / @form powder / @tested Flam. Sol. 2", "Flam. Sol. 2"},
		{"test data decide where nothing adds up", all, "100 not toxic / @tested Ox. Sol. 2", "Ox. Sol. 2"},
		{"a test of the mixture that the rule set has no category for", "us-hcs-2024", "100 not toxic / @tested Aquatic Chronic 2", ""},
		{"no rule adds up oxidising solids", all, "90 Ox. Sol. 1 / 10 inert", ""},
	})
}

// CLP Annex I 4.1.3 (relevance read, tables recalled); GHS 4.1.3 (recalled).
func TestAquatic(t *testing.T) {
	env := "eu-clp gb-clp un-ghs"
	check(t, []statement{
		{"Table 4.1.1: 2.5 × M 10 = 25", env, "2.5 Aquatic Acute 1, Aquatic Chronic 1, M=10, MC=1 / 97.5 not toxic", "Aquatic Acute 1, Aquatic Chronic 2"},
		{"Table 4.1.2: Chronic 1 from 25", env, "25 Aquatic Chronic 1 / 75 inert", "Aquatic Chronic 1"},
		{"Table 4.1.2: 10 × 0.5 + 20 = 25", env, "0.5 Aquatic Chronic 1 / 20 Aquatic Chronic 2 / 79.5 inert", "Aquatic Chronic 2"},
		{"Table 4.1.2: 100 × 0.1 + 10 × 1 + 5 = 25", env, "0.1 Aquatic Chronic 1 / 1 Aquatic Chronic 2 / 5 Aquatic Chronic 3 / 93.9 inert", "Aquatic Chronic 3"},
		{"Table 4.1.2: the sum without M from 25", env, "10 Aquatic Chronic 3 / 15 Aquatic Chronic 4 / 75 inert", "Aquatic Chronic 4"},
		{"4.1.3.1: Chronic 1 counts from 0.1/M", env, "0.02 Aquatic Chronic 1, MC=10 / 99.98 inert", ""},
		{"4.1.3.1: from exactly 0.1/M: 100 × 10 × 0.01 = 10, with 15 of Chronic 3", env, "0.01 Aquatic Chronic 1, MC=10 / 15 Aquatic Chronic 3 / 84.99 inert", "Aquatic Chronic 3"},
		{"4.1.3.1: below 0.1/M it is left out", env, "0.009 Aquatic Chronic 1, MC=10 / 16 Aquatic Chronic 3 / 83 inert", ""},
		{"4.1.3.1: Chronic 2 to 4 count from 1 %", env, "0.9 Aquatic Chronic 2 / 16 Aquatic Chronic 3 / 83.1 inert", ""},
		{"GHS Table 4.1.3: Acute 2 and 3", "un-ghs", "25 Aquatic Acute 2 / 75 inert", "Aquatic Acute 2"},
		{"GHS Table 4.1.3: Acute 3", "un-ghs", "25 Aquatic Acute 3 / 75 inert", "Aquatic Acute 3"},
		{"Table 4.1.3: M from toxicity data, 0.05 mg/l gives 10", env, "2.5 Aquatic Acute 1, prop ec50_mg_l=0.05 / 97.5 inert", "Aquatic Acute 1"},
		{"Table 4.1.3: M chronic, not rapidly degradable, 0.005 mg/l gives 10", env, "2.5 Aquatic Chronic 1, prop noec_mg_l=0.005 / 97.5 inert", "Aquatic Chronic 1"},
		{"Table 4.1.3: rapidly degradable, 0.005 mg/l gives 1", env, "2.5 Aquatic Chronic 1, prop noec_mg_l=0.005, prop rapidly_degradable=1 / 97.5 inert", "Aquatic Chronic 2"},
		{"4.1.3.5.2(a): measured ingredients count as one, 30 % at 0.8 mg/l", env, "15 inert, prop ec50_mg_l=0.8 / 15 inert, prop ec50_mg_l=0.8 / 70 not toxic", "Aquatic Acute 1"},
		{"4.1.3.5.2(a): the part is less toxic than its worst member", "eu-clp", "1 inert, prop ec50_mg_l=0.5 / 29 inert, prop ec50_mg_l=50 / 70 not toxic", ""},
		{"4.1.3.5.2(b): EqNOEC with a tenth for the slowly degradable", env, "30 inert, prop noec_mg_l=0.1 / 70 not toxic", "Aquatic Chronic 1"},
		{"4.1.3.5.2(b): rapidly degradable at 0.1 is Chronic 2", env, "30 inert, prop noec_mg_l=0.1, prop rapidly_degradable=1 / 70 not toxic", "Aquatic Chronic 2"},
	})
}

// supplements lists the supplemental statements, optional ones in brackets.
func supplements(t *testing.T, m classify.Mixture, rs ghs.RuleSet) string {
	t.Helper()
	c := classification(t, m, rs)
	var list []string
	for _, s := range c.Supplements() {
		code := string(s.Code)
		if s.Optional {
			code = "(" + code + ")"
		}
		list = append(list, code)
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// CLP Annex II part 2 (2.1 to 2.3, 2.8 to 2.10 read, the others recalled).
func TestSupplementalStatements(t *testing.T) {
	for _, s := range []statement{
		{"2.1: more than 0.15 % lead in a paint", eu, "1 inert, prop lead_pct=20 / 99 not toxic / @use paint / @public", "EUH201"},
		{"2.1: 0.15 % is not more", eu, "1 inert, prop lead_pct=15 / 99 not toxic / @use paint / @public", ""},
		{"2.2: cyanoacrylate adhesive", eu, "100 not toxic / @use cyanoacrylate / @public", "EUH202"},
		{"2.3: more than 0.0002 % soluble chromium(VI) in cement", eu, "100 inert, prop soluble_chromium_vi_pct=0.0003 / @use cement / @public", "EUH203"},
		{"2.3: not when H317 says it", eu, "98 inert, prop soluble_chromium_vi_pct=0.0004 / 2 Skin Sens. 1 / @use cement / @public", ""},
		{"2.4: isocyanates of any amount", eu, "0.05 inert, prop isocyanate=1 / 99.95 not toxic / @public", "(EUH204)"},
		{"2.5: epoxy constituents up to 700 g/mol", eu, "10 inert, prop epoxy=1, prop average_molar_mass=700 / 90 not toxic / @public", "(EUH205)"},
		{"2.5: not above", eu, "10 inert, prop epoxy=1, prop average_molar_mass=701 / 90 not toxic / @public", ""},
		{"2.6: more than 1 % active chlorine, sold to the public", eu, "5 inert, prop active_chlorine_pct=40 / 95 not toxic / @public", "EUH206"},
		{"2.6: not for trade use", eu, "5 inert, prop active_chlorine_pct=40 / 95 not toxic", ""},
		{"2.7: cadmium for brazing", eu, "10 inert, prop cadmium_pct=20 / 90 not toxic / @use brazing / @public", "EUH207"},
		{"2.8: a sensitiser at its elicitation limit", eu, "0.1 Skin Sens. 1 / 99.9 not toxic / @public", "EUH208"},
		{"2.8: 1A from 0.01 %", eu, "0.01 Skin Sens. 1A / 99.9 not toxic / @public", "EUH208"},
		{"2.8: not below", eu, "0.09 Resp. Sens. 1 / 99.9 not toxic / @public", ""},
		{"2.8: a tenth of a specific limit", eu, "0.0001 Skin Sens. 1A, scl Skin Sens. 1A>=0.001 / 99 not toxic / @public", "EUH208"},
		{"2.8: the sensitiser that gives the class is not named here, the other is", eu, "2 Skin Sens. 1 / 0.5 Skin Sens. 1 / 97 not toxic / @public", "EUH208"},
		{"2.8: the sensitiser that gives the class alone", eu, "2 Skin Sens. 1 / 98 not toxic / @public", ""},
		{"2.9: halogenated hydrocarbon with more than 5 % highly flammable, no flash point", eu, "80 inert, prop halogenated_hydrocarbon=1 / 6 Flam. Liq. 2 / 14 not toxic / @no flash point / @public", "EUH209"},
		{"2.9: with a flammable one, flash point 61", eu, "80 inert, prop halogenated_hydrocarbon=1 / 6 Flam. Liq. 3 / 14 not toxic / @flash 61 / @public", "EUH209A"},
		{"2.10: Carc. 2 from 0.1 %, not for the public", eu, "0.5 Carc. 2 / 99.5 not toxic", "EUH210"},
		{"2.10: not on goods for the public", eu, "0.5 Carc. 2 / 99.5 not toxic / @public", ""},
		{"2.10: not on a classified mixture", eu, "0.5 Carc. 2 / 10 Skin Irrit. 2 / 89 not toxic", ""},
		{"2.10: Repr. 1B from 0.1 %", eu, "0.2 Repr. 1B / 99.8 not toxic", "EUH210"},
		{"2.10: another health hazard from 1 %", eu, "1 Skin Irrit. 2 / 99 not toxic", "EUH210"},
		{"2.10: not from 0.9 %", eu, "0.9 Skin Irrit. 2 / 99.1 not toxic", ""},
		{"2.10: in a gas from 0.2 %", eu, "0.2 Skin Irrit. 2 / 99.8 not toxic / @form gas", "EUH210"},
		{"2.10: a substance with a workplace limit", eu, "1 inert, prop workplace_limit=1 / 99 not toxic", "EUH210"},
		{"part 4: plant protection products", eu, "100 not toxic / @use plant protection product / @public", "EUH401"},
		{"2.12 (text of 2021): liquid with 1 % titanium dioxide particles", "eu-clp-2021", "1 inert, cas=13463-67-7, prop aerodynamic_diameter_um_max=10 / 99 not toxic / @form liquid / @public", "EUH211"},
		{"2.12 (text of 2021): solid with 1 % titanium dioxide", "eu-clp-2021", "1 inert, cas=13463-67-7 / 99 not toxic / @form solid / @public", "EUH212"},
		{"2.12 annulled", "eu-clp gb-clp", "1 inert, cas=13463-67-7 / 99 not toxic / @form solid / @public", ""},
		{"the statements are the EU's only", "us-hcs-2024 ca-hpr au-whs un-ghs", "0.5 Carc. 2, prop isocyanate=1 / 99.5 not toxic", ""},
	} {
		for _, rs := range strings.Fields(s.rs) {
			if got := supplements(t, mix(t, s.mix), ghs.RuleSet(rs)); got != s.want {
				t.Errorf("CLP Annex II %s (%s): %q, want %q", s.clause, rs, got, s.want)
			}
		}
	}
}

// Annex VI note 10 and note W, text of 2021: powders only.
func TestTitaniumDioxide2021(t *testing.T) {
	check(t, []statement{
		{"note 10: powder with 1 % of fine particles", "eu-clp-2021", "1 Carc. 2, cas=13463-67-7, prop aerodynamic_diameter_um_max=10 / 99 not toxic / @form powder", "Carc. 2"},
		{"note 10: not a liquid", "eu-clp-2021", "20 Carc. 2, cas=13463-67-7, prop aerodynamic_diameter_um_max=10 / 80 not toxic / @form liquid", ""},
		{"note 10: other carcinogens in liquids as ever", "eu-clp-2021", "1 Carc. 2 / 99 not toxic / @form liquid", "Carc. 2"},
	})
}
