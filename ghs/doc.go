// Package ghs is the vocabulary of the Globally Harmonized System: hazard classes and categories, hazard and
// precautionary statements in several languages, pictograms, signal words, and which of them exist in which rule set.
//
// It holds tables and look-up only. What a mixture is classified as, and what its label must carry, is decided in
// package classify; what a sheet says is held in package sheet.
//
//	hazards, parts, classes, aliases.csv ─► Hazard (class, category, route or effect) ──┐
//	rulesets/*.csv ───────────────────────► RuleSet (which hazards, codes, symbols) ────┼─► classify, audit, paper
//	statements/*.csv ─────────────────────► Code ("H317") and its phrase per language ──┤
//	pictograms/*.svg ─────────────────────► Pictogram (our own drawings of the nine) ───┘
//
// Text of sheets comes in by ParseHazard, FindHazards, ParseCodes, FindPhrase and Legacy, which put up with the ways sheets
// print the standard's words. How to add a language or a rule set is told in docs/vocabulary.md.
package ghs
