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
	b := builder{}
	for i, p := range pages {
		for _, l := range running[i] {
			b.running(p, plain(l))
		}
		b.page(p, arrange(mains[i], lines[i]))
		for _, f := range minors[i] {
			for _, l := range printedLines(f.tokens, nil) {
				b.line(p, plain(l))
			}
		}
	}
	return b.document()
}
