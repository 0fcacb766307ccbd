package facts

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/sheet"
)

// ingredientsOf reads the ingredients of a sheet with this section 3: "name CAS percent" each.
func ingredientsOf(t *testing.T, body string) string {
	t.Helper()
	s, err := sheetWith(map[int]string{3: body})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, in := range s.Composition.Ingredients {
		share := in.Percent.Value.Interval.String()
		switch {
		case in.Secret.Value:
			share = "secret"
		case in.Percent.State != sheet.Stated:
			share = in.Percent.State.String()
		}
		out = append(out, strings.Join(strings.Fields(in.Name.Value+" "+in.CAS.Value+" "+share), " "))
	}
	return strings.Join(out, "; ")
}

// Ways in which sheets print the lines of section 3, with and without a table; common practice of suppliers.
func TestIngredientLines(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"a table", "Chemical name        CAS No.       Weight-%\nStyrene              100-42-5      10 - <25\nCobalt octoate       136-52-7      < 1",
			"Styrene 100-42-5 10 – < 25; Cobalt octoate 136-52-7 < 1"},
		{"columns in another order", "CAS No.       Weight-%      Chemical name\n100-42-5      10 - 25       Styrene\n67-64-1       2.5           Acetone",
			"Styrene 100-42-5 10 – 25; Acetone 67-64-1 2.5"},
		{"one line each", "Styrene (CAS 100-42-5): 10 - 25 %\nAcetone (CAS 67-64-1): 1 - 5 %", "Styrene 100-42-5 10 – 25; Acetone 67-64-1 1 – 5"},
		{"bounds in cells of their own", "Chemical name        CAS No.       Weight-%\nStyrene              100-42-5      >=10    <25\nAcetone              67-64-1       >=1    <5", "Styrene 100-42-5 10 – < 25; Acetone 67-64-1 1 – < 5"},
		{"trade secret", "Chemical name        CAS No.       Weight-%\nStyrene              100-42-5      10 - 25\nSurfactant           Proprietary   Trade secret", "Styrene 100-42-5 10 – 25; Surfactant secret"},
		{"decimal commas", "Name                 CAS-Nr.       Gew.-%\nStyrol               100-42-5      2,5 - < 10", "Styrol 100-42-5 2.5 – < 10"},
		{"a name that begins with a number", "Chemical name        CAS No.       Weight-%\n2-Butoxyethanol      111-76-2      10 - 30\n1-Methoxy-2-propanol 107-98-2      1 - 5", "2-Butoxyethanol 111-76-2 10 – 30; 1-Methoxy-2-propanol 107-98-2 1 – 5"},
		{"a name wrapped above its row", "Chemical name             CAS No.       Weight-%\nAcetone                   67-64-1       1 - 5\nNaphtha (petroleum),\nhydrodesulphurised heavy  64742-82-1    10 - 30", "Acetone 67-64-1 1 – 5; Naphtha (petroleum), hydrodesulphurised heavy 64742-82-1 10 – 30"},
		{"a name wrapped above the first row", "Chemical name             CAS No.       Weight-%\nNaphtha (petroleum),\nhydrodesulphurised heavy  64742-82-1    10 - 30\nAcetone                   67-64-1       1 - 5", "Naphtha (petroleum), hydrodesulphurised heavy 64742-82-1 10 – 30; Acetone 67-64-1 1 – 5"},
		{"a name wrapped below its row", "Chemical name             CAS No.       Weight-%\nNaphtha (petroleum),      64742-82-1    10 - 30\nhydrodesulphurised heavy\nAcetone                   67-64-1       1 - 5", "Naphtha (petroleum), hydrodesulphurised heavy 64742-82-1 10 – 30; Acetone 67-64-1 1 – 5"},
	} {
		if got := ingredientsOf(t, c.body); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// A value that is a repair of what was recognised says so: a point put back, a sign of a unit, a Roman number, a CAS number
// with a letter in it. Values that were not repaired say nothing.
func TestRepairsAreShown(t *testing.T) {
	pages := pagesWith(map[int]string{
		3:  "Chemical name        CAS No.       Weight-%\nStyrene              1OO-42-5      10 - 25\nAcetone              67-64-1       2.5 - 5",
		9:  "Vapour density: 1.1\nKinematic viscosity: 31 mm²/s\npH: 7.6",
		14: "UN number: UN1866\nTransport hazard class: 3\nPacking group: Il",
	})
	was := map[string]string{"1.1": "11", "mm²/s": "mm?/s", "2.5": "25"}
	for i := range pages {
		pages[i].How = sheet.ByOCR
		for k := range pages[i].Words {
			w := &pages[i].Words[k]
			w.Confidence, w.Was = 0.9, was[w.Text]
		}
	}
	s, err := Read(layout.Layout(pages), pages, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, f := range s.Facts() {
		for _, e := range f.Evidence {
			if e.Recognised != "" {
				got[f.Path] = f.Text + " was " + e.Recognised
			}
		}
	}
	var lines []string
	for path, text := range got {
		lines = append(lines, path+": "+text)
	}
	slices.Sort(lines)
	want := []string{
		"composition.ingredients.0.cas: 100-42-5 was 1OO-42-5",
		"composition.ingredients.1.percent: 2.5 – 5 % was 25 - 5",
		"physical.quantities.kinematic_viscosity.0: 31 mm2/s was 31 mm?/s",
		"physical.quantities.vapour_density.0: 1.1 was 11",
		"transport.0: UN 1866, 3, PG II was Il",
	}
	if !slices.Equal(lines, want) {
		t.Errorf("repairs shown:\n%s", strings.Join(lines, "\n"))
	}
}

// A concentration in air is no dermal or oral dose, even in the lines below a heading of that route.
func TestAirConcentrationIsNoDermalDose(t *testing.T) {
	s, err := sheetWith(map[int]string{11: "Acute dermal toxicity\nLD50 dermal rabbit: 2000 mg/kg\nLC50 rat 4 h: 11.8 mg/l\nLC50 rat: 1500 ppm"})
	if err != nil {
		t.Fatal(err)
	}
	routes := map[string]ghs.Qualifier{}
	for _, v := range s.Toxicology.Values {
		routes[v.Value.Quantity.Unit] = v.Value.Route
	}
	if len(routes) != 3 || routes["mg/kg"] != ghs.Dermal || routes["mg/l"] == ghs.Dermal || routes["ppm"] == ghs.Dermal {
		t.Errorf("routes by unit %v", routes)
	}
}

// A list of limits gives name and CAS number of each substance, the first too, wherever the number is put.
func TestLimitsListedWithCAS(t *testing.T) {
	want := "Styrene 100-42-5 TWA 100; Acetone 67-64-1 TWA 500"
	for _, body := range []string{
		"Occupational exposure limits\nStyrene (CAS 100-42-5): OSHA PEL TWA 100 ppm\nAcetone (CAS 67-64-1): OSHA PEL TWA 500 ppm",
		"Occupational exposure limits: Styrene (CAS 100-42-5) OSHA PEL TWA 100 ppm\nAcetone (CAS 67-64-1) OSHA PEL TWA 500 ppm",
		"Exposure limits:\nStyrene (CAS 100-42-5)\nOSHA PEL TWA 100 ppm\nAcetone (CAS 67-64-1)\nOSHA PEL TWA 500 ppm",
		"Límites de exposición profesional\nStyrene (CAS 100-42-5)\nOSHA PEL TWA 100 ppm\nAcetone (CAS 67-64-1)\nOSHA PEL TWA 500 ppm",
		"Exposure limits\n- Styrene (CAS-No. 100-42-5): 100 ppm TWA (OSHA)\n- Acetone (CAS-No. 67-64-1): 500 ppm TWA (OSHA)",
		"Exposure limits\nStyrene [CAS RN 100-42-5]      TWA       100 ppm\nAcetone [CAS RN 67-64-1]       TWA       500 ppm",
	} {
		s, err := sheetWith(map[int]string{8: body})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, l := range s.Control.Limits {
			got = append(got, fmt.Sprint(l.Value.Substance, " ", l.Value.CAS, " ", l.Value.Kind, " ", l.Value.Value))
		}
		if g := strings.Join(got, "; "); g != want {
			t.Errorf("%q: %s", body, g)
		}
	}
}

// "None known" under other hazards states that there are none; elsewhere it says that there are no data.
func TestNoOtherHazardsKnown(t *testing.T) {
	for words, want := range map[string]sheet.State{
		"None known.": sheet.NoneStated, "None known": sheet.NoneStated, "None": sheet.NoneStated, "No data available": sheet.NoData, "May form peroxides when stored open": sheet.Stated,
	} {
		s, err := sheetWith(map[int]string{2: "Signal word: Warning\nH315 Causes skin irritation\nOther hazards: " + words})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Hazards.OtherHazards.State; got != want {
			t.Errorf("%q: %v, want %v", words, got, want)
		}
	}
}

// drawing stands for a page whose pictogram is part of a larger drawing: it is seen only where the whole page is looked at.
type drawing struct{ asked int }

func (d *drawing) Pictograms(p page.Page, images []page.Image) []sheet.Fact[ghs.Pictogram] {
	d.asked++
	for _, im := range images {
		if im.Box == (sheet.Rect{X1: p.Width, Y1: p.Height}) {
			at := sheet.Rect{X0: 300, X1: 330}
			for _, w := range p.Words {
				if w.Text == "H315" {
					at.Y0, at.Y1 = w.Box.Y0, w.Box.Y1
				}
			}
			return []sheet.Fact[ghs.Pictogram]{{State: sheet.Stated, Value: ghs.ExclamationMark, Confidence: 0.9, Evidence: []sheet.Evidence{{Page: p.Number, Box: at}}}}
		}
	}
	return nil
}

// Hazards without a pictogram make the whole page looked at; a sheet that names its pictogram, or has no hazards, does not.
func TestPictogramInALargerDrawing(t *testing.T) {
	for body, want := range map[string]int{
		"Signal word: Warning\nH315 Causes skin irritation.": 1,
		"Not classified as hazardous.":                       0,
	} {
		d := &drawing{}
		s, err := sheetSeen(map[int]string{2: body}, d)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Hazards.Pictograms) != want || (d.asked > 0) != (want > 0) {
			t.Errorf("%q: %d pictograms, the pages were looked at %d times", body, len(s.Hazards.Pictograms), d.asked)
		}
	}
}

// A sheet in German or French that shows no other number has a decimal comma: no dose may become a thousand times itself.
func TestTheOnlyCommaOfAGermanSheetIsDecimal(t *testing.T) {
	const (
		german  = "Die Angaben sind nach dem Stand der Kenntnis und nicht von der Prüfung mit den Stoffen; bei der Haut und im Wasser wird das nicht auf eine Art oder zur Probe nach den Regeln."
		french  = "Les données sont dans la fiche pour une étude avec les produits et pas des essais sur le produit; cette eau est du lot et la peau des sujets pour les essais."
		english = "The data are from a study with the product and not of this mixture or any other."
	)
	for _, c := range []struct {
		prose, text string
		want        float64
	}{
		{german, "LC50 inhalativ Ratte 4 h: 4,545 mg/l", 4.545},
		{german, "LD50 oral Ratte: 2.500 mg/kg", 2500},
		{french, "CL50 inhalation rat 4 h : 4,545 mg/l", 4.545},
		{english, "LD50 oral rat: 4,545 mg/kg", 4545},
	} {
		s, err := sheetWith(map[int]string{4: c.prose, 5: c.prose, 11: c.text})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Toxicology.Values) != 1 {
			t.Fatalf("%q: %d values, want 1", c.text, len(s.Toxicology.Values))
		}
		if v, ok := s.Toxicology.Values[0].Value.Quantity.Interval.Single(); !ok || v != c.want {
			t.Errorf("%q reads %v, want %v (language %v)", c.text, v, c.want, s.Language.Value)
		}
	}
}
