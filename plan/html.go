package plan

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"sixteen/exposure"
	"sixteen/protect"
)

var (
	//go:embed page.html
	pageHTML string
	//go:embed page.css
	pageCSS string
)

var page = template.Must(template.New("plan").Funcs(template.FuncMap{
	"num":            exposure.Amount,
	"est":            exposure.Estimate.Words,
	"over":           func(e exposure.Estimate) bool { return e.Worst() > 1 },
	"percent":        func(v *float64) string { return fmt.Sprintf("%.0f %%", 100**v) },
	"stay":           func(h float64) string { return exposure.Duration(60 * h) },
	"again":          exposure.Reentry,
	"grams":          func(mg float64) string { return exposure.Amount(mg/1000) + " g" },
	"upper":          upper,
	"number":         func(i int) int { return i + 1 },
	"join":           func(s []string) string { return strings.Join(s, ", ") },
	"hazards":        hazardWords,
	"hidden":         hiddenWords,
	"contradictions": func(n int) string { return count(n, "contradiction") },
	"svg":            func(s string) template.HTML { return template.HTML(s) }, // our own drawing; names in it are escaped there
}).Parse(pageHTML))

func hiddenWords(h [2]float64) string {
	switch {
	case h[1] < 0.05:
		return "nothing"
	case h[1]-h[0] < 0.05:
		return exposure.Figure(h[1]) + " %"
	}
	return exposure.Figure(h[0]) + " to " + exposure.Figure(h[1]) + " %"
}

type pageView struct {
	Plan    *Plan
	Charts  []Chart
	Listing protect.Listing
	CSS     template.CSS
}

func (p *Plan) view() pageView {
	return pageView{Plan: p, Charts: p.Charts(), Listing: p.Protection.Listing(), CSS: template.CSS(pageCSS)}
}

// WriteHTML writes the plan as one page that needs nothing else, for a light or dark screen and for paper.
func (p *Plan) WriteHTML(w io.Writer) error { return page.ExecuteTemplate(w, "page", p.view()) }

// WriteFragment writes the plan as an <article> for a page of somebody else; it asks for no style but its classes.
func (p *Plan) WriteFragment(w io.Writer) error { return page.ExecuteTemplate(w, "plan", p.view()) }
