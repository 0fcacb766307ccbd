package web

import (
	"bytes"
	"fmt"
	"image/png"
	"net/http"
	"strconv"
	"strings"

	"sixteen/shelf"
)

const pageDPI = 110

// productView is the first page of a product: what it can do, what to wear, what the checks found.
type productView struct {
	Head     productHead
	J        judgementView
	Problems []problemView
	Trouble  string
	Upload   uploadView
}

func showProduct(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	if len(h.product.Parts) > 0 {
		return v.see("/kits/"+h.product.ID, "")
	}
	view := productView{Head: h.head(""), Upload: uploadView{Token: a.guard.Token(v.r), Product: h.product.ID, Title: "Drop the sheet of this product here"}}
	if h.judged != nil {
		m := newMarks()
		view.J = viewOf(h.judged, a.aCase(h.judged), m)
		for i := range view.J.Strip {
			view.J.Strip[i].Href = fmt.Sprintf("/products/%s/facts#section-%d", h.product.ID, i+1)
		}
		view.Problems = view.J.Problems
		view.J.Pages = m.pages(h.judged.Sheet.Source, pictureAddress(h.sheet), pageDPI)
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name, here: "shelf", name: "product", value: view})
}

// pictureAddress gives the address of the picture of page n; documents that are no PDF have none.
func pictureAddress(s shelf.Sheet) func(n int) string {
	return func(n int) string {
		if !strings.EqualFold(s.FileName[max(0, len(s.FileName)-4):], ".pdf") {
			return ""
		}
		return fmt.Sprintf("/sheets/%s/pages/%d.png", s.ID, n)
	}
}

// showPicture draws one page of a document. A document never changes under its address, so browsers may keep the picture.
func showPicture(a *App, v *visit) error {
	n, err := strconv.Atoi(strings.TrimSuffix(v.r.PathValue("page"), ".png"))
	if err != nil || n < 1 {
		return missing("There is no such page.")
	}
	s, err := a.shelf.Sheet(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return onShelf(err, "There is no such sheet on this shelf.")
	}
	_, data, err := a.shelf.OpenDocument(v.ctx(), s.Document)
	if err != nil {
		return err
	}
	img, err := a.desk.RenderPage(v.ctx(), data, n, pageDPI)
	if err != nil {
		return missing("This page could not be drawn: " + err.Error())
	}
	var buf bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&buf, img); err != nil {
		return err
	}
	v.w.Header().Set("Cache-Control", "private, max-age=86400")
	v.w.Header().Set("Content-Type", "image/png")
	_, _ = v.w.Write(buf.Bytes()) // the reader may have gone away; nothing is to be done then
	return nil
}

// showDocument sends the document as it was put on the shelf.
func showDocument(a *App, v *visit) error {
	s, err := a.shelf.Sheet(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return onShelf(err, "There is no such sheet on this shelf.")
	}
	d, data, err := a.shelf.OpenDocument(v.ctx(), s.Document)
	if err != nil {
		return err
	}
	sendFile(v, d.Name, kindOfFile(d.Name), data)
	return nil
}

// kindOfFile is the media type a document is sent with. Only PDF is shown by the browser; a page of HTML from elsewhere
// is saved, never opened under the address of this server.
func kindOfFile(name string) string {
	if strings.HasSuffix(strings.ToLower(name), ".pdf") {
		return "application/pdf"
	}
	return "application/octet-stream"
}

// sendFile sends a file under its name; PDF opens in the browser, everything else is saved.
func sendFile(v *visit, name, kind string, data []byte) {
	how := "attachment"
	if kind == "application/pdf" {
		how = "inline"
	}
	v.w.Header().Set("Content-Type", kind)
	v.w.Header().Set("Content-Disposition", how+`; filename="`+asciiName(name)+`"`)
	v.w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = v.w.Write(data) // the reader may have gone away; nothing is to be done then
}

// asciiName keeps of a file name what a header may hold.
func asciiName(name string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 || r > 0x7e || strings.ContainsRune(`"\/:*?<>|;`, r) {
			return '-'
		}
		return r
	}, name)
}

func showEmergency(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	settings, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	if h.judged == nil {
		view := emergencyView{Product: h.product.Name, Link: "/products/" + h.product.ID, Own: settings.CallWhom, Poison: settings.PoisonCentre, ToTell: []pair{{"Product", h.product.Name}}}
		for _, c := range aidCases() {
			view.Aids = append(view.Aids, aidWithout(c))
		}
		return a.show(v, http.StatusOK, screen{title: h.product.Name + ": what to do now", here: "shelf", name: "emergency", value: view})
	}
	view := emergencyOf(h.judged)
	view.Own, view.Poison, view.Spills = settings.CallWhom, settings.PoisonCentre, settings.Spills
	view.Product, view.Link, view.SheetURL = h.product.Name, "/products/"+h.product.ID, "/sheets/"+h.sheet.ID+"/document"
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": what to do now", here: "shelf", name: "emergency", value: view})
}
