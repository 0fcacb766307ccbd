package layout

import (
	"slices"

	"sixteen/sheet"
)

// grid is a table drawn with rules: the edges of its columns and rows.
type grid struct {
	box    sheet.Rect
	xs, ys []float64
	across []sheet.Rect
	down   []sheet.Rect
}

const joint = 3.0 // points by which rules that meet may miss each other

// grids finds groups of rules that cross or meet and have at least one vertical rule inside.
func grids(f frame) []grid {
	rules := append(slices.Clone(f.across), f.down...)
	if len(f.down) == 0 || len(f.across) == 0 || len(rules) > 4000 {
		return nil
	}
	parent := make([]int, len(rules))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for i := range f.across {
		for j := range f.down {
			if meet(f.across[i], f.down[j]) {
				parent[root(i)] = root(len(f.across) + j)
			}
		}
	}
	groups := map[int]*grid{}
	var order []int
	for i, r := range rules {
		k := root(i)
		g := groups[k]
		if g == nil {
			g = &grid{}
			groups[k] = g
			order = append(order, k)
		}
		g.box = g.box.Union(r)
		if i < len(f.across) {
			g.across = append(g.across, r)
		} else {
			g.down = append(g.down, r)
		}
	}
	var out []grid
	for _, k := range order {
		if g := groups[k]; g.edges() {
			out = append(out, *g)
		}
	}
	return out
}

func meet(a, b sheet.Rect) bool {
	return a.X0 <= b.X1+joint && b.X0 <= a.X1+joint && a.Y0 <= b.Y1+joint && b.Y0 <= a.Y1+joint
}

// edges computes the edges of columns and rows; false when there are not two columns.
func (g *grid) edges() bool {
	xs := []float64{g.box.X0, g.box.X1}
	for _, r := range g.down {
		xs = append(xs, (r.X0+r.X1)/2)
	}
	ys := []float64{g.box.Y0, g.box.Y1}
	for _, r := range g.across {
		ys = append(ys, (r.Y0+r.Y1)/2)
	}
	g.xs, g.ys = apartBy(xs, 4), apartBy(ys, 4)
	return len(g.xs) > 2 && len(g.ys) > 1
}

// apartBy sorts values and unites those nearer than d.
func apartBy(v []float64, d float64) []float64 {
	slices.Sort(v)
	out := v[:1]
	for _, x := range v[1:] {
		if x-out[len(out)-1] >= d {
			out = append(out, x)
		}
	}
	return out
}

// field is a cell of a grid: rows r to r+down, columns c to c+span.
type field struct {
	r, c, down, span int
}

// fields unites the small squares of the grid where no rule parts them.
func (g *grid) fields() []field {
	rows, cols := len(g.ys)-1, len(g.xs)-1
	var out []field
	open := map[int]int{} // column → field of the row above that begins there
	for r := range rows {
		next := map[int]int{}
		for c := 0; c < cols; {
			span := 1
			for c+span < cols && !g.parted(r, c+span) {
				span++
			}
			if i, ok := open[c]; ok && out[i].span == span && !g.closed(r, c, span) {
				out[i].down++
				next[c] = i
			} else {
				next[c] = len(out)
				out = append(out, field{r: r, c: c, down: 1, span: span})
			}
			c += span
		}
		open = next
	}
	return out
}

// parted tells whether a vertical rule stands at edge x of row r.
func (g *grid) parted(r, x int) bool {
	at, y0, y1 := g.xs[x], g.ys[r], g.ys[r+1]
	for _, v := range g.down {
		if m := (v.X0 + v.X1) / 2; m > at-4 && m < at+4 && min(v.Y1, y1)-max(v.Y0, y0) > 0.5*(y1-y0) {
			return true
		}
	}
	return false
}

// closed tells whether a horizontal rule lies on the upper edge of row r over the middle of columns c to c+span.
func (g *grid) closed(r, c, span int) bool {
	at, x := g.ys[r], (g.xs[c]+g.xs[c+span])/2
	for _, h := range g.across {
		if m := (h.Y0 + h.Y1) / 2; m > at-4 && m < at+4 && h.X0-joint <= x && x <= h.X1+joint {
			return true
		}
	}
	return false
}

// at is the index of the interval of sorted edges that holds v, or -1.
func at(edges []float64, v float64) int {
	i, _ := slices.BinarySearch(edges, v)
	if i == 0 || i == len(edges) {
		return -1
	}
	return i - 1
}
