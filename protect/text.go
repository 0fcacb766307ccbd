package protect

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// Listing is the measures of a plan arranged for print: a group per kind, our own measures first, then the standard's
// words; every source once, with a number.
type Listing struct {
	Groups  []Group
	Sources []Source // number n is Sources[n-1]
}

// Group is the measures of one kind.
type Group struct {
	Kind  Kind
	Own   []Numbered
	Words []Measure // precautionary statements
}

// Numbered is a measure with the number of its source.
type Numbered struct {
	Measure
	Number int
}

// Listing arranges the measures.
func (p Plan) Listing() Listing {
	var l Listing
	for _, m := range p.Measures {
		if n := len(l.Groups); n == 0 || l.Groups[n-1].Kind != m.Kind {
			l.Groups = append(l.Groups, Group{Kind: m.Kind})
		}
		g := &l.Groups[len(l.Groups)-1]
		if m.Code != "" {
			g.Words = append(g.Words, m)
			continue
		}
		i := slices.Index(l.Sources, m.Source)
		if i < 0 {
			i = len(l.Sources)
			l.Sources = append(l.Sources, m.Source)
		}
		g.Own = append(g.Own, Numbered{m, i + 1})
	}
	return l
}

// Words is a statement with its code and the class it comes from.
func (m Measure) Words() string {
	s := fmt.Sprintf("%s %s (%s", m.Code.Printed(), m.What, strings.TrimPrefix(m.Why, "the product is classified "))
	if m.Source.Memory {
		s += "; assigned from memory"
	}
	return s + ")"
}

// WriteText writes the plan for reading in a terminal: a heading per kind, what to do and why with the number of its
// source, the standard's words, then the sources.
func (p Plan) WriteText(w io.Writer) error {
	var b strings.Builder
	if !p.Adequate {
		b.WriteString("DO NOT DO THE JOB THIS WAY. Nothing held here is adequate; see below.\n\n")
	}
	for _, n := range p.NotAssessed {
		fmt.Fprintf(&b, "Not assessed: %s\n", n)
	}
	l := p.Listing()
	for _, g := range l.Groups {
		fmt.Fprintf(&b, "%s\n", strings.ToUpper(string(g.Kind)))
		for _, m := range g.Own {
			fmt.Fprintf(&b, "  - %s [%d]\n    why: %s\n", m.What, m.Number, m.Why)
		}
		for _, m := range g.Words {
			fmt.Fprintf(&b, "  = %s\n", m.Words())
		}
	}
	b.WriteString("\nSources ( = stands before precautionary statements of the rule set )\n")
	for i, s := range l.Sources {
		fmt.Fprintf(&b, "  [%d] %s\n", i+1, s)
	}
	b.WriteString("\nA plan from data on paper. It replaces no measurement, no doctor and no maker's instruction.\n")
	_, err := io.WriteString(w, b.String())
	return err
}
