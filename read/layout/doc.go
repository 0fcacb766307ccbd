// Package layout turns pages of words, rules and pictures into lines in reading order, cells and tables.
//
//	[]page.Page ─► visual lines ─► running heads and feet set aside ─► tables (by rules, by alignment)
//	            ─► columns and reading order ─► hyphenation joined ─► Document
//
// A line keeps every word with its page and box, so that any stretch of its text leads back to the exact place:
// Line.Where(start, end). A row of a table is one Line, however many printed lines its cells are wrapped over.
// The package knows geometry and typography, nothing of what the words mean.
package layout
