// Package plan answers for one job as a whole: what gets into the air and whom it reaches, how hot the mix becomes, what
// people do and wear, and what nobody could say. The command line, the pages and the papers show one and the same Plan.
//
//	job.yaml ─ exposure.ParseJob ─► Job ─ Fill (Source: sheets, recipes, kits at their ratio) ─► Job with ingredients
//	                                                                                              │
//	      Plan ◄─ Make ◄─ protect.Make ◄─ Exposures (who is at the work, what they meet) ◄─ exposure.Run
//	       └─► WriteText, WriteJSON, Charts (SVG), WriteHTML (one page)
//
// A product of a job is given inline, by file, or as a kit of parts; Files reads files with the desk of package judge, and
// any other shelf of products can stand in for it. Nothing here prints a verdict of its own: figures come from exposure,
// measures from protect, hazards from classify and the sheets. What was not assessed stands in the headline.
package plan
