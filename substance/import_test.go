package substance

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"sixteen/ghs"
)

// sheetOf makes a spreadsheet in memory.
func sheetOf(t testing.TB, rows [][]any) *bytes.Buffer {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for i, r := range rows {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &r); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return &b
}

// A table in the layout of the harmonised list: two header rows with titles above several columns, several classes in a
// cell, stars, specific limits, M-factors and estimates. The columns are those of Regulation (EC) No 1272/2008, Annex VI,
// part 3, Table 3; the values are made up for the test, except that the numbers belong to the substances.
func harmonisedSheet(t testing.TB) *bytes.Buffer {
	return sheetOf(t, [][]any{
		{"Harmonised list, edition of the test"},
		{},
		{"Index No", "International Chemical Identification", "EC No", "CAS No", "Classification", "", "Labelling", "", "", "Specific Conc. Limits, M-factors and ATEs", "Notes"},
		{"", "", "", "", "Hazard Class and Category Code(s)", "Hazard statement code(s)", "Pictogram, Signal Word Code(s)", "Hazard statement code(s)", "Suppl. Hazard statement code(s)", "", ""},
		{"601-026-00-0", "styrene", "202-851-5", "100-42-5", "Flam. Liq. 3\nRepr. 2\nAcute Tox. 4 *\nSTOT RE 1\nSkin Irrit. 2\nEye Irrit. 2", "H226\nH361d\nH332\nH372 (hearing organs)\nH315\nH319", "GHS02", "H226\nH361d", "", "*", "D"},
		{"612-059-00-5", "N,N'-bis(2-aminoethyl)ethane-1,2-diamine", "203-950-6", "112-24-3", "Acute Tox. 4 * Skin Corr. 1B Skin Sens. 1 Aquatic Chronic 3", "H312 H314 H317 H412", "", "", "", "", ""},
		{"613-167-00-5", "reaction mass (3:1)", "-", "55965-84-9", "Acute Tox. 2\nAcute Tox. 2\nAcute Tox. 3\nSkin Corr. 1C\nEye Dam. 1\nSkin Sens. 1A\nAquatic Acute 1\nAquatic Chronic 1", "H330\nH310\nH301\nH314\nH318\nH317\nH400\nH410",
			"", "", "EUH071", "Skin Corr. 1C; H314: C ≥ 0,6 %\nSkin Irrit. 2; H315: 0,06 % ≤ C < 0,6 %\nEye Dam. 1; H318: C ≥ 0,6 %\nEye Irrit. 2; H319: 0,06 % ≤ C < 0,6 %\nSkin Sens. 1A; H317: C ≥ 0,0015 %\nM=100\nM=100 (Chronic)", "B"},
		{"603-014-00-0", "2-butoxyethanol", "203-905-0", "111-76-2", "Acute Tox. 3\nAcute Tox. 4\nSkin Irrit. 2\nEye Irrit. 2", "H331\nH302\nH315\nH319", "", "", "", "inhalation: ATE = 3 mg/L (Vapours)\noral: ATE = 1200 mg/kg bw", ""},
		{"999-001-00-0", "xylene isomers", "202-422-2 [1] 203-396-5 [2]", "95-47-6 [1] 106-42-3 [2]", "Flam. Liq. 3", "H226", "", "", "", "", "C"},
		{"999-002-00-0", "a substance that nobody holds", "", "107-07-3", "Carc. 1B\nSTOT SE 3\nSTOT SE 3", "H350\nH336\nH335", "", "", "", "STOT SE 3; H335: C ≥ 10 %", "C, P"},
		{"999-003-00-0", "lead compounds with the exception of those named", "-", "-", "Repr. 1A", "H360Df", "", "", "", "", "A"},
		{"999-004-00-0", "mistyped", "", "100-42-6", "Carc. 2", "H351", "", "", "", "", ""},
		{"999-005-00-0", "styrene again", "202-851-5", "100-42-5", "Carc. 2", "H351", "", "", "", "", ""},
		{"999-006-00-0", "toluene", "203-625-9", "108-88-3", "Flam. Liq. 2\nHorrible 7", "H225\nH999", "", "", "", "Flam. Liq. 2: whatever", ""},
		{"999-007-00-0", "acetone", "200-662-2", "67-64-1", "", "", "", "", "", "", ""},
	})
}

