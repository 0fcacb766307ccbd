package ocr

import (
	"context"
	"image"
	"image/color"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/draw"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Tesseract's search for columns passes over short pieces that stand alone: "II", "8", "7.6" in the cells of a table, the
// digits in a rating diamond. And it loses points in small print: "11" for "1.1". So a page is looked at twice: what has
// letters' size and no word on it, and every number, is put one below the other into a second picture, enlarged, each
// behind a word that was read well, so that the height of letters is known; that picture is read line by line.

// piece is a part of the page for the second look.
type piece struct {
	box  image.Rectangle
	word int // the index of the word it is, -1 for ink without a word
}

// Bounds of the second look, in pixels at 300 dots per inch.
const (
	mostPieces   = 160
	letterLow    = 14 // height of the smallest letters that are looked for: 5 point print
	letterHigh   = 60 // and of the tallest: 20 point
	letterWide   = 75
	enlarge      = 2
	lineGap      = 26
	sureHole     = 0.60 // confidence from which a word found at the second look counts
	secondWorth  = 0.95 // what its confidence is multiplied with
	mostNumber   = 9    // letters of the longest number that is read again
	anchorLeast  = 0.93 // confidence of the word that stands before each piece
	anchorOffset = 40
)

// secondLook adds the words that the first look passed over, and mends numbers that lost a point. Boxes are pixels of img.
// Found stays as it is when there is nothing to look at.
func (r *Recogniser) secondLook(ctx context.Context, img image.Image, found []page.Word) ([]page.Word, error) {
	grey := toGrey(img)
	anchor, ok := anchorOf(found)
	if !ok {
		return found, nil
	}
	var pieces []piece
	for _, b := range holes(grey, found) {
		pieces = append(pieces, piece{b, -1})
	}
	for i, w := range found {
		if isNumber(w.Text) {
			pieces = append(pieces, piece{pixels(w.Box).Inset(-4).Intersect(grey.Rect), i})
		}
	}
	if len(pieces) == 0 {
		return found, nil
	}
	pieces = pieces[:min(len(pieces), mostPieces)]
	picture, lines, right := compose(grey, anchor, pieces)
	tsv, err := r.run(ctx, picture, "6", r.languages[:1]) // numbers and single letters: one language reads them, in a quarter of the time
	if err != nil {
		return found, err
	}
	again, err := parseTSV(tsv)
	if err != nil {
		return found, err
	}
	out := slices.Clone(found)
	for i, p := range pieces {
		read := behind(again, lines[i], right)
		if len(read) == 0 {
			continue
		}
		if p.word >= 0 {
			text, sure := joined(read)
			out[p.word] = better(out[p.word], text, sure)
			continue
		}
		if text, sure := joined(read); sure < sureHole || !strings.ContainsFunc(text, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) {
			continue
		}
		for _, w := range read { // back to its place on the page
			x := float64(p.box.Min.X) - float64(right)/enlarge
			w.Box = sheet.Rect{X0: w.Box.X0/enlarge + x, Y0: float64(p.box.Min.Y), X1: w.Box.X1/enlarge + x, Y1: float64(p.box.Max.Y)}
			w.Confidence *= secondWorth
			out = append(out, w)
		}
	}
	return out, nil
}

// better is the word with the points that the second look shows. Other readings of the same number are not taken over:
// both looks may err, and the first saw the surroundings.
func better(w page.Word, again string, sure float64) page.Word {
	bare := func(s string) string { return strings.NewReplacer(".", "", ",", "").Replace(s) }
	if len(again) > len(w.Text) && bare(again) == bare(w.Text) && again[0] != '.' && again[0] != ',' && !strings.HasSuffix(again, ".") && !strings.HasSuffix(again, ",") {
		w.Was = w.Recognised()
		w.Text, w.Confidence = again, min(w.Confidence, sure)*secondWorth
	}
	return w
}

// isNumber tells whether a word is a short number without letters.
func isNumber(s string) bool {
	digits := 0
	for _, c := range s {
		switch {
		case unicode.IsDigit(c):
			digits++
		case !strings.ContainsRune(".,<>=≤≥-–%", c):
			return false
		}
	}
	return digits > 0 && len(s) <= mostNumber
}

// anchorOf is a word that was read well: some plain letters of usual size.
func anchorOf(found []page.Word) (image.Rectangle, bool) {
	for _, least := range []float64{anchorLeast, anchorLeast - 0.1} {
		for _, w := range found {
			b := pixels(w.Box)
			if w.Confidence >= least && len(w.Text) >= 4 && len(w.Text) <= 9 && b.Dy() >= 22 && b.Dy() <= 50 && strings.IndexFunc(w.Text, func(c rune) bool { return !unicode.IsLetter(c) }) < 0 {
				return b, true
			}
		}
	}
	return image.Rectangle{}, false
}

func pixels(r sheet.Rect) image.Rectangle {
	return image.Rect(int(r.X0), int(r.Y0), int(r.X1+0.5), int(r.Y1+0.5))
}

// compose puts the pieces below each other, each behind the anchor. It returns the rows of each piece and the column where
// the pieces begin.
func compose(grey *image.Gray, anchor image.Rectangle, pieces []piece) (out *image.Gray, rows [][2]int, right int) {
	anchor = anchor.Inset(-3).Intersect(grey.Rect)
	right = lineGap + anchor.Dx()*enlarge + anchorOffset
	width, height := 0, lineGap
	for _, p := range pieces {
		width = max(width, p.box.Dx()*enlarge)
		height += max(p.box.Dy(), anchor.Dy())*enlarge + lineGap
	}
	out = image.NewGray(image.Rect(0, 0, right+width+2*lineGap, height))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	y := lineGap
	for _, p := range pieces {
		h := max(p.box.Dy(), anchor.Dy()) * enlarge
		paste(out, grey, anchor, lineGap, y+h-anchor.Dy()*enlarge)
		paste(out, grey, p.box, right, y+h-p.box.Dy()*enlarge)
		rows = append(rows, [2]int{y, y + h})
		y += h + lineGap
	}
	return out, rows, right
}

// paste enlarges a part of the page into the picture, with its paper made white.
func paste(out, grey *image.Gray, from image.Rectangle, x, y int) {
	to := image.Rect(x, y, x+from.Dx()*enlarge, y+from.Dy()*enlarge)
	draw.CatmullRom.Scale(out, to, grey, from, draw.Src, nil)
	paper := paperOf(grey, from)
	for yy := to.Min.Y; yy < to.Max.Y; yy++ {
		for xx := to.Min.X; xx < to.Max.X; xx++ {
			v := int(out.GrayAt(xx, yy).Y) * 255 / max(1, paper)
			out.SetGray(xx, yy, color.Gray{Y: uint8(min(255, v))})
		}
	}
}

// paperOf is the brightness of the paper in a part of the page: nine tenths of it are darker or as dark.
func paperOf(grey *image.Gray, r image.Rectangle) int {
	var count [256]int
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			count[grey.GrayAt(x, y).Y]++
			n++
		}
	}
	seen := 0
	for v := 255; v > 0; v-- {
		if seen += count[v]; seen*4 > n {
			return v
		}
	}
	return 255
}

// behind are the words of a line of the second picture behind its anchor.
func behind(words []page.Word, rows [2]int, right int) (out []page.Word) {
	for _, w := range words {
		middle := (w.Box.Y0 + w.Box.Y1) / 2
		if middle >= float64(rows[0]) && middle <= float64(rows[1]) && w.Box.X1 >= float64(right)+4 && w.Box.X0 >= float64(right)-anchorOffset/2 {
			out = append(out, w)
		}
	}
	return out
}

// joined is the text of words without blanks, and their least confidence.
func joined(words []page.Word) (text string, sure float64) {
	sure = 1
	for _, w := range words {
		text, sure = text+w.Text, min(sure, w.Confidence)
	}
	return text, sure
}

func toGrey(img image.Image) *image.Gray {
	if g, ok := img.(*image.Gray); ok && g.Rect.Min == (image.Point{}) {
		return g
	}
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, img, b.Min, draw.Src)
	return out
}
