// Package classify works out what a mixture is classified as from its ingredients, under one rule set, and what its
// label then carries.
//
// Every rule of the law is compiled for one mixture into linear conditions on the composition x (percent by mass of
// each ingredient). The same conditions answer four questions:
//
//	Mixture + RuleSet ─ Compile ─► Program ─┬─ At(x)           ─► Classification   (one composition, with trace)
//	                                        ├─ Envelope()      ─► certain / possible / ruled out, with a witness each
//	                                        ├─ Prove(declared) ─► witness composition, or the statements that clash
//	                                        └─ Distances(x)    ─► at which share of which ingredient a class changes
//
// Nothing is sampled where an exact answer exists.
//
// Where the law is a table it is a table here: rules/*.csv, one file per rule set, each row with its clause and whether
// it was read or recalled (docs/rules.md shows them). Where it is a procedure it is code: acute.go, skineye.go,
// aquatic.go, physical.go, limits.go, order.go. A new rule set is one new file under rules.
//
// A class that is not given is one of three things: not classified (the rules were applied), no data (nothing is known
// that they could use), or not in the rule set. What a fact that is not known would change is told as open, never given.
package classify
