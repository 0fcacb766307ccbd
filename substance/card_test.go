package substance

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func cardOf(t testing.TB, s *Substance) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCard(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The card of the commonest epoxy resin says what it is, keeps law and practice apart, and marks what is recalled.
func TestCardOfALiquidEpoxyResin(t *testing.T) {
	got := cardOf(t, byCAS(t, "25068-38-6"))
	for _, want := range []string{
		"CAS 25068-38-6 · EC 500-033-5 · epoxy resin", "Harmonised in the EU", "Skin Sens. 1 H317", "Typical: what supplier sheets state",
		"Skin Irrit. 2: C >= 5 %", "from memory", "check at", "none held; that is not a statement that there is none", "not held: ", "unknown; neither Antoine equation",
		"Still to be checked", "what is not held here is unknown, not absent",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the card lacks %q:\n%s", want, got)
		}
	}
}

// Every card is written, every note on it is listed, every listed source is cited, and no card calls anything safe.
func TestEveryCardHoldsTogether(t *testing.T) {
	for _, s := range Embedded().All() {
		text := cardOf(t, s)
		body, list, ok := strings.Cut(text, "\nSources (")
		if !ok || !utf8.ValidString(text) {
			t.Fatalf("%s: no sources", s.CAS)
		}
		for n := 1; n <= 40; n++ {
			mark, listed := fmt.Sprintf("[%d", n), strings.Contains(list, fmt.Sprintf("  [%d] ", n))
			cited := strings.Contains(body, mark+"]") || strings.Contains(body, mark+",") || strings.Contains(body, mark+":")
			if cited != listed {
				t.Errorf("%s: note %d cited %v, listed %v", s.CAS, n, cited, listed)
			}
		}
		for i, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > 130 {
				t.Errorf("%s, line %d: %d letters wide", s.CAS, i+1, n)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("%s, line %d ends in blanks", s.CAS, i+1)
			}
		}
		if strings.Contains(strings.ToLower(body), " safe ") {
			t.Errorf("%s: the card says safe", s.CAS)
		}
		c := NewCard(s)
		if _, err := json.Marshal(c); err != nil {
			t.Errorf("%s: %v", s.CAS, err)
		}
		if c.Recalled > c.Values {
			t.Errorf("%s: %d of %d values recalled", s.CAS, c.Recalled, c.Values)
		}
	}
}

func TestCardOfAnUnknownSubstance(t *testing.T) {
	got := cardOf(t, &Substance{CAS: "107-07-3", Name: "nobody's substance"})
	if !strings.Contains(got, "none held; that is not a statement that there is no hazard") || !strings.Contains(got, "EC not held") {
		t.Errorf("card without data:\n%s", got)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWritersErrorsComeBack(t *testing.T) {
	if err := WriteCard(full{}, byCAS(t, "67-64-1")); err == nil {
		t.Error("WriteCard hides the error of its writer")
	}
	p, err := Embedded().Import(harmonisedSheet(t), euTable)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.WriteReport(full{}, 0); err == nil {
		t.Error("WriteReport hides the error of its writer")
	}
}

func TestThreeFigures(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 6084.3: "6080", 617.4: "617", 0.0123456: "0.0123", 5e-8: "5e-08", 123456: "123000", 1e6: "1000000", 2.5e7: "2.5e+07"} {
		if got := threeFigures(v); got != want {
			t.Errorf("threeFigures(%g) = %s, want %s", v, got, want)
		}
	}
}
