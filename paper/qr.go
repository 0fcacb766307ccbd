package paper

import (
	"fmt"

	"github.com/boombuler/barcode/qr"
)

// quiet is the white margin of a QR code in modules; ISO/IEC 18004 asks for four on every side.
const quiet = 4

// qrDrawing is a QR code as squares, one point per module, with its white margin.
func qrDrawing(content string) (*Drawing, error) {
	code, err := qr.Encode(content, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("the QR code for %q cannot be made, shorten the address: %w", content, err)
	}
	n := code.Bounds().Dx()
	side := float64(n + 2*quiet)
	d := &Drawing{Width: side, Height: side, Marks: []Mark{filled(0, 0, side, side, white)}}
	area := Shape{Fill: &black, Close: true}
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && isBlack(code.At(x, y)) {
				x++
			}
			if x > from {
				area.Path = append(area.Path, rectangle(float64(from+quiet), float64(y+quiet), float64(x-from), 1)...)
			}
		}
	}
	d.Marks = append(d.Marks, area)
	return d, nil
}

// isBlack tells a dark module.
func isBlack(c interface{ RGBA() (r, g, b, a uint32) }) bool {
	r, _, _, _ := c.RGBA()
	return r < 0x8000
}
