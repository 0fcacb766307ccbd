// Package invent makes up products of the resin, coating, adhesive and cleaning trade and the content of their safety
// data sheets, and plants named faults in sheets. Products and suppliers are invented; substances, their
// classifications and limits come from package substance.
//
//	recipe (kind of product) + seed ─► Blend (real shares) ─► sheetprint.Spec (ranges, classification, label, data)
//	                                                            └─ Fault.Plant ─► the same Spec with one thing wrong
package invent
