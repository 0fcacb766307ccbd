package audit

import (
	"context"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// The letter asks, in every language carried, once per question, gravest first.
func TestLetterAsksInFourLanguages(t *testing.T) {
	c := caseOf(hardener(ghs.EUCLP), ghs.EUCLP)
	instead(ghs.AcuteTox4Oral, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.AquaticChronic3)(c)
	c.Sheet.Identification.EmergencyPhone = sheet.Fact[string]{}
	r, err := Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, l := range ghs.Langs() {
		letter, ok := LetterOf(c.Sheet, r, l)
		if !ok || len(letter.Questions) < 3 {
			t.Fatalf("%s: %d questions", l, len(letter.Questions))
		}
		text := letter.Text()
		for _, want := range []string{"Slipway Clear B", "2025-06-01", "Quay Nine Supply", "H314", "1. "} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the letter lacks %q:\n%s", l, want, text)
			}
		}
		if strings.Contains(text, "{") || strings.Contains(text, "@") && !strings.Contains(text, "sheets@quaynine.example") || strings.Count(text, "@") > 1 {
			t.Errorf("%s: something was not filled in:\n%s", l, text)
		}
		for _, q := range letter.Questions {
			if len(q.Findings) == 0 {
				t.Errorf("%s: %q comes from no finding", l, q.Text)
			}
		}
		if seen[letter.Questions[0].Text] {
			t.Errorf("%s repeats the words of another language: %s", l, letter.Questions[0].Text)
		}
		seen[letter.Questions[0].Text] = true
	}
	for i := range r.Findings {
		r.Findings[i].Overruled = &Overruling{Who: "Marit", Why: "tested"}
	}
	if _, ok := LetterOf(c.Sheet, r, ghs.English); ok {
		t.Error("overruled findings still ask")
	}
}

// Every phrase and term is there in every language, and every question of every trial can be written.
func TestQuestionsAreTranslated(t *testing.T) {
	for name, p := range phrases() {
		for _, l := range ghs.Langs() {
			if p.in(l) == "" || l != ghs.English && p.in(l) == p.en {
				t.Errorf("phrase %s is missing in %s", name, l)
			}
			if strings.Count(p.in(l), "{") != strings.Count(p.en, "{") {
				t.Errorf("phrase %s in %s fills in other things than in English", name, l)
			}
		}
	}
	for name, x := range terms() {
		for _, l := range ghs.Langs() {
			if x.in(l) == "" || l != ghs.English && x.in(l) == x.en {
				t.Errorf("term %s is missing in %s", name, l)
			}
		}
	}
	for _, x := range trials() {
		c := caseOf(x.sheet(x.rules), x.rules)
		if x.change != nil {
			x.change(c)
		}
		r, err := Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Findings {
			q := f.Question
			if q.Phrase == "" {
				continue
			}
			for _, l := range ghs.Langs() {
				if s := q.In(l); s == "" || strings.Contains(s, "{") || strings.HasPrefix(s, "@") || strings.Contains(s, " @") {
					t.Errorf("%s in %s: %q from %+v", f.Check, l, s, q)
				}
			}
		}
	}
}
