package blend

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Why is what stands behind an item: the fact, the rule that was applied to it, the clause. Memory tells that the fact or
// the clause was recalled and not looked up.
type Why struct {
	Fact   string `json:"fact,omitempty"`
	Rule   string `json:"rule,omitempty"`
	Clause string `json:"clause,omitempty"`
	Memory bool   `json:"memory,omitempty"`
}

// String is the why on one line.
func (w Why) String() string {
	var parts []string
	for _, s := range []string{w.Fact, w.Rule, w.Clause} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	s := strings.Join(parts, "; ")
	if w.Memory {
		s += " (from memory)"
	}
	return s
}

// Question is something only the author can answer.
type Question struct {
	Field   string `json:"field"`
	Section int    `json:"section"`
	Text    string `json:"text"`
	Why     Why    `json:"why"`

	make func(dictionary) string
}

// Kind is the form of an item.
type Kind string

// Kinds of items.
const (
	Subheading Kind = "subheading" // Label is the number, Text the title
	Field      Kind = "field"      // Label and Text; lines are separated by "\n"
	Paragraph  Kind = "paragraph"  // Text
	Rows       Kind = "table"      // Head and Table
	Symbols    Kind = "pictograms" // Label and Pictograms
)

// Item is one piece of a section, with the field of the law that it fills and with what stands behind it.
type Item struct {
	Kind       Kind            `json:"kind"`
	Field      string          `json:"field,omitempty"`
	Label      string          `json:"label,omitempty"`
	Text       string          `json:"text,omitempty"`
	Head       []string        `json:"head,omitempty"`
	Widths     []float64       `json:"widths,omitempty"` // shares of the line, as many as columns
	Table      [][]string      `json:"table,omitempty"`
	Pictograms []ghs.Pictogram `json:"pictograms,omitempty"`
	Open       bool            `json:"open,omitempty"` // an open question stands in its place
	Why        []Why           `json:"why,omitempty"`
}

// Section is one of the sixteen.
type Section struct {
	Number  int    `json:"number"`
	Heading string `json:"heading"`
	Items   []Item `json:"items"`
}

// Draft is a drafted sheet in one language under one rule set. Facts is its content as a reader without fault would find
// it; it has no evidence but the author's word.
type Draft struct {
	Product   string       `json:"product"`
	RuleSet   ghs.RuleSet  `json:"rule_set"`
	Lang      ghs.Lang     `json:"language"`
	Title     string       `json:"title"` // "Safety Data Sheet"
	Law       string       `json:"law"`   // the words that name the law
	Date      string       `json:"date"`  // ISO 8601, "" when open
	Version   string       `json:"version"`
	DateLine  string       `json:"date_line"` // the date as the first page carries it, "" when open
	Notice    string       `json:"notice"`    // that it is a draft
	Asks      string       `json:"asks"`      // heading of the questions
	Questions []Question   `json:"questions"`
	Sections  []Section    `json:"sections"`
	Facts     *sheet.Sheet `json:"-"`
}

// Draft is the word that marks every page as a draft.
func (d *Draft) Draft() string { return dictionaries()[d.Lang].say("doc.draft") }

// Missing lists the fields that the law wants and that neither an item nor an open question covers. A draft has none; a
// test holds it to that.
func (d *Draft) Missing() []Required {
	fields, err := Fields(d.RuleSet)
	if err != nil {
		return nil
	}
	var out []Required
	for _, f := range fields {
		if f.When != "" || d.covers(f.Field) {
			continue
		}
		out = append(out, f)
	}
	return out
}

func (d *Draft) covers(field string) bool {
	switch field {
	case "all_sections":
		return len(d.Sections) == 16
	}
	for _, s := range d.Sections {
		for _, i := range s.Items {
			if i.Field == field && (i.Text != "" || len(i.Table) > 0 || len(i.Pictograms) > 0) {
				return true
			}
		}
	}
	return slices.ContainsFunc(d.Questions, func(q Question) bool { return q.Field == field })
}

// WriteJSON writes the draft with everything behind it.
func (d *Draft) WriteJSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(d)
}

// WriteText writes the draft as plain text. With why, the grounds of every item follow it.
func (d *Draft) WriteText(w io.Writer, why bool) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n%s\n\n%s\n", d.Title, d.Law, d.Product, d.Notice)
	if len(d.Questions) > 0 {
		fmt.Fprintf(&b, "\n%s\n", d.Asks)
		for i, q := range d.Questions {
			fmt.Fprintf(&b, "(%d) %s\n", i+1, q.Text)
		}
	}
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "\n%s\n", s.Title(d.Lang))
		for _, i := range s.Items {
			i.writeText(&b)
			if why {
				for _, y := range i.Why {
					fmt.Fprintf(&b, "      ← %s\n", y)
				}
			}
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Title is the section's number and heading as printed.
func (s Section) Title(l ghs.Lang) string {
	return fmt.Sprintf("%s %d: %s", strings.ToUpper(dictionaries()[l].say("section")), s.Number, s.Heading)
}

func (i Item) writeText(b *strings.Builder) {
	switch i.Kind {
	case Subheading:
		fmt.Fprintf(b, "%s %s\n", i.Label, i.Text)
	case Field:
		lines := strings.Split(i.Text, "\n")
		if len(lines) == 1 {
			fmt.Fprintf(b, "%s: %s\n", i.Label, i.Text)
			return
		}
		fmt.Fprintf(b, "%s:\n", i.Label)
		for _, l := range lines {
			fmt.Fprintf(b, "%s\n", l)
		}
	case Paragraph:
		fmt.Fprintf(b, "%s\n", i.Text)
	case Rows:
		if len(i.Head) > 0 {
			fmt.Fprintf(b, "%s\n", strings.Join(i.Head, "   "))
		}
		for _, r := range i.Table {
			fmt.Fprintf(b, "%s\n", strings.Join(r, "   "))
		}
	case Symbols:
		var names []string
		for _, p := range i.Pictograms {
			names = append(names, p.String())
		}
		fmt.Fprintf(b, "%s: %s\n", i.Label, strings.Join(names, ", "))
	}
}
