package facts

import (
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// Titles of the standard and of older forms are told apart: UN GHS rev. 10, A4.2; Regulation (EU) 2020/878, Annex II in
// four language versions; OSHA form 174; ANSI Z400.1.
func TestHeadings(t *testing.T) {
	for text, want := range map[string]int{
		"SECTION 1: Identification of the substance/mixture and of the company/undertaking": 1,
		"2. Hazard(s) identification":                                                           2,
		"Section II - Hazardous Ingredients/Identity Information":                               3,
		"RUBRIQUE 6: Mesures à prendre en cas de dispersion accidentelle":                       6,
		"ABSCHNITT 8: Begrenzung und Überwachung der Exposition/Persönliche Schutzausrüstungen": 8,
		"SECCIÓN 9: Propiedades físicas y químicas":                                             9,
		"III. Physical/Chemical Data":                                                           9,
		"VI. Health Hazard Data":                                                                11,
		"14 TRANSPORT INFORMATION":                                                              14,
		"16. Sonstige Angaben":                                                                  16,
		"Section 8 on the label of the tin":                                                     0,
		"3-METHYLPENTANE  96-14-0  3 - 7":                                                       0,
		"8.1 Control parameters":                                                                0,
	} {
		ts := tokenize(text)
		kind, _, n := headNumber(text, ts)
		topic, score := topicOf(ts[n:])
		if kind == bare || score < 0.6 {
			topic = 0
		}
		if topic != want {
			t.Errorf("%q: section %d (score %.2f), want %d", text, topic, score, want)
		}
	}
}

// Ways of saying that there is no value are of three kinds.
func TestStates(t *testing.T) {
	for text, want := range map[string]sheet.State{
		"No data available": sheet.NoData, "Nicht bestimmt.": sheet.NoData, "N.D.": sheet.NoData, "Non disponible.": sheet.NoData, "-": sheet.NoData,
		"Not applicable - flash point above 93 °C": sheet.NotApplicable, "N/A": sheet.NotApplicable, "entfällt": sheet.NotApplicable, "No aplicable": sheet.NotApplicable,
		"None": sheet.NoneStated, "Not regulated": sheet.NoneStated, "Non classé.": sheet.NoneStated,
	} {
		if got, ok := stateOf(text); !ok || got != want {
			t.Errorf("stateOf(%q) = %v, %v; want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"23 °C", "Notable smell", "Liquid", ""} {
		if got, ok := stateOf(text); ok {
			t.Errorf("stateOf(%q) = %v", text, got)
		}
	}
}

// Several classes on one line, codes before or behind, categories in words: ways sheets print a classification.
func TestClassesOfALine(t *testing.T) {
	for text, want := range map[string]string{
		"Acute Tox. 4 - H302 Skin Irrit. 2 - H315 Eye Dam. 1 - H318": "Acute Tox. 4 oral H302; Skin Irrit. 2 H315; Eye Dam. 1 H318",
		"Flammable liquids Category 2":                               "Flam. Liq. 2",
		"H315: Skin Irrit. Category 2":                               "Skin Irrit. 2 H315",
		"Skin Sens. 1A, H317 (SCL: 0.0015 %)":                        "Skin Sens. 1A H317",
		"Organic peroxides, Type D":                                  "Org. Perox. D",
		"Call a doctor within 2 hours":                               "",
	} {
		var got []string
		for _, h := range classesOf(text) {
			got = append(got, strings.TrimSpace(h.hazard.String()+" "+string(h.code)))
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%q: %s, want %s", text, s, want)
		}
	}
	hits := classesOf("Acute Tox. 4 (inhalation)")
	if len(hits) != 1 || hits[0].hazard != ghs.NoHazard || len(hits[0].possible) != 3 {
		t.Errorf("a route that is left open: %+v", hits)
	}
}

// Codes in brackets stand behind their phrases, whether each has its line or a cell runs them together; codes in front of
// their phrases are read forwards.
func TestPhrasesOfALine(t *testing.T) {
	for text, want := range map[string]string{
		"Hazard statements\tCauses skin irritation. (H315) May cause an allergic skin reaction. (H317)": "Causes skin irritation.|May cause an allergic skin reaction.",
		"Causes skin irritation. (H315)":                             "Causes skin irritation.",
		"H315 Causes skin irritation. H319 Causes serious eye harm.": "Causes skin irritation.|Causes serious eye harm.",
		"Hazard statements: (H315) Causes skin irritation.":          "Causes skin irritation.",
		"Skin Irrit. 2 (H315)":                                       "",
	} {
		l := lineOfCells(strings.Split(text, "\t")...)
		r := &reader{lines: []layout.Line{l}, sheet: &sheet.Sheet{}}
		hits := ghs.ParseCodes(l.Text)
		var got []string
		for k := range hits {
			got = append(got, r.phraseOf([]int{0}, 0, hits, k))
		}
		if s := strings.Join(got, "|"); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}

// A class may begin on one line of a cell and end on the next: the cells of one ingredient are read together.
func TestClassesOfWrappedCells(t *testing.T) {
	a, b := lineOfCells("Acute Tox. 4 (oral), H302; Skin Corr."), lineOfCells("1B, H314; Eye Dam. 1, H318")
	var in sheet.Ingredient
	for _, run := range classRuns([]stretch{lineOf(&a), lineOf(&b)}) {
		run.read(&in)
	}
	var got []string
	for _, h := range in.Hazards {
		got = append(got, h.Value.Hazard.String()+" "+string(h.Value.Code))
	}
	if s := strings.Join(got, "; "); s != "Acute Tox. 4 oral H302; Skin Corr. 1B H314; Eye Dam. 1 H318" {
		t.Errorf("got %s", s)
	}
}

// A name of a symbol counts where the text goes on with something else; the longest name wins.
func TestPictogramNames(t *testing.T) {
	for text, want := range map[string]ghs.Pictogram{
		"Peligro para la salud Palabra de advertencia": ghs.HealthHazard, "Point d'exclamation": ghs.ExclamationMark,
		"Flame over circle Signal word": ghs.FlameOverCircle, "Flame Signal word": ghs.Flame, "None": ghs.NoPictogram, "Signal word Flame": ghs.NoPictogram,
	} {
		if got, _ := pictogramAt(text); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

// The heads of shares and of classes in one cell are two columns; a head of one column stays one.
func TestHeadsThatRanTogether(t *testing.T) {
	for text, want := range map[string]int{"Concentration [%] Classification": len("Concentration [%] "), "Concentration Classification": len("Concentration "), "Hazard class / H code": 0, "Concentration [%]": 0, "Weight percent by weight": 0} {
		at, ok := classHead(text)
		if at != want || ok != (want > 0) {
			t.Errorf("%q: %d, %v, want %d", text, at, ok, want)
		}
	}
}

// lineOfCells is a line of cells set apart by tabs, as package layout gives it.
func lineOfCells(cells ...string) layout.Line {
	l := layout.Line{Text: strings.Join(cells, "\t"), Table: -1}
	at := 0
	for _, c := range cells {
		l.Cells = append(l.Cells, layout.Cell{Text: c, Start: at, End: at + len(c)})
		at += len(c) + 1
	}
	return l
}

// Limits run together, with the kind before or behind the value: ways sheets print exposure limits.
func TestLimitsOfACell(t *testing.T) {
	for text, want := range map[string]string{
		"TWA: 25 ppm TWA: 123 mg/m3":                                         "TWA 25 ppm; TWA 123 mg/m3",
		"100 ppm TWA; 435 mg/m3 TWA : 150 ppm STEL":                          "TWA 100 ppm; TWA 435 mg/m3; STEL 150 ppm",
		"300 mg/m3 TWA50 ppm Ceiling":                                        "TWA 300 mg/m3; ceiling 50 ppm",
		"WEL 50 ppm 220 mg/m³":                                               "TWA 50 ppm; TWA 220 mg/m3",
		"50 ppm Ceiling; 150 mg/m3 Ceiling1400 ppm IDLH (10% LEL)":           "ceiling 50 ppm; ceiling 150 mg/m3",
		"STEL: 0.05 mg/m3 (respirable; as a limit 0.1 mg/m3 in other lists)": "STEL 0.05 mg/m3",
		"50 µg/m3 - TWA":                                                     "TWA 0.05 mg/m3",
	} {
		l := layout.Line{Text: text, Table: -1, Cells: []layout.Cell{{Text: text, End: len(text)}}}
		lr := &limitReader{reader: &reader{sheet: &sheet.Sheet{}}}
		lr.piece(&l, 0, len(text), limitWord{}, unitBefore(&l))
		var got []string
		for _, f := range lr.out {
			v := f.Value
			got = append(got, strings.Join(strings.Fields((sheet.ExposureLimit{Kind: v.Kind, Value: v.Value, Unit: v.Unit}).String()), " "))
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%q: %s, want %s", text, s, want)
		}
	}
}

func TestTransportWords(t *testing.T) {
	for text, want := range map[string]string{"UN1263": "1263", "UN 2735": "2735", "1866, RESIN SOLUTION": "1866", "call 1-800-424-9300": "", "2024": "2024", "Not regulated": ""} {
		if un, _ := unNumber(text, true); un != want {
			t.Errorf("UN number of %q is %q, want %q", text, un, want)
		}
	}
	for text, want := range map[string]string{"3": "3", "Class 8 – Corrosive substances": "8", "2.3 (5.1, 8)": "2.3", "1.4S": "1.4S", "ORM-D": "", "33": "", "None": ""} {
		if class := classIn(text); class != want {
			t.Errorf("class of %q is %q, want %q", text, class, want)
		}
	}
	for text, want := range map[string]string{"III": "III", "PG II": "II", "2": "II", "11": "II", "Il": "II", "None": ""} { // 11 and Il are II misread
		if group := groupIn(text); group != want {
			t.Errorf("packing group of %q is %q, want %q", text, group, want)
		}
	}
	if s := subsidiaryIn("2.3 (5.1, 8)"); strings.Join(s, " ") != "5.1 8" {
		t.Errorf("subsidiary hazards %v", s)
	}
}

// FuzzClasses: places stay within the text.
func FuzzClasses(f *testing.F) {
	f.Add("Acute Tox. 4 - H302 Skin Irrit. 2 - H315")
	f.Add("Organic peroxides, Type D")
	f.Fuzz(func(t *testing.T, s string) {
		for _, h := range classesOf(s) {
			if h.start < 0 || h.end > len(s) || h.start > h.end {
				t.Fatalf("%+v in %q", h, s)
			}
		}
	})
}
