package paper

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/blend"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/read"
	"sixteen/read/pdf"
	"sixteen/sheet"
	"sixteen/substance"
)

var draftDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// What a drafted sheet says is read from its PDF again, and from its DOCX and HTML: names, codes, classes, ingredients with shares, limits, measured
// data, transport and dates, for thirteen recipes of the trade under three laws in four languages; and no check finds a
// contradiction in it.
func TestDraftedSheetsAreReadAgain(t *testing.T) {
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	files, err := filepath.Glob("../blend/testdata/*.yaml")
	if err != nil || len(files) < 13 {
		t.Fatalf("recipes: %v, %d found", err, len(files))
	}
	stock := blend.Stock{Table: substance.Embedded()}
	compared, documents := 0, 0
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		recipe, err := blend.Read(bytes.NewReader(raw))
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, rs := range blend.Drafted() {
			m, err := blend.Make(recipe, stock, rs)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			documents++
			for k, l := range ghs.Langs() {
				name := fmt.Sprintf("%s/%s/%s", strings.TrimSuffix(filepath.Base(file), ".yaml"), rs, l)
				d, err := m.Draft(l, stock)
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				var b bytes.Buffer
				if err := DraftedSheet(d, draftDay).WritePDF(&b); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				if keep := os.Getenv("DRAFTS"); keep != "" {
					os.WriteFile(filepath.Join(keep, strings.ReplaceAll(name, "/", "-")+".pdf"), b.Bytes(), 0o644)
				}
				got, err := read.Document(ctx, name+".pdf", b.Bytes(), read.Options{PDF: engine})
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				compared += compareFacts(t, name, d.Facts, got)
				if k == documents%len(ghs.Langs()) { // the other forms in one language of each, in turn
					compareForms(t, ctx, name, d)
				}
				j, err := judge.JudgeSheet(ctx, got, stock.Table, judge.Request{Now: draftDay})
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				if j.RuleSet != rs {
					t.Errorf("%s: taken for a sheet under %s", name, j.RuleSet)
				}
				for _, f := range j.Report.Findings {
					if f.Kind == audit.Contradiction {
						t.Errorf("%s: %s: %s", name, f.Check, f.Title)
					}
				}
			}
		}
	}
	t.Logf("%d facts compared", compared)
	if compared < 5000 {
		t.Errorf("only %d facts were compared", compared)
	}
}

// compareForms reads the draft's DOCX and HTML again.
func compareForms(t *testing.T, ctx context.Context, name string, d *blend.Draft) {
	t.Helper()
	doc := DraftedSheet(d, draftDay)
	for ext, write := range map[string]func(io.Writer) error{"docx": doc.WriteDOCX, "html": doc.WriteHTML} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatalf("%s as %s: %v", name, ext, err)
		}
		got, err := read.Document(ctx, "draft."+ext, b.Bytes(), read.Options{})
		if err != nil {
			t.Errorf("%s as %s: %v", name, ext, err)
			continue
		}
		compareFacts(t, name+" as "+ext, d.Facts, got)
	}
}

// compareFacts compares what the draft says with what was read, fact by fact.
func compareFacts(t *testing.T, name string, want, got *sheet.Sheet) int {
	t.Helper()
	w, g := factsOf(want), factsOf(got)
	for _, f := range w {
		if !slices.Contains(g, f) {
			t.Errorf("%s: not read: %s", name, f)
		}
	}
	for _, f := range g {
		if !slices.Contains(w, f) {
			t.Errorf("%s: read, but not said: %s", name, f)
		}
	}
	return len(w)
}

// factsOf lists the facts of a sheet as lines.
func factsOf(s *sheet.Sheet) []string {
	var out []string
	add := func(format string, args ...any) {
		line := strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " ")
		if !slices.Contains(out, line) {
			out = append(out, line)
		}
	}
	id := s.Identification
	for _, f := range []struct {
		name string
		fact sheet.Fact[string]
	}{{"product", id.ProductName}, {"code", id.ProductCode}, {"uses", id.Uses}, {"against", id.UsesAgainst}, {"supplier", id.Supplier}, {"address", id.SupplierAddress},
		{"phone", id.SupplierPhone}, {"mail", id.SupplierEmail}, {"emergency", id.EmergencyPhone}, {"revised", id.RevisionDate}, {"supersedes", id.SupersedesDate},
		{"version", id.Version}, {"state", s.Physical.State}, {"colour", s.Physical.Colour}, {"odour", s.Physical.Odour}} {
		if f.fact.Known() {
			add("%s: %s", f.name, f.fact.Value)
		}
	}
	add("language: %s", s.Language.Value)
	add("law: %s", s.Jurisdiction.Value)
	add("classified: %v", s.Hazards.Classified)
	for _, c := range s.Hazards.Classification {
		add("class: %v", c.Value.Hazard)
	}
	for _, c := range s.Hazards.Statements {
		add("statement: %s", c.Value.Code)
	}
	for _, c := range s.Hazards.Precautions {
		add("precaution: %s", c.Value.Code)
	}
	for _, p := range s.Hazards.Pictograms {
		add("pictogram: %s", p.Value)
	}
	add("signal word: %v %v", s.Hazards.SignalWord.State, s.Hazards.SignalWord.Value)
	for _, u := range s.Hazards.UnknownToxicity {
		add("unknown toxicity: %v %v", u.Value.Percent, u.Value.Route)
	}
	for _, i := range s.Composition.Ingredients {
		who := i.Name.Value
		add("ingredient: %s, CAS %s, %v – %v %%", who, i.CAS.Value, i.Percent.Value.Lo, i.Percent.Value.Hi)
		if s.Jurisdiction.Value == ghs.EUCLP {
			add("ingredient %s EC %s", who, i.EC.Value)
		}
		for _, h := range i.Hazards {
			add("ingredient %s class %v", who, h.Value.Hazard)
		}
		for _, l := range i.Limits {
			add("ingredient %s limit %v from %v", who, l.Value.Hazard, l.Value.Percent.Lo)
		}
	}
	for _, l := range s.Control.Limits {
		add("limit: %s %s %s %v %s skin %v", l.Value.CAS, l.Value.Authority, l.Value.Kind, l.Value.Value, l.Value.Unit, l.Value.Skin)
	}
	for _, g := range s.Control.Hands.Value.Materials {
		add("gloves: %s", g)
	}
	for p, facts := range s.Physical.Quantities {
		for _, q := range facts {
			if q.State == sheet.Stated {
				add("%s: %v %v %v %v %s", p, q.Value.HasLo, q.Value.Lo, q.Value.HasHi, q.Value.Hi, q.Value.Cup)
			} else {
				add("%s: %v", p, q.State)
			}
		}
	}
	for _, v := range s.Toxicology.Values {
		add("toxicity: %s %s %v %v %s", v.Value.CAS, v.Value.Measure, v.Value.Route, v.Value.Quantity.Lo, v.Value.Quantity.Unit)
	}
	for _, x := range s.Transport {
		v := x.Value
		add("transport: regulated %v, UN %s, %s, class %s (%s), group %s, pollutant %v", v.Regulated, v.UN, v.ProperName, v.Class, strings.Join(v.Subsidiary, " "), v.PackingGroup, v.MarinePollutant == sheet.Stated)
	}
	return out
}
