package plan

import (
	"fmt"
	"io"
	"strings"

	"sixteen/ghs"
)

// WriteText writes the plan for reading in a terminal: the headline, the plan in short, who stays
// away, the figures, then every measure with why and source. It gives
// the first error of w.
func (p *Plan) WriteText(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", p.Name, strings.Repeat("=", len([]rune(p.Name))))
	fmt.Fprintf(&b, "Limits of: %s. Products judged by: %s. Shift of %g h.\nEvery figure is an estimate, middle of all ranges to their high ends; only a measurement tells what is in the air.\n\n", p.Exposure.Jurisdiction, p.RuleSet.Name(), p.Exposure.ShiftHours)
	for _, h := range p.Headline {
		fmt.Fprintf(&b, "* %s\n", h)
	}
	b.WriteString("\nIN SHORT (why, and by which source, stands below)\n")
	for _, l := range p.Brief() {
		fmt.Fprintf(&b, "%s\n", upper(l.About))
		for _, s := range l.Says {
			fmt.Fprintf(&b, "  - %s\n", s)
		}
	}
	b.WriteString("\nProducts\n")
	for _, k := range p.Products {
		fmt.Fprintf(&b, "  %s: %s\n", k.Name, hazardWords(k.Acting()))
		if !k.Possible.Empty() {
			fmt.Fprintf(&b, "    possible besides, by the stated ranges or facts that are not known: %s\n", k.Possible)
		}
		if k.Hidden[1] >= 0.05 {
			fmt.Fprintf(&b, "    not disclosed: %s\n", hiddenWords(k.Hidden))
		}
		if k.Contradictions > 0 {
			fmt.Fprintf(&b, "    its sheet holds %s: run check on it before trusting it\n", count(k.Contradictions, "contradiction"))
		}
	}
	if len(p.Bystanders) > 0 {
		b.WriteString("\nOthers in the rooms\n")
		for _, o := range p.Bystanders {
			fmt.Fprintf(&b, "  %s: %s\n", o.Name, strings.Join(o.Says, ". "))
		}
	}
	if err := p.Exposure.WriteDetail(&b); err != nil {
		return err
	}
	b.WriteString("\nWhat to do, in the order of controls\n\n")
	if err := p.Protection.WriteText(&b); err != nil {
		return err
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// upper is s with a capital at its beginning.
func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func hazardWords(s ghs.HazardSet) string {
	if s.Empty() {
		return "no class is declared or follows from what is disclosed"
	}
	return s.String()
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
