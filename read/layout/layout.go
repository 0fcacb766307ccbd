package layout

import (
	"sixteen/read/page"
)

// Layout puts the words of pages in reading order. It accepts any input, also pages without words or with absurd boxes.
func Layout(pages []page.Page) Document {
	mains := make([]frame, len(pages))
	minors := make([][]frame, len(pages))
	lines := make([][]printed, len(pages))
	heights := make([]float64, len(pages))
	for i, p := range pages {
		heights[i] = p.Height
		if fs := frames(p); len(fs) > 0 {
			mains[i], minors[i] = fs[0], fs[1:]
			heights[i] = fs[0].height
			lines[i] = printedLines(fs[0].tokens, fs[0].down)
		}
	}
	running := takeRunning(lines, heights)
	rows := make([][]entry, len(pages))
	for i := range pages {
		rows[i], lines[i] = ruled(mains[i], lines[i])
	}
	templates := templatesOf(mains, rows, lines)
	b := builder{}
	for i, p := range pages {
		for _, l := range running[i] {
			b.running(p, plain(l))
		}
		var entries []entry
		for _, s := range pageColumns(rows[i], lines[i], mains[i], templates[i]) {
			entries = append(entries, s.entries(mains[i])...)
		}
		b.page(p, entries)
		for _, f := range minors[i] {
			for _, l := range printedLines(f.tokens, nil) {
				b.line(p, plain(l))
			}
		}
	}
	return b.document()
}
