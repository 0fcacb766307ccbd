// Package facts turns laid-out lines into a sheet.Sheet: it finds the sixteen sections and reads the facts of each.
//
//	layout.Document ─► sections (number and wording, any order, four languages)
//	                ─► language, jurisdiction, dates ─► hazards ─► ingredients ─► limits ─► quantities
//	                ─► toxicity, ecotoxicity ─► transport ─► ratings ─► sheet.Sheet
//
// Every fact keeps the boxes of exactly the words it was read from. Its Confidence is the product of how surely the
// words were recognised (1 for a text layer) and how often the way it was read proved right on sheets with a record:
// see the constants in evidence.go. What a sheet does not say stays NotStated; what it says it does not know is NoData.
package facts
