package protect

import (
	"fmt"
	"io"
	"strings"
)

// WriteText writes the plan for reading in a terminal: a heading per kind, then what, why and source of every measure.
func (p Plan) WriteText(w io.Writer) error {
	var b strings.Builder
	if !p.Adequate {
		b.WriteString("DO NOT DO THE JOB THIS WAY. Nothing held here is adequate; see below.\n\n")
	}
	for _, n := range p.NotAssessed {
		fmt.Fprintf(&b, "Not assessed: %s\n", n)
	}
	var kind Kind
	for _, m := range p.Measures {
		if m.Kind != kind {
			kind = m.Kind
			fmt.Fprintf(&b, "%s\n", strings.ToUpper(string(kind)))
		}
		fmt.Fprintf(&b, "  - %s\n    why: %s\n    source: %s\n", m.What, m.Why, m.Source)
	}
	b.WriteString("\nA plan from data on paper. It replaces no measurement, no doctor and no maker's instruction.\n")
	_, err := io.WriteString(w, b.String())
	return err
}
