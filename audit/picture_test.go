package audit

import (
	"context"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// One letter read wrong in a picture makes a contradiction, so that words from pictures are a doubt at most, and the
// finding says where they come from.
func TestWordsFromAPictureContradictNothing(t *testing.T) {
	of := func(how sheet.How, pages ...sheet.PageSize) Finding {
		c := caseOf(thinner(ghs.EUCLP), ghs.EUCLP)
		c.Sheet.Source.Pages = pages
		set(sheet.LowerFlammable, sheet.Exactly(7), "%", "7 %")(c)
		set(sheet.UpperFlammable, sheet.Exactly(1.2), "%", "1.2 %")(c)
		for _, p := range []sheet.Property{sheet.LowerFlammable, sheet.UpperFlammable} {
			c.Sheet.Physical.Quantities[p][0].Evidence[0].How = how
		}
		r, err := Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Findings {
			if f.Check == "physical-order" {
				return f
			}
		}
		t.Fatal("the limits are not compared")
		return Finding{}
	}
	if f := of(sheet.ByText); f.Kind != Contradiction || strings.Contains(f.Do, "picture") {
		t.Errorf("from text: %s, %q", f.Kind, f.Do)
	}
	if f := of(sheet.ByOCR); f.Kind != Doubt || !strings.Contains(f.Do, "read from a picture") {
		t.Errorf("from a picture: %s, %q", f.Kind, f.Do)
	}
	if f := of(sheet.ByText, sheet.PageSize{OCR: true}); f.Kind != Doubt {
		t.Errorf("on a scanned page: %s", f.Kind)
	}
	if f := of(sheet.ByPerson); f.Kind != Contradiction {
		t.Errorf("typed by a person: %s", f.Kind)
	}
}
