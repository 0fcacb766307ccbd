package ocr

import (
	"image"
	"slices"
)

// Bounds on the dots of a leader ("Flash point ........ 27 °C"), in pixels at 300 dots per inch.
const (
	dotSmallest = 2
	dotLargest  = 9
	dotPitch    = 36 // from one dot to the next, at most
	dotLevel    = 3  // by which neighbours differ in height at most
	fewestDots  = 6
)

// withoutLeaders erases rows of dots that lead from a label to its value: recognition takes them for letters, and loses the
// words beside them. The picture is returned as it is when there are none.
func withoutLeaders(grey *image.Gray) *image.Gray {
	dots := slices.DeleteFunc(blobs(grey), func(b image.Rectangle) bool {
		return b.Dx() < dotSmallest || b.Dx() > dotLargest || b.Dy() < dotSmallest || b.Dy() > dotLargest
	})
	slices.SortFunc(dots, func(a, b image.Rectangle) int { return a.Min.X - b.Min.X })
	var rows [][]image.Rectangle
	open := []int{} // rows that may go on
	for _, d := range dots {
		mine := -1
		still := open[:0]
		for _, k := range open {
			last := rows[k][len(rows[k])-1]
			if d.Min.X-last.Max.X > dotPitch {
				continue
			}
			still = append(still, k)
			if level := d.Max.Y - last.Max.Y; mine < 0 && d.Min.X > last.Min.X && level <= dotLevel && level >= -dotLevel {
				mine = k
			}
		}
		open = still
		if mine < 0 {
			rows = append(rows, nil)
			mine = len(rows) - 1
			open = append(open, mine)
		}
		rows[mine] = append(rows[mine], d)
	}
	out := grey
	for _, row := range rows {
		if len(row) < fewestDots || !even(row) {
			continue
		}
		if out == grey {
			out = image.NewGray(grey.Rect)
			copy(out.Pix, grey.Pix)
		}
		for _, d := range row {
			erase(out, d.Inset(-3).Intersect(grey.Rect))
		}
	}
	return out
}

// even tells whether dots follow each other at one distance, as those of a leader do: three of four gaps are within two
// pixels of the median.
func even(row []image.Rectangle) bool {
	gaps := make([]int, 0, len(row))
	for i := 1; i < len(row); i++ {
		gaps = append(gaps, row[i].Min.X-row[i-1].Min.X)
	}
	sorted := slices.Sorted(slices.Values(gaps))
	middle, alike := sorted[len(sorted)/2], 0
	for _, g := range gaps {
		if g >= middle-2 && g <= middle+2 {
			alike++
		}
	}
	return 4*alike >= 3*len(gaps)
}

// erase gives a part of the picture the brightness of its paper.
func erase(grey *image.Gray, r image.Rectangle) {
	paper := uint8(paperOf(grey, r))
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			grey.Pix[y*grey.Stride+x] = paper
		}
	}
}
