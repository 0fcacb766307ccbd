// Package demo holds invented things to try the program on: generated sheets with known truth, and a small workshop
// with its suppliers, products, labels and claims. Nothing in it is anybody's real product.
//
//	invent.Random ─► sheetprint.Print ─► NNN.pdf + NNN.json        (WriteGenerated)
package demo
