package ghs

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"
)

// constantsOf lists the names of the constant block of constants.go that begins with first.
func constantsOf(t *testing.T, first string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "constants.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST {
			continue
		}
		var names []string
		for _, s := range g.Specs {
			names = append(names, s.(*ast.ValueSpec).Names[0].Name)
		}
		if names[0] == first {
			return names
		}
	}
	t.Fatalf("constants.go has no block that begins with %s", first)
	return nil
}

// The Go constants and the tables are two lists of one thing.
func TestConstantsFollowTables(t *testing.T) {
	hazards := constantsOf(t, "NoHazard")
	if len(hazards) != len(AllHazards())+1 {
		t.Fatalf("%d hazard constants, %d rows in hazards.csv", len(hazards)-1, len(AllHazards()))
	}
	for _, h := range AllHazards() {
		if hazards[h] != h.row().constant {
			t.Errorf("row %d of hazards.csv is %s, the constant there is %s", h, h.row().constant, hazards[h])
		}
	}
	classes := constantsOf(t, "NoClass")
	if len(classes) != len(AllClasses())+1 {
		t.Fatalf("%d class constants, %d rows in classes.csv", len(classes)-1, len(AllClasses()))
	}
	for _, c := range AllClasses() {
		if classes[c] != c.row().constant {
			t.Errorf("row %d of classes.csv is %s, the constant there is %s", c, c.row().constant, classes[c])
		}
	}
}

// Short names: abbreviations of Regulation (EC) 1272/2008 Annex VI Table 1.1, with the route or effect as a last word.
func TestHazardNames(t *testing.T) {
	for h, want := range map[Hazard]string{
		SkinCorr1B: "Skin Corr. 1B", AcuteTox4InhalationVapour: "Acute Tox. 4 inhalation_vapour",
		STOTSE3Narcotic: "STOT SE 3 narcotic", EyeIrrit2A: "Eye Irrit. 2A", FlamLiq3: "Flam. Liq. 3",
		AquaticChronic2: "Aquatic Chronic 2", OxSol2: "Ox. Sol. 2", EDHH1: "ED HH 1", VPvB: "vPvB", OrgPeroxD: "Org. Perox. D",
	} {
		if h.String() != want {
			t.Errorf("got %q, want %q", h, want)
		}
	}
	for _, h := range AllHazards() {
		if back, ok := ParseHazard(h.String()); !ok || back != h {
			t.Errorf("%q reads back as %q", h, back)
		}
		for _, l := range Langs() {
			if h.Title(l) == "" || strings.HasPrefix(h.Title(l), ",") {
				t.Errorf("%s has no %s title", h, l)
			}
			if back, ok := ParseHazard(h.Title(l)); !ok || back != h {
				t.Errorf("%s: the %s title %q reads back as %q (%v)", h, l, h.Title(l), back, Readings(h.Title(l)))
			}
		}
	}
}

func TestHazardTitle(t *testing.T) {
	for _, c := range []struct {
		h    Hazard
		l    Lang
		want string
	}{
		{SkinCorr1B, English, "Skin corrosion, category 1B"},
		{SkinIrrit2, French, "Irritation cutanée, catégorie 2"},
		{AcuteTox4Oral, English, "Acute toxicity (oral), category 4"},
		{OrgPeroxD, German, "Organische Peroxide, Typ D"},
		{PBT, English, "Persistent, bioaccumulative and toxic"},
		{SkinSens1A, "xx", "Skin sensitisation, category 1A"},
	} {
		if got := c.h.Title(c.l); got != c.want {
			t.Errorf("%s in %s: got %q, want %q", c.h, c.l, got, c.want)
		}
	}
}

