package substance

import (
	"testing"

	"sixteen/ghs"
)

// printed is one limit as it stands in the named table; zero is a blank cell.
type printed struct {
	cas, kind, basis string
	ppm, mg          float64
	skin             bool
}

// 29 CFR 1910.1000 Tables Z-1 and Z-2, read in the Code of Federal Regulations and typed from it, not taken from the data.
var oshaPrinted = []printed{
	{"64-19-7", TWA, "", 10, 25, false}, {"67-64-1", TWA, "", 1000, 2400, false}, {"75-05-8", TWA, "", 40, 70, false},
	{"79-06-1", TWA, "", 0, 0.3, true}, {"106-92-3", Ceiling, "", 10, 45, false}, {"1344-28-1", TWA, "total dust", 0, 15, false},
	{"1344-28-1", TWA, "respirable fraction", 0, 5, false}, {"7429-90-5", TWA, "total dust", 0, 15, false}, {"7664-41-7", TWA, "", 50, 35, false},
	{"7727-43-7", TWA, "total dust", 0, 15, false}, {"108-83-8", TWA, "", 50, 290, false}, {"127-19-5", TWA, "", 10, 35, true},
	{"121-69-7", TWA, "", 5, 25, true}, {"68-12-2", TWA, "", 10, 30, true}, {"131-11-3", TWA, "", 0, 5, false}, {"123-91-1", TWA, "", 100, 360, true},
	{"34590-94-8", TWA, "", 100, 600, true}, {"117-81-7", TWA, "", 0, 5, false}, {"106-89-8", TWA, "", 5, 19, true}, {"141-43-5", TWA, "", 3, 6, false},
	{"110-80-5", TWA, "", 200, 740, true}, {"111-15-9", TWA, "", 100, 540, true}, {"141-78-6", TWA, "", 400, 1400, false},
	{"140-88-5", TWA, "", 25, 100, true}, {"64-17-5", TWA, "", 1000, 1900, false}, {"100-41-4", TWA, "", 100, 435, false}, {"60-29-7", TWA, "", 400, 1200, false},
	{"109-86-4", TWA, "", 25, 80, true}, {"79-20-9", TWA, "", 200, 610, false}, {"109-87-5", TWA, "", 1000, 3100, false}, {"67-56-1", TWA, "", 200, 260, false},
	{"110-43-0", TWA, "", 100, 465, false}, {"108-87-2", TWA, "", 500, 2000, false}, {"80-62-6", TWA, "", 100, 410, false}, {"98-83-9", Ceiling, "", 100, 480, false},
	{"101-68-8", Ceiling, "", 0.02, 0.2, false}, {"91-20-3", TWA, "", 10, 50, false}, {"7440-02-0", TWA, "", 0, 1, false}, {"7697-37-2", TWA, "", 2, 5, false},
	{"115-86-6", TWA, "", 0, 3, false}, {"8006-64-2", TWA, "", 100, 560, false}, {"25013-15-4", TWA, "", 100, 480, false}, {"1330-20-7", TWA, "", 100, 435, false},
	{"1314-13-2", TWA, "fume", 0, 5, false}, {"1314-13-2", TWA, "total dust", 0, 15, false}, {"1314-13-2", TWA, "respirable fraction", 0, 5, false},
	{"22464-99-9", TWA, "as Zr", 0, 5, false},
	{"100-42-5", TWA, "", 100, 0, false}, {"100-42-5", Ceiling, "", 200, 0, false}, {"127-18-4", TWA, "", 100, 0, false}, {"127-18-4", Ceiling, "", 200, 0, false},
	{"108-88-3", TWA, "", 200, 0, false}, {"108-88-3", Ceiling, "", 300, 0, false}, {"79-01-6", TWA, "", 100, 0, false}, {"79-01-6", Ceiling, "", 200, 0, false},
}

