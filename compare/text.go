package compare

import (
	"fmt"
	"io"
	"strings"

	"sixteen/exposure"
)

// WriteText writes the comparison for reading in a terminal: what follows first, then one block an axis, one line a product.
func (c *Comparison) WriteText(w io.Writer) error {
	var b strings.Builder
	title := "Comparison"
	if c.Job != "" {
		title += " for: " + c.Job
	}
	fmt.Fprintf(&b, "%s\n%s\nJudged by: %s. Axes are kept apart; there is no sum.\n\n", title, strings.Repeat("=", len([]rune(title))), c.RuleSet.Name())
	if c.Partial {
		b.WriteString("Partial answer: the comparison was stopped before its end.\n\n")
	}
	b.WriteString("What follows\n")
	for _, h := range c.Headline {
		fmt.Fprintf(&b, "* %s\n", h)
	}
	fmt.Fprintf(&b, "Not dominated by another: %s\n\n", strings.Join(c.Leading, ", "))
	width := 0
	for _, p := range c.Products {
		width = max(width, len([]rune(p.Name)))
	}
	for i, axis := range Axes() {
		fmt.Fprintf(&b, "%s\n", strings.ToUpper(axis.Title()))
		for _, p := range c.Products {
			s := p.Scores[i]
			pad := strings.Repeat(" ", width-len([]rune(p.Name)))
			fmt.Fprintf(&b, "  %s%s  %-9s %s", p.Name, pad, s.Range(), s.Words)
			if len(s.Why) > 0 {
				fmt.Fprintf(&b, " [%s]", strings.Join(s.Why, "; "))
			}
			b.WriteString("\n")
		}
	}
	for _, p := range c.Products {
		if p.Cost != nil {
			fmt.Fprintf(&b, "Cost of the material for the job, %s: %.2f\n", p.Name, *p.Cost)
		}
	}
	b.WriteString("\n")
	for _, n := range c.Notes {
		fmt.Fprintf(&b, "- %s\n", n)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Range is the score in figures: "2", "1–3", "1–?" where nothing bounds it.
func (s Score) Range() string {
	switch {
	case s.Open:
		return fmt.Sprintf("%s–?", exposure.Amount(s.Lo))
	case s.Lo == s.Hi:
		return exposure.Amount(s.Lo)
	}
	return exposure.Amount(s.Lo) + "–" + exposure.Amount(s.Hi)
}
