package exposure

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// chartLine is one line of a chart. Dashes tell lines apart without colour; the name stands beside its end.
type chartLine struct {
	name string
	x, y []float64
	flat bool // a limit: drawn across, thin
}

// inks are told apart by people who see colours differently (after Okabe and Ito) on light and dark paper.
func inks() []string {
	return []string{"#0072b2", "#d55e00", "#009e73", "#cc79a7", "#b58900", "#56b4e9"}
}

func dashes() []string { return []string{"none", "8 3", "3 3", "10 3 2 3", "1 3", "14 4"} }

const (
	chartW, chartH                        = 760.0, 340.0
	chartLeft, chartRight, chartTop, foot = 70.0, 220.0, 48.0, 46.0
)

// chartStyle makes text dark on paper and light on a dark screen; drawings inside a page share it.
const chartStyle = `<style>svg.chart{color:#1c2329}@media screen and (prefers-color-scheme:dark){svg.chart{color:#e8e6df}}</style>`

// drawChart draws lines over minutes as a SVG document of its own. Text takes the colour of its surroundings when the
// drawing is put into a page, and follows a dark setting when it stands alone.
func drawChart(title, unit string, lines []chartLine) []byte {
	right, top := 1.0, 0.0
	for _, l := range lines {
		for i, y := range l.y {
			if !l.flat || top == 0 || y < 2*top {
				top = math.Max(top, y)
			}
			right = math.Max(right, l.x[i])
		}
	}
	stepX, stepY := tick(right), tick(math.Max(top, 1e-9))
	top = stepY * math.Ceil(math.Max(top, 1e-9)/stepY)
	px := func(x float64) float64 { return chartLeft + x/right*(chartW-chartLeft-chartRight) }
	py := func(y float64) float64 { return chartH - foot - y/top*(chartH-foot-chartTop) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" role="img" class="chart" aria-label="%s" font-family="sans-serif" font-size="12">`, chartW, chartH, html.EscapeString(title))
	b.WriteString(chartStyle)
	fmt.Fprintf(&b, `<title>%s</title><text x="%g" y="20" font-size="14" fill="currentColor">%s</text>`, html.EscapeString(title), chartLeft, html.EscapeString(title+", "+unit))
	for y := 0.0; y <= top*1.001; y += stepY {
		fmt.Fprintf(&b, `<path d="M%g %.1fH%g" stroke="currentColor" stroke-opacity=".2"/><text x="%g" y="%.1f" text-anchor="end" fill="currentColor">%.4g</text>`, chartLeft, py(y), chartW-chartRight, chartLeft-6, py(y)+4, y)
	}
	for x := 0.0; x <= right*1.001; x += stepX {
		fmt.Fprintf(&b, `<text x="%.1f" y="%g" text-anchor="middle" fill="currentColor">%.4g</text>`, px(x), chartH-foot+18, x)
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" fill="currentColor">minutes from the start</text>`, chartLeft, chartH-8)
	taken, above := []float64{}, []string{}
	for i, l := range lines {
		if drawn := drawLine(&b, l, i, top, px, py); len(drawn) > 0 {
			taken = label(&b, l, i, drawn[len(drawn)-1], taken)
		} else {
			above = append(above, fmt.Sprintf("%s %s", l.name, Figure(l.y[0])))
		}
	}
	if len(above) > 0 {
		fmt.Fprintf(&b, `<text x="%g" y="34" font-size="11" fill="currentColor">%s</text>`, chartLeft, html.EscapeString("above the drawing: "+strings.Join(above, "; ")))
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// drawLine draws one line and gives the heights of its points; a limit above the chart gives none.
func drawLine(b *strings.Builder, l chartLine, number int, top float64, px, py func(float64) float64) []float64 {
	var ys []float64
	var d strings.Builder
	for i, y := range l.y {
		if l.flat && y > top {
			return nil
		}
		ys = append(ys, py(y))
		fmt.Fprintf(&d, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[i == 0], px(l.x[i]), py(y))
	}
	width := 2.0
	if l.flat {
		width = 1
	}
	fmt.Fprintf(b, `<path d="%s" fill="none" stroke="%s" stroke-width="%g" stroke-dasharray="%s"/>`, d.String(), inks()[number%len(inks())], width, dashes()[number%len(dashes())])
	return ys
}

// label writes the name of a line at its end, moved off names already there, with a piece of the line before it.
func label(b *strings.Builder, l chartLine, number int, y float64, taken []float64) []float64 {
	for moved := true; moved; {
		moved = false
		for _, t := range taken {
			if math.Abs(t-y) < 14 {
				y, moved = t-14.5, true
			}
		}
	}
	x := chartW - chartRight + 6
	fmt.Fprintf(b, `<path d="M%g %.1fh22" stroke="%s" stroke-width="2" stroke-dasharray="%s"/><text x="%g" y="%.1f" fill="currentColor">%s</text>`,
		x, y, inks()[number%len(inks())], dashes()[number%len(dashes())], x+26, y+4, html.EscapeString(l.name))
	return append(taken, y)
}

// tick is a round step that divides a span into four to eight parts.
func tick(span float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(span)))
	for _, f := range []float64{0.1, 0.2, 0.5, 1} {
		if span/(f*p) <= 8 {
			return f * p
		}
	}
	return 2 * p
}

// AirChart draws one vapour's concentration in every zone of all rooms with its limits, mg/m³. ok is false when no vapour
// has that name.
func (r *Result) AirChart(vapour string) (svg []byte, ok bool) {
	var lines []chartLine
	right := 1.0
	for _, room := range r.Rooms {
		for _, part := range []struct {
			series []Series
			word   string
		}{{room.Near, ", at the work"}, {room.Far, ""}} {
			for _, s := range part.series {
				if s.Vapour == vapour {
					lines = append(lines, chartLine{name: room.Name + part.word, x: room.TimesMin, y: s.MgM3})
					right = math.Max(right, room.TimesMin[len(room.TimesMin)-1])
				}
			}
		}
	}
	if len(lines) == 0 {
		return nil, false
	}
	for _, person := range r.People[:min(1, len(r.People))] {
		for _, e := range person.Exposures {
			if e.Vapour != vapour {
				continue
			}
			for _, l := range e.Limits {
				lines = append(lines, chartLine{name: fmt.Sprintf("%s %s", l.Limit.Who(), l.Limit.Kind), x: []float64{0, right}, y: []float64{l.MgM3 * l.Reduction, l.MgM3 * l.Reduction}, flat: true})
			}
		}
	}
	if end, ok := r.bandLine(vapour); ok {
		lines = append(lines, chartLine{name: "no limit; band ends", x: []float64{0, right}, y: []float64{end, end}, flat: true})
	}
	return drawChart("Air: "+vapour, "mg/m³", lines), true
}

// bandLine is the upper end of the band of a vapour without limit, in mg/m³.
func (r *Result) bandLine(vapour string) (mgM3 float64, ok bool) {
	for i, v := range r.Vapours {
		if v.Name != vapour || v.Band == nil || len(v.Limits) > 0 || len(r.People) == 0 {
			continue
		}
		if ppm, ok := v.Band.UpperPPM(); ok {
			return ppm / r.People[0].Exposures[i].PPMFactor, true
		}
	}
	return 0, false
}

// ContributionChart draws all vapours of one room, at the work where there is a near field. ok is false for unknown rooms.
func (r *Result) ContributionChart(room string) (svg []byte, ok bool) {
	for _, x := range r.Rooms {
		if x.Name != room {
			continue
		}
		series, word := x.Near, ", at the work"
		if len(series) == 0 {
			series, word = x.Far, ""
		}
		var lines []chartLine
		for _, s := range series {
			lines = append(lines, chartLine{name: s.Vapour, x: x.TimesMin, y: s.MgM3})
		}
		return drawChart("Vapours in "+room+word, "mg/m³", lines), len(lines) > 0
	}
	return nil, false
}

// HeatChart draws the temperatures of curing masses. ok is false when none cures.
func (r *Result) HeatChart() (svg []byte, ok bool) {
	var lines []chartLine
	for _, h := range r.Heat {
		x := make([]float64, len(h.TempC))
		for i := range x {
			x[i] = float64(i) * h.EveryMin
		}
		lines = append(lines, chartLine{name: h.Where, x: x, y: h.TempC})
	}
	if len(lines) == 0 {
		return nil, false
	}
	return drawChart("Heat of cure, estimate", "°C", lines), true
}
