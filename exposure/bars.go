package exposure

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// ShareChart draws how much each vapour adds for one person, as a share of its strictest shift limit: a bar from nothing to
// the middle case, a thin line on to the high case. A vapour without shift limit has no bar and says so. ok is false when
// nobody has that name or no vapour is followed.
func (r *Result) ShareChart(person string) (svg []byte, ok bool) {
	for _, p := range r.People {
		if p.Name == person && len(p.Exposures) > 0 {
			return drawShares(p), true
		}
	}
	return nil, false
}

func drawShares(p PersonResult) []byte {
	const row, left, right, top = 26.0, 230.0, 90.0, 40.0
	most := 1.0
	shares := make([]*LimitFraction, len(p.Exposures))
	for i := range p.Exposures {
		shares[i] = p.Exposures[i].strictestShift()
		if shares[i] != nil {
			most = math.Max(most, shares[i].Fraction.High)
		}
	}
	step := tick(most)
	most = step * math.Ceil(most/step-1e-9)
	px := func(v float64) float64 { return left + v/most*(chartW-left-right) }
	height := top + row*float64(len(p.Exposures)) + 44
	title := "Share of the strictest shift limit, " + p.Name
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" role="img" class="chart" aria-label="%s" font-family="sans-serif" font-size="12">`, chartW, height, html.EscapeString(title))
	b.WriteString(chartStyle)
	fmt.Fprintf(&b, `<title>%s</title><text x="8" y="20" font-size="14" fill="currentColor">%s</text>`, html.EscapeString(title), html.EscapeString(title))
	bottom := height - 40
	for v := 0.0; v <= most*1.001; v += step {
		fmt.Fprintf(&b, `<path d="M%.1f %gV%g" stroke="currentColor" stroke-opacity=".2"/><text x="%.1f" y="%g" text-anchor="middle" fill="currentColor">%s</text>`, px(v), top-6, bottom, px(v), bottom+16, Figure(v))
	}
	for i, e := range p.Exposures {
		y := top + row*float64(i)
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="end" fill="currentColor">%s</text>`, left-8, y+14, html.EscapeString(clip(e.Vapour, 34)))
		s := shares[i]
		if s == nil {
			fmt.Fprintf(&b, `<text x="%g" y="%g" fill="currentColor" font-style="italic">no shift limit on record</text>`, left+6, y+14)
			continue
		}
		fmt.Fprintf(&b, `<rect x="%g" y="%g" width="%.1f" height="14" fill="%s"/><path d="M%.1f %gH%.1f m0 -5v10" stroke="currentColor" fill="none"/><text x="%.1f" y="%g" fill="currentColor">%s–%s</text>`,
			left, y+3, math.Max(0.5, px(s.Fraction.Middle)-left), inks()[0], px(s.Fraction.Middle), y+10, px(s.Fraction.High), px(s.Fraction.High)+6, y+14, Amount(s.Fraction.Middle), Amount(s.Fraction.High))
	}
	fmt.Fprintf(&b, `<path d="M%.1f %gV%g" stroke="%s" stroke-width="2" stroke-dasharray="8 3"/><text x="8" y="%g" fill="currentColor">bar: middle of all ranges; line: their high ends; dashed at 1: the limit</text></svg>`, px(1), top-6, bottom, inks()[1], height-6)
	b.WriteString("\n")
	return []byte(b.String())
}

// strictestShift is the shift limit of which the exposure is the largest share, nil when there is none.
func (e Exposure) strictestShift() *LimitFraction {
	var out *LimitFraction
	for i, l := range e.Limits {
		if l.Limit.Kind == "TWA" && (out == nil || l.Fraction.High > out.Fraction.High) {
			out = &e.Limits[i]
		}
	}
	return out
}

// clip shortens a name to n characters.
func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
