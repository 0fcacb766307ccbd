package audit

import (
	"context"
	"slices"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// trial is one sheet judged by one check: a clean sheet with one change. An empty want asks for no finding of the check.
type trial struct {
	check  string
	says   string // what the trial states, as a sentence of the trade
	rules  ghs.RuleSet
	sheet  func(ghs.RuleSet) *sheet.Sheet
	change func(*Case)
	want   []Kind
}

// finds states that the check gives one finding of the kind.
func finds(check string, kind Kind, says string, rs ghs.RuleSet, make func(ghs.RuleSet) *sheet.Sheet, change func(*Case)) trial {
	return trial{check, says, rs, make, change, []Kind{kind}}
}

// passes states that the check gives no finding.
func passes(check, says string, rs ghs.RuleSet, make func(ghs.RuleSet) *sheet.Sheet, change func(*Case)) trial {
	return trial{check, says, rs, make, change, nil}
}

func trials() []trial {
	return slices.Concat(paperTrials(), section2Trials(), section3Trials(), physicalTrials(), toxicologyTrials(), protectionTrials(),
		transportTrials(), ratingTrials(), referenceTrials(), otherTrials(), labelTrials(), claimTrials(), revisionTrials())
}

func TestTrials(t *testing.T) {
	for _, x := range trials() {
		t.Run(x.check+"/"+x.says, func(t *testing.T) {
			c := caseOf(x.sheet(x.rules), x.rules)
			if x.change != nil {
				x.change(c)
			}
			r, err := Run(context.Background(), c)
			if err != nil {
				t.Fatal(err)
			}
			var got []Kind
			var texts []string
			for _, f := range r.Findings {
				if f.Check == x.check {
					got = append(got, f.Kind)
					texts = append(texts, f.Title)
					if f.Clause == "" || f.Do == "" || f.Title == "" || f.CouldHappen == "" {
						t.Errorf("the finding is incomplete: %+v", f)
					}
				}
			}
			if !slices.Equal(got, x.want) {
				t.Errorf("got %v %q, want %v", got, texts, x.want)
			}
		})
	}
}

// A check without a trial that it finds and a trial that it passes is not tested.
func TestEveryCheckHasBothTrials(t *testing.T) {
	found, passed := map[string]bool{}, map[string]bool{}
	for _, x := range trials() {
		if len(x.want) > 0 {
			found[x.check] = true
		} else {
			passed[x.check] = true
		}
	}
	for _, c := range Catalogue() {
		if !found[c.ID] || !passed[c.ID] {
			t.Errorf("%s: a trial it finds: %v, a trial it passes: %v", c.ID, found[c.ID], passed[c.ID])
		}
	}
}

// The kinds that trials find are among those that the row of the check announces.
func TestKindsAreAnnounced(t *testing.T) {
	rows := map[string]Check{}
	for _, c := range Catalogue() {
		rows[c.ID] = c
	}
	for _, x := range trials() {
		for _, k := range x.want {
			if !slices.Contains(rows[x.check].Kinds, k) {
				t.Errorf("%s finds a %s, its row announces %v", x.check, k, rows[x.check].Kinds)
			}
		}
	}
}
