package audit

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

func TestRunNeedsASheetAndARuleSet(t *testing.T) {
	if _, err := Run(context.Background(), &Case{RuleSet: ghs.EUCLP}); err == nil || !strings.Contains(err.Error(), "read one first") {
		t.Errorf("no sheet: %v", err)
	}
	if _, err := Run(context.Background(), &Case{Sheet: &sheet.Sheet{}, RuleSet: "mars"}); err == nil || !strings.Contains(err.Error(), "choose one of") {
		t.Errorf("no such rule set: %v", err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(ctx, caseOf(resin(ghs.EUCLP), ghs.EUCLP)); err == nil {
		t.Error("a stopped run gives a report")
	}
}

// An empty sheet is all gaps and no contradiction: silence contradicts nothing.
func TestEmptySheetContradictsNothing(t *testing.T) {
	for _, rs := range ghs.RuleSets() {
		r, err := Run(context.Background(), caseOf(&sheet.Sheet{}, rs))
		if err != nil {
			t.Fatal(err)
		}
		if r.Count(Contradiction) > 0 || r.Count(Gap) < 10 {
			t.Errorf("%s: %d contradictions, %d gaps", rs, r.Count(Contradiction), r.Count(Gap))
		}
	}
}

// Findings keep their IDs when rows change places, pages move and the run is made again, and stand worst first.
func TestFindingsAreStable(t *testing.T) {
	ids := func(change func(*Case)) []string {
		c := caseOf(hardener(ghs.EUCLP), ghs.EUCLP)
		instead(ghs.AcuteTox4Oral, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.AquaticChronic3)(c)
		c.Sheet.Control.Eyes = text(8, "Not required.")
		change(c)
		r, err := Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.IsSortedFunc(r.Findings, func(a, b Finding) int { return int(a.Harm) - int(b.Harm) }) {
			t.Error("not in order of harm")
		}
		var out []string
		for _, f := range r.Findings {
			out = append(out, f.ID)
		}
		slices.Sort(out)
		if n := len(slices.Compact(slices.Clone(out))); n != len(out) {
			t.Errorf("%d findings share an ID", len(out)-n)
		}
		return out
	}
	first := ids(func(*Case) {})
	moved := ids(func(c *Case) {
		for i := range c.Sheet.Hazards.Statements {
			c.Sheet.Hazards.Statements[i].Evidence[0].Page = 7
		}
		slices.Reverse(c.Sheet.Hazards.Statements)
	})
	if !slices.Equal(first, moved) {
		t.Errorf("moved words change the IDs:\n%v\n%v", first, moved)
	}
}

// An overruled finding stays in the report, with the reason, and counts no longer.
func TestOverrulingIsKeptAndShown(t *testing.T) {
	c := caseOf(resin(ghs.EUCLP), ghs.EUCLP)
	c.Sheet.Identification.EmergencyPhone = sheet.Fact[string]{}
	r, err := Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Check == "emergency-phone-missing" })
	d := caseOf(c.Sheet, ghs.EUCLP)
	d.Overrulings = map[string]Overruling{r.Findings[i].ID: {Who: "Marit", When: "2026-03-01T10:00:00Z", Why: "it stands on the tin"}}
	over, err := Run(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	if len(over.Findings) != len(r.Findings) || over.Count(Gap) != r.Count(Gap)-1 {
		t.Errorf("%d findings, %d gaps; before %d and %d", len(over.Findings), over.Count(Gap), len(r.Findings), r.Count(Gap))
	}
	if o := over.Findings[i].Overruled; o == nil || o.Why != "it stands on the tin" {
		t.Errorf("overruling %+v", o)
	}
}

// A report goes to JSON and back.
func TestReportKeepsItsWordsInJSON(t *testing.T) {
	r, err := Run(context.Background(), caseOf(thinner(ghs.EUCLP), ghs.EUCLP))
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back Report
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Findings) != len(r.Findings) || !strings.Contains(string(b), `"kind":"note"`) || strings.Contains(string(b), `"kind":3`) {
		t.Errorf("kinds are lost: %s", b[:200])
	}
}

