// Package web shows the judgement of a sheet as a page: served on this machine, or written to one file.
//
//	judge.Judgement ─► judgementView ─► pages/*.html ─► Server (page pictures apart, assets apart)
//	                                                └─► WriteFile (everything inside one file)
package web

import (
	"bytes"
	"context"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/jpeg"
	"io"
	"io/fs"
	"net/http"

	"sixteen/judge"
)

//go:embed assets pages
var files embed.FS

var templates = template.Must(template.ParseFS(files, "pages/*.html"))

func assetHandler() http.Handler {
	sub, err := fs.Sub(files, "assets")
	if err != nil {
		panic(err) // the folder is embedded
	}
	return http.FileServerFS(sub)
}

func renderPage(w io.Writer, frame frameView, name string, view any) error {
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, name, view); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	frame.Body = template.HTML(body.String())
	return templates.ExecuteTemplate(w, "frame", frame)
}

// WriteFile writes the judgement as one HTML file that needs nothing else: styles, script and the pictures of the pages
// are inside it. The document's bytes are needed to draw its pages.
func WriteFile(ctx context.Context, w io.Writer, desk *judge.Desk, j *judge.Judgement, data []byte) error {
	const dpi = 90
	var drawError error
	v := judgementView(j, func(n int) string {
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
	frame := frameView{Title: v.Product, Crumb: j.Sheet.Source.Name, Inline: true, CSS: template.CSS(css), JS: template.JS(js)}
	return renderPage(w, frame, "judgement", v)
}
