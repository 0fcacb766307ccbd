// Package compare holds products that would do one job beside each other, on axes that are kept apart: allergy, cancer and
// reproduction, lungs, poisoning, skin and eyes, concentration over the limit, fire, environment, protection burden, what is
// not known, and the quality of the papers. There is never one number for a product.
//
//	products (plan.Known) + job ─ plan.Make for each ─► Score per axis, an interval ─► better, same, cannot be told
//	                                                                               ─► dominance, trade-offs in words
//
// A score is an interval: from what certainly holds to what may hold. One product is better on an axis only when its worst
// is below the other's best, so what is not known never counts as good; it dominates when it is nowhere worse and somewhere
// better. That relation is a strict partial order (a test shows it), and not knowing more about a product can only take
// dominance from it. Ladders of hazards stand in levels.csv: they order hazards within one axis and are a choice of ours.
package compare
