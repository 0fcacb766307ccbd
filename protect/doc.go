// Package protect plans how people are kept from harm by a product: first what takes the hazard away (substitute, enclose,
// ventilate, schedule), then what people wear, then what to do when something goes wrong.
//
//	hazards, ingredients, Exposure ─► Make ─► Plan ─► WriteText, JSON
//	                                   ▲
//	data/*.csv (factors, filters, gloves, carbon, rules) ── each row with source and a memory mark
//
// Every [Measure] says what, why and where that is written. Rows that were recalled and not looked up say so wherever they
// are shown. What is not known (no limit, no resistance test, no carbon data) becomes a line that says it is not known; no
// row is filled in by guess, and where nothing held is adequate the plan says not to do the job. The package reads no
// files and keeps no state. docs/protection.md tells sources and limits.
package protect
