package web

import (
	"bytes"
	"context"
	"io"

	"sixteen/shelf"
)

// export sends the register in one of its forms, named by the end of the address.
func export(a *App, v *visit) error {
	forms := map[string]struct {
		media string
		write func(*shelf.Shelf, context.Context, io.Writer) error
	}{
		"json": {"application/json", (*shelf.Shelf).ExportJSON},
		"csv":  {"text/csv; charset=utf-8", (*shelf.Shelf).ExportCSV},
		"xlsx": {"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", (*shelf.Shelf).ExportXLSX},
		"ics":  {"text/calendar; charset=utf-8", (*shelf.Shelf).ExportCalendar},
	}
	kind := v.r.PathValue("kind")
	form, ok := forms[kind]
	if !ok {
		return missing("The register is exported as JSON, CSV, XLSX and as a calendar.")
	}
	var b bytes.Buffer
	if err := form.write(a.shelf, v.ctx(), &b); err != nil {
		return err
	}
	sendFile(v, "shelf-"+a.now().Format("2006-01-02")+"."+kind, form.media, b.Bytes())
	return nil
}