// Ways in which sheets print a class (common practice; wordings of the tables of 29 CFR 1910.1200 App. C and of
// Regulation (EC) 1272/2008 Annex I).
func TestParseHazard(t *testing.T) {
	for text, want := range map[string]Hazard{
		"Skin corrosion/irritation - Category 1B":              SkinCorr1B,
		"Skin corrosion/irritation Category 2":                 SkinIrrit2,
		"Category 2 skin irritation":                           SkinIrrit2,
		"Acute toxicity, oral (Category 4)":                    AcuteTox4Oral,
		"Acute Tox. 4 (Oral), H302":                            AcuteTox4Oral,
		"Acute Tox. 4; H312":                                   AcuteTox4Dermal,
		"Acute toxicity - Inhalation (Dusts/Mists) Category 4": AcuteTox4InhalationDust,
		"Acute Tox. 3 inhalation_gas":                          AcuteTox3InhalationGas,
		"ACUTE TOXICITY (inhalation, vapour) - Category 4":     AcuteTox4InhalationVapour,
		"Carc. 2 inhalation":                                   Carc2,
		"Carcinogenicity, Category 1A":                         Carc1A,
		"SERIOUS EYE DAMAGE/ EYE IRRITATION - Category 2A":     EyeIrrit2A,
		"Serious eye damage/eye irritation, Category 1":        EyeDam1,
		"Eye Irrit. 2; H319":                                   EyeIrrit2,
		"Skin Sens. 1 A":                                       SkinSens1A,
		"Skin sensitizer Category l":                           SkinSens1,
		"Sensitization, Skin (Category 1B)":                    SkinSens1B,
		"Respiratory sensitisation Category 1":                 RespSens1,
		"STOT SE 3, H335":                                      STOTSE3Respiratory,
		"STOT SE 3; H336":                                      STOTSE3Narcotic,
		"STOT SE 3":                                            STOTSE3,
		"Specific target organ toxicity - single exposure (Category 3), Narcotic effects, H336":      STOTSE3Narcotic,
		"Specific target organ toxicity (single exposure) Category 3 (Respiratory tract irritation)": STOTSE3Respiratory,
		"STOT RE 1 (lungs, inhalation; respirable fraction)":                                         STOTRE1,
		"Specific target organ toxicity, repeated exposure - Category 2":                             STOTRE2,
		"Flammable liquids Category 3":                                                               FlamLiq3,
		"Flam. Liq. 2 - H225":                                                                        FlamLiq2,
		"Press. Gas":                                                                                 PressGas,
		"Press. Gas (Comp.)":                                                                         PressGasCompressed,
		"Gases under pressure: Liquefied gas":                                                        PressGasLiquefied,
		"Gases under pressure - refrigerated liquefied gas":                                          PressGasRefrigerated,
		"Aspiration hazard - Category 1":                                                             AspTox1,
		"Hazardous to the aquatic environment - Long-term Hazard, Category 2":                        AquaticChronic2,
		"Hazardous to the aquatic environment, long-term (Chronic) Category 3":                       AquaticChronic3,
		"Acute aquatic toxicity (Category 1)":                                                        AquaticAcute1,
		"Organic peroxides Type D":                                                                   OrgPeroxD,
		"Org. Perox. D":                                                                              OrgPeroxD,
		"Water-react. 2":                                                                             WaterReact2,
		"Combustible dust":                                                                           CombustibleDust,
		"Reproductive toxicity Category 1B":                                                          Repr1B,
		"Lact.":                                                                                      Lact,
		"Explosives, Division 1.1":                                                                   Expl11,
		"Flam. Gas 1A, Pyr. Gas":                                                                     FlamGas1APyrophoric,
		"Skin Irrit. 2 (by specific limit)":                                                          SkinIrrit2,
		"Sensibilisation cutanée, Catégorie 1":                                                       SkinSens1,
		"Toxicité aiguë (orale), catégorie 4":                                                        AcuteTox4Oral,
		"Ätz-/Reizwirkung auf die Haut, Kategorie 2":                                                 SkinIrrit2,
		"Schwere Augenschädigung/-reizung, Kategorie 1":                                              EyeDam1,
		"Akute Toxizität, Kategorie 4, Einatmen (Staub/Nebel)":                                       AcuteTox4InhalationDust,
		"Sensibilización cutánea, categoría 1":                                                       SkinSens1,
		"Corrosión o irritación cutáneas, Categoría 1B":                                              SkinCorr1B,
	} {
		if got, ok := ParseHazard(text); !ok || got != want {
			t.Errorf("%q: got %q %v, want %q", text, got, Readings(text), want)
		}
	}
}

