package audit_test

import (
	"context"
	"fmt"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// A label that says irritant, and a resin in section 3 that brings on allergies.
func ExampleRun() {
	known := func(s string) sheet.Fact[string] { return sheet.Fact[string]{State: sheet.Stated, Value: s} }
	class := func(h ghs.Hazard) sheet.Fact[sheet.ClassStatement] {
		return sheet.Fact[sheet.ClassStatement]{State: sheet.Stated, Value: sheet.ClassStatement{Hazard: h, Printed: h.String()}}
	}
	s := &sheet.Sheet{}
	s.Identification.ProductName = known("Slipway Clear A")
	s.Hazards.Classified = sheet.Stated
	s.Hazards.Classification = []sheet.Fact[sheet.ClassStatement]{class(ghs.SkinIrrit2), class(ghs.EyeIrrit2)}
	s.Composition.Ingredients = []sheet.Ingredient{{
		Name: known("epoxy resin"), CAS: known("25068-38-6"),
		Percent: sheet.Fact[sheet.Quantity]{State: sheet.Stated, Value: sheet.Quantity{Interval: sheet.Between(60, 80), Unit: "%"}},
		Hazards: []sheet.Fact[sheet.ClassStatement]{class(ghs.SkinIrrit2), class(ghs.EyeIrrit2), class(ghs.SkinSens1)},
	}}
	report, err := audit.Run(context.Background(), &audit.Case{Sheet: s, RuleSet: ghs.USHCS2024, Substances: substance.Embedded()})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range report.Findings {
		if f.Kind == audit.Contradiction {
			fmt.Println(f.Title)
			fmt.Println(f.CouldHappen)
			fmt.Println(f.Ask)
		}
	}
	// Output:
	// By section 3 the product is Skin Sens. 1; section 2 does not say so
	// A skin allergy for life: once it has set in, traces bring it back, and the trade may have to be given up.
	// With the shares given in section 3 the product is to be classified Skin Sens. 1 (H317). Please correct section 2, or tell us the test or rule by which it does not apply.
}
