// Package shelf is the register that a workshop lives in: products and kits, where they stand and how much, suppliers, the
// revisions of their sheets with what each changes, decisions, questions, planned jobs, papers made, people. It is one SQLite
// file with a folder of documents, or a PostgreSQL database with a folder or bucket; everything else is the same.
//
//	AddDocument ──► document on disk + waiting sheet + job (one transaction) ──► ack
//	                                       │ StartReading: a desk reads
//	                                       ▼
//	          facts, product, judgement, summary, papers outdated, job done (one transaction)
//	                                       │
//	   Products, Search, Storage, Due ◄────┴────► JudgementOf, Correct, Overrule, Trail
//
// # Use
//
// A web page or a command calls [Open] once, [Shelf.StartReading] when it is to read in the background, and [Shelf.Close] at
// the end. Every method that changes something takes the name of who does it and writes an entry of the trail in the same
// transaction. An edit hands back the record it was made on, with ID and Version; it fails with *[Conflict] when somebody else
// was faster. Errors are told apart with errors.Is and errors.As:
//
//	[ErrNotFound]   there is no such thing               404
//	*[Conflict]     both versions, to be shown            409
//	*[Invalid]      what is wrong and what to do          422
//	[ErrRefused]    a login or session                    401
//	[ErrCorrupted]  a document is not what was added      500, with its sentence
//
// A product page is [Shelf.Product], [Shelf.Revisions], [Shelf.JudgementOf] of Product.Sheet, [Shelf.Stock], [Shelf.Questions]
// and [Shelf.Papers]; a list is [Shelf.Products]; the upload is [Shelf.AddDocument] with [Shelf.Progress] and [Shelf.Watch].
//
// Nothing is deleted. What goes off the shelf is retired, with a reason, and stays readable: in the United States a record of
// what was used, where and when is kept for 30 years (29 CFR 1910.1020(d)(1)(ii)(B)).
//
// Order is that of the trail's numbers, never that of clocks.
package shelf
