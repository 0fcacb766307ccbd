package read

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/sheet"
)

// readText reads an invented sheet of testdata.
func readText(t *testing.T, name string) *sheet.Sheet {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	s, err := Document(context.Background(), name, data, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// listed prints the facts of a sheet whose path begins with prefix: one line each, "text" or the state.
func listed(s *sheet.Sheet, prefix string) []string {
	var out []string
	for _, f := range s.Facts() {
		if !strings.HasPrefix(f.Path, prefix) || f.State == sheet.NotStated {
			continue
		}
		if f.State != sheet.Stated {
			out = append(out, f.State.String())
			continue
		}
		out = append(out, f.Text)
	}
	return out
}

// The invented sheets of testdata imitate ways of printing that are common practice; what they state is read off them.
func TestFactsOfPlainTextSheets(t *testing.T) {
	for _, c := range []struct {
		file, path string
		want       []string
	}{
		{"eu-de.txt", "language", []string{"de"}},
		{"eu-de.txt", "jurisdiction", []string{"eu-clp"}},
		{"eu-de.txt", "identification.product_name", []string{"Kaikante Laminierharz L20"}},
		{"eu-de.txt", "identification.uses", []string{"Epoxidharz für den Bootsbau"}},
		{"eu-de.txt", "identification.revision_date", []string{"2024-03-02"}},
		{"eu-de.txt", "identification.emergency_phone", []string{"+49 (0)999 19240"}},
		{"eu-de.txt", "hazards.classification", []string{"Skin Irrit. 2 (H315)", "Eye Irrit. 2 (H319)", "Skin Sens. 1 (H317)", "Aquatic Chronic 2 (H411)"}},
		{"eu-de.txt", "hazards.signal_word", []string{"Warning"}},
		{"eu-de.txt", "hazards.pictograms", []string{"GHS07", "GHS09"}},
		{"eu-de.txt", "composition.ingredients.2.percent", []string{"2.5 – < 10 %"}},
		{"eu-de.txt", "composition.ingredients.0.limits", []string{"Eye Irrit. 2 ≥ 5 %"}},
		{"eu-de.txt", "control.limits", []string{"Benzylalkohol DE AGW TWA 22 mg/m3", "Benzylalkohol DE AGW TWA 5 ppm"}},
		{"eu-de.txt", "physical.quantities.flash_point", []string{"> 150 °C (closed cup)"}},
		{"eu-de.txt", "physical.quantities.dynamic_viscosity", []string{"1100 mPa·s at 25 °C"}},
		{"eu-de.txt", "physical.quantities.melting_point", []string{"no_data"}},
		{"eu-de.txt", "physical.quantities.ph", []string{"not_applicable"}},
		{"eu-de.txt", "toxicology.values", []string{"Benzylalkohol LD50 oral rat 1620 mg/kg", "Benzylalkohol LD50 dermal rabbit > 2000 mg/kg"}},
		{"eu-de.txt", "transport", []string{
			"ADR: UN 3082, UMWELTGEFÄHRDENDER STOFF, FLÜSSIG, N.A.G., 9, PG III",
			"IMDG: UN 3082, ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S., MARINE POLLUTANT, 9, PG III",
			"IATA: UN 3082, 9, PG III"}},

		{"us-old.txt", "pre_ghs", []string{"yes"}},
		{"us-old.txt", "identification.issue_date", []string{"1999-03-15"}},
		{"us-old.txt", "hazards.signal_word", []string{"Warning"}},
		{"us-old.txt", "composition.ingredients.1.cas", []string{"78-93-3"}},
		{"us-old.txt", "composition.ingredients.1.percent", []string{"35 – 40 %"}},
		{"us-old.txt", "physical.quantities.vapour_pressure", []string{"9465.8904 Pa"}},
		{"us-old.txt", "physical.quantities.upper_flammable", []string{"11.4 % vol"}},
		{"us-old.txt", "ratings", []string{"HMIS health 2, flammability 3, instability 0, protection H"}},
		{"us-old.txt", "transport", []string{"DOT: UN 1263, Paint related material, 3, PG II"}},

		{"us-ghs.txt", "identification.supplier_address", []string{"12 Netloft Court Low Marram"}},
		{"us-ghs.txt", "identification.revision_date", []string{"2022-02-07"}},
		{"us-ghs.txt", "hazards.classification", []string{"Acute Tox. 4 inhalation_vapour", "Skin Irrit. 2", "Eye Irrit. 2A", "Carc. 2", "STOT SE 3", "Flam. Liq. 3"}},
		{"us-ghs.txt", "hazards.unknown_toxicity", []string{"12.5 % (inhalation_vapour)"}},
		{"us-ghs.txt", "composition.ingredients.3.secret", []string{"yes"}},
		{"us-ghs.txt", "composition.ingredients.3.percent", []string{"0.1 – < 1 %"}},
		{"us-ghs.txt", "physical.quantities.boiling_point", []string{"> 171 °C"}},
		{"us-ghs.txt", "physical.quantities.upper_flammable", []string{"10.6 % vol"}},
		{"us-ghs.txt", "physical.quantities.voc", []string{"45 %"}},
		{"us-ghs.txt", "toxicology.values.2", []string{"Ethylene glycol monobutyl ether LC50 inhalation_vapour rat 450 ppm (4 h)"}},
		{"us-ghs.txt", "ratings", []string{"NFPA health 2, flammability 2, instability 0", "HMIS health 2*, flammability 2, instability 0, protection X"}},

		{"fr-ca.txt", "jurisdiction", []string{"ca-hpr"}},
		{"fr-ca.txt", "identification.revision_date", []string{"2023-11-04"}},
		{"fr-ca.txt", "hazards.pictograms", []string{"GHS05", "GHS07", "GHS08"}},
		{"fr-ca.txt", "composition.ingredients.2.percent", []string{"5 – < 10 %"}},
		{"fr-ca.txt", "composition.ingredients.3.cas", []string{"no_data"}},
		{"fr-ca.txt", "control.limits", []string{"Triéthylènetétramine CA Ontario TWA 0.5 ppm", "Triéthylènetétramine AIHA WEEL TWA 1 ppm"}},
		{"fr-ca.txt", "toxicology.values.1", []string{"Triéthylènetétramine LD50 dermal rabbit 1465 mg/kg"}},
		{"fr-ca.txt", "transport", []string{"TDG: UN 2735, AMINES LIQUIDES CORROSIVES, N.S.A., 8, PG II"}},

		{"es.txt", "identification.supersedes_date", []string{"2021-02-09"}},
		{"es.txt", "composition.ingredients.0.ec", []string{"919-446-0"}},
		{"es.txt", "composition.ingredients.1.percent", []string{"< 0.3 %"}},
		{"es.txt", "control.limits.3", []string{"Hidrocarburos, C9-C12 ES VLA STEL 580 mg/m3"}},
		{"es.txt", "physical.quantities.density", []string{"905 kg/m3 at 20 °C"}},
		{"es.txt", "transport.1", []string{"IMDG: UN 1263, PAINT, 3, PG III"}},
	} {
		t.Run(c.file+" "+c.path, func(t *testing.T) {
			got := listed(readText(t, c.file), c.path)
			if fmt.Sprint(got) != fmt.Sprint(c.want) {
				t.Errorf("read  %q\nwant  %q", got, c.want)
			}
		})
	}
}

// Codes of ingredients, of section 16 and of legends are not the product's.
func TestProductCodesOnly(t *testing.T) {
	for file, want := range map[string]string{
		"eu-de.txt": "H315 H319 H317 H411 EUH205",
		"fr-ca.txt": "H302 H314 H317 H304",
		"es.txt":    "H226 H336 H372 H411 EUH066",
	} {
		var codes []string
		for _, st := range readText(t, file).Hazards.Statements {
			codes = append(codes, string(st.Value.Code))
		}
		if got := strings.Join(codes, " "); got != want {
			t.Errorf("%s: %s, want %s", file, got, want)
		}
	}
}

// Every section of the standard is found, whatever its language, and a list of changes that repeats headings is none.
func TestSections(t *testing.T) {
	for _, file := range []string{"eu-de.txt", "us-ghs.txt", "fr-ca.txt", "es.txt"} {
		s := readText(t, file)
		for n := 1; n <= 16; n++ {
			if !s.Sections[n].Found || len(s.Sections[n].Text) == 0 {
				t.Errorf("%s: section %d not found or empty", file, n)
			}
		}
		if len(s.Parts) != 0 {
			t.Errorf("%s: taken for %d sheets", file, len(s.Parts)+1)
		}
	}
}

// Two sheets in one document are two parts.
func TestKitInOneDocument(t *testing.T) {
	one, err := os.ReadFile("testdata/eu-de.txt")
	if err != nil {
		t.Fatal(err)
	}
	two, err := os.ReadFile("testdata/es.txt")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Document(context.Background(), "kit.txt", append(append(one, '\f'), two...), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Parts) != 1 || s.Parts[0].Hazards.SignalWord.Value.String() != "Danger" || s.Hazards.SignalWord.Value.String() != "Warning" {
		t.Errorf("%d further parts", len(s.Parts))
	}
}

// A technical data sheet is no safety data sheet; the error says why.
func TestNotASheet(t *testing.T) {
	data, err := os.ReadFile("testdata/data-sheet.txt")
	if err != nil {
		t.Fatal(err)
	}
	_, err = Document(context.Background(), "data-sheet.txt", data, Options{})
	if !errors.Is(err, ErrNotSheet) || !strings.Contains(err.Error(), "of 16 section headings") {
		t.Errorf("error %v", err)
	}
}

func TestFormats(t *testing.T) {
	for want, data := range map[string]string{
		"pdf": "%PDF-1.7\n", "html": "<!DOCTYPE html><html>", "docx": "PK\x03\x04....word/document.xml", "text": "SAFETY DATA SHEET é",
		"image": "\x89PNG\r\n", "an empty file": "", "an old Office file": "\xd0\xcf\x11\xe0", "an unknown kind of file": "\x00\x01\x02",
	} {
		if got := Format([]byte(data)); got != want {
			t.Errorf("Format(%q) = %s, want %s", data, got, want)
		}
	}
}

// Plain text has no places on pages.
func TestPlainTextHasNoBoxes(t *testing.T) {
	for _, f := range readText(t, "es.txt").Facts() {
		for _, e := range f.Evidence {
			if e.Box != (sheet.Rect{}) || e.Page != 1 {
				t.Fatalf("%s: %+v", f.Path, e)
			}
		}
	}
}

func BenchmarkDocument(b *testing.B) {
	data, err := os.ReadFile("testdata/us-ghs.txt")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Document(context.Background(), "us-ghs.txt", data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Any text is read without a panic.
func FuzzDocument(f *testing.F) {
	for _, name := range []string{"es.txt", "us-old.txt"} {
		data, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Document(context.Background(), "x.txt", []byte("SAFETY DATA SHEET\n"+text), Options{})
		if err != nil {
			return
		}
		for _, fact := range s.Facts() {
			if fact.Confidence < 0 || fact.Confidence > 1 {
				t.Fatalf("confidence %v of %s", fact.Confidence, fact.Path)
			}
		}
	})
}

// A text of a few words is refused as no sheet, not as a picture.
func TestTinyTextIsNoPicture(t *testing.T) {
	for _, name := range []string{"note.txt", "note.html"} {
		data := "Slipway closed on Tuesday."
		if strings.HasSuffix(name, "html") {
			data = "<html><body><p>" + data + "</p></body></html>"
		}
		_, err := Document(t.Context(), name, []byte(data), Options{})
		if !errors.Is(err, ErrNotSheet) || strings.Contains(err.Error(), "picture") || !strings.Contains(err.Error(), "4 words") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
