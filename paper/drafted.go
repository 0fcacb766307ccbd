package paper

import (
	"strings"
	"time"

	"sixteen/blend"
)

// DraftedSheet is a drafted safety data sheet of package blend as a document. The open questions to the author come first,
// in a box of their own; once they are answered the box is empty and left out. date goes into the properties of the file.
func DraftedSheet(d *blend.Draft, date time.Time) Document {
	doc := Document{Title: d.Title + ": " + d.Product, Subject: d.Law, Lang: d.Lang, Date: date, Size: 9, MarginMM: 17,
		Head: Running{Left: d.Product, Right: d.Title + " · " + d.Draft()},
		Foot: Running{Left: d.Law, Right: "{page} / {pages}"}}
	if d.RuleSet == "us-hcs-2024" {
		doc.Page = Letter
	}
	doc.Blocks = []Block{
		Heading{Level: 1, Text: d.Title},
		Paragraph{Text: Strong(d.Product)},
		Paragraph{Text: Plain(strings.TrimSpace(d.Law + "\n" + d.DateLine)), Weight: Small},
		Box{Tone: Caution, Title: d.Draft(), Blocks: []Block{Paragraph{Text: Plain(d.Notice)}}},
	}
	if len(d.Questions) > 0 {
		list := List{Marker: Numbered, Weight: Small}
		for _, q := range d.Questions {
			list.Items = append(list.Items, Plain(q.Text))
		}
		doc.Blocks = append(doc.Blocks, Box{Title: d.Asks, Blocks: []Block{list}}, PageBreak{})
	}
	for _, s := range d.Sections {
		doc.Blocks = append(doc.Blocks, Heading{Level: 2, Text: s.Title(d.Lang)})
		doc.Blocks = append(doc.Blocks, sectionBlocks(s)...)
	}
	return doc
}

// keyShare is the share of the line that labels take; in section 14 it is little, for the long shipping names beside them.
func keyShare(section int) float64 {
	if section == 14 {
		return 0.2
	}
	return 0.3
}

// sectionBlocks are the items of one section; labelled lines that follow each other stand as pairs.
func sectionBlocks(s blend.Section) []Block {
	var out []Block
	pairs := Pairs{Width: keyShare(s.Number)}
	flush := func() {
		if len(pairs.Rows) > 0 {
			out = append(out, pairs)
			pairs = Pairs{Width: keyShare(s.Number)}
		}
	}
	for _, i := range s.Items {
		if i.Kind == blend.Field {
			pairs.Rows = append(pairs.Rows, Pair{Key: i.Label, Value: itemText(i)})
			continue
		}
		flush()
		switch i.Kind {
		case blend.Subheading:
			out = append(out, Heading{Level: 3, Text: i.Label + " " + i.Text})
		case blend.Paragraph:
			out = append(out, Paragraph{Text: itemText(i)})
		case blend.Rows:
			out = append(out, itemTable(i))
		case blend.Symbols:
			var codes []string
			for _, p := range i.Pictograms {
				codes = append(codes, p.String())
			}
			out = append(out, Paragraph{Text: Plain(i.Label + ": " + strings.Join(codes, ", "))}, Pictograms{List: i.Pictograms, SizeMM: 17, Names: true})
		}
	}
	flush()
	return out
}

// itemText sets what is open apart by its slant.
func itemText(i blend.Item) Text {
	if i.Open {
		return Text{{Text: i.Text, Italic: true}}
	}
	return Plain(strings.TrimSpace(i.Text))
}

func itemTable(i blend.Item) Table {
	t := Table{Dense: true}
	for k, h := range i.Head {
		c := Column{Title: h}
		if k < len(i.Widths) {
			c.Width = i.Widths[k]
		}
		t.Columns = append(t.Columns, c)
	}
	for _, r := range i.Table {
		var row []Text
		for _, cell := range r {
			row = append(row, Plain(cell))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
