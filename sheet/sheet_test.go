package sheet

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
)

// sample is a small sheet with one fact of most kinds.
func sample() *Sheet {
	s := &Sheet{}
	s.Identification.ProductName = Fact[string]{State: Stated, Value: "Quay Resin A", Confidence: 0.98, Evidence: []Evidence{{Page: 1, Box: Rect{10, 20, 90, 30}, Words: "Quay Resin A", How: ByText}}}
	s.Hazards.SignalWord = Fact[ghs.SignalWord]{State: Stated, Value: ghs.Warning, Confidence: 0.98}
	s.Hazards.Classification = []Fact[ClassStatement]{{State: Stated, Value: ClassStatement{Hazard: ghs.Readings("Skin Irrit. 2")[0], Printed: "Skin Irrit. 2"}}}
	s.Composition.Ingredients = []Ingredient{{
		CAS:     Fact[string]{State: Stated, Value: "100-51-6"},
		Percent: Fact[Quantity]{State: Stated, Value: Quantity{Interval: Interval{Lo: 2.5, Hi: 10, HasLo: true, HasHi: true, HiOpen: true}, Unit: "%", Printed: "2,5-<10%"}},
	}}
	s.Physical.Quantities = map[Property][]Fact[Quantity]{PH: {{State: NotApplicable}}}
	s.Toxicology.Endpoints = map[string]Fact[string]{"skin": {State: Stated, Value: "Causes skin irritation."}}
	s.Transport = []Fact[Transport]{{State: NoneStated, Value: Transport{Mode: "ADR"}}}
	return s
}

// States, hazards, signal words and pictograms are words in the JSON form, and the form reads back to the same sheet.
func TestJSONRoundTrip(t *testing.T) {
	s := sample()
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"state":"not_applicable"`, `"value":"Warning"`, `"hazard":"Skin Irrit. 2"`, `"state":"none_stated"`} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the JSON form lacks %s", want)
		}
	}
	var back Sheet
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	if again, _ := json.Marshal(&back); string(again) != string(data) {
		t.Error("the JSON form reads back to another sheet")
	}
	if !reflect.DeepEqual(back.Composition.Ingredients[0].Percent, s.Composition.Ingredients[0].Percent) {
		t.Errorf("share %+v", back.Composition.Ingredients[0].Percent)
	}
	var state State
	if err := state.UnmarshalText([]byte("maybe")); err == nil {
		t.Error("an unknown state is accepted")
	}
}

func TestFactsList(t *testing.T) {
	got := map[string]Listed{}
	for _, f := range sample().Facts() {
		if _, twice := got[f.Path]; twice {
			t.Errorf("the path %s stands for two facts", f.Path)
		}
		got[f.Path] = f
	}
	for path, want := range map[string]string{
		"identification.product_name":       "Quay Resin A",
		"hazards.signal_word":               "Warning",
		"hazards.classification.0":          "Skin Irrit. 2",
		"composition.ingredients.0.percent": "2.5 – < 10 %",
		"physical.quantities.ph.0":          "",
		"toxicology.endpoints.skin":         "Causes skin irritation.",
	} {
		if f, ok := got[path]; !ok || f.Text != want {
			t.Errorf("%s: %q, want %q", path, f.Text, want)
		}
	}
	if f := got["physical.quantities.ph.0"]; f.State != NotApplicable || f.Section != 9 {
		t.Errorf("pH: %+v", f)
	}
}

// A correction keeps the state and value as read, the words they were read from, and who changed them when and why.
func TestCorrectKeepsTheOriginal(t *testing.T) {
	s := sample()
	when := time.Date(2025, 3, 4, 9, 30, 0, 0, time.UTC)
	if err := s.Correct("identification.product_name", []byte(`"Quay Resin B"`), "Mara", "misread", when); err != nil {
		t.Fatal(err)
	}
	f := s.Identification.ProductName
	want := Correction{Who: "Mara", When: when, Why: "misread", WasState: Stated, Was: `"Quay Resin A"`}
	if f.Value != "Quay Resin B" || f.Confidence != 1 || len(f.Evidence) != 1 || len(f.Corrections) != 1 || f.Corrections[0] != want {
		t.Errorf("%+v", f)
	}
	if err := s.Correct("toxicology.endpoints.skin", []byte(`"Not irritating."`), "Mara", "supplier's letter", when); err != nil || s.Toxicology.Endpoints["skin"].Value != "Not irritating." || len(s.Toxicology.Endpoints["skin"].Corrections) != 1 {
		t.Errorf("endpoint %+v, %v", s.Toxicology.Endpoints["skin"], err)
	}
	if err := s.Correct("hazards.signal_word", []byte("null"), "Mara", "belongs to the other part", when); err != nil || s.Hazards.SignalWord.State != NotStated {
		t.Errorf("signal word %+v, %v", s.Hazards.SignalWord, err)
	}
	if err := s.Correct("hazards.nothing", []byte(`1`), "Mara", "x", when); !errors.Is(err, ErrNoFact) {
		t.Errorf("unknown path: %v", err)
	}
	if err := s.Correct("hazards.signal_word", []byte(`"Hello"`), "Mara", "x", when); err == nil {
		t.Error("a word that is no signal word is accepted")
	}
	if err := s.Correct("identification.product_name", []byte(`"x"`), "", "", when); err == nil {
		t.Error("a correction without name and reason is accepted")
	}
}

func TestIntervalPrints(t *testing.T) {
	for want, v := range map[string]Interval{
		"10 – 25": Between(10, 25), "5": Exactly(5), "< 1": {Hi: 1, HasHi: true, HiOpen: true}, "≥ 70": {Lo: 70, HasLo: true},
		"> 1 – < 5": {Lo: 1, Hi: 5, HasLo: true, HasHi: true, LoOpen: true, HiOpen: true}, "ca. 3": {Lo: 3, Hi: 3, HasLo: true, HasHi: true, Approx: true}, "": {},
	} {
		if v.String() != want {
			t.Errorf("%+v prints %q, want %q", v, v.String(), want)
		}
	}
}
