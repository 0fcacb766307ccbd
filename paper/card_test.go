package paper

import (
	"errors"
	"io"
	"strings"
	"testing"

	"sixteen/ghs"
)

// One page in every language and on both papers, with everything that is needed in the first minute.
func TestCardIsOnePage(t *testing.T) {
	for _, l := range ghs.Langs() {
		for name, page := range map[string]PageSize{"a4": A4, "letter": Letter} {
			p := invented(ghs.EUCLP)
			p.Lang = l
			d, err := p.Card(CardOptions{Lang: l, Page: page, Where: "Bench 2", Date: day()})
			if err != nil {
				t.Errorf("%s %s: %v", l, name, err)
				continue
			}
			t.Logf("%s %s: %.1f pt", l, name, d.Size)
			file := written(t, "card-"+string(l)+"-"+name+".pdf", d.WritePDF)
			structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", file), "\"", " ")), " ")
			inOrder(t, string(l)+" "+name, structure, "H1", "Heron Quay Hardener 30", strings.ToUpper(ghs.Danger.In(l)), word("allergy", l), word("eye", l), word("eye-rinse", l), word("eye-while-burn", l),
				word("wear", l), word("wear-goggles", l), word("do", l), word("do-wash", l), word("do-not", l), word("dont-solvent", l), word("waste", l), word("first-aid", l), word("spill", l), word("fire", l), "112",
				word("call", l), "112", word("call-poison", l), "+00 100 911")
			bboxes(t, file)
			inked(t, file, true)
			wellFormed(t, written(t, "card-"+string(l)+".html", d.WriteHTML))
		}
	}
}

// A card that cannot be one page says so and is not cut.
func TestCardThatDoesNotFit(t *testing.T) {
	p := invented(ghs.EUCLP, ghs.AllHazards()...)
	_, err := p.Card(CardOptions{Lang: ghs.French, Page: PageSize{148, 210}, Date: day()})
	var long *TooLong
	if !errors.As(err, &long) || long.Pages < 2 || !strings.Contains(err.Error(), "larger paper") {
		t.Errorf("%v", err)
	}
	d := p.card(CardOptions{Lang: ghs.French, Date: day()}, 12)
	d.MaxPages = 0
	if err := d.WritePDF(io.Discard); err != nil {
		t.Error(err)
	}
}
