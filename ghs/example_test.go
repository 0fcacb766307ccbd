package ghs_test

import (
	"fmt"

	"sixteen/ghs"
)

func ExampleParseHazard() {
	h, ok := ghs.ParseHazard("Skin corrosion/irritation - Category 1B")
	fmt.Println(h, ok, "|", h.Title(ghs.German))
	_, ok = ghs.ParseHazard("Acute Tox. 4 (inhalation)")
	fmt.Println(ok, ghs.Readings("Acute Tox. 4 (inhalation)"))
	// Output:
	// Skin Corr. 1B true | Ätzwirkung auf die Haut, Kategorie 1B
	// false [Acute Tox. 4 inhalation_gas Acute Tox. 4 inhalation_vapour Acute Tox. 4 inhalation_dust]
}

func ExampleFindHazards() {
	for _, hit := range ghs.FindHazards("Skin Irrit. 2, H315; STOT SE 3, H335") {
		fmt.Println(hit.Readings)
	}
	// Output:
	// [Skin Irrit. 2]
	// [STOT SE 3 respiratory]
}

func ExampleFindPhrase() {
	for _, m := range ghs.FindPhrase("Rnay be misread: MAY CAUSE AN AL1ERGIC SKIN REACTION. Causes serious eye darnage", ghs.English) {
		fmt.Println(m.Code)
	}
	// Output:
	// H317
	// H318
}

func ExampleParseCodes() {
	for _, hit := range ghs.ParseCodes("H302-312, P305 + P351+P338, EUHO66") {
		fmt.Println(hit.Code)
	}
	// Output:
	// H302
	// H312
	// P305+P351+P338
	// EUH066
}

func ExampleFill() {
	text, _ := ghs.Fill("H373", ghs.English, ghs.Blanks{Organs: "the liver"})
	fmt.Println(text)
	// Output: May cause damage to the liver through prolonged or repeated exposure.
}

func ExampleRuleSet_Elements() {
	e, _ := ghs.EUCLP.Elements(ghs.SkinSens1)
	fmt.Println(e.Codes, e.SignalWord, e.Pictograms, e.Prevention)
	// Output: [H317] Warning [GHS07] [P261 P272 P280]
}
