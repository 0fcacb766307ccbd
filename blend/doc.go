// Package blend makes a shop's own product out of its recipe: what it is classified as under each law, what its label
// carries, the draft of its safety data sheet in sixteen sections, and which change of an ingredient would take a hazard
// away.
//
//	recipe.yaml ─ Read ─► Recipe ─┬─ supplier sheets (package read), substance table, own test data
//	                              ▼
//	                           Mix (one rule set) ─► classify.Program ─► classes: certain, possible, ruled out, with trace
//	                              │                                     └─► Reach: shares that a target class is ruled out at
//	                              └─ Draft (one language) ─► sections → items, each with its why; open questions first
//	                                        └─► Facts: the same content as a sheet.Sheet, which a reader must find in it
//
// Nothing is invented. What the recipe, the table and the arithmetic do not give becomes a question to the author, and "no
// data available" is printed only where the author says so. Every item says why it stands there: the fact, the rule, the
// clause, and whether the clause was read or recalled. A draft is not a sheet yet: a competent person has to review it.
//
// Which fields a sheet must have is data: required/*.csv, one file per rule set, each row with its clause. Words and
// headings in four languages are in words/. The package reads no files and keeps no state; supplier sheets are passed in.
package blend