// Lists as sections 2 and 3 print them (common practice).
func TestFindHazards(t *testing.T) {
	for text, want := range map[string]string{
		"Skin Irrit. 2, H315; Eye Irrit. 2, H319; Skin Sens. 1, H317":                                            "Skin Irrit. 2|Eye Irrit. 2|Skin Sens. 1",
		"Acute Tox. 4 - H302 Skin Irrit. 2 - H315 Eye Dam. 1 - H318 STOT RE 2 -":                                 "Acute Tox. 4 oral|Skin Irrit. 2|Eye Dam. 1|STOT RE 2",
		"Acute Tox. 4 (Oral), Acute Tox. 4 (Dermal); Aquatic Chronic 1 (M=10)":                                   "Acute Tox. 4 oral|Acute Tox. 4 dermal|Aquatic Chronic 1",
		"Allergène cutané, catégorie 1, Irritation oculaire, catégorie 2, STOT, exposition répétée, catégorie 2": "Skin Sens. 1|Eye Irrit. 2|STOT RE 2",
		"Flammable liquids Category 3; Category 2 skin irritation":                                               "Flam. Liq. 3|Skin Irrit. 2",
		"Acute Tox. 3 (inhalation); Carc. 1B":                                                                    "Acute Tox. 3 inhalation_gas Acute Tox. 3 inhalation_vapour Acute Tox. 3 inhalation_dust|Carc. 1B",
		"Lact. H362; Repr. 2, H361d":                                                                             "Lact.|Repr. 2",
		"STOT SE 3; H335, STOT SE 3; H336":                                                                       "STOT SE 3 respiratory|STOT SE 3 narcotic",
		"no skin irritation was seen in the test":                                                                "",
		"Results of PBT and vPvB assessment":                                                                     "",
		"WHMIS Classification: Class B, Division 2 - Flammable Liquids":                                          "",
		"Ätz-/Reizwirkung auf die Haut, Kategorie 2":                                                             "Skin Irrit. 2",
	} {
		var got []string
		for _, hit := range FindHazards(text) {
			var names []string
			for _, h := range hit.Readings {
				names = append(names, h.String())
			}
			got = append(got, strings.Join(names, " "))
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%q: got %q, want %q", text, strings.Join(got, "|"), want)
		}
	}
	text := "x; Eye Irrit. 2, H319"
	if hits := FindHazards(text); len(hits) != 1 || text[hits[0].Start:hits[0].End] != "Eye Irrit. 2" {
		t.Errorf("places: %v", hits)
	}
}

// What leaves the hazard open is not guessed.
func TestParseHazardOpen(t *testing.T) {
	for text, want := range map[string]int{
		"Acute Tox. 4 (inhalation)": 3, "Acute toxicity, Category 4": 5, "Flam. Liq.": 0, "hello": 0, "": 0, "Category 1": 0,
	} {
		if _, ok := ParseHazard(text); ok {
			t.Errorf("%q is read as one hazard", text)
		}
		if got := Readings(text); len(got) != want {
			t.Errorf("%q: %d readings %v, want %d", text, len(got), got, want)
		}
	}
}

// Order of categories within a class: GHS rev. 10, the classification criteria of each chapter.
func TestSeverer(t *testing.T) {
	for _, c := range []struct {
		a, b Hazard
		want bool
	}{
		{SkinCorr1A, SkinCorr1B, true}, {SkinCorr1C, SkinIrrit2, true}, {SkinIrrit2, SkinCorr1C, false}, {EyeDam1, EyeIrrit2A, true},
		{AcuteTox1Oral, AcuteTox2Oral, true}, {AcuteTox1Oral, AcuteTox2Dermal, false}, {STOTSE1, STOTSE3Narcotic, true},
		{STOTSE3Narcotic, STOTSE3Respiratory, false}, {SkinCorr1B, EyeIrrit2, false}, {SkinSens1A, SkinSens1, true}, {SkinSens1, SkinSens1B, false},
		{NoHazard, SkinCorr1A, false}, {OrgPeroxA, OrgPeroxG, true},
	} {
		if c.a.Severer(c.b) != c.want {
			t.Errorf("%s severer than %s: got %v", c.a, c.b, !c.want)
		}
	}
}

