// Package picture finds the standard's pictograms in a picture: of a page, of a part of it, or of a label.
//
//	pixels ─► frames: areas enclosed by red or dark lines, whose outline is a square on its corner
//	       ─► the area within, brought upright and to one size by its four corners
//	       ─► white with a dark symbol? ─► compared with our own nine drawings ─► which, and how surely
//
// Symbols drawn by others differ from ours in detail, so that what is compared is where the ink lies, blurred, after
// centring and scaling by its spread. Filled diamonds, diamonds in thin lines and diamonds with a number in the lower
// corner (transport labels), and fields of rating diamonds are no pictograms. A diamond whose symbol resembles none of
// the nine enough, or two of them alike, is reported as not understood and never guessed.
package picture
