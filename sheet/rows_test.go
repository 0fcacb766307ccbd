package sheet

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
)

// filledRows are rows a person may add, by their list.
func filledRows() map[string]string {
	r := map[string]string{
		"hazards.classification": `{"hazard":"Skin Sens. 1"}`, "hazards.statements": `{"code":"H317"}`, "hazards.precautions": `{"code":"P280"}`,
		"hazards.risk_phrases": `{"code":"R43","phrase":"May cause sensitisation by skin contact"}`, "hazards.pictograms": `"GHS07"`,
		"composition.ingredients": `{"name":"Oxirane","cas":"75-21-8","percent":{"hi":5,"has_hi":true,"hi_open":true,"unit":"%"},"codes":["H350","H331"]}`,
		"control.limits":          `{"substance":"Xylene","kind":"STEL","value":100,"unit":"ppm"}`,
		"toxicology.values":       `{"measure":"LD50","route":"oral","quantity":{"lo":500,"hi":500,"has_lo":true,"has_hi":true,"unit":"mg/kg"}}`,
		"toxicology.carcinogens":  `{"ingredient":"Styrene","agency":"IARC","group":"2A"}`,
		"ecology.values":          `{"measure":"LC50","group":"fish","quantity":{"lo":1,"hi":1,"has_lo":true,"has_hi":true,"unit":"mg/l"}}`,
		"transport":               `{"regulated":true,"un":"1263","class":"3","packing_group":"III","marine_pollutant":"not_stated"}`,
		"ratings":                 `{"system":"NFPA","health":2,"flammability":3,"instability":0}`,
	}
	for _, p := range Properties() {
		r["physical.quantities."+string(p)] = `{"lo":23,"hi":23,"has_lo":true,"has_hi":true,"unit":"` + p.Unit() + `"}`
	}
	for _, e := range []string{"skin", "eye", "skin_sens", "resp_sens", "muta", "carc", "repr", "stot_se", "stot_re", "asp"} {
		r["toxicology.endpoints."+e] = `"Causes it in the guinea pig."`
	}
	for list, row := range map[string]string{"statements": `{"code":"H226"}`, "hazards": `{"hazard":"Flam. Liq. 3"}`, "limits": `{"hazard":"Skin Irrit. 2","percent":{"lo":5,"has_lo":true}}`,
		"ate": `{"measure":"ATE","route":"oral","quantity":{"lo":500,"hi":500,"has_lo":true,"has_hi":true,"unit":"mg/kg"}}`} {
		r["composition.ingredients.0."+list] = row
	}
	return r
}

// Every list takes a row that the reader missed; it is then a fact like others, with who added it and why. An empty row of
// the list's own shape is refused: it says nothing.
func TestMissedRowsAreAdded(t *testing.T) {
	rows := filledRows()
	empty := sample()
	empty.Toxicology.Endpoints = nil // an effect that was read takes no second text
	lists := empty.Lists()
	if len(lists) != len(rows) {
		t.Errorf("%d lists, and rows for %d", len(lists), len(rows))
	}
	for _, l := range lists {
		s := sample()
		s.Toxicology.Endpoints = nil
		if err := s.Correct(l.Path+more, l.Shape, "Marit", "missed", time.Time{}); err == nil {
			t.Errorf("%s takes a row that says nothing", l.Path)
		}
		before := len(s.Facts())
		if err := s.Correct(l.Path+more, []byte(rows[l.Path]), "Marit", "it stands on page 2", time.Time{}); err != nil {
			t.Errorf("%s: %v", l.Path, err)
			continue
		}
		if len(s.Facts()) <= before {
			t.Errorf("%s: no fact more", l.Path)
		}
		n := 0
		for _, f := range s.Facts() {
			for _, c := range f.Corrections {
				if c.Added && c.Who == "Marit" && c.Why == "it stands on page 2" && f.State == Stated && f.Text != "" && c.WasState == NotStated {
					n++
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: no fact says who added it", l.Path)
		}
	}
}

// An added ingredient is a row with a fact in each cell that was filled, and the others are unknown, not empty.
func TestAddedIngredient(t *testing.T) {
	s := &Sheet{}
	if err := s.Correct("composition.ingredients.+", []byte(filledRows()["composition.ingredients"]), "Marit", "missed", time.Time{}); err != nil {
		t.Fatal(err)
	}
	in := s.Composition.Ingredients[0]
	if s.Composition.State != Stated || in.Name.Value != "Oxirane" || in.CAS.Value != "75-21-8" || in.Percent.Value.String() != "< 5 %" || len(in.Statements) != 2 || in.Statements[1].Value.Code != "H331" {
		t.Errorf("%+v", in)
	}
	if in.EC.State != NotStated || len(in.EC.Corrections) != 0 {
		t.Errorf("an empty cell became a fact: %+v", in.EC)
	}
}

// What the sheet says of itself stays: a statement that was missed in a sheet that says "not classified" is a contradiction
// for the checks to find, not a reason to forget those words.
func TestAddedRowKeepsNoneStated(t *testing.T) {
	s := &Sheet{}
	s.Hazards.Classified = NoneStated
	if err := s.Correct("hazards.statements.+", []byte(`{"code":"H317"}`), "Marit", "missed", time.Time{}); err != nil {
		t.Fatal(err)
	}
	if s.Hazards.Classified != NoneStated {
		t.Errorf("classified became %v", s.Hazards.Classified)
	}
}

func TestAddedRowsRefused(t *testing.T) {
	for name, row := range map[string][2]string{
		"unknown code":          {"hazards.statements", `{"code":"H999"}`},
		"P code among hazards":  {"hazards.statements", `{"code":"P280"}`},
		"H code among P":        {"hazards.precautions", `{"code":"H317"}`},
		"null":                  {"hazards.statements", `null`},
		"unknown member":        {"hazards.statements", `{"kode":"H317"}`},
		"ingredient's bad code": {"composition.ingredients", `{"name":"x","codes":["H999"]}`},
		"share over 100":        {"composition.ingredients", `{"name":"x","percent":{"hi":150,"has_hi":true}}`},
		"limit without value":   {"control.limits", `{"substance":"x","kind":"TWA","unit":"ppm"}`},
		"no list":               {"hazards.signal_word", `"Danger"`},
	} {
		s := sample()
		was, _ := json.Marshal(s)
		err := s.Correct(row[0]+more, []byte(row[1]), "Marit", "missed", time.Time{})
		if err == nil || name == "no list" && !errors.Is(err, ErrNoFact) {
			t.Errorf("%s: %v", name, err)
		}
		if is, _ := json.Marshal(s); string(is) != string(was) {
			t.Errorf("%s: refused, and the sheet is another", name)
		}
	}
	if err := sample().Correct("hazards.statements.+", []byte(`{"code":"H317"}`), "Marit", "", time.Time{}); err == nil || !strings.Contains(err.Error(), "why") {
		t.Errorf("without a reason: %v", err)
	}
}

// The value before a correction is told in words.
func TestValueBeforeInWords(t *testing.T) {
	s := sample()
	if err := s.Correct("hazards.signal_word", []byte(`"Danger"`), "Marit", "page 1", time.Time{}); err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Facts() {
		if f.Path == "hazards.signal_word" && (len(f.Was) != 1 || f.Was[0] != ghs.Warning.String()) {
			t.Errorf("before: %q", f.Was)
		}
	}
}
