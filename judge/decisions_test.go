package judge

import (
	"strings"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

var decidedOn = time.Date(2026, 5, 4, 10, 0, 0, 0, time.UTC)

// named is a sheet that holds no more than its product's name.
func named(name string) *sheet.Sheet {
	s := &sheet.Sheet{Source: sheet.Source{Name: name + ".pdf", SHA256: strings.Repeat("ab", 32)}}
	s.Identification.ProductName = sheet.Fact[string]{State: sheet.Stated, Value: name}
	return s
}

// Corrections are made in their order, and the value as read stays beside them.
func TestCorrectionsAreApplied(t *testing.T) {
	s := named("Tidewax")
	var d Decided
	for _, v := range []string{`"A"`, `"B"`} {
		d.Corrections = append(d.Corrections, Correction{Path: "identification.product_name", Value: []byte(v), Who: "Ilse", Why: "misread", When: decidedOn})
	}
	d.Apply(s)
	name := s.Identification.ProductName
	if name.Value != "B" || len(name.Corrections) != 2 || name.Corrections[0].Was != `"Tidewax"` || len(s.Problems) > 0 {
		t.Errorf("corrected name %+v, problems %v", name, s.Problems)
	}
}

// A correction of a fact that the reader no longer finds is said, never dropped in silence.
func TestCorrectionThatNoLongerFitsIsSaid(t *testing.T) {
	s := named("Tidewax")
	Decided{Corrections: []Correction{{Path: "composition.ingredients.7.name", Value: []byte(`"xylene"`), Who: "Ilse", Why: "misread", When: decidedOn}}}.Apply(s)
	if len(s.Problems) != 1 || !strings.Contains(s.Problems[0].What, "composition.ingredients.7.name") || s.Problems[0].Do == "" {
		t.Errorf("problems %+v", s.Problems)
	}
}

// An overruled finding stays in the report with its reason and is no longer open.
func TestOverrulingsAreHonoured(t *testing.T) {
	s := named("Tidewax")
	first, err := JudgeSheet(t.Context(), s, substance.Embedded(), Request{Rules: ghs.USHCS2024, Now: decidedOn})
	if err != nil || len(first.Report.Open()) == 0 {
		t.Fatalf("a sheet with nothing in it has %v open findings (%v)", first, err)
	}
	id := first.Report.Open()[0].ID
	about := Decided{Overrulings: map[string]audit.Overruling{id: {Who: "Ilse", Why: "test"}}}
	second, err := JudgeSheet(t.Context(), s, substance.Embedded(), Request{Rules: ghs.USHCS2024, Now: decidedOn, Overrulings: about.Together(nil)})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := len(first.Report.Findings), len(second.Report.Findings); a != b || len(second.Report.Open()) != a-1 {
		t.Errorf("%d findings before, %d after, %d open", a, b, len(second.Report.Open()))
	}
}
