package web

import (
	"bytes"
	"context"
	"encoding/base64"
	"html/template"
	"image/jpeg"
	"io"

	"sixteen/judge"
)

// WriteFile writes the judgement as one HTML file that needs nothing else: styles, script and the pictures of the pages
// are inside it. The document's bytes are needed to draw its pages.
func WriteFile(ctx context.Context, w io.Writer, desk *judge.Desk, j *judge.Judgement, data []byte) error {
	const dpi = 90
	var drawError error
	m := newMarks()
	v := viewOf(j, j.Case(), m)
	v.Pages = m.pages(j.Sheet.Source, func(n int) string {
		img, err := desk.RenderPage(ctx, data, n, dpi)
		if err != nil {
			drawError = err
			return ""
		}
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 72}); err != nil {
			drawError = err
			return ""
		}
		return "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(buf.Bytes())
	}, dpi)
	if err := ctx.Err(); err != nil {
		return err
	}
	if drawError != nil {
		v.Problems = append(v.Problems, problemView{What: "A page could not be drawn (" + drawError.Error() + ").", Do: "Look at the sheet itself beside this report."})
	}
	css, err := files.ReadFile("assets/page.css")
	if err != nil {
		return err
	}
	js, err := files.ReadFile("assets/page.js")
	if err != nil {
		return err
	}
	p := page{Title: v.Product, Place: j.Sheet.Source.Name, Inline: true, CSS: template.CSS(css), JS: template.JS(js), V: v}
	return renderPage(w, p, "report")
}
