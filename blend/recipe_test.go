package blend

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func stock() Stock { return Stock{Table: substance.Embedded()} }

func recipe(t testing.TB, text string) *Recipe {
	t.Helper()
	r, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func mix(t testing.TB, text string, rs ghs.RuleSet) *Mix {
	t.Helper()
	m, err := Make(recipe(t, text), stock(), rs)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func file(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The example shows every field, can be read, and is the recipe that the tests of the drafts use.
func TestExampleIsARecipe(t *testing.T) {
	if Example != file(t, "varnish.yaml") {
		t.Error("testdata/varnish.yaml is not the example: copy it again")
	}
	m := mix(t, Example, ghs.EUCLP)
	if !m.Declared.Has(ghs.FlamLiq3) {
		t.Errorf("a varnish with a flash point of 39 °C is Flam. Liq. 3 (CLP Annex I Table 2.6.1); declared: %v", m.Declared)
	}
}

// Bad recipes get a sentence that names the place and says what to write.
func TestBadRecipes(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "product"},
		{"no product", "ingredients: [{cas: 123-86-4, percent: 100}]", "product name"},
		{"no ingredients", "product: X", "ingredients"},
		{"unknown field", "product: X\ncolour: red\ningredients: [{cas: 123-86-4, percent: 100}]", "--example"},
		{"no share", "product: X\ningredients: [{cas: 123-86-4}]", "percent is missing"},
		{"bad share", "product: X\ningredients: [{cas: 123-86-4, percent: lots}]", "no share"},
		{"two rests", "product: X\ningredients: [{cas: 123-86-4, percent: rest}, {cas: 108-65-6, percent: rest}]", "only one"},
		{"bad language", "product: X\nlanguages: [nl]\ningredients: [{cas: 123-86-4, percent: 100}]", "en, fr, de, es"},
		{"bad law", "product: X\nrules: [un-ghs]\ningredients: [{cas: 123-86-4, percent: 100}]", "drafted"},
		{"bad property", "product: X\nmeasured: {flash: {value: 3}}\ningredients: [{cas: 123-86-4, percent: 100}]", "no property"},
		{"bad number", "product: X\nmeasured: {flash_point: {value: hot}}\ningredients: [{cas: 123-86-4, percent: 100}]", "no number"},
		{"bad date", "product: X\nrevision: {date: 3 May}\ningredients: [{cas: 123-86-4, percent: 100}]", "no date"},
		{"bad class", "product: X\ningredients: [{name: Y, percent: 100, own: {hazards: Very Bad 1}}]", "no hazard class"},
		{"bad field name", "product: X\nno_data: [smell]\ningredients: [{cas: 123-86-4, percent: 100}]", "no field"},
		{"bad glove", "product: X\ngloves: {material: leather}\ningredients: [{cas: 123-86-4, percent: 100}]", "no material"},
	} {
		if _, err := Read(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want a sentence with %q", c.name, err, c.want)
		}
	}
	for _, c := range []struct{ name, text, want string }{
		{"too much", "product: X\ningredients: [{cas: 123-86-4, percent: 70}, {cas: 108-65-6, percent: 60}]", "100 %"},
		{"too little", "product: X\ningredients: [{cas: 123-86-4, percent: 70}]", "rest"},
		{"bad check digit", "product: X\ningredients: [{cas: 123-86-5, percent: 100}]", "CAS"},
		{"unknown name", "product: X\ningredients: [{name: unobtainium, percent: 100}]", "own"},
		{"sheet not there", "product: X\ningredients: [{sheet: a.pdf, percent: 100}]", "a.pdf"},
	} {
		if _, err := Make(recipe(t, c.text), stock(), ghs.EUCLP); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want a sentence with %q", c.name, err, c.want)
		}
	}
}

// An ingredient that comes in twice is one ingredient with both shares, and a supplier's range times a share stays a range.
func TestSupplierSheetsKeepTheirRanges(t *testing.T) {
	supplier := &sheet.Sheet{}
	supplier.Identification.ProductName = stated("Saltmarsh Paste")
	supplier.Composition.Ingredients = []sheet.Ingredient{
		{Name: stated("n-butyl acetate"), CAS: stated("123-86-4"), Percent: stated(sheet.Quantity{Interval: sheet.Between(10, 25), Unit: "%"})},
		{Name: stated("titanium dioxide"), CAS: stated("13463-67-7"), Percent: stated(sheet.Quantity{Interval: sheet.Between(50, 75), Unit: "%"})},
	}
	supplier.Hazards.Classified = sheet.Stated
	supplier.Hazards.Classification = []sheet.Fact[sheet.ClassStatement]{stated(sheet.ClassStatement{Hazard: ghs.SkinSens1, Code: "H317"})}
	s := stock()
	s.Sheets = map[string]*sheet.Sheet{"paste.pdf": supplier}
	r := recipe(t, "product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: 30}, {sheet: paste.pdf, percent: 20}, {cas: 108-65-6, percent: rest}]")
	m, err := Make(r, s, ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	shares := map[string]sheet.Interval{}
	for _, in := range m.Mixture.Ingredients {
		shares[in.CAS] = in.Percent
	}
	if v := shares["123-86-4"]; v.Lo != 32 || v.Hi != 35 {
		t.Errorf("30 %% and 10 – 25 %% of 20 %% are 32 – 35 %%, got %v", v)
	}
	if v := shares["13463-67-7"]; v.Lo != 10 || v.Hi != 15 {
		t.Errorf("50 – 75 %% of 20 %% are 10 – 15 %%, got %v", v)
	}
	if m.Mixture.Complete {
		t.Error("up to 40 % of the paste is not disclosed: the mix is not complete")
	}
	// the paste declares a sensitiser that its list does not explain: its undisclosed part is taken for it
	if !m.Declared.Has(ghs.SkinSens1) {
		t.Errorf("the undisclosed part (up to 8 %%) carries H317 of the supplier's section 2; declared: %v", m.Declared)
	}
	d, err := m.Draft(ghs.English, s)
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, q := range d.Questions {
		text += q.Text + "\n"
	}
	for _, want := range []string{"not disclosed", "do not explain"} {
		if !strings.Contains(text, want) {
			t.Errorf("no question says %q:\n%s", want, text)
		}
	}
}

// A recipe that was read as a table of ingredients is drafted too; all else is an open question.
func TestTableOfIngredients(t *testing.T) {
	m, err := classify.ReadRecipe(strings.NewReader("name,cas,percent\nn-butyl acetate,123-86-4,40\nPGMEA,108-65-6,60\n@form,liquid\n@flash point,29\n"), "csv")
	if err != nil {
		t.Fatal(err)
	}
	m.Name = "Thinner"
	made, err := Make(Of(m), stock(), ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	if !made.Declared.Has(ghs.FlamLiq3) || !made.Declared.Has(ghs.STOTSE3Narcotic) {
		t.Errorf("declared: %v", made.Declared)
	}
	d, err := made.Draft(ghs.English, stock())
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Missing()) > 0 || len(d.Questions) < 30 {
		t.Errorf("missing %v, %d questions", d.Missing(), len(d.Questions))
	}
}