var euTable = Mapping{Kind: ClassificationTable, Edition: "Harmonised list, test edition", RuleSets: []ghs.RuleSet{ghs.EUCLP}}

func rowOf(p Plan, name string) RowReport {
	for _, r := range p.Rows {
		if r.Name == name {
			return r
		}
	}
	return RowReport{}
}

func hazards(list []Classification) []string {
	var out []string
	for _, c := range list {
		out = append(out, strings.TrimSpace(c.Hazard.String()+" "+string(c.Code)))
	}
	return out
}

func TestHarmonisedTableIsReadRowByRow(t *testing.T) {
	tab := Embedded()
	p, err := tab.Import(harmonisedSheet(t), euTable)
	if err != nil {
		t.Fatal(err)
	}
	want := map[Field]int{FieldIndex: 0, FieldName: 1, FieldEC: 2, FieldCAS: 3, FieldClass: 4, FieldCode: 5, FieldSupplement: 8, FieldDetails: 9, FieldNotes: 10}
	if !reflect.DeepEqual(p.Mapping.Columns, want) || p.Mapping.FirstLine != 5 {
		t.Errorf("guessed columns %v from line %d, want %v from line 5", p.Mapping.Columns, p.Mapping.FirstLine, want)
	}
	for name, c := range map[string]struct {
		action Action
		line   int
		reason string
	}{
		"styrene":                       {Same, 5, ""},
		"a substance that nobody holds": {Added, 10, ""},
		"lead compounds with the exception of those named": {Ignored, 11, "no CAS or EC number"},
		"mistyped":      {Ignored, 12, "perhaps 100-42-5 (styrene)"},
		"styrene again": {Ignored, 13, "already stands in row 5"},
		"toluene":       {Changed, 14, "Horrible 7 | Flam. Liq. 2: whatever"},
		"acetone":       {Ignored, 15, "no hazard class"},
	} {
		r := rowOf(p, name)
		if r.Action != c.action || r.Line != c.line || !strings.Contains(r.Reason, c.reason) || (c.reason == "") != (r.Reason == "") {
			t.Errorf("%s: %s in line %d, %q; want %s in line %d, %q", name, r.Action, r.Line, r.Reason, c.action, c.line, c.reason)
		}
	}
	if n := p.Counts[Added] + p.Counts[Changed] + p.Counts[Same]; n != len(p.Layer.Entries) || n != 8 {
		t.Errorf("%d entries for %d rows that count, want 8 (%v)", len(p.Layer.Entries), n, p.Counts)
	}
	after := tab.With(Overlay{}.Apply(p, "1 March, test"))
	for cas, want := range map[string][]string{
		"100-42-5": {"Flam. Liq. 3 H226", "Repr. 2 H361d", "Acute Tox. 4 inhalation_vapour H332", "STOT RE 1 H372", "Skin Irrit. 2 H315", "Eye Irrit. 2 H319"},
		"112-24-3": {"Acute Tox. 4 dermal H312", "Skin Corr. 1B H314", "Skin Sens. 1 H317", "Aquatic Chronic 3 H412"},
		"111-76-2": {"Acute Tox. 3 inhalation_vapour H331", "Acute Tox. 4 oral H302", "Skin Irrit. 2 H315", "Eye Irrit. 2 H319"},
		"95-47-6":  {"Flam. Liq. 3 H226"}, "106-42-3": {"Flam. Liq. 3 H226"},
		"107-07-3": {"STOT SE 3 narcotic H336", "STOT SE 3 respiratory H335"},
		"55965-84-9": {"Acute Tox. 2 inhalation_dust H330", "Acute Tox. 2 dermal H310", "Acute Tox. 3 oral H301", "Skin Corr. 1C H314", "Eye Dam. 1 H318", "Skin Sens. 1A H317",
			"Aquatic Acute 1 H400", "Aquatic Chronic 1 H410", "EUH071", "Skin Irrit. 2 H315", "Eye Irrit. 2 H319"},
	} {
		s, ok := after.ByCAS(cas)
		if !ok {
			t.Errorf("%s is not in the table after the import", cas)
			continue
		}
		b := s.ForRuleSet(ghs.EUCLP)
		if got := hazards(b.Official); !slices.Equal(sorted(got), sorted(want)) || !b.Binding {
			t.Errorf("%s: official %v (binding %v), want %v", cas, got, b.Binding, want)
		}
		for _, c := range b.Official {
			if c.Authority != Imported || !strings.Contains(c.Source.Text, "test edition") || c.Source.Memory {
				t.Errorf("%s %s: authority %s, source %+v", cas, c.Hazard, c.Authority, c.Source)
			}
		}
	}
	s, _ := after.ByCAS("55965-84-9")
	for _, c := range s.ForRuleSet(ghs.EUCLP).Official {
		switch c.Hazard {
		case ghs.AquaticAcute1, ghs.AquaticChronic1:
			if c.MFactor != 100 {
				t.Errorf("%s: M-factor %g, want 100", c.Hazard, c.MFactor)
			}
		case ghs.SkinIrrit2:
			if !c.OnlyByLimit || len(c.Limits) != 1 || c.Limits[0].From != 0.06 || c.Limits[0].To != 0.6 || !c.Limits[0].ToOpen {
				t.Errorf("skin irritation through its limit: %+v", c)
			}
		case ghs.SkinSens1A:
			if len(c.Limits) != 1 || c.Limits[0].From != 0.0015 {
				t.Errorf("skin sensitisation: %+v", c.Limits)
			}
		}
	}
	if s, _ = after.ByCAS("107-07-3"); s.Classifications[0].Note != "P" || s.Classifications[1].Note != "" {
		t.Errorf("note P belongs to the carcinogen class alone: %+v", s.Classifications)
	}
	if got := hazards(s.ForRuleSet(ghs.EUCLP).Conditional); len(got) != 1 || got[0] != "Carc. 1B H350" {
		t.Errorf("the class with note P is not conditional: %v", got)
	}
	s, _ = after.ByCAS("111-76-2")
	if c := s.ForRuleSet(ghs.EUCLP).Official; len(c[0].ATE) != 1 || c[0].ATE[0].Value != 3 || len(c[1].ATE) != 1 || c[1].ATE[0].Value != 1200 {
		t.Errorf("acute toxicity estimates: %+v %+v", c[0].ATE, c[1].ATE)
	}
	if st, _ := after.ByCAS("100-42-5"); st.Classifications[len(st.Classifications)-4].Check == "" && !strings.Contains(fmt.Sprint(st.Classifications), "minimum classification") {
		t.Error("the star of a minimum classification is lost")
	}
	if st, _ := tab.ByCAS("100-42-5"); st.ForRuleSet(ghs.EUCLP).Official[0].Authority != Harmonised {
		t.Error("the import changed the embedded table")
	}
	if st, _ := after.ByCAS("100-42-5"); st.ForRuleSet(ghs.USHCS2024).Official[0].Authority != Harmonised {
		t.Error("a table for the EU replaced the entries for another rule set")
	}
}

