package audit

import (
	"context"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func plainOf(t *testing.T, s *sheet.Sheet, rs ghs.RuleSet, change func(*Case)) HalfPage {
	t.Helper()
	c := caseOf(s, rs)
	if change != nil {
		change(c)
	}
	r, err := Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return Plain(c, r)
}

func sentencesOf(p HalfPage) string {
	var out []string
	for _, part := range [][]Sentence{p.CanDo, p.Wear, p.PutBack, p.NotKnown} {
		for _, s := range part {
			out = append(out, s.Text)
		}
	}
	return strings.Join(out, "\n")
}

// Every sentence of the half page rests on something, and none of them says safe.
func TestPlainSentencesAreTraced(t *testing.T) {
	for name, make := range map[string]func(ghs.RuleSet) *sheet.Sheet{"resin": resin, "hardener": hardener, "thinner": thinner} {
		p := plainOf(t, make(ghs.EUCLP), ghs.EUCLP, nil)
		if len(p.CanDo) == 0 || len(p.Wear) < 2 {
			t.Errorf("%s: %+v", name, p)
		}
		for _, part := range [][]Sentence{p.CanDo, p.Wear, p.PutBack, p.NotKnown} {
			for _, s := range part {
				if len(s.From) == 0 || s.From[0].Text == "" {
					t.Errorf("%s: %q rests on nothing", name, s.Text)
				}
			}
		}
		if strings.Contains(strings.ToLower(sentencesOf(p)), "safe") {
			t.Errorf("%s says safe:\n%s", name, sentencesOf(p))
		}
		if len(p.PutBack) > 0 {
			t.Errorf("%s: a clean sheet is no reason to put the product back: %v", name, p.PutBack)
		}
	}
}

func TestPlainSaysTheWorstFirst(t *testing.T) {
	p := plainOf(t, hardener(ghs.EUCLP), ghs.EUCLP, nil)
	if !strings.Contains(p.CanDo[0].Text, "scars") && !strings.Contains(p.CanDo[0].Text, "blind") && !strings.Contains(p.CanDo[0].Text, "allergy") {
		t.Errorf("first comes %q", p.CanDo[0].Text)
	}
	if last := p.CanDo[len(p.CanDo)-1].Text; !strings.Contains(last, "water life") {
		t.Errorf("last comes %q", last)
	}
}

// What section 2 hides stands on the half page all the same, and is a reason to put the product back.
func TestPlainTellsWhatSection2Hides(t *testing.T) {
	p := plainOf(t, resin(ghs.EUCLP), ghs.EUCLP, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.AquaticChronic2))
	if !strings.Contains(sentencesOf(p), "Section 2 does not say so, but its ingredients do: A skin allergy for life") {
		t.Errorf("the allergy is not told:\n%s", sentencesOf(p))
	}
	if len(p.PutBack) == 0 {
		t.Error("no reason to put it back")
	}
}

// "Not classified" and silence are different, and neither is harmless.
func TestPlainKeepsSilenceApart(t *testing.T) {
	inert := blank(ghs.EUCLP, "Rinse")
	inert.Hazards = sheet.Hazards{Classified: sheet.NoneStated}
	if p := plainOf(t, inert, ghs.EUCLP, nil); !strings.Contains(p.CanDo[0].Text, "not classified") {
		t.Errorf("got %q", p.CanDo[0].Text)
	}
	mute := blank(ghs.EUCLP, "Rinse")
	if p := plainOf(t, mute, ghs.EUCLP, nil); !strings.Contains(p.CanDo[0].Text, "does not say") {
		t.Errorf("got %q", p.CanDo[0].Text)
	}
}
