package facts

import (
	"math"
	"strings"
	"testing"

	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/read/text"
	"sixteen/sheet"
)

// sectionHeads are the headings of a sheet in the order of UN GHS Annex 4.
var sectionHeads = []string{"Identification", "Hazards identification", "Composition/information on ingredients", "First aid measures", "Fire-fighting measures",
	"Accidental release measures", "Handling and storage", "Exposure controls/personal protection", "Physical and chemical properties", "Stability and reactivity",
	"Toxicological information", "Ecological information", "Disposal considerations", "Transport information", "Regulatory information", "Other information"}

// sheetWith reads a sheet of sixteen sections in which the given ones have a body.
func sheetWith(bodies map[int]string) (*sheet.Sheet, error) { return sheetSeen(bodies, nil) }

// sheetSeen is sheetWith, its pages looked at by pictures.
func sheetSeen(bodies map[int]string, pictures PictureReader) (*sheet.Sheet, error) {
	pages := pagesWith(bodies)
	return Read(layout.Layout(pages), pages, pictures)
}

// pagesWith are the pages of a sheet of sixteen sections in which the given ones have a body.
func pagesWith(bodies map[int]string) []page.Page {
	var b strings.Builder
	b.WriteString("SAFETY DATA SHEET\n\n")
	for i, h := range sectionHeads {
		b.WriteString("SECTION " + string("0123456789"[(i+1)/10]) + string("0123456789"[(i+1)%10]) + ": " + h + "\n")
		body, ok := bodies[i+1]
		if !ok {
			body = "No remark."
		}
		b.WriteString(body + "\n\n")
	}
	return text.Read([]byte(b.String()))
}

// mustHold checks what holds of every sheet, whatever was printed: evidence lies on a page, confidence is a share, numbers
// are finite and their bounds in order, codes have the form of codes.
func mustHold(t *testing.T, s *sheet.Sheet) {
	t.Helper()
	for _, f := range s.Facts() {
		if f.State == sheet.Stated && (f.Confidence <= 0 || f.Confidence > 1) {
			t.Errorf("%s: confidence %v", f.Path, f.Confidence)
		}
		for _, e := range f.Evidence {
			if e.Page < 1 || e.Box.X1 < e.Box.X0 || e.Box.Y1 < e.Box.Y0 || math.IsNaN(e.Box.X0+e.Box.X1+e.Box.Y0+e.Box.Y1) {
				t.Errorf("%s: evidence %+v", f.Path, e)
			}
		}
	}
	inOrder := func(what string, iv sheet.Interval) {
		if iv.HasLo && iv.HasHi && iv.Lo > iv.Hi || math.IsNaN(iv.Lo+iv.Hi) || math.IsInf(iv.Lo, 0) || math.IsInf(iv.Hi, 0) {
			t.Errorf("%s: %+v", what, iv)
		}
	}
	for _, in := range s.Composition.Ingredients {
		inOrder("percent", in.Percent.Value.Interval)
		if p := in.Percent.Value; p.HasLo && p.Lo < 0 || p.HasHi && p.Hi > 100 {
			t.Errorf("a share of %+v", p)
		}
	}
	for _, l := range s.Control.Limits {
		if v := l.Value.Value; v <= 0 || math.IsInf(v, 0) || math.IsNaN(v) || l.Value.Unit == "" {
			t.Errorf("limit %+v", l.Value)
		}
	}
	for name, qs := range s.Physical.Quantities {
		for _, q := range qs {
			inOrder(string(name), q.Value.Interval)
		}
	}
	for _, v := range s.Toxicology.Values {
		inOrder("dose", v.Value.Quantity.Interval)
	}
	for _, f := range s.Transport {
		if un := f.Value.UN; un != "" && (len(un) != 4 || strings.Trim(un, "0123456789") != "") {
			t.Errorf("UN number %q", un)
		}
		if g := f.Value.PackingGroup; g != "" && g != "I" && g != "II" && g != "III" {
			t.Errorf("packing group %q", g)
		}
	}
	for _, f := range s.Ratings {
		for _, n := range []int{f.Value.Health, f.Value.Flammability, f.Value.Instability} {
			if n < -1 || n > 4 {
				t.Errorf("rating %+v", f.Value)
			}
		}
	}
}

