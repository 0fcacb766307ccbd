package sheetprint

import (
	"fmt"

	"github.com/go-pdf/fpdf"
)

// say prints a bold label on a line of its own.
func (f *flow) say(label, value string) {
	f.font(true, f.l.Size)
	f.need(f.leading() + 54)
	f.lines(0, []string{label + value})
	f.font(false, f.l.Size)
}

// ratings draws 0–4 ratings as a diamond or as bars.
func (f *flow) ratings(r ratings) {
	if r.nfpa != nil {
		f.say("NFPA", "")
		if f.l.Ratings == RatingDiamond {
			f.diamond(*r.nfpa)
		} else {
			f.bars([]string{f.word("health"), f.word("flammability"), f.word("instability")}, *r.nfpa)
		}
	}
	if r.hmis != nil {
		f.say("HMIS", "")
		f.bars([]string{f.word("health"), f.word("flammability"), f.word("physhazard"), f.word("ppe")}, *r.hmis)
	}
}

// diamond is the four-field square on its corner: health left, fire above, instability right, special below.
func (f *flow) diamond(r Ratings) {
	const half = 15.0
	f.need(4*half + 8)
	cx, cy := f.x()+2*half+6, f.y+2*half+2
	fields := []struct {
		dx, dy float64
		rgb    [3]int
		text   string
	}{
		{-half, 0, [3]int{70, 120, 200}, fmt.Sprint(r.Health)},
		{0, -half, [3]int{215, 60, 50}, fmt.Sprint(r.Flammability)},
		{half, 0, [3]int{245, 220, 70}, fmt.Sprint(r.Instability)},
		{0, half, [3]int{255, 255, 255}, ""},
	}
	f.font(true, 13)
	f.pen([3]int{0, 0, 0})
	for _, q := range fields {
		x, y := cx+q.dx, cy+q.dy
		f.fill(q.rgb)
		f.pdf.Polygon([]fpdf.PointType{{X: x, Y: y - half}, {X: x + half, Y: y}, {X: x, Y: y + half}, {X: x - half, Y: y}}, "FD")
		f.put(x-f.width(q.text)/2, y+4.6, q.text)
	}
	f.y += 4*half + 8
	f.font(false, f.l.Size)
}

// bars are coloured bars with a word and a digit each.
func (f *flow) bars(names []string, r Ratings) {
	health := fmt.Sprint(r.Health)
	if r.Chronic {
		health += "*"
	}
	values := []string{health, fmt.Sprint(r.Flammability), fmt.Sprint(r.Instability), r.PPE}
	colours := [][3]int{{90, 140, 215}, {225, 85, 75}, {240, 160, 60}, {250, 250, 250}}
	w := min(210.0, f.columnWidth())
	f.need(16*float64(len(names)) + 6)
	f.pen([3]int{0, 0, 0})
	for i, n := range names {
		if values[i] == "" {
			continue
		}
		f.fill(colours[i])
		f.pdf.Rect(f.x(), f.y, w-34, 15, "FD")
		f.fill([3]int{255, 255, 255})
		f.pdf.Rect(f.x()+w-34, f.y, 34, 15, "FD")
		f.font(true, 9)
		f.put(f.x()+5, f.y+10.6, n)
		f.put(f.x()+w-34+(34-f.width(values[i]))/2, f.y+10.6, values[i])
		f.y += 15
	}
	f.y += 6
	f.font(false, f.l.Size)
}
