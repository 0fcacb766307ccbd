package compare

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"
)

var (
	//go:embed page.html
	pageHTML string
	//go:embed page.css
	pageCSS string
)

var page = template.Must(template.New("comparison").Funcs(template.FuncMap{
	"join": func(s []string) string { return strings.Join(s, "; ") },
}).Parse(pageHTML))

// cell is one product on one axis, with its bar in percent of the width.
type cell struct {
	Score
	Name        string
	Range       string
	Sure, Maybe int
}

type rowView struct {
	Title string
	Cells []cell
}

type pageView struct {
	C     *Comparison
	Rows  []rowView
	Costs []string
	CSS   template.CSS
}

// top is the figure at the right end of an axis's bars: that of its ladder, or the largest figure there.
func (c *Comparison) top(i int) float64 {
	top := 0.0
	for _, r := range ladder() {
		if r.axis == Axes()[i] {
			top = math.Max(top, r.level)
		}
	}
	if Axes()[i] == Burden {
		top = burdenStop
	}
	for _, p := range c.Products {
		top = math.Max(top, math.Max(p.Scores[i].Hi, p.Scores[i].Lo))
	}
	return math.Max(top, 1)
}

func (c *Comparison) view() pageView {
	v := pageView{C: c, CSS: template.CSS(pageCSS)}
	for i, axis := range Axes() {
		top, row := c.top(i), rowView{Title: axis.Title()}
		for _, p := range c.Products {
			s := p.Scores[i]
			x := cell{Score: s, Name: p.Name, Range: s.Range(), Sure: int(math.Round(100 * s.Lo / top))}
			x.Maybe = int(math.Round(100*s.Hi/top)) - x.Sure
			if s.Open {
				x.Maybe = 100 - x.Sure
			}
			row.Cells = append(row.Cells, x)
		}
		v.Rows = append(v.Rows, row)
	}
	for _, p := range c.Products {
		if p.Cost != nil {
			v.Costs = append(v.Costs, fmt.Sprintf("%s: %.2f", p.Name, *p.Cost))
		}
	}
	return v
}

// WriteHTML writes the comparison as one page that needs nothing else.
func (c *Comparison) WriteHTML(w io.Writer) error { return page.ExecuteTemplate(w, "page", c.view()) }

// WriteFragment writes the comparison as an <article> for a page of somebody else.
func (c *Comparison) WriteFragment(w io.Writer) error {
	return page.ExecuteTemplate(w, "comparison", c.view())
}