func TestImportIsUndone(t *testing.T) {
	tab := Embedded()
	p, err := tab.Import(harmonisedSheet(t), euTable)
	if err != nil {
		t.Fatal(err)
	}
	o := Overlay{}.Apply(p, "1 March")
	raw, err := json.Marshal(o)
	if err != nil {
		t.Fatal(err)
	}
	back, err := ReadOverlay(raw)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back, o) {
		t.Error("the overlay changes on its way through JSON")
	}
	with := tab.With(back)
	again, err := with.Import(harmonisedSheet(t), euTable)
	if err != nil {
		t.Fatal(err)
	}
	if again.Counts[Same] != len(p.Layer.Entries) || again.Counts[Changed]+again.Counts[Added] != 0 {
		t.Errorf("importing the same table again: %v, want %d the same", again.Counts, len(p.Layer.Entries))
	}
	rest, undone, ok := back.Undo()
	if !ok || undone.Edition != euTable.Edition || len(rest.Layers) != 0 {
		t.Errorf("undo gives %d layers, undone %q", len(rest.Layers), undone.Edition)
	}
	if got := tab.With(rest); got != tab {
		t.Error("an empty overlay gives another table")
	}
	if _, _, ok := rest.Undo(); ok {
		t.Error("an empty overlay can be undone")
	}
	for _, bad := range []string{"", "{", `{"layers":[{"kind":"x"}]}`, `{"layers":[{"kind":"limits","entries":[{"cas":"67-64-2"}]}]}`} {
		if _, err := ReadOverlay([]byte(bad)); err == nil {
			t.Errorf("ReadOverlay(%q) gives no error", bad)
		}
	}
}

