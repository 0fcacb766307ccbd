package sheetprint

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/vector"

	"sixteen/ghs"
)

var inks = map[ghs.Ink]color.RGBA{ghs.White: {255, 255, 255, 255}, ghs.Black: {0, 0, 0, 255}, ghs.Red: {226, 0, 26, 255}}

// pictos draws the pictograms in rows beneath their label.
func (f *flow) pictos(p pictos) {
	side := 40 + float64(f.l.Seed%4)*5
	f.font(true, f.l.Size)
	f.need(f.leading() + side + 8)
	f.lines(0, []string{p.label})
	x := f.x() + 6
	for i, g := range p.all {
		if i > 0 && x+side > f.x()+f.columnWidth() {
			x = f.x() + 6
			f.y += side + 4
			f.need(side + 4)
		}
		f.symbol(x, f.y+2, side, g)
		x += side + 7
	}
	f.y += side + 8
	f.font(false, f.l.Size)
}

// symbol draws one pictogram as areas or as a picture.
func (c *canvas) symbol(x, y, side float64, g ghs.Pictogram) {
	if c.l.Pictograms == BitmapPictograms {
		c.picture(x, y, side, g)
		return
	}
	for _, p := range ghs.PictogramOutline(g) {
		ink := inks[p.Ink]
		if c.l.GreySymbols {
			ink = grey(ink)
		}
		c.fill([3]int{int(ink.R), int(ink.G), int(ink.B)})
		for i, pt := range p.Points {
			if i == 0 {
				c.pdf.MoveTo(x+pt.X*side, y+pt.Y*side)
			} else {
				c.pdf.LineTo(x+pt.X*side, y+pt.Y*side)
			}
		}
		c.pdf.ClosePath()
		c.pdf.DrawPath("F*")
	}
}

func grey(c color.RGBA) color.RGBA {
	y := color.GrayModel.Convert(c).(color.Gray).Y
	return color.RGBA{y, y, y, 255}
}

// picture places the pictogram as a bitmap. Every pictogram has a width of its own: the PDF writer orders pictures by it.
func (c *canvas) picture(x, y, side float64, g ghs.Pictogram) {
	name := g.String()
	if c.pdf.GetImageInfo(name) == nil {
		c.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(symbolPNG(g, 110+2*int(g), c.l.GreySymbols)))
	}
	c.pdf.ImageOptions(name, x, y, side, side, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
}

// symbolPNG is a pictogram on white as a PNG file of size by size pixels.
func symbolPNG(g ghs.Pictogram, size int, greyed bool) []byte {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	for _, p := range ghs.PictogramOutline(g) {
		r := vector.NewRasterizer(size, size)
		for i, pt := range p.Points {
			px, py := float32(pt.X*float64(size)), float32(pt.Y*float64(size))
			if i == 0 {
				r.MoveTo(px, py)
			} else {
				r.LineTo(px, py)
			}
		}
		r.ClosePath()
		ink := inks[p.Ink]
		if greyed {
			ink = grey(ink)
		}
		r.Draw(img, img.Rect, image.NewUniform(ink), image.Point{})
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		panic(fmt.Sprintf("encode %s: %v", g, err)) // an RGBA image always encodes
	}
	return out.Bytes()
}
