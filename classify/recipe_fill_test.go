package classify_test

import (
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/substance"
)

// Ingredients named by number only take their hazards from the substance table, with the source; water is known not to
// be toxic; an ingredient with hazards of its own is left as it is.
func TestFillFromTheSubstanceTable(t *testing.T) {
	m, err := classify.ReadRecipe(strings.NewReader(`name,cas,percent,hazards
resin,1675-54-3,6,
water,7732-18-5,80,
solvent,64-17-5,4,Eye Irrit. 2
chalk,,10,
`), "csv")
	if err != nil {
		t.Fatal(err)
	}
	full, filled := m.Fill(substance.Embedded(), ghs.EUCLP)
	resin := full.Ingredients[0]
	if !resin.Hazards.Has(ghs.SkinSens1) || !resin.Hazards.Has(ghs.SkinIrrit2) || len(resin.Limits) == 0 {
		t.Errorf("resin filled in as %s with limits %v", resin.Hazards, resin.Limits)
	}
	if full.Ingredients[1].ATE[ghs.Oral].Status != classify.ATENotToxic {
		t.Error("water is not known to be harmless to swallow")
	}
	if full.Ingredients[2].Hazards != ghs.SetOf(ghs.EyeIrrit2) {
		t.Errorf("the solvent's own hazards became %s", full.Ingredients[2].Hazards)
	}
	if acetone, _ := (classify.Mixture{Ingredients: []classify.Ingredient{{Name: "acetone", CAS: "67-64-1"}}}).Fill(substance.Embedded(), ghs.EUCLP); acetone.Ingredients[0].Properties[classify.PropWorkplaceLimit] != 1 {
		t.Error("the workplace limit of acetone was not seen")
	}
	if !m.Ingredients[0].Hazards.Empty() {
		t.Error("the recipe itself was changed")
	}
	c, err := classify.Classify(full, ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Hazards.Has(ghs.SkinSens1) || !c.Hazards.Has(ghs.SkinIrrit2) {
		t.Errorf("6 %% of the resin is %s; its specific limit is 5 %%", c.Hazards)
	}
	if len(filled) < 3 {
		t.Fatalf("only %d entries told", len(filled))
	}
	for _, f := range filled {
		if f.Ingredient != 0 || f.Source.Text == "" && !f.Source.Memory || !strings.HasPrefix(f.Words(full), "resin: ") {
			t.Errorf("entry told as %q (%+v)", f.Words(full), f)
		}
	}
}