func TestCompleteTableTakesTheRestAway(t *testing.T) {
	tab := Embedded()
	m := euTable
	m.Complete = true
	p, err := tab.Import(harmonisedSheet(t), m)
	if err != nil {
		t.Fatal(err)
	}
	if p.Counts[Missing] < 100 {
		t.Errorf("%d official entries reported as missing from a table of eight substances", p.Counts[Missing])
	}
	after := tab.With(Overlay{}.Apply(p, ""))
	s, _ := after.ByCAS("67-64-1")
	if b := s.ForRuleSet(ghs.EUCLP); len(b.Official) != 0 || b.Binding {
		t.Errorf("acetone is still official in the EU: %+v", b.Official)
	}
	if b := s.ForRuleSet(ghs.GBCLP); len(b.Official) == 0 {
		t.Error("acetone is no longer official in Great Britain")
	}
}

// A limit table as CSV of a German spreadsheet: semicolons, decimal commas, Windows-1252, two header rows.
const germanLimits = "Meine Grenzwerte\n" +
	"Stoffidentit\xe4t;CAS-Nr.;EG-Nr.;Schichtmittelwert;;Kurzzeitwert;;Hinweis\n" +
	";;;ml/m\xb3 (ppm);mg/m\xb3;ml/m\xb3 (ppm);mg/m\xb3;\n" +
	"Aceton;67-64-1;200-662-2;500;1 200;1000;2400;\n" +
	"Styrol;100-42-5;202-851-5;20;86;40;172;H\n" +
	"Isophorondiamin;2855-13-2;220-666-8;0,01;0,07;-;;Haut, sensibilisierend\n" +
	"Unbekanntes;107-07-3;;viel;;;;\n" +
	";;;;;;;\n"

func TestLimitTableFromASemicolonFile(t *testing.T) {
	m := Mapping{Kind: LimitTable, Edition: "limit list, test", Authority: "DE AGW"}
	p, err := Embedded().Import(strings.NewReader(germanLimits), m)
	if err != nil {
		t.Fatal(err)
	}
	want := map[Field]int{FieldName: 0, FieldCAS: 1, FieldEC: 2, FieldTWAPPM: 3, FieldTWAMgM3: 4, FieldSTELPPM: 5, FieldSTELMgM3: 6, FieldNotation: 7}
	if !reflect.DeepEqual(p.Mapping.Columns, want) || p.Mapping.FirstLine != 4 {
		t.Errorf("guessed %v from line %d, want %v from 4", p.Mapping.Columns, p.Mapping.FirstLine, want)
	}
	after := Embedded().With(Overlay{}.Apply(p, ""))
	s, _ := after.ByCAS("100-42-5")
	got := s.LimitsFor(Germany)
	if len(got) != 2 || got[0].Kind != TWA || got[0].PPM != 20 || got[0].MgM3 != 86 || !got[0].Skin || got[1].Kind != STEL || got[1].MgM3 != 172 {
		t.Errorf("styrene in Germany: %+v", got)
	}
	if len(s.LimitsFor(UnitedStates)) == 0 {
		t.Error("limits of other authorities are gone")
	}
	s, _ = after.ByCAS("2855-13-2")
	if l := s.LimitsFor(Germany); len(l) != 1 || l[0].PPM != 0.01 || l[0].MgM3 != 0.07 || !l[0].Skin || !l[0].Sensitiser {
		t.Errorf("isophorone diamine in Germany: %+v", l)
	}
	s, _ = after.ByCAS("67-64-1")
	if l := s.LimitsFor(Germany); len(l) != 2 || l[0].MgM3 != 1200 {
		t.Errorf("acetone in Germany: %+v", l)
	}
	if r := rowOf(p, "Unbekanntes"); r.Action != Ignored || !strings.Contains(r.Reason, "viel") || r.Line != 7 {
		t.Errorf("a value that is no figure: %+v", r)
	}
}

