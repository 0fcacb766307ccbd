package classify_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"sixteen/classify"
	"sixteen/ghs"
)

const recipeCSV = `@name,Quay floor part A,,,,,,
@form,liquid,,,,,,
@flash point,"48,5",,,,,,
@public,no,,,,,,
name,CAS,percent,hazards,limits,ATE oral,m chronic,properties
bisphenol A resin,1675-54-3,60 - < 80,Skin Irrit. 2; Eye Irrit. 2; Skin Sens. 1; Aquatic Chronic 2,Skin Irrit. 2 >= 5; Eye Irrit. 2 >= 5,> 5000,,average_molar_mass=340
thinner,,10,Flam. Liq. 3; Skin Irrit. 2,,2500,,
biocide,,< 0.1,"Skin Sens. 1A, Aquatic Acute 1, Aquatic Chronic 1",Skin Sens. 1A >= 0.0015,200,10,
chalk,471-34-1,20,,,not toxic,,
`

func TestRecipeTable(t *testing.T) {
	m, err := classify.ReadRecipe(strings.NewReader(recipeCSV), "csv")
	if err != nil {
		t.Fatal(err)
	}
	checkRecipe(t, m)
}

func checkRecipe(t *testing.T, m classify.Mixture) {
	t.Helper()
	if m.Name != "Quay floor part A" || m.Form != classify.Liquid || *m.Tested.FlashPointC != 48.5 || m.ForPublic || len(m.Ingredients) != 4 {
		t.Fatalf("read as %+v", m)
	}
	resin, biocide := m.Ingredients[0], m.Ingredients[2]
	if lo, hi := resin.Bounds(); lo != 60 || hi != 80 || !resin.Percent.HiOpen || resin.Percent.LoOpen {
		t.Errorf("share of the resin read as %+v", resin.Percent)
	}
	if len(resin.Limits) != 2 || resin.Limits[0].Hazard != ghs.SkinIrrit2 || resin.Limits[0].Percent.Lo != 5 || resin.Hazards.Len() != 4 {
		t.Errorf("resin read as %+v", resin)
	}
	if resin.ATE[ghs.Oral].Status != classify.ATENotToxic || m.Ingredients[1].ATE[ghs.Oral].Value != 2500 || resin.Properties["average_molar_mass"] != 340 {
		t.Errorf("doses or properties read wrong: %+v", resin)
	}
	if biocide.MChronic != 10 || biocide.Hazards.Len() != 3 || !biocide.Percent.HiOpen || biocide.Percent.HasLo || biocide.Limits[0].Percent.Lo != 0.0015 {
		t.Errorf("biocide read as %+v", biocide)
	}
}

