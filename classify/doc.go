// Package classify works out what a mixture is classified as from its ingredients, under one rule set.
//
// Every rule of the law is compiled for one mixture into linear conditions on the composition x (percent by mass of
// each ingredient). The same conditions answer three questions:
//
//	Mixture + RuleSet ─ compile ─► Program ─┬─ At(x)      ─► Classification   (one composition, with trace)
//	                                        ├─ Envelope() ─► certain / possible / ruled out, with a witness each
//	                                        └─ Prove(declared) ─► witness composition, or the statements that clash
//
// Nothing is sampled where an exact answer exists.
package classify
