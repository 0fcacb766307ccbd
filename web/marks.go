package web

import (
	"fmt"
	"html/template"
	"math"
	"slices"

	"sixteen/sheet"
)

// pageView is one page of a document: its picture, and the marks that lie over it in points of the page.
type pageView struct {
	Number                  int
	Width, Height           float64
	Image                   template.URL
	PixelWidth, PixelHeight int
	Marks                   []markView
	Why                     string // why there is no picture
}

// markView is the evidence of one thing on one page.
type markView struct {
	ID, For string
	On      bool // lit when the page opens
	Boxes   []boxView
}

type boxView struct{ X, Y, W, H float64 }

// whereView points to a mark.
type whereView struct {
	ID   string
	Page int
}

// marks collects the evidence of everything that is shown and gives each piece a place to point to.
type marks struct {
	byPage map[int][]markView
	n      int
}

func newMarks() *marks { return &marks{byPage: map[int][]markView{}} }

// add marks the evidence of the thing named key and returns one pointer for each page it lies on.
func (m *marks) add(key string, evidence []sheet.Evidence) []whereView {
	var out []whereView
	for _, e := range evidence {
		if e.Page < 1 || e.Box == (sheet.Rect{}) {
			continue
		}
		box := boxView{round(e.Box.X0 - 1), round(e.Box.Y0 - 1), round(e.Box.X1 - e.Box.X0 + 2), round(e.Box.Y1 - e.Box.Y0 + 2)}
		if i := slices.IndexFunc(out, func(w whereView) bool { return w.Page == e.Page }); i >= 0 {
			page := m.byPage[e.Page]
			for k := range page {
				if page[k].ID == out[i].ID {
					page[k].Boxes = append(page[k].Boxes, box)
				}
			}
			continue
		}
		m.n++
		id := fmt.Sprintf("m%d", m.n)
		m.byPage[e.Page] = append(m.byPage[e.Page], markView{ID: id, For: key, Boxes: []boxView{box}})
		out = append(out, whereView{ID: id, Page: e.Page})
	}
	return out
}

func round(v float64) float64 { return math.Round(v*10) / 10 }

// pages are the pages of a document with all marks on them. image gives the address of page n's picture, "" when it has
// none; dpi is its resolution.
func (m *marks) pages(src sheet.Source, image func(n int) string, dpi int) []pageView {
	var out []pageView
	for i, p := range src.Pages {
		n := i + 1
		pv := pageView{Number: n, Width: round(p.Width), Height: round(p.Height), Marks: m.byPage[n],
			PixelWidth: int(p.Width * float64(dpi) / 72), PixelHeight: int(p.Height * float64(dpi) / 72)}
		if pv.Image = template.URL(image(n)); pv.Image == "" {
			pv.Why = "There is no picture of this page."
		}
		out = append(out, pv)
	}
	return out
}
