package paper

import (
	"fmt"
	"math"
)

// graphic writes blocks that are pictures.
func (w *docxWriter) graphic(b Block) {
	switch b := b.(type) {
	case Pictograms:
		side := b.SizeMM * MM
		if side == 0 {
			side = 20 * MM
		}
		runs, names := "", ""
		for i, g := range b.List {
			runs += w.drawing(&Drawing{Width: 100, Height: 100, Marks: []Mark{symbol(g, 0, 0, 100, w.doc.Lang)}}, side, g.Name(w.doc.Lang))
			if i > 0 {
				names += ", "
			}
			names += g.Name(w.doc.Lang)
		}
		w.paragraph("", "", runs)
		if b.Names {
			w.paragraph("Small", "", docxRun(names, ""))
		}
	case Figure:
		if b.Drawing == nil || b.Drawing.Width <= 0 {
			w.err = fmt.Errorf("the figure %q has no drawing", b.Alt)
			return
		}
		width := min(b.Drawing.Width, w.width)
		if b.Width > 0 {
			width = w.width * min(b.Width, 1)
		}
		w.paragraph("", "", w.drawing(b.Drawing, width, b.Alt))
		w.caption(b.Caption)
	case Picture:
		c, format, err := b.decoded()
		if err != nil {
			w.err = err
			return
		}
		width := w.width
		if b.WidthMM > 0 {
			width = min(b.WidthMM*MM, w.width)
		}
		w.paragraph("", "", w.inline(b.Data, format, width, width*float64(c.Height)/float64(c.Width), b.Alt))
		w.caption(b.Caption)
	case QR:
		side := b.SizeMM * MM
		if side == 0 {
			side = 25 * MM
		}
		d, err := qrDrawing(b.Content)
		if err != nil {
			w.err = err
			return
		}
		w.paragraph("", "", w.drawing(d, side, "QR: "+b.Content))
		w.caption(b.Label)
	}
}

func (w *docxWriter) caption(text string) {
	if text != "" {
		w.paragraph("Caption", "", docxRun(text, ""))
	}
}

// drawing is a drawing of a width as a picture in the line.
func (w *docxWriter) drawing(d *Drawing, width float64, alt string) string {
	png, err := d.PNG(dotsPerInch * width / d.Width)
	if err != nil {
		w.err = err
		return ""
	}
	return w.inline(png, "png", width, width*d.Height/d.Width, alt)
}

// inline is a picture in the line, with the text for those who cannot see it.
func (w *docxWriter) inline(data []byte, format string, width, height float64, alt string) string {
	w.media, w.types = append(w.media, data), append(w.types, format)
	w.ids++
	id := w.relation("image", fmt.Sprintf("media/picture%d.%s", len(w.media), format), false)
	emu := func(pt float64) int { return int(math.Round(pt * 12700)) }
	size := fmt.Sprintf(`cx="%d" cy="%d"`, emu(width), emu(height))
	return fmt.Sprintf(`<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent %s/><wp:docPr id="%d" name="Picture %d" descr="%s"/><a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture"><pic:pic><pic:nvPicPr><pic:cNvPr id="%d" name="Picture %d" descr="%s"/><pic:cNvPicPr/></pic:nvPicPr><pic:blipFill><a:blip r:embed="%s"/><a:stretch><a:fillRect/></a:stretch></pic:blipFill><pic:spPr><a:xfrm><a:off x="0" y="0"/><a:ext %s/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>`,
		size, w.ids, w.ids, escape(alt), w.ids, w.ids, escape(alt), id, size)
}
