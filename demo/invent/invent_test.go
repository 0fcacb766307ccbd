package invent

import (
	"reflect"
	"testing"

	"sixteen/ghs"
)

var rulesOfTests = []ghs.RuleSet{ghs.USHCS2024, ghs.EUCLP, ghs.CAHPR}

// The same seed gives the same sheet.
func TestRandomIsDeterministic(t *testing.T) {
	for seed := range uint64(20) {
		a, err := Random(seed, ghs.English, ghs.EUCLP)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Random(seed, ghs.English, ghs.EUCLP)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("seed %d: two sheets differ", seed)
		}
	}
}

// Every substance that a recipe names is in the table.
func TestRecipesUseKnownSubstances(t *testing.T) {
	for seed := range uint64(300) {
		if _, err := Random(seed, ghs.English, ghs.USHCS2024); err != nil {
			t.Fatal(err)
		}
	}
}

// Every fault can be planted in some sheet, changes it, and leaves the given sheet as it was.
func TestEveryFaultCanBePlanted(t *testing.T) {
	kinds := map[string]bool{}
	for _, f := range Faults() {
		if kinds[f.Kind] {
			t.Errorf("%s is listed twice", f.Kind)
		}
		kinds[f.Kind] = true
		planted := 0
		for seed := range uint64(150) {
			s, err := Random(seed, ghs.English, rulesOfTests[seed%3])
			if err != nil {
				t.Fatal(err)
			}
			before := clone(s)
			after, ok := f.Plant(s)
			if !reflect.DeepEqual(s, before) {
				t.Fatalf("%s changed the sheet it was given", f.Kind)
			}
			if !ok {
				continue
			}
			planted++
			if reflect.DeepEqual(after, before) {
				t.Errorf("%s says it was planted and changed nothing", f.Kind)
			}
		}
		if planted == 0 {
			t.Errorf("%s could not be planted in any of 150 sheets", f.Kind)
		}
	}
	if len(kinds) < 20 {
		t.Errorf("only %d kinds of fault", len(kinds))
	}
}
