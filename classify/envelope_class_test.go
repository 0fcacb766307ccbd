package classify

import (
	"slices"
	"sync"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// "Some sub-category of Skin Corr. 1 is certain, which one is possible"; "at least Eye Irrit. 2 is certain". Limits:
// CLP Annex I, Tables 3.2.3, 3.3.3 and 3.4.5.
func TestClassAnswersInWords(t *testing.T) {
	corrosives := mix(false, sheet.Between(2, 10), sheet.Between(5, 10))
	corrosives.Ingredients[0].Hazards = ghs.SetOf(ghs.SkinCorr1B)
	corrosives.Ingredients[1].Hazards = ghs.SetOf(ghs.SkinCorr1C)
	for _, c := range []struct {
		m    Mixture
		want []string
	}{
		{quayHardener(), []string{
			"at least Skin Irrit. 2 is certain: Skin Corr. 1B or Skin Irrit. 2",
			"at least Eye Irrit. 2 is certain: Eye Dam. 1 or Eye Irrit. 2",
			"Skin Sens. 1 is certain",
		}},
		{corrosives, []string{"at least Skin Corr. 1C is certain: Skin Corr. 1B or Skin Corr. 1C", "Eye Dam. 1 is certain"}},
	} {
		e, err := compiled(t, c.m, ghs.EUCLP).Envelope()
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, a := range e.Classes() {
			got = append(got, a.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestClassWithoutFloor(t *testing.T) {
	m := mix(false, sheet.Between(0.05, 0.5))
	m.Ingredients[0].Hazards = ghs.SetOf(ghs.Carc1B)
	e, err := compiled(t, m, ghs.EUCLP).Envelope()
	if err != nil {
		t.Fatal(err)
	}
	if c := e.Classes(); len(c) != 1 || c[0].AtLeast != 0 || c[0].String() != "Carc. 1B is possible, and so is none" {
		t.Errorf("%v", c)
	}
}

// An envelope is shared by those who look at a sheet at the same time.
func TestWordsAreSafeToShare(t *testing.T) {
	p := compiled(t, twelve(), ghs.EUCLP)
	e, err := p.Envelope()
	if err != nil {
		t.Fatal(err)
	}
	want := e.Why(ghs.SkinCorr1B)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for _, a := range e.Answers {
				e.Why(a.Hazard)
			}
			if got := e.Why(ghs.SkinCorr1B); !slices.Equal(got, want) {
				t.Errorf("got %v, want %v", got, want)
			}
		})
	}
	wait.Wait()
}