// Annexes of Directives 91/322/EEC, 2009/161/EU and (EU) 2019/1831, read in public copies of the annexes.
var euPrinted = []printed{
	{"68-12-2", TWA, "", 5, 15, true}, {"68-12-2", STEL, "", 10, 30, true}, {"80-62-6", TWA, "", 50, 0, false}, {"80-62-6", STEL, "", 100, 0, false},
	{"108-05-4", TWA, "", 5, 17.6, false}, {"108-05-4", STEL, "", 10, 35.2, false}, {"108-95-2", TWA, "", 2, 8, true}, {"108-95-2", STEL, "", 4, 16, true},
	{"109-86-4", TWA, "", 1, 0, true}, {"110-80-5", TWA, "", 2, 8, true}, {"111-15-9", TWA, "", 2, 11, true}, {"123-91-1", TWA, "", 20, 73, false},
	{"140-88-5", TWA, "", 5, 21, false}, {"140-88-5", STEL, "", 10, 42, false}, {"872-50-4", TWA, "", 10, 40, true}, {"872-50-4", STEL, "", 20, 80, true},
	{"7664-93-9", TWA, "", 0, 0.05, false}, {"98-82-8", TWA, "", 10, 50, true}, {"98-82-8", STEL, "", 50, 250, true}, {"110-19-0", TWA, "", 50, 241, false},
	{"110-19-0", STEL, "", 150, 723, false}, {"123-86-4", TWA, "", 50, 241, false}, {"123-86-4", STEL, "", 150, 723, false}, {"91-20-3", TWA, "", 10, 50, false},
}

func TestLimitsAgreeWithThePrintedTables(t *testing.T) {
	for authority, list := range map[string][]printed{"OSHA PEL": oshaPrinted, "EU IOELV": euPrinted} {
		for _, p := range list {
			s, ok := Embedded().ByCAS(p.cas)
			if !ok {
				t.Errorf("%s is not held", p.cas)
				continue
			}
			found := false
			for _, l := range s.Limits {
				if l.Authority != authority || l.Kind != p.kind || (p.basis != "" && l.Basis != p.basis) {
					continue
				}
				found = true
				if l.PPM != p.ppm || l.MgM3 != p.mg || l.Skin != p.skin || l.Source.Memory {
					t.Errorf("%s %s %s %s %s: held %g ppm %g mg/m³ skin=%v from memory=%v, printed %g ppm %g mg/m³ skin=%v", s.CAS, s.Name, authority, p.kind, p.basis, l.PPM, l.MgM3, l.Skin, l.Source.Memory, p.ppm, p.mg, p.skin)
				}
				break
			}
			if !found {
				t.Errorf("%s %s: no %s %s %s held", s.CAS, s.Name, authority, p.kind, p.basis)
			}
		}
	}
}

// Classes of the adaptations of Annex VI since 2022, as stated on public pages about Delegated Regulations (EU) 2022/692,
// 2024/197 and 2024/2564, typed from those pages: each must be held as harmonised and not as recalled.
func TestRecentAdaptationsAreHeld(t *testing.T) {
	for cas, want := range map[string][]ghs.Hazard{
		"100-51-6":    {ghs.AcuteTox4Oral, ghs.EyeIrrit2, ghs.SkinSens1B},
		"75980-60-8":  {ghs.Repr1B, ghs.SkinSens1B},
		"99-97-8":     {ghs.Carc1B, ghs.STOTRE2, ghs.AquaticChronic3},
		"72869-86-4":  {ghs.SkinSens1B},
		"9016-45-9":   {ghs.AquaticAcute1, ghs.AquaticChronic1},
		"127087-87-0": {ghs.AquaticAcute1, ghs.AquaticChronic1},
		"7439-92-1":   {ghs.Repr1A, ghs.Lact, ghs.AquaticChronic1},
		"110-54-3":    {ghs.STOTRE1},
		"119-61-9":    {ghs.Carc1B},
		"98-82-8":     {ghs.FlamLiq3, ghs.Carc1B, ghs.AspTox1, ghs.STOTSE3Respiratory, ghs.AquaticChronic2},
		"1067-33-0":   {ghs.Muta2, ghs.Repr1B, ghs.STOTRE1},
		"77-92-9":     {ghs.EyeIrrit2, ghs.STOTSE3Respiratory},
	} {
		s := byCAS(t, cas)
		for _, h := range want {
			found := false
			for _, c := range s.ForRuleSet(ghs.EUCLP).Official {
				found = found || (c.Hazard == h && c.Authority == Harmonised && !c.Source.Memory)
			}
			if !found {
				t.Errorf("%s %s: %s is not held as read", cas, s.Name, h)
			}
		}
	}
	for _, c := range byCAS(t, "110-54-3").ForRuleSet(ghs.EUCLP).Use() {
		if c.Hazard == ghs.STOTRE2 {
			t.Error("n-hexane still carries the category of the former entry")
		}
	}
}
