package layout

import (
	"strings"
)

// Running heads and feet are segments in the upper or lower part of the page that return at the same height on at least
// half of the pages, digits aside.

const (
	headZone = 0.22 // part of the page's height from the top
	footZone = 0.20 // from the bottom
	sameY    = 5.0  // points
)

// runningKey is the text of a segment with runs of digits put as one sign, "" when it is not in a zone.
func runningKey(s seg, l printed, height float64) string {
	if l.y1 > height*headZone && l.y0 < height*(1-footZone) {
		return ""
	}
	var b strings.Builder
	digit := false
	for _, r := range s.text() {
		if r >= '0' && r <= '9' {
			if !digit {
				b.WriteByte('#')
			}
			digit = true
			continue
		}
		digit = false
		b.WriteRune(r)
	}
	return b.String()
}

// sighting is a place at which a text stands on several pages.
type sighting struct {
	y     float64
	pages []int
}

// takeRunning moves the running heads and feet out of the lines of each page. heights are those of the pages.
func takeRunning(pages [][]printed, heights []float64) (running [][]printed) {
	seen := map[string][]sighting{}
	for i, lines := range pages {
		for _, l := range lines {
			for _, s := range l.segs {
				if k := runningKey(s, l, heights[i]); k != "" {
					seen[k] = sighted(seen[k], place(l, heights[i]), i)
				}
			}
		}
	}
	running = make([][]printed, len(pages))
	for i, lines := range pages {
		kept := lines[:0]
		for _, l := range lines {
			var body, run []seg
			for _, s := range l.segs {
				if k := runningKey(s, l, heights[i]); k != "" && repeats(seen[k], place(l, heights[i]), len(pages)) {
					run = append(run, s)
				} else {
					body = append(body, s)
				}
			}
			if len(run) > 0 {
				r := l
				r.segs = run
				running[i] = append(running[i], r)
			}
			if len(body) > 0 {
				l.segs = body
				kept = append(kept, l)
			}
		}
		pages[i] = kept
	}
	return running
}

// place is the height of a line: from the top in the upper half, negative from the bottom in the lower half, so that
// pages of different size agree.
func place(l printed, height float64) float64 {
	if l.mid() > height/2 {
		return l.mid() - height - 1
	}
	return l.mid()
}

func sighted(all []sighting, y float64, page int) []sighting {
	for i := range all {
		if s := &all[i]; s.y-sameY <= y && y <= s.y+sameY {
			if s.pages[len(s.pages)-1] != page {
				s.pages = append(s.pages, page)
			}
			return all
		}
	}
	return append(all, sighting{y, []int{page}})
}

// repeats tells whether a text at height y is on enough of n pages: two, and half of them.
func repeats(all []sighting, y float64, n int) bool {
	for _, s := range all {
		if s.y-sameY <= y && y <= s.y+sameY && len(s.pages) >= 2 && 2*len(s.pages) >= n {
			return true
		}
	}
	return false
}
