package picture

import (
	"image"
	"image/draw"
)

// pixels is a picture in planes.
type pixels struct {
	w, h int
	lum  []uint8 // lightness
	red  []uint8 // how much redder than green and blue
	tint []uint8 // distance between the strongest and weakest colour
}

// planes splits a picture.
func planes(img image.Image) *pixels {
	b := img.Bounds()
	p := &pixels{w: b.Dx(), h: b.Dy()}
	n := p.w * p.h
	p.lum, p.red, p.tint = make([]uint8, n), make([]uint8, n), make([]uint8, n)
	if g, ok := img.(*image.Gray); ok {
		for y := range p.h {
			copy(p.lum[y*p.w:(y+1)*p.w], g.Pix[y*g.Stride:])
		}
		return p
	}
	rgba, ok := img.(*image.RGBA)
	if !ok {
		rgba = image.NewRGBA(image.Rect(0, 0, p.w, p.h))
		draw.Draw(rgba, rgba.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(rgba, rgba.Rect, img, b.Min, draw.Over)
	}
	for y := range p.h {
		row := rgba.Pix[y*rgba.Stride : y*rgba.Stride+4*p.w]
		for x := range p.w {
			r, g, b := int(row[4*x]), int(row[4*x+1]), int(row[4*x+2])
			at := y*p.w + x
			p.lum[at] = uint8((299*r + 587*g + 114*b) / 1000)
			p.red[at] = uint8(max(0, r-max(g, b)))
			p.tint[at] = uint8(max(r, g, b) - min(r, g, b))
		}
	}
	return p
}

// between is the value of a plane at a place between pixel centres; places outside take the nearest pixel.
func (p *pixels) between(plane []uint8, x, y float64) float64 {
	x, y = max(0, min(x-0.5, float64(p.w-1))), max(0, min(y-0.5, float64(p.h-1)))
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	jx, jy := min(ix+1, p.w-1), min(iy+1, p.h-1)
	top := float64(plane[iy*p.w+ix])*(1-fx) + float64(plane[iy*p.w+jx])*fx
	low := float64(plane[jy*p.w+ix])*(1-fx) + float64(plane[jy*p.w+jx])*fx
	return top*(1-fy) + low*fy
}