func TestLimitValues(t *testing.T) {
	for s, want := range map[string]struct {
		v       float64
		ceiling bool
		ok      bool
	}{
		"100": {100, false, true}, "0,5": {0.5, false, true}, "0.02": {0.02, false, true}, "1 210": {1210, false, true}, "1\u00a0210": {1210, false, true},
		"(C)10": {10, true, true}, "C 5": {5, true, true}, "10 (E)": {10, false, true}, "5 mg/m3": {5, false, true}, "-": {0, false, true}, "—": {0, false, true},
		"viel": {}, "10-20": {}, "see Z-2": {}, "1,2,3": {}, "": {},
	} {
		v, c, ok := limitValue(s)
		if v != want.v || c != want.ceiling || ok != want.ok {
			t.Errorf("limitValue(%q) = %g, %v, %v, want %+v", s, v, c, ok, want)
		}
	}
}

func TestDetailsOfHarmonisedEntries(t *testing.T) {
	for text, want := range map[string]string{
		"Skin Irrit. 2; H315: C ≥ 5 %":                                    "Skin Irrit. 2 [5,100]",
		"STOT SE 3; H335: 1 % ≤ C < 10 %":                                 "STOT SE 3 respiratory [1,10)",
		"STOT SE 3; H335:C≥10%":                                           "STOT SE 3 respiratory [10,100]",
		"Skin Corr. 1A; H314: C ≥ 5 % Skin Corr. 1B; H314: 2 % ≤ C < 5 %": "Skin Corr. 1A [5,100] Skin Corr. 1B [2,5)",
		"Eye Irrit. 2; H319: 0,5 % < C ≤ 2 %":                             "Eye Irrit. 2 (0.5,2]",
		"M = 10":                                                          "M 10/10",
		"M=1 M (Chronic) = 10":                                            "M 1/10",
		"M (acute) = 100\nM (chronic) = 1":                                "M 100/1",
		"M=1 000":                                                         "M 1000/1000",
		"oral: ATE = 500 mg/kg bw":                                        "oral 500 mg/kg",
		"dermal: ATE = 1 100 mg/kg bw":                                    "?dermal: ATE = 1 100 mg/kg bw",
		"inhalation: ATE = 1,5 mg/L (dusts or mists)":                     "inhalation dust 1.5 mg/l",
		"inhalation: ATE = 11 mg/L (vapours)":                             "inhalation vapour 11 mg/l",
		"inhalation: ATE = 700 ppmV (gases)":                              "inhalation gas 700 ppm",
		"* STOT RE 2; H373: C ≥ 10 %":                                     "STOT RE 2 [10,100]",
		"Repr. 1B; H360D: C ≥ 0,03 %":                                     "Repr. 1B [0.03,100]",
		"Org. Perox. D; H242: C ≥ 5 %":                                    "Org. Perox. D [5,100]",
		"Skin Sens. 1; H317: C > 100 %":                                   "?Skin Sens. 1; H317: C > 100 %",
		"see note":                                                        "?see note",
		"":                                                                "", "-": "", "*": "",
	} {
		d := ParseDetails(text, nil)
		var got []string
		for _, l := range d.Limits {
			open, shut := "[", "]"
			if l.FromOpen {
				open = "("
			}
			if l.ToOpen {
				shut = ")"
			}
			got = append(got, fmt.Sprintf("%s %s%g,%g%s", l.Hazard, open, l.From, l.To, shut))
		}
		if d.MAcute+d.MChronic > 0 {
			got = append(got, fmt.Sprintf("M %g/%g", d.MAcute, d.MChronic))
		}
		for _, a := range d.ATE {
			got = append(got, fmt.Sprintf("%s %g %s", routeName(a.Route), a.Value, a.Unit))
		}
		for _, u := range d.Unread {
			got = append(got, "?"+u)
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("ParseDetails(%q) = %q, want %q", text, s, want)
		}
	}
}

func TestMappingThatCannotWorkIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		file string
		m    Mapping
		want string
	}{
		"no edition":   {germanLimits, Mapping{Kind: LimitTable, Authority: "DE AGW"}, "edition"},
		"no authority": {germanLimits, Mapping{Kind: LimitTable, Edition: "x"}, "authority"},
		"wrong kind":   {germanLimits, Mapping{Kind: ClassificationTable, Edition: "x"}, "header is that of a limits table"},
		"no header":    {"a;b\n1;2\n", Mapping{Kind: LimitTable, Edition: "x", Authority: "y"}, "no header"},
		"no rule sets": {"CAS;Hazard class\n67-64-1;Flam. Liq. 2\n", Mapping{Kind: ClassificationTable, Edition: "x"}, "rule sets"},
	} {
		if _, err := Embedded().Import(strings.NewReader(c.file), c.m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one about %q", name, err, c.want)
		}
	}
}

// bomb makes a spreadsheet whose sheet unpacks to size bytes of blanks; lie states another size in the directory.
func bomb(t testing.TB, size int, lie uint64) []byte {
	t.Helper()
	raw := workbook(t, func(p io.Writer) {
		chunk := bytes.Repeat([]byte(" "), 1<<20)
		io.WriteString(p, `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
		for n := 0; n < size; n += len(chunk) {
			p.Write(chunk)
		}
		io.WriteString(p, `</sheetData></worksheet>`)
	})
	if lie > 0 { // the size stands at offset 24 of the last directory entry
		at := bytes.LastIndex(raw, []byte("PK\x01\x02"))
		raw[at+24], raw[at+25], raw[at+26], raw[at+27] = byte(lie), byte(lie>>8), byte(lie>>16), byte(lie>>24)
	}
	return raw
}

// workbook is a spreadsheet whose only tab is what write writes.
func workbook(t testing.TB, write func(io.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, body := range map[string]string{
		"[Content_Types].xml":        `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":                `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
	} {
		p, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Write([]byte(body)); err != nil {
			t.Fatal(err)
		}
	}
	p, err := w.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	write(p)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestHostileFilesAreRefused(t *testing.T) {
	wide := strings.Repeat("x;", 400) + "\n" + strings.Repeat("y;", 400) + "\n"
	long := "CAS;name\n67-64-1;" + strings.Repeat("a", maxCell+1) + "\n"
	for name, c := range map[string]struct {
		raw  []byte
		want string
	}{
		"empty":                   {nil, "empty"},
		"blanks":                  {[]byte("  \n\n"), "empty"},
		"a sentence":              {[]byte("there is no table here"), "no table"},
		"binary":                  {[]byte("a\x00b\x00c"), "neither text nor a spreadsheet"},
		"old spreadsheet":         {[]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), "save it as .xlsx"},
		"PDF":                     {[]byte("%PDF-1.7"), "save the table as"},
		"cut off archive":         {[]byte("PK\x03\x04rubbish"), "damaged"},
		"zip bomb":                {bomb(t, 64<<20, 0), "times its size"},
		"zip bomb with a lie":     {bomb(t, 64<<20, 5000), "no tab of the spreadsheet holds a table"},
		"a part that says 300 MB": {bomb(t, 1<<20, 300<<20), "unpacks to more than 256 MB"},
		"too many columns":        {[]byte(wide), "more than 256 columns"},
		"a cell like a book":      {[]byte(long), "no table cell"},
		"archive that is no xl":   {zipOf(t, "a.txt", "hello"), "cannot be read"},
	} {
		_, err := ReadGrid(bytes.NewReader(c.raw), "")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
	if _, err := ReadGrid(sheetOf(t, [][]any{{"CAS"}, {"67-64-1"}}), "no such tab"); err == nil || !strings.Contains(err.Error(), "Sheet1") {
		t.Errorf("a tab that is not there: %v, want the names of those that are", err)
	}
	var many bytes.Buffer
	many.WriteString("CAS;name\n")
	for range maxRows + 1 {
		many.WriteString("1;2\n")
	}
	if _, err := ReadGrid(&many, ""); err == nil || !strings.Contains(err.Error(), "split it") {
		t.Errorf("too many rows: %v", err)
	}
}

// Entities that stand for entities, a hundred million signs in all, are not expanded: the tab cannot be read.
func TestEntitiesAreNotExpanded(t *testing.T) {
	for name, cell := range map[string]string{"entities of entities": "&e;", "a file of this machine": "&f;"} {
		raw := workbook(t, func(p io.Writer) {
			io.WriteString(p, `<?xml version="1.0"?><!DOCTYPE w [<!ENTITY a "CAS CAS CAS"><!ENTITY f SYSTEM "file:///etc/passwd">`)
			for i := range 4 {
				io.WriteString(p, `<!ENTITY `+string(rune('b'+i))+` "`+strings.Repeat("&"+string(rune('a'+i))+";", 60)+`">`)
			}
			io.WriteString(p, `]><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>`+cell+`</t></is></c><c r="B1" t="inlineStr"><is><t>name</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>67-64-1</t></is></c><c r="B2" t="inlineStr"><is><t>acetone</t></is></c></row></sheetData></worksheet>`)
		})
		g, err := ReadGrid(bytes.NewReader(raw), "")
		if err == nil {
			t.Errorf("%s: read as %.200v", name, g.Rows)
		}
	}
	sound := workbook(t, func(p io.Writer) {
		io.WriteString(p, `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>CAS</t></is></c><c r="B1" t="inlineStr"><is><t>name</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>67-64-1</t></is></c><c r="B2" t="inlineStr"><is><t>acetone</t></is></c></row></sheetData></worksheet>`)
	})
	if _, err := ReadGrid(bytes.NewReader(sound), ""); err != nil {
		t.Errorf("the same tab without entities: %v", err)
	}
}

func zipOf(t testing.TB, name, body string) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	p, err := w.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	p.Write([]byte(body))
	w.Close()
	return b.Bytes()
}

func FuzzReadGrid(f *testing.F) {
	f.Add([]byte(germanLimits))
	f.Add(sheetOf(f, [][]any{{"CAS", "Hazard class"}, {"67-64-1", "Flam. Liq. 2"}}).Bytes())
	f.Add([]byte("\xff\xfea\x00;\x00"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		g, err := ReadGrid(bytes.NewReader(raw), "")
		if err != nil {
			return
		}
		if len(g.Rows) != len(g.Lines) {
			t.Fatal("rows and lines differ")
		}
		if m, err := GuessMapping(g); err == nil {
			m.Edition, m.Authority, m.RuleSets = "fuzz", "fuzz", []ghs.RuleSet{ghs.EUCLP}
			if p, err := Embedded().PlanImport(g, m); err == nil {
				Embedded().With(Overlay{}.Apply(p, ""))
			}
		}
	})
}

func FuzzParseDetails(f *testing.F) {
	f.Add("Skin Irrit. 2; H315: C ≥ 5 % M = 10 oral: ATE = 500 mg/kg bw")
	f.Fuzz(func(t *testing.T, s string) {
		for _, l := range ParseDetails(s, nil).Limits {
			if l.From >= l.To || l.From < 0 || l.To > 100 || l.Hazard == ghs.NoHazard {
				t.Fatalf("%q gives %+v", s, l)
			}
		}
	})
}

// BenchmarkImport reads a harmonised table of 4500 rows, about the size of the official one, as a spreadsheet.
func BenchmarkImport(b *testing.B) {
	rows := [][]any{{"Index No", "Name", "EC No", "CAS No", "Hazard Class and Category Code(s)", "Hazard statement code(s)", "Specific Conc. Limits, M-factors and ATEs"}}
	for n := 10000; len(rows) < 4500; n++ {
		for check := range 10 {
			cas := fmt.Sprintf("%d-10-%d", n, check)
			if ValidCAS(cas) {
				rows = append(rows, []any{"", "substance", "", cas, "Flam. Liq. 2\nAcute Tox. 4 *\nSkin Corr. 1B\nSTOT SE 3", "H225\nH332\nH314\nH335", "STOT SE 3; H335: C ≥ 5 %"})
			}
		}
	}
	raw := sheetOf(b, rows).Bytes()
	for b.Loop() {
		p, err := Embedded().Import(bytes.NewReader(raw), euTable)
		if err != nil || p.Counts[Added] < 4400 {
			b.Fatal(err, p.Counts)
		}
	}
}
