package judge

import (
	"errors"
	"os"
	"path/filepath"
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

// What was decided is there after writing and reading, only for its own document, and gone after it was taken back.
func TestDecisionsAreKeptByDocument(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sixteen", "decisions.json")
	s := named("Tidewax")
	d, err := ReadDecisions(file)
	if err != nil {
		t.Fatal(err)
	}
	if d, err = d.Overrule(s.Source, "sum-over-100-0123456789", "Ilse", "the supplier wrote", decidedOn); err != nil {
		t.Fatal(err)
	}
	if d, err = d.Correct(s, Correction{Path: "identification.product_name", Value: []byte(`"Tidewax 2"`), Who: "Ilse", Why: "misread", When: decidedOn}); err != nil {
		t.Fatal(err)
	}
	if s.Identification.ProductName.Value != "Tidewax" {
		t.Error("keeping a correction changed the sheet itself")
	}
	if err := WriteDecisions(file, d); err != nil {
		t.Fatal(err)
	}
	back, err := ReadDecisions(file)
	if err != nil {
		t.Fatal(err)
	}
	if o := back.Of(s.Source.SHA256).Overrulings["sum-over-100-0123456789"]; o.Who != "Ilse" || o.Why != "the supplier wrote" || o.When != "2026-05-04T10:00:00Z" {
		t.Errorf("overruling after reading: %+v", o)
	}
	if other := back.Of(strings.Repeat("cd", 32)); len(other.Overrulings)+len(other.Corrections) > 0 {
		t.Errorf("another document has decisions: %+v", other)
	}
	back.Of(s.Source.SHA256).Apply(s)
	name := s.Identification.ProductName
	if name.Value != "Tidewax 2" || len(name.Corrections) != 1 || name.Corrections[0].Was != `"Tidewax"` || len(s.Problems) > 0 {
		t.Errorf("corrected name %+v, problems %v", name, s.Problems)
	}
	if back, err = back.Reinstate(s.Source, "sum-over-100-0123456789"); err != nil {
		t.Fatal(err)
	}
	if back, err = back.Uncorrect(s.Source, "identification.product_name"); err != nil {
		t.Fatal(err)
	}
	if len(back.Documents) != 0 {
		t.Errorf("left after taking everything back: %+v", back)
	}
	if _, err := back.Reinstate(s.Source, "sum-over-100-0123456789"); !errors.Is(err, ErrNotDecided) {
		t.Errorf("taking back twice: %v", err)
	}
	if _, err := back.Uncorrect(s.Source, "identification.product_name"); !errors.Is(err, ErrNotDecided) {
		t.Errorf("taking back twice: %v", err)
	}
}

// Two corrections of one fact are taken back one by one, the later first.
func TestCorrectionsAreTakenBackLastFirst(t *testing.T) {
	s := named("Tidewax")
	var d Decisions
	for _, v := range []string{`"A"`, `"B"`} {
		var err error
		if d, err = d.Correct(s, Correction{Path: "identification.product_name", Value: []byte(v), Who: "Ilse", Why: "misread", When: decidedOn}); err != nil {
			t.Fatal(err)
		}
	}
	d, err := d.Uncorrect(s.Source, "identification.product_name")
	if err != nil {
		t.Fatal(err)
	}
	d.Of(s.Source.SHA256).Apply(s)
	if s.Identification.ProductName.Value != "A" {
		t.Errorf("after taking one back the name is %q", s.Identification.ProductName.Value)
	}
}

// Nothing is decided without a name and a reason, about no fact, or with a value of the wrong form.
func TestDecisionsNeedNameReasonAndFact(t *testing.T) {
	s := named("Tidewax")
	for _, c := range [][2]string{{"", "why"}, {"Ilse", " "}} {
		if _, err := (Decisions{}).Overrule(s.Source, "x-0123456789", c[0], c[1], decidedOn); err == nil {
			t.Errorf("overruled by %q for %q", c[0], c[1])
		}
	}
	for _, c := range []Correction{
		{Path: "identification.product_name", Value: []byte(`"A"`), Who: "Ilse"},
		{Path: "identification.product_name", Value: []byte(`3`), Who: "Ilse", Why: "misread"},
		{Path: "identification.colour", Value: []byte(`"A"`), Who: "Ilse", Why: "misread"},
	} {
		if d, err := (Decisions{}).Correct(s, c); err == nil || len(d.Documents) > 0 {
			t.Errorf("%+v was kept", c)
		}
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

// A file that cannot be read is an error that names it, not an empty set of decisions.
func TestDamagedDecisionsAreAnError(t *testing.T) {
	file := filepath.Join(t.TempDir(), "decisions.json")
	if err := os.WriteFile(file, []byte(`{"documents":`), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadDecisions(file); err == nil || !strings.Contains(err.Error(), file) {
		t.Errorf("error %v", err)
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
	second, err := JudgeSheet(t.Context(), s, substance.Embedded(), Request{Rules: ghs.USHCS2024, Now: decidedOn, Overrulings: about.together(nil)})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := len(first.Report.Findings), len(second.Report.Findings); a != b || len(second.Report.Open()) != a-1 {
		t.Errorf("%d findings before, %d after, %d open", a, b, len(second.Report.Open()))
	}
}
