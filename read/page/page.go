// Package page is what a document shows before anybody understands it: words with boxes, ruling lines and pictures of
// each page. The engines (PDF text layer, optical character recognition) produce it; layout and facts consume it.
package page

import "sixteen/sheet"

// Page is one page as shown (rotation applied). Lengths are points, origin at the top left.
type Page struct {
	Number int // counts from 1
	Width  float64
	Height float64
	Words  []Word
	Rules  []Rule
	Images []Image
	How    sheet.How // ByText or ByOCR
	Lost   string    // why the page could not be read, "" when it was
}

// Word is a run of characters without a blank, at one place. Angle is the reading direction, 0, 90, 180 or 270
// degrees counterclockwise as shown (90 reads upwards).
type Word struct {
	Text       string
	Was        string // what recognition gave first where Text is a repair of it, "" elsewhere
	Box        sheet.Rect
	Size       float64 // font size in points
	Bold       bool
	Angle      int
	Confidence float64 // 1 for text layers, 0 where the file does not say which characters it shows; for OCR that of recognition
	SpaceAfter bool    // a blank follows on the same line in the document's own order

	// Shown is where the word stands on the page as shown, where Box is its place on the page made level; zero where the page
	// is level already.
	Shown sheet.Rect
}

// Place is where the word stands on the page as shown.
func (w Word) Place() sheet.Rect {
	if w.Shown != (sheet.Rect{}) {
		return w.Shown
	}
	return w.Box
}

// Recognised is the word before any repair.
func (w Word) Recognised() string {
	if w.Was != "" {
		return w.Was
	}
	return w.Text
}

// Rule is a straight drawn line or thin filled box, horizontal or vertical, as tables are drawn with.
type Rule struct {
	Box        sheet.Rect
	Horizontal bool
}

// Image is a picture or a drawing (cluster of paths) placed on the page, a candidate for a pictogram.
type Image struct {
	Box    sheet.Rect
	Vector bool
}
