// Package sheetprint prints invented safety data sheets as PDF in many layouts, and says what a reader must find in
// them: the truth is known because the sheet was made from it.
//
// A Spec holds what the sheet says in all sixteen sections. A Layout holds how it looks: order and numbering of the
// headings, tables or lines, units, wording of ranges, pictograms as drawings or names, running heads. Print turns both
// into pages. The same Spec, Layout and seed give the same bytes.
//
//	Spec + Layout ─ compose ─► sections of blocks ─ flow ─► pages (PDF)
//	        └─────────────────► Truth (every value as it was printed) ◄┘ page of each heading
//
// Scan turns printed pages into pictures of pages, slightly askew and grey, as an office scanner delivers them.
package sheetprint
