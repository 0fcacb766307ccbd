package ocr

import (
	"image"
	"slices"

	"sixteen/read/page"
)

// holes finds pieces of ink of the size of letters, side by side in a line, on which no word was read. Lines, frames and
// pictures are larger than letters and fall out; so does what touches them.
func holes(grey *image.Gray, found []page.Word) []image.Rectangle {
	free := slices.DeleteFunc(blobs(grey), func(b image.Rectangle) bool {
		return b.Dy() < letterLow || b.Dy() > letterHigh || b.Dx() < 3 || b.Dx() > letterWide || onWord(b, found)
	})
	slices.SortFunc(free, func(a, b image.Rectangle) int { return a.Min.X - b.Min.X })
	var out []image.Rectangle
	for _, b := range free {
		k := slices.IndexFunc(out, func(o image.Rectangle) bool {
			high := max(o.Dy(), b.Dy())
			overlap := min(o.Max.Y, b.Max.Y) - max(o.Min.Y, b.Min.Y)
			return 2*overlap > min(o.Dy(), b.Dy()) && b.Min.X-o.Max.X < high*6/10 && b.Max.X > o.Min.X
		})
		if k >= 0 {
			out[k] = out[k].Union(b)
		} else {
			out = append(out, b)
		}
	}
	out = slices.DeleteFunc(out, func(b image.Rectangle) bool { return b.Dy() > letterHigh })
	for i := range out { // points and accents belong to the piece
		out[i] = out[i].Inset(-5).Intersect(grey.Rect)
	}
	slices.SortFunc(out, func(a, b image.Rectangle) int { return a.Min.Y - b.Min.Y })
	return out
}

// onWord tells whether the middle of a piece of ink lies in the box of a word.
func onWord(b image.Rectangle, found []page.Word) bool {
	x, y := float64(b.Min.X+b.Max.X)/2, float64(b.Min.Y+b.Max.Y)/2
	return slices.ContainsFunc(found, func(w page.Word) bool {
		return x > w.Box.X0-3 && x < w.Box.X1+3 && y > w.Box.Y0-6 && y < w.Box.Y1+6
	})
}

// darker is by how much ink is darker than the paper around it.
const darker = 45

// span is a run of ink in one row.
type span struct{ y, x0, x1, set int }

// blobs are the boxes of connected pieces of ink. Ink is what is darker than the mean of its surroundings of about two
// letters (a threshold that follows shadows of the lid and coloured rows).
func blobs(grey *image.Gray) []image.Rectangle {
	w, h := grey.Rect.Dx(), grey.Rect.Dy()
	if w == 0 || h == 0 {
		return nil
	}
	sums := integral(grey)
	const half = 30
	var spans []span
	parent := []int{}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	before, from := 0, 0 // spans of the row above
	for y := range h {
		from, before = before, len(spans)
		y0, y1 := max(0, y-half), min(h, y+half+1)
		row := grey.Pix[y*grey.Stride : y*grey.Stride+w]
		for x := 0; x < w; x++ {
			if !dark(sums, w, row[x], x, y0, y1, half) {
				continue
			}
			s := span{y: y, x0: x, set: len(parent)}
			for x < w && dark(sums, w, row[x], x, y0, y1, half) {
				x++
			}
			s.x1 = x
			parent = append(parent, len(parent))
			for _, o := range spans[from:before] {
				if o.x1 >= s.x0 && o.x0 <= s.x1 {
					parent[find(o.set)] = find(s.set)
				}
			}
			spans = append(spans, s)
		}
	}
	boxes := map[int]image.Rectangle{}
	for _, s := range spans {
		root := find(s.set)
		boxes[root] = boxes[root].Union(image.Rect(s.x0, s.y, s.x1, s.y+1))
	}
	out := make([]image.Rectangle, 0, len(boxes))
	for _, b := range boxes {
		out = append(out, b)
	}
	slices.SortFunc(out, func(a, b image.Rectangle) int {
		if a.Min.Y != b.Min.Y {
			return a.Min.Y - b.Min.Y
		}
		return a.Min.X - b.Min.X
	})
	return out
}

// integral is the summed-area table of a picture, one row and column larger than it.
func integral(grey *image.Gray) []uint32 {
	w, h := grey.Rect.Dx(), grey.Rect.Dy()
	sums := make([]uint32, (w+1)*(h+1))
	for y := range h {
		row := uint32(0)
		for x := range w {
			row += uint32(grey.Pix[y*grey.Stride+x])
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + row
		}
	}
	return sums
}

// dark tells whether a pixel is darker than the mean of rows y0 to y1 around column x.
func dark(sums []uint32, w int, v uint8, x, y0, y1, half int) bool {
	x0, x1 := max(0, x-half), min(w, x+half+1)
	total := sums[y1*(w+1)+x1] - sums[y0*(w+1)+x1] - sums[y1*(w+1)+x0] + sums[y0*(w+1)+x0]
	return int(v)+darker < int(total)/((x1-x0)*(y1-y0))
}
