package facts

import (
	"fmt"
	"strings"
	"testing"

	"sixteen/read/layout"
	"sixteen/sheet"
)

// Restrictions on use whose value begins with a word that is a label elsewhere keep it, in a table and on one line.
func TestRestrictionsOnUse(t *testing.T) {
	for _, body := range []string{
		"Product name: Harbour Gloss\nRestrictions on use: Use by the public",
		"Product name             Harbour Gloss\nRestrictions on use      Use by the public",
		"Product name             Harbour Gloss\nRestrictions on use:     Use by the public",
		"Product name: Harbour Gloss\nRestrictions on use:\nUse by the public",
	} {
		s, err := sheetWith(map[int]string{1: body})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Identification.UsesAgainst.Value; got != "Use by the public" {
			t.Errorf("%q: %q", body, got)
		}
	}
}

// Tags and character references that a program printed as text are no part of a name; signs of a range stay.
func TestMarkupInNames(t *testing.T) {
	s, err := sheetWith(map[int]string{1: "Product name: Harbour Gloss<br/>Clear &amp; Hard\nSupplier: Quay Works<br />Ltd"})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Identification.ProductName.Value; got != "Harbour Gloss Clear & Hard" {
		t.Errorf("name %q", got)
	}
	if got := s.Identification.Supplier.Value; got != "Quay Works Ltd" {
		t.Errorf("supplier %q", got)
	}
	for in, want := range map[string]string{
		"< 5 and > 2": "< 5 and > 2", "a <b and c> d": "a <b and c> d", "m<sup>3</sup>": "m3", "A & B; C": "A & B; C", "Quay<BR>Works": "Quay Works",
	} {
		if got := plainText(in); got != want {
			t.Errorf("plainText(%q) = %q, want %q", in, got, want)
		}
	}
}

// A denial under the law of transport says nothing of the classification; one of the product does, beside it too.
func TestDenialOfOneLaw(t *testing.T) {
	for body, want := range map[string]sheet.State{
		"This product is not dangerous under ADR.":                                                                   sheet.NotStated,
		"Not classified as dangerous for transport by road (ADR), sea (IMDG) or air (IATA).":                         sheet.NotStated,
		"Dieses Produkt ist nicht eingestuft nach ADR.":                                                              sheet.NotStated,
		"This product is not classified as hazardous.":                                                               sheet.NoneStated,
		"Not classified as dangerous for transport. This mixture does not meet the criteria for classification.":     sheet.NoneStated,
		"This mixture does not meet the criteria for classification. It is not classified as dangerous for carriage": sheet.NoneStated,
	} {
		s, err := sheetWith(map[int]string{2: body})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Hazards.Classified; got != want {
			t.Errorf("%q: %v, want %v", body, got, want)
		}
	}
	s, err := sheetWith(map[int]string{2: "This product is not classified as dangerous under ADR.\nSignal word: Warning\nH315 Causes skin irritation"})
	if err != nil {
		t.Fatal(err)
	}
	if s.Hazards.Classified != sheet.Stated {
		t.Errorf("statements beside a denial under ADR: %v", s.Hazards.Classified)
	}
}

// Proper shipping names over two lines are read whole, below one label and in columns of modes; the row below is no part.
func TestShippingNameOfTwoLines(t *testing.T) {
	const long = "ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S. (bisphenol A epoxy resin)"
	for body, want := range map[string]string{
		"UN number: UN3082\nProper shipping name: ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID,\nN.O.S. (bisphenol A epoxy resin)\nTransport hazard class: 9\nPacking group: III":                                                           long,
		"UN number                 UN3082\nProper shipping name      ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S.\n                          (bisphenol A epoxy resin)\nTransport hazard class    9\nPacking group             III": long,
		"UN number: UN1263\nProper shipping name: PAINT\nThe tins are sent upright.\nTransport hazard class: 3\nPacking group: III":                                                                                                        "PAINT",
	} {
		s, err := sheetWith(map[int]string{14: body})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Transport) != 1 || s.Transport[0].Value.ProperName != want {
			t.Errorf("%q: %v", body, s.Transport)
		}
	}
	s, err := sheetWith(map[int]string{14: "                          ADR                 IMDG                IATA\nUN number                 UN1263              UN1263              UN1263\nProper shipping name      PAINT RELATED       PAINT RELATED       PAINT RELATED\n                          MATERIAL            MATERIAL            MATERIAL\nMarine pollutant          No                  No                  No"})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Transport) != 3 {
		t.Fatalf("%v", s.Transport)
	}
	for _, f := range s.Transport {
		if f.Value.ProperName != "PAINT RELATED MATERIAL" || f.Value.MarinePollutant != sheet.NoneStated {
			t.Errorf("%+v", f.Value)
		}
	}
}

// Pictograms that are only named, one a line, are all read.
func TestPictogramsNamedOneALine(t *testing.T) {
	for _, body := range []string{
		"Hazard pictograms: Flame\nExclamation mark\nHealth hazard\nSignal word: Danger",
		"Hazard pictograms:\nFlame\nExclamation mark\nHealth hazard\nSignal word: Danger",
	} {
		s, err := sheetWith(map[int]string{2: body})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, p := range s.Hazards.Pictograms {
			got = append(got, p.Value.String())
		}
		if g := strings.Join(got, " "); g != "GHS02 GHS07 GHS08" {
			t.Errorf("%q: %s", body, g)
		}
	}
}

// A CAS number that recognition misread and the check digit repaired says so in limits and toxicology too.
func TestRepairedCASOfLimitsAndDoses(t *testing.T) {
	pages := pagesWith(map[int]string{
		8:  "Exposure limits\nStyrene (CAS 1OO-42-5): OSHA PEL TWA 100 ppm\nAcetone (CAS 67-64-1): OSHA PEL TWA 500 ppm",
		11: "Acute toxicity\nStyrene (CAS 1OO-42-5): LD50 oral rat 5000 mg/kg\nAcetone (CAS 67-64-1): LD50 oral rat 5800 mg/kg",
	})
	for i := range pages {
		pages[i].How = sheet.ByOCR
		for k := range pages[i].Words {
			pages[i].Words[k].Confidence = 0.9
		}
	}
	s, err := Read(layout.Layout(pages), pages, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	show := func(cas string, evidence []sheet.Evidence) {
		for _, e := range evidence {
			if e.Recognised != "" {
				got = append(got, fmt.Sprint(cas, " was ", e.Recognised))
			}
		}
	}
	for _, l := range s.Control.Limits {
		show(l.Value.CAS, l.Evidence)
	}
	for _, v := range s.Toxicology.Values {
		show(v.Value.CAS, v.Evidence)
	}
	if g := strings.Join(got, "; "); g != "100-42-5 was 1OO-42-5; 100-42-5 was 1OO-42-5" {
		t.Errorf("repairs shown: %s", g)
	}
}
