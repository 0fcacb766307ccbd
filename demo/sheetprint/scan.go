package sheetprint

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

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
		grey := askew(sheet, (rng.Float64()-0.5)*1.2, rng)
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

// askew turns a page by some degrees on grey paper and adds the noise of a scanner.
func askew(src image.Image, degrees float64, rng *rand.Rand) *image.Gray {
	b := src.Bounds()
	dst := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(dst, dst.Rect, image.NewUniform(color.Gray{Y: 250}), image.Point{}, draw.Src)
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	cx, cy := float64(b.Dx())/2, float64(b.Dy())/2
	turn := f64.Aff3{cos, -sin, cx - cos*cx + sin*cy, sin, cos, cy - sin*cx - cos*cy}
	draw.ApproxBiLinear.Transform(dst, turn, src, b, draw.Over, nil)
	shade := 6 + 8*rng.Float64() // the lid was not quite closed
	for y := range b.Dy() {
		row := dst.Pix[y*dst.Stride : y*dst.Stride+b.Dx()]
		for x := range row {
			v := float64(row[x])*0.93 + 8 - shade*float64(x)/float64(b.Dx())
			if rng.IntN(4) == 0 {
				v += rng.NormFloat64() * 5
			}
			row[x] = uint8(math.Max(0, math.Min(255, v)))
		}
	}
	return dst
}
