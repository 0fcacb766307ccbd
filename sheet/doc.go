// Package sheet is the model of a safety data sheet: sixteen sections whose every fact keeps where it was read.
//
// A Fact has a State. "The sheet says nothing", "the sheet says there is no data", "the sheet says it does not apply"
// and "the sheet says none" are different states and stay different everywhere. A person may correct a fact; the value
// as read is kept beside the correction.
//
//	document ─► package read ─► Sheet ─► classify, audit, exposure, paper
//	                              ▲
//	                     corrections by a person (Correct)
package sheet
