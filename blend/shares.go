package blend

import (
	"cmp"
	"slices"

	"sixteen/sheet"
)

// incoming is a way by which an ingredient comes into the product: with a line of the recipe, of which it is from to to percent.
type incoming struct {
	line     int
	from, to float64
}

// narrowed is the range of an ingredient's share over everything that the recipe allows. shares are the ranges of the
// recipe's lines, which together make 100 %; in each line the ingredient has any share between from and to, whatever it has
// in the others. The ends are exact: the sum of products s·p is greatest with every p at its upper end, and then, by shares,
// with as much as possible of the lines that hold most. have is the range as it came about line by line, which is wider where
// the lines cannot all be at their ends at once.
func narrowed(have sheet.Interval, shares []sheet.Interval, comes []incoming) sheet.Interval {
	if len(comes) == 0 || len(shares) == 0 {
		return have
	}
	low, high := make([]float64, len(shares)), make([]float64, len(shares))
	for _, c := range comes {
		low[c.line] += c.from / 100
		high[c.line] += c.to / 100
	}
	most := fill(shares, high, func(a, b float64) int { return cmp.Compare(b, a) })
	least := fill(shares, low, cmp.Compare[float64])
	out := have
	// An end that is narrowed is met by a whole composition, so it belongs to the range.
	if v := most; v < have.Hi-1e-9 {
		out.Hi, out.HiOpen = v, false
	}
	if v := least; v > have.Lo+1e-9 {
		out.Lo, out.LoOpen = v, false
	}
	return out
}

// fill is Σ s·w with shares that make 100 %, each within its range: all begin at their lower ends, and what is left goes to
// the lines in the order of their weights.
func fill(shares []sheet.Interval, weight []float64, order func(a, b float64) int) float64 {
	left, sum := whole, 0.0
	at := make([]int, len(shares))
	for i, s := range shares {
		at[i] = i
		left -= s.Lo
		sum += s.Lo * weight[i]
	}
	slices.SortStableFunc(at, func(a, b int) int { return order(weight[a], weight[b]) })
	for _, i := range at {
		if left <= 0 {
			break
		}
		hi := whole
		if shares[i].HasHi {
			hi = shares[i].Hi
		}
		more := min(left, max(0, hi-shares[i].Lo))
		sum += more * weight[i]
		left -= more
	}
	return sum
}