func TestRecipeSpreadsheet(t *testing.T) {
	f := excelize.NewFile()
	for i, line := range strings.Split(strings.TrimSpace(strings.ReplaceAll(recipeCSV, `"48,5"`, "48.5")), "\n") {
		line = strings.ReplaceAll(line, `"Skin Sens. 1A, Aquatic Acute 1, Aquatic Chronic 1"`, "Skin Sens. 1A; Aquatic Acute 1; Aquatic Chronic 1")
		for j, cell := range strings.Split(line, ",") {
			name, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellValue("Sheet1", name, cell); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	m, err := classify.ReadRecipe(&b, ".xlsx")
	if err != nil {
		t.Fatal(err)
	}
	checkRecipe(t, m)
}

func TestRecipeJSON(t *testing.T) {
	m, err := classify.ReadRecipe(strings.NewReader(`{"name": "Quay floor part A", "form": "liquid", "flash_point": 48.5, "for_public": false, "ingredients": [
		{"name": "bisphenol A resin", "cas": "1675-54-3", "percent": "60 - < 80", "hazards": ["Skin Irrit. 2", "Eye Irrit. 2", "Skin Sens. 1", "Aquatic Chronic 2"],
		 "limits": ["Skin Irrit. 2 >= 5", "Eye Irrit. 2 >= 5"], "ate_oral": "> 5000", "properties": ["average_molar_mass=340"]},
		{"name": "thinner", "percent": 10, "hazards": ["Flam. Liq. 3", "Skin Irrit. 2"], "ate_oral": 2500},
		{"name": "biocide", "percent": "< 0.1", "hazards": ["Skin Sens. 1A", "Aquatic Acute 1", "Aquatic Chronic 1"], "limits": ["Skin Sens. 1A >= 0.0015"], "m_chronic": 10},
		{"name": "chalk", "cas": "471-34-1", "percent": 20, "ate_oral": "not toxic"}]}`), "json")
	if err != nil {
		t.Fatal(err)
	}
	checkRecipe(t, m)
}

func TestRecipeErrorsNameRowAndColumn(t *testing.T) {
	for _, s := range []struct{ recipe, format, say string }{
		{"name,percent,smell\nA,5,x", "csv", `row 1: no column is called "smell"`},
		{"name,cas\nA,64-17-5", "csv", "among them name and percent"},
		{"name,percent,percent\nA,5,6", "csv", "appears twice"},
		{"name,percent\nA,lots", "csv", "row 2, column percent: \"lots\" is no share"},
		{"name,percent\nA,", "csv", "row 2, column percent: A has no share"},
		{"name,percent\n,5", "csv", "row 2, column name"},
		{"name,percent\nA,30 - 10", "csv", "runs backwards"},
		{"name,percent,cas\nA,5,64-17-6", "csv", "row 2, column cas: the check digit"},
		{"name,percent,hazards\nA,5,Smells bad", "csv", `row 2, column hazards: no hazard class is called "Smells bad"`},
		{"name,percent,limits\nA,5,Skin Irrit. 2", "csv", "row 2, column limits"},
		{"name,percent,ate oral\nA,5,quite", "csv", "row 2, column ate oral: \"quite\" is no dose"},
		{"name,percent,properties\nA,5,colour=3", "csv", "row 2, column properties: no property is called \"colour\""},
		{"name,percent,m acute\nA,5,ten", "csv", "row 2, column m acute: \"ten\" is not a number"},
		{"@form,jelly\nname,percent\nA,5", "csv", `row 1, @form: no form is called "jelly"`},
		{"@smell,strong\nname,percent\nA,5", "csv", "row 1, @smell"},
		{"@public,perhaps\nname,percent\nA,5", "csv", "neither yes nor no"},
		{"name,percent\nA,60\nB,50", "csv", "add up to at least 110 %"},
		{"", "csv", "no ingredients"},
		{"x", "doc", "cannot be read"},
		{"[", "json", "not JSON"},
		{`{"ingredients": []}`, "json", `no list named "ingredients"`},
		{`{"ingredients": [{"name": "A", "percent": 5, "smell": 3}]}`, "json", `ingredient 1, no column is called "smell"`},
		{`{"ph": "sour", "ingredients": [{"name": "A", "percent": 5}]}`, "json", `field "ph"`},
		{"not a zip", "xlsx", "not a spreadsheet"},
	} {
		_, err := classify.ReadRecipe(strings.NewReader(s.recipe), s.format)
		if err == nil || !strings.Contains(err.Error(), s.say) {
			t.Errorf("%q: error %v does not say %q", s.recipe, err, s.say)
		}
	}
}

func TestRecipeReadsEverySaying(t *testing.T) {
	m, err := classify.ReadRecipe(strings.NewReader(`@ph;12
@boiling point;80
@viscosity;7
@sustains combustion;no
@use;paint
@complete;no
@tested;Skin Irrit. 2
@tested not;Eye Dam. 1
@tested ate dust;4.7

name;share;statements;active oxygen;molar mass;ate dermal;ate vapour
A;≥ 1 - ≤ 5 %;EUH066;5,5;340;unknown;11
B;> 10;;;;> 300;
`), "csv")
	if err != nil {
		t.Fatal(err)
	}
	a, b := m.Ingredients[0], m.Ingredients[1]
	if *m.Tested.PH != 12 || *m.Tested.BoilingPointC != 80 || *m.Tested.Viscosity40MM2S != 7 || *m.Tested.Sustains || m.Use[0] != classify.Paint || m.Complete ||
		!m.Tested.Hazards.Has(ghs.SkinIrrit2) || !m.Tested.NotHazards.Has(ghs.EyeDam1) || *m.Tested.ATE[ghs.InhalationDust] != 4.7 {
		t.Errorf("mixture read as %+v", m.Tested)
	}
	if a.ActiveOxygenPct != 5.5 || a.MolarMassGMol != 340 || a.Statements[0] != "EUH066" || a.ATE[ghs.Dermal].Status != classify.ATEUnknown || a.ATE[ghs.InhalationVapour].Value != 11 {
		t.Errorf("A read as %+v", a)
	}
	if !b.Percent.LoOpen || b.Percent.HasHi || b.ATE[ghs.Dermal] != (classify.ATE{Status: classify.ATEValue, Value: 300}) {
		t.Errorf("B read as %+v: a limit dose below category 4 is the estimate itself", b)
	}
}