func TestTextForms(t *testing.T) {
	type all struct {
		H Hazard
		S HazardSet
		C Class
		Q Qualifier
		W SignalWord
		P []Pictogram
		R RuleSet
	}
	in := all{SkinSens1A, SetOf(SkinSens1A, FlamLiq3), SkinCorrosion, InhalationDust, Danger, []Pictogram{Corrosion, Environment}, EUCLP}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"H":"Skin Sens. 1A","S":["Flam. Liq. 3","Skin Sens. 1A"],"C":"Skin Corr./Irrit.","Q":"inhalation_dust","W":"Danger","P":["GHS05","GHS09"],"R":"eu-clp"}`
	if string(data) != want {
		t.Errorf("got  %s\nwant %s", data, want)
	}
	var out all
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	if again, _ := json.Marshal(out); string(again) != want {
		t.Errorf("read back: %s", again)
	}
	if err := json.Unmarshal([]byte(`{"H":"Acute Tox. 4"}`), &out); err == nil || !strings.Contains(err.Error(), "Acute Tox. 4 oral") {
		t.Errorf("an open hazard gives %v", err)
	}
}

// Regulation (EC) 1272/2008 has no category 4 of flammable liquids and no Eye Irrit. 2B; 29 CFR 1910.1200 App. B.6 and
// A.3 have them. Hazards not otherwise classified are a US term, (c).
func TestExists(t *testing.T) {
	for _, c := range []struct {
		rs   RuleSet
		h    Hazard
		want bool
	}{
		{EUCLP, FlamLiq4, false}, {USHCS2024, FlamLiq4, true}, {EUCLP, EyeIrrit2B, false}, {USHCS2012, EyeIrrit2B, true},
		{USHCS2024, HNOC, true}, {EUCLP, HNOC, false}, {EUCLP, EDHH1, true}, {GBCLP, EDHH1, false}, {UNGHS, AcuteTox5Oral, true}, {EUCLP, AcuteTox5Oral, false},
		{EUCLP, AquaticChronic4, true}, {USHCS2024, AquaticAcute1, false},
	} {
		if c.rs.Exists(c.h) != c.want {
			t.Errorf("%s in %s: got %v", c.h, c.rs, !c.want)
		}
	}
}

func TestParseRuleSet(t *testing.T) {
	for s, want := range map[string]RuleSet{"EU-CLP": EUCLP, "US-HCS-2024": USHCS2024, "us-hcs-2012": USHCS2012, "EU-CLP-2021": EUCLP, "us_hcs": USHCS2024} {
		if got, err := ParseRuleSet(s); err != nil || got != want {
			t.Errorf("%s: %s, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "mars", "us-hcs-1999", "eu-clp-x"} {
		if got, err := ParseRuleSet(s); err == nil {
			t.Errorf("%q is read as %s", s, got)
		}
	}
}

func TestParseSignalWordAndPictogram(t *testing.T) {
	for s, want := range map[string]SignalWord{"DANGER": Danger, "Warning!": Warning, "Gefahr": Danger, "Achtung": Warning, "Attention": Warning, "Atención": Warning, "peligro": Danger} {
		if got, ok := ParseSignalWord(s); !ok || got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
	if _, ok := ParseSignalWord("none"); ok {
		t.Error("none is a signal word")
	}
	for s, want := range map[string]Pictogram{"GHS05": Corrosion, "ghs 7": ExclamationMark, "Skull and crossbones": SkullCrossbones, "Ausrufezeichen": ExclamationMark, "GHS-09": Environment, "Flamme": Flame} {
		if got, ok := ParsePictogram(s); !ok || got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
	for _, s := range []string{"GHS10", "GHS", "GHS00", "tree"} {
		if got, ok := ParsePictogram(s); ok {
			t.Errorf("%q is read as %v", s, got)
		}
	}
}
