package pdf

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
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
	var picture *image.RGBA
	var why error
	lost, err := d.withPage(i, 4*d.engine.options.PageWork, func(handle uint64, g geometry) {
		picture, why = d.in.render(d.ctx, handle, int(math.Ceil(g.width*dpi/72)), int(math.Ceil(g.height*dpi/72)))
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

func (in *instance) render(ctx context.Context, handle uint64, width, height int) (*image.RGBA, error) {
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
	in.long(ctx, "FPDF_RenderPageBitmap", bitmap, handle, 0, 0, uint64(width), uint64(height), 0, renderAnnot)
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
