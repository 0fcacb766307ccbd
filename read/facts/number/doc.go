// Package number reads the numbers, ranges, units, dates and registry numbers that safety data sheets print, in the many
// ways they are printed: "≥ 10 - < 25 %", "70>", "1,464", ".87373", "-42.00 ºF", "28-Jun-2011", "0000071-36-3".
//
//	text ─► Scan ─► []Found{Interval, unit, place} ─► Convert ─► sheet.Quantity
//	text ─► Dates, CASNumbers, ECNumbers, ...
//
// It knows text only: no page, no section, no language beyond the words for operators and months. Where a text can be
// read in two ways ("1,000", "03/05/2016") the caller says which way the document leans (Style, Order).
package number
