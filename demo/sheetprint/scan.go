package sheetprint

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"time"

	"github.com/go-pdf/fpdf"

	"sixteen/read/pdf"
)

// scanDPI is what office scanners are set to.
const scanDPI = 200

// Scan turns a printed PDF into what an office scanner delivers: one grey picture per page, slightly askew, with noise
// and JPEG traces, and no text. The same arguments give the same bytes.
func Scan(ctx context.Context, engine *pdf.Engine, printed []byte, seed uint64) ([]byte, error) {
	doc, err := engine.Open(ctx, printed)
	if err != nil {
		return nil, fmt.Errorf("scan: %w", err)
	}
	defer doc.Close()
	out := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: 595, Ht: 842}})
	fixed := time.Date(2024, 1, 2, 3, 4, 5, 0, time.UTC)
	out.SetCreationDate(fixed)
	out.SetModificationDate(fixed)
	out.SetCatalogSort(true)
	out.SetAutoPageBreak(false, 0)
	rng := rand.New(rand.NewPCG(seed, 0x5ca9))
	for i := range doc.NumPages() {
		sheet, err := doc.Render(i, scanDPI)
		if err != nil {
			return nil, fmt.Errorf("scan page %d: %w", i+1, err)
		}
		// Each page is cut a pixel narrower than the one before: the PDF writer orders pictures by their width.
		grey := askew(sheet, sheet.Bounds().Dx()-i, (rng.Float64()-0.5)*1.2, rng)
		var jpg bytes.Buffer
		if err := jpeg.Encode(&jpg, grey, &jpeg.Options{Quality: 42}); err != nil {
			return nil, err
		}
		w, h := float64(grey.Rect.Dx())*72/scanDPI, float64(grey.Rect.Dy())*72/scanDPI
		out.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: h})
		name := fmt.Sprintf("page%d", i)
		out.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "JPG"}, &jpg)
		out.ImageOptions(name, 0, 0, w, h, false, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
	}
	var buf bytes.Buffer
	if err := out.Output(&buf); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// askew turns a page by some degrees on grey paper, cuts it to width and adds the noise of a scanner.
func askew(src image.Image, width int, degrees float64, rng *rand.Rand) *image.Gray {
	b := src.Bounds()
	flat := image.NewGray(b)
	draw.Draw(flat, b, src, b.Min, draw.Src)
	dst := image.NewGray(image.Rect(0, 0, width, b.Dy()))
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	cx, cy := float64(b.Dx())/2, float64(b.Dy())/2
	shade := 6 + 8*rng.Float64() // the lid was not quite closed
	for y := range b.Dy() {
		row := dst.Pix[y*dst.Stride : y*dst.Stride+width]
		noise := rng.Uint64()
		for x := range row {
			dx, dy := float64(x)-cx, float64(y)-cy
			v := between(flat, cx+cos*dx+sin*dy, cy-sin*dx+cos*dy)*0.93 + 8 - shade*float64(x)/float64(width)
			noise = noise*6364136223846793005 + 1442695040888963407
			if noise>>62 == 0 {
				v += float64(int(noise>>50&15)) - 7.5
			}
			row[x] = uint8(math.Max(0, math.Min(255, v)))
		}
	}
	return dst
}

// between is the grey value at a place between pixels; outside the page the lid shows.
func between(g *image.Gray, x, y float64) float64 {
	ix, iy := int(math.Floor(x)), int(math.Floor(y))
	if ix < 0 || iy < 0 || ix+1 >= g.Rect.Dx() || iy+1 >= g.Rect.Dy() {
		return 250
	}
	fx, fy := x-float64(ix), y-float64(iy)
	at := iy*g.Stride + ix
	top := float64(g.Pix[at])*(1-fx) + float64(g.Pix[at+1])*fx
	low := float64(g.Pix[at+g.Stride])*(1-fx) + float64(g.Pix[at+g.Stride+1])*fx
	return top*(1-fy) + low*fy
}
