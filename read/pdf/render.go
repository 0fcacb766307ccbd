package pdf

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"sixteen/sheet"
)

// ErrPicture is the error of a page that cannot be rendered.
var ErrPicture = errors.New("the page cannot be drawn")

const (
	mostPixels  = 40e6
	bitmapBGRx  = 3 // FPDFBitmap_BGRx, fpdfview.h
	renderAnnot = 1 // FPDF_ANNOT
)

// Render draws page i, counting from 0, on white at dpi pixels per inch (at most 40 million pixels).
func (d *Document) Render(i int, dpi float64) (image.Image, error) {
	return d.draw(i, func(g geometry) sheet.Rect { return sheet.Rect{X1: g.width, Y1: g.height} }, dpi)
}

// RenderPart draws the part of page i within box, in points of the page as shown. What lies outside the page is white.
func (d *Document) RenderPart(i int, box sheet.Rect, dpi float64) (image.Image, error) {
	return d.draw(i, func(geometry) sheet.Rect { return box }, dpi)
}

// draw draws the part of page i that is asked for.
func (d *Document) draw(i int, part func(geometry) sheet.Rect, dpi float64) (image.Image, error) {
	var picture *image.RGBA
	var why error
	lost, err := d.withPage(i, 4*d.engine.options.PageWork, func(handle uint64, g geometry) {
		picture, why = d.in.render(d.ctx, handle, g, part(g), dpi/72)
	})
	switch {
	case err != nil:
		return nil, err
	case lost != nil:
		return nil, fmt.Errorf("%w: %w", ErrPicture, lost)
	case why != nil:
		return nil, why
	}
	return picture, nil
}

// render draws the part of a page within box at scale pixels per point.
func (in *instance) render(ctx context.Context, handle uint64, g geometry, box sheet.Rect, scale float64) (*image.RGBA, error) {
	width, height := int(math.Ceil((box.X1-box.X0)*scale)), int(math.Ceil((box.Y1-box.Y0)*scale))
	if width < 1 || height < 1 || float64(width)*float64(height) > mostPixels {
		return nil, fmt.Errorf("%w: %d × %d pixels; use fewer dots per inch", ErrPicture, width, height)
	}
	stride := width * 4
	pixels := in.call("malloc", uint64(stride*height))
	if pixels == 0 {
		return nil, fmt.Errorf("%w: %w", ErrPicture, errMemory)
	}
	bitmap := in.call("FPDFBitmap_CreateEx", uint64(width), uint64(height), bitmapBGRx, pixels, uint64(stride))
	in.call("FPDFBitmap_FillRect", bitmap, 0, 0, uint64(width), uint64(height), 0xffffffff)
	left, top := int32(math.Round(-box.X0*scale)), int32(math.Round(-box.Y0*scale))
	pageWidth, pageHeight := math.Ceil(g.width*scale), math.Ceil(g.height*scale)
	in.long(ctx, "FPDF_RenderPageBitmap", bitmap, handle, uint64(uint32(left)), uint64(uint32(top)), uint64(pageWidth), uint64(pageHeight), 0, renderAnnot)
	in.call("FPDFBitmap_Destroy", bitmap)
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	if bgrx, ok := in.memory.Read(uint32(pixels), uint32(stride*height)); ok && in.failed == nil {
		for i := 0; i+3 < len(bgrx); i += 4 {
			out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = bgrx[i+2], bgrx[i+1], bgrx[i], 0xff
		}
	}
	in.free(pixels)
	return out, nil
}
