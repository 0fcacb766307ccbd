//go:build pin

// This file keeps the modules of the whole design in go.mod while their packages are being written.
package sixteen

import (
	_ "github.com/alecthomas/kong"
	_ "github.com/boombuler/barcode/qr"
	_ "github.com/chromedp/chromedp"
	_ "github.com/go-pdf/fpdf"
	_ "github.com/goccy/go-yaml"
	_ "github.com/klippa-app/go-pdfium"
	_ "github.com/klippa-app/go-pdfium/requests"
	_ "github.com/klippa-app/go-pdfium/webassembly"
	_ "github.com/tetratelabs/wazero"
	_ "github.com/tetratelabs/wazero/imports/emscripten"
	_ "github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
	_ "github.com/xuri/excelize/v2"
	_ "golang.org/x/image/draw"
	_ "golang.org/x/image/font/gofont/gobold"
	_ "golang.org/x/image/font/gofont/goregular"
	_ "golang.org/x/image/tiff"
	_ "golang.org/x/image/vector"
	_ "golang.org/x/net/html"
	_ "golang.org/x/sync/errgroup"
	_ "golang.org/x/text/encoding/htmlindex"
	_ "golang.org/x/text/language"
	_ "golang.org/x/text/unicode/norm"
	_ "gonum.org/v1/gonum/integrate/quad"
	_ "gonum.org/v1/gonum/interp"
	_ "gonum.org/v1/gonum/mat"
	_ "gonum.org/v1/gonum/optimize/convex/lp"
	_ "gonum.org/v1/gonum/stat"
	_ "gonum.org/v1/gonum/stat/samplemv"
	_ "gonum.org/v1/gonum/stat/sampleuv"
	_ "pgregory.net/rapid"
)
