package audit

import (
	"context"
	"fmt"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// A sheet without fault gives no contradiction, no gap and no doubt, under any rule set.
func TestCleanSheetsAreLeftAlone(t *testing.T) {
	for name, make := range map[string]func(ghs.RuleSet) *sheet.Sheet{"resin": resin, "hardener": hardener, "thinner": thinner} {
		for _, rs := range ghs.RuleSets() {
			t.Run(name+" "+string(rs), func(t *testing.T) {
				r, err := Run(context.Background(), caseOf(make(rs), rs))
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range r.Findings {
					if f.Kind != Note {
						t.Errorf("%s: %s: %s\n%s", f.Check, f.Kind, f.Title, sidesText(f))
					}
				}
				if r.Made < 60 {
					t.Errorf("only %d checks were made", r.Made)
				}
			})
		}
	}
}

func sidesText(f Finding) string {
	out := ""
	for _, s := range append(f.Says, f.Follows...) {
		out += fmt.Sprintf("   [%d] %s %v\n", s.Section, s.Text, s.Trace)
	}
	return out
}