// fuzzSection feeds bodies of one section through the whole way from text to facts.
func fuzzSection(f *testing.F, section int, seeds ...string) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if len(body) > 4000 {
			return
		}
		s, err := sheetWith(map[int]string{section: body})
		if err != nil {
			return // the body made another document of it
		}
		mustHold(t, s)
	})
}

func FuzzStatements(f *testing.F) {
	fuzzSection(f, 2, "Skin Irrit. 2 H315 Causes skin irritation.\nSignal word: Warning\nP280 Wear gloves\nH302-312-319", "Danger\nMay cause an allergic skin reaction. 12.5% of the mixture consists of ingredients of unknown acute toxicity (oral)", "R36/38 Xi\nOther hazards: none known")
}

func FuzzIngredients(f *testing.F) {
	fuzzSection(f, 3, "Name   CAS No.   Weight-%\nStyrene   100-42-5   10 - <25\nSecret   Proprietary   < 1", "Acetone (CAS 67-64-1), 70>\n67-64-130 - 60", "Substance   CAS   %\nXylene\n1330-20-7\n>= 5 -<= 17   C >= 15 %: Skin Irrit. 2; M=10")
}

func FuzzLimits(f *testing.F) {
	fuzzSection(f, 8, "Substance   OSHA PEL   ACGIH TLV\nStyrene   TWA: 100 ppm   TWA: 10 ppm\n100-42-5   (vacated) TWA: 50 ppm   STEL: 20 ppm", "Styrene (CAS 100-42-5): TWA50 ppm Ceiling 0,5 mg/m3\nDNEL 5 mg/m3", "OEL (mg/m3)   54000\nskin")
}

func FuzzPhysical(f *testing.F) {
	fuzzSection(f, 9, "Flash point   27 °C (closed cup)\nBoiling range: 1,000 - 1,200 F\npH 7,5 - 8\nVOC < 250 g/l", "Density 1.05 g/cm3 at 20 °C\nViscosity > 20.5 mm2/s (40 °C)\nVapour pressure 7.9E-05 mmHg", "Explosive limits: 1.1 - 7 Vol-%")
}

func FuzzToxicology(f *testing.F) {
	fuzzSection(f, 11, "LD50 oral rat: 5,000 mg/kg\nLC50 inhalation rat 4 h: 11.8 mg/l\nSkin: irritating", "Name   LD50 oral   LC50\nStyrene   2650 mg/kg   > 20 mg/l", "IARC Group 2B; NTP: reasonably anticipated")
}

func FuzzTransport(f *testing.F) {
	fuzzSection(f, 14, "UN1866, RESIN SOLUTION, 3, PG III\nIMDG: marine pollutant: yes", "   ADR   IMDG   IATA\nUN   1263   1263   1263\nClass   3   3   3\nGroup   11   II   II", "Not regulated")
}

func FuzzRatings(f *testing.F) {
	fuzzSection(f, 16, "NFPA Health 2 Flammability 3 Instability 0\nHMIS: H 2* F 3 R 0 PPE B", "NFPA: 2-3-0\nHealth: 4\nFire: 1", "HMIS   Health   Flammability\n   2*   3")
}

func FuzzIdentification(f *testing.F) {
	fuzzSection(f, 1, "Product name: Tern Bilge Resin A\nSupplier: Gannet Quay Coatings\nEmergency telephone: +44 1632 960000\nRevision date: 03/05/2016", "Date: jj/mm/aaaa 3.5.2016\nVersion 4, replaces 2015-01-01", "UFI: A0B1-C2D3-E4F5-G6H7")
}
