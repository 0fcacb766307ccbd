package paper

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	_ "image/jpeg" // formats of pictures
	_ "image/png"

	"github.com/go-pdf/fpdf"
)

// decoded is a picture's size in pixels and its format, "png" or "jpeg".
func (b Picture) decoded() (image.Config, string, error) {
	c, format, err := image.DecodeConfig(bytes.NewReader(b.Data))
	if err != nil || c.Width == 0 || c.Height == 0 {
		return c, "", fmt.Errorf("the picture %q cannot be read, give a PNG or JPEG file: %w", b.Alt, err)
	}
	return c, format, nil
}

func (s *setter) picture(b Picture, width float64, parent *element) []strip {
	c, format, err := b.decoded()
	if err != nil {
		s.fail(err)
		return nil
	}
	w := width
	if b.WidthMM > 0 {
		w = min(b.WidthMM*MM, width)
	}
	h := w * float64(c.Height) / float64(c.Width)
	e := parent.child("Figure")
	e.alt = b.Alt
	name := fmt.Sprintf("%x", sha256.Sum256(b.Data))
	out := []strip{{h: h, before: s.size * 0.6, keep: b.Caption != "", draw: func(p *press, x, y float64) {
		o := fpdf.ImageOptions{ImageType: format}
		p.pdf.RegisterImageOptionsReader(name, o, bytes.NewReader(b.Data))
		p.marked(e, func() { p.pdf.ImageOptions(name, x, y, w, h, false, o, 0, "") })
	}}}
	return append(out, s.caption(b.Caption, width, parent)...)
}
