// Package paper prints what people act on: labels, bench cards, letters, plans, comparisons, registers and drafted sheets.
//
//	what was judged ─► a paper (one file and one row of Papers each) ─┬► Document ─► WritePDF, WriteHTML, WriteDOCX
//	                                                                 └► Drawing  ─► WritePDF, WriteSVG, WriteHTML
//
// A Document flows over as many pages as it needs: headings, paragraphs, lists, tables, boxes, pictograms, charts. A
// Drawing has a fixed size, such as a label; what does not fit on it is an error that names the next size, never text
// that is cut off. Fonts are embedded, text can be selected, and every PDF carries its structure, language and title, so
// that it can be read aloud. The same input gives the same bytes: dates are passed in. The package reads no files and
// keeps no state.
package paper