// Whatever a sheet says, the audit ends with a report: every finding complete, no two with one ID.
func TestAnySheetGivesAReport(t *testing.T) {
	all := ghs.AllHazards()
	rapid.Check(t, func(r *rapid.T) {
		rs := rapid.SampledFrom(ghs.RuleSets()).Draw(r, "rules")
		s := rapid.SampledFrom([]func(ghs.RuleSet) *sheet.Sheet{resin, hardener, thinner}).Draw(r, "sheet")(rs)
		c := caseOf(s, rs)
		for range rapid.IntRange(0, 3).Draw(r, "rows") {
			lo := rapid.Float64Range(0, 100).Draw(r, "lo")
			hi := rapid.Float64Range(lo, 100).Draw(r, "hi")
			h := rapid.SampledFrom(all).Draw(r, "hazard")
			cas := rapid.SampledFrom([]string{"67-64-1", "100-42-5", "10000-00-9", "1-1-1"}).Draw(r, "cas")
			addRow(rs, rapid.SampledFrom([]string{"Acetone", "", "x"}).Draw(r, "name"), cas, lo, hi, h)(c)
		}
		for range rapid.IntRange(0, 3).Draw(r, "classes") {
			addClass(&s.Hazards, rapid.SampledFrom(all).Draw(r, "class"), "")
		}
		if rapid.Bool().Draw(r, "drop") {
			s.Composition.Ingredients = nil
		}
		report, err := Run(context.Background(), c)
		if err != nil {
			r.Fatal(err)
		}
		seen := map[string]bool{}
		for _, f := range report.Findings {
			if seen[f.ID] || f.Title == "" || f.Clause == "" || f.Do == "" || len(f.Says)+len(f.Follows) == 0 {
				r.Fatalf("%+v", f)
			}
			seen[f.ID] = true
		}
		Plain(c, report)
	})
}

// Without a substance table the sheet is judged by its own word alone.
func TestRunWithoutASubstanceTable(t *testing.T) {
	for _, make := range []func(ghs.RuleSet) *sheet.Sheet{resin, hardener, thinner} {
		c := caseOf(make(ghs.EUCLP), ghs.EUCLP)
		c.Substances = nil
		r, err := Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		if r.Count(Contradiction) > 0 || len(r.Choices) == 0 || slices.ContainsFunc(r.Choices, func(x Choice) bool { return x.Basis != OfSheet }) {
			t.Errorf("%s: %d contradictions, choices %+v", c.Sheet.Identification.ProductName.Value, r.Count(Contradiction), r.Choices)
		}
	}
}

// BuildMixture keeps ranges as they stand, takes the stricter of sheet and table, and says which it took.
func TestBuildMixtureTakesTheStricterAndSaysSo(t *testing.T) {
	s := hardener(ghs.EUCLP)
	s.Composition.Ingredients[0].Hazards = s.Composition.Ingredients[0].Hazards[:2] // harmful and corrosive, no word of allergy
	m, choices := BuildMixture(s, caseOf(s, ghs.EUCLP).Substances, ghs.EUCLP)
	if got := m.Ingredients[0].Percent; got != sheet.Between(60, 65) {
		t.Errorf("the share became %+v", got)
	}
	if !coversAny(m.Ingredients[0].Hazards, ghs.SkinSens1) {
		t.Errorf("the table's sensitiser is missing: %s", m.Ingredients[0].Hazards)
	}
	i := slices.IndexFunc(choices, func(c Choice) bool { return c.Ingredient == 0 && c.Hazard.Class() == ghs.SkinSensitisation })
	if i < 0 || choices[i].Basis != OfTable || choices[i].Source.Text == "" || !strings.Contains(choices[i].Why, "does not state it") {
		t.Errorf("choice %+v", choices)
	}
	if m.Complete {
		t.Error("95 to 105 % is not complete by its lower ends")
	}
	if a := m.Ingredients[0].ATE[ghs.Oral]; a.Value != 1030 {
		t.Errorf("the sheet's estimate was not taken: %+v", a)
	}
	blankRow := resin(ghs.EUCLP)
	blankRow.Composition.Ingredients = append(blankRow.Composition.Ingredients, ingredient(ghs.EUCLP, "Invented oligomer", "10000-00-9", 1, 2))
	m, _ = BuildMixture(blankRow, nil, ghs.EUCLP)
	if a := m.Ingredients[2].ATE[ghs.Oral]; a.Status != classify.ATEUnknown {
		t.Errorf("nothing known became %+v", a)
	}
}
