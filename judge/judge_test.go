package judge

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
	"sixteen/read"
	"sixteen/sheet"
	"sixteen/substance"
)

// plainSheet is an invented sheet as plain text. Its amine is over the corrosive limit of 5 % (29 CFR 1910.1200 App. A,
// Table A.2.3) while section 2 states an irritant.
const plainSheet = `SAFETY DATA SHEET
prepared to 29 CFR 1910.1200
1. IDENTIFICATION
Product name: Tidewrack Hardener
Recommended use: hardener for boat repair
Manufacturer: Skerryholt Resin House
Emergency phone: +00 555 112 112
Revision date: 2025-06-01
2. HAZARDS IDENTIFICATION
Classification: Skin irritation, Category 2
Signal word: Warning
Hazard statements: H315 Causes skin irritation.
3. COMPOSITION/INFORMATION ON INGREDIENTS
Name                    CAS No.       % by weight   Classification
isophorone diamine      2855-13-2     20 - 30       Skin Corr. 1B, H314
4. FIRST-AID MEASURES
Rinse with water.
5. FIRE-FIGHTING MEASURES
Foam.
6. ACCIDENTAL RELEASE MEASURES
Soak up with sand.
7. HANDLING AND STORAGE
Keep closed.
8. EXPOSURE CONTROLS/PERSONAL PROTECTION
Wear gloves.
9. PHYSICAL AND CHEMICAL PROPERTIES
Flash point: 110 °C closed cup
10. STABILITY AND REACTIVITY
Stable.
11. TOXICOLOGICAL INFORMATION
No data available.
12. ECOLOGICAL INFORMATION
No data available.
13. DISPOSAL CONSIDERATIONS
Licensed collector.
14. TRANSPORT INFORMATION
Not regulated.
15. REGULATORY INFORMATION
None.
16. OTHER INFORMATION
None.
`

func judged(t *testing.T, req Request) *Judgement {
	t.Helper()
	s, err := read.Document(t.Context(), "tidewrack.txt", []byte(plainSheet), read.Options{})
	if err != nil {
		t.Fatal(err)
	}
	req.Now = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	j, err := JudgeSheet(t.Context(), s, substance.Embedded(), req)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// A corrosive amine above 5 % makes the product corrosive whatever section 2 says (App. A, Table A.2.3), and the
// judgement says so with both sides, the proof and a reason for the rule set.
func TestCorrosiveAmineUnderIrritant(t *testing.T) {
	j := judged(t, Request{})
	if j.RuleSet != ghs.USHCS2024 && j.RuleSet != ghs.USHCS2012 {
		t.Errorf("judged under %s", j.RuleSet)
	}
	if !strings.Contains(j.RuleSetWhy, "1910.1200") {
		t.Errorf("rule set %s", j.RuleSetWhy)
	}
	found := false
	for _, f := range j.Report.Findings {
		found = found || f.Check == "corrosive-hidden" && len(f.Says) > 0 && len(f.Follows) > 0
	}
	if !found {
		t.Error("the hidden corrosive was not found")
	}
	verdicts := map[ghs.Hazard]Conclusion{}
	for _, c := range j.Conclusions.Classes {
		verdicts[c.Hazard] = c
	}
	if c := verdicts[ghs.SkinCorr1B]; c.Verdict != "certain" || c.Declared || len(c.Why) == 0 {
		t.Errorf("Skin Corr. 1B: %+v", c)
	}
	if c := verdicts[ghs.SkinIrrit2]; c.Verdict != "ruled out" || !c.Declared {
		t.Errorf("Skin Irrit. 2: %+v", c)
	}
	if proof := strings.Join(j.Conclusions.Proof, " "); !strings.Contains(proof, "cannot all be true") {
		t.Errorf("proof: %s", proof)
	}
	var buf bytes.Buffer
	if err := j.WriteJSON(&buf); err != nil || !json.Valid(buf.Bytes()) {
		t.Errorf("JSON: %v", err)
	}
}

func TestTheRuleSetAskedForIsUsedAndTheSheetsOwnIsSaid(t *testing.T) {
	j := judged(t, Request{Rules: ghs.EUCLP})
	if j.RuleSet != ghs.EUCLP || !strings.Contains(j.RuleSetWhy, "United States") {
		t.Errorf("%s: %s", j.RuleSet, j.RuleSetWhy)
	}
	if rs, why := RuleSetFor(&sheet.Sheet{}, ""); rs != ghs.UNGHS || !strings.Contains(why, "--rules") {
		t.Errorf("a sheet of unknown law: %s, %s", rs, why)
	}
}

// Silence, "no data", "not applicable" and "none" are four answers and read as four.
func TestStatesReadDifferently(t *testing.T) {
	seen := map[string]sheet.State{}
	for _, s := range []sheet.State{sheet.NotStated, sheet.Stated, sheet.NoData, sheet.NotApplicable, sheet.NoneStated} {
		words := StateShown(s)
		if other, ok := seen[words]; ok {
			t.Errorf("%v and %v both read %q", s, other, words)
		}
		seen[words] = s
	}
}

func TestRangesKeepTheirTwoEnds(t *testing.T) {
	for want, v := range map[string]sheet.Interval{
		"5":                    sheet.Exactly(5),
		"≥ 10 to ≤ 30":         sheet.Between(10, 30),
		"≥ 10 to < 25":         {Lo: 10, Hi: 25, HasLo: true, HasHi: true, HiOpen: true},
		"< 10":                 {Hi: 10, HasHi: true, HiOpen: true},
		"> 0.1":                {Lo: 0.1, HasLo: true, LoOpen: true},
		"about 12":             {Lo: 12, Hi: 12, HasLo: true, HasHi: true, Approx: true},
		"no number":            {},
		"about ≥ 1 to ≤ 1.234": {Lo: 1, Hi: 1.234, HasLo: true, HasHi: true, Approx: true},
	} {
		if got := IntervalShown(v); got != want {
			t.Errorf("%+v reads %q, want %q", v, got, want)
		}
	}
}

// The exclamation mark of H317 and the two scales that run in opposite directions are pointed out when they occur.
func TestTraps(t *testing.T) {
	s := &sheet.Sheet{}
	if len(Traps(s)) != 0 {
		t.Error("a trap without occasion")
	}
	s.Hazards.Statements = []sheet.Fact[sheet.Statement]{stated(sheet.Statement{Code: "H317"})}
	s.Ratings = []sheet.Fact[sheet.Rating]{stated(sheet.Rating{System: "NFPA", Health: 2})}
	if got := strings.Join(Traps(s), " "); !strings.Contains(got, "allergy") || !strings.Contains(got, "opposite") {
		t.Errorf("traps: %s", got)
	}
}

func stated[T any](v T) sheet.Fact[T] { return sheet.Fact[T]{State: sheet.Stated, Value: v} }

func TestPrintedSignalWordThatIsNone(t *testing.T) {
	h := sheet.Hazards{SignalPrinted: stated("Caution")}
	if got := SignalShown(h); !strings.Contains(got, "Caution") || !strings.Contains(got, "not a signal word") {
		t.Errorf("%q", got)
	}
	h = sheet.Hazards{SignalPrinted: stated("DANGER"), SignalWord: stated(ghs.Danger)}
	if got := SignalShown(h); got != "Danger" {
		t.Errorf("%q", got)
	}
}
