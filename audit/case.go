package audit

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Case is everything the checks compare: a sheet, the rule set to judge it by, and whatever else is at hand. Only Sheet
// and RuleSet are required. A Case is made once, not changed and not copied after the first check; what the checks
// derive from it (mixture, envelope) is computed when first asked for. It may be used by several goroutines.
type Case struct {
	Sheet       *sheet.Sheet
	RuleSet     ghs.RuleSet
	Substances  *substance.Table
	Label       *Label                // nil: no label at hand
	Claims      []string              // free text of advertisements, leaflets, the label's marketing lines
	Kit         *Kit                  // nil: the product is no part of a kit
	Previous    *sheet.Sheet          // the revision before, nil when there is none
	Today       time.Time             // the day to judge dates by; zero: dates are compared with each other only
	Overrulings map[string]Overruling // by finding ID

	once struct {
		mixture, classes, declared sync.Once
	}
	mixture  classify.Mixture
	choices  []Choice
	classes  derivation
	declared ghs.HazardSet
}

// valid tells what the case lacks.
func (c *Case) valid() error {
	if c.Sheet == nil {
		return fmt.Errorf("nothing to audit: the case has no sheet; read one first")
	}
	if !c.RuleSet.Known() {
		return fmt.Errorf("rule set %q is not carried: choose one of %v", c.RuleSet, ghs.RuleSets())
	}
	return nil
}

// in tells whether the case is judged by one of the rule sets.
func (c *Case) in(rs ...ghs.RuleSet) bool { return slices.Contains(rs, c.RuleSet) }

// european tells whether the sheet is judged by REACH Annex II, of the Union or as Great Britain kept it.
func (c *Case) european() bool { return c.in(ghs.EUCLP, ghs.GBCLP) }

// american tells whether the sheet is judged by 29 CFR 1910.1200.
func (c *Case) american() bool { return c.in(ghs.USHCS2024, ghs.USHCS2012) }

// known is the reference row of a CAS number, nil when the table has none.
func (c *Case) known(cas string) *substance.Substance {
	if c.Substances == nil || cas == "" {
		return nil
	}
	s, ok := c.Substances.ByCAS(cas)
	if !ok {
		return nil
	}
	return s
}

// text is the running text of the given sections in lower case, one line after the other.
func (c *Case) text(sections ...int) string {
	var b strings.Builder
	for _, n := range sections {
		for _, l := range c.Sheet.Sections[n].Text {
			b.WriteString(strings.ToLower(l.Text))
			b.WriteByte('\n')
		}
	}
	return b.String()
}

func hasAny(text string, words ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(text, w) })
}

// says is one side of a finding: words of the sheet with the places of the facts they come from.
func says[T any](section int, text string, facts ...sheet.Fact[T]) Side {
	s := Side{Text: text, Section: section}
	for _, f := range facts {
		s.Evidence = append(s.Evidence, f.Evidence...)
	}
	return s
}

// scanned tells whether most pages of the sheet are pictures of text.
func (c *Case) scanned() bool {
	n := 0
	for _, p := range c.Sheet.Source.Pages {
		if p.OCR {
			n++
		}
	}
	return 2*n > len(c.Sheet.Source.Pages)
}

// silent is the side of a sheet that says nothing about something.
func silent(section int, what string) Side {
	return Side{Section: section, Text: "The sheet does not state " + what + "."}
}

// follows is the side that is concluded: words, and the arithmetic or the rule behind them.
func follows(text string, trace ...string) Side { return Side{Text: text, Trace: trace} }

// looked is the side of a reference value.
func looked(text string, src substance.Source) Side {
	return Side{Text: text, Source: src.Text, Memory: src.Memory}
}
