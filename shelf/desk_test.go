package shelf_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/read"
	"sixteen/sheet"
	"sixteen/shelf"
	"sixteen/substance"
)

// scripted is a desk that reads small invented texts of the form "key: value", so that tests of the shelf need no PDF.
type scripted struct{ table *substance.Table }

func fakeDesk(context.Context) (shelf.Desk, error) {
	table, err := judge.Substances()
	return scripted{table}, err
}

func (d scripted) Substances() *substance.Table { return d.table }
func (d scripted) Close() error                 { return nil }

func (d scripted) Read(ctx context.Context, name string, data []byte) (*sheet.Sheet, error) {
	if bytes.HasPrefix(data, []byte("leaflet")) {
		return nil, fmt.Errorf("read %s: %w: none of 16 section headings was found", name, read.ErrNotSheet)
	}
	if bytes.HasPrefix(data, []byte("broken")) {
		return nil, fmt.Errorf("read %s: %w", name, read.ErrNoText)
	}
	if bytes.HasPrefix(data, []byte("endless")) {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	s := &sheet.Sheet{Source: sheet.Source{Name: name, Format: "text", Kind: "text"}}
	text := func(v string) sheet.Fact[string] { return sheet.Fact[string]{State: sheet.Stated, Value: v} }
	for line := range strings.Lines(string(data)) {
		k, v, _ := strings.Cut(strings.TrimSpace(line), ": ")
		switch k {
		case "product":
			s.Identification.ProductName = text(v)
		case "supplier":
			s.Identification.Supplier = text(v)
		case "revised":
			s.Identification.RevisionDate = text(v)
		case "signal":
			w, _ := ghs.ParseSignalWord(v)
			s.Hazards.SignalWord = sheet.Fact[ghs.SignalWord]{State: sheet.Stated, Value: w}
		case "class":
			h, _ := ghs.ParseHazard(v)
			s.Hazards.Classified = sheet.Stated
			s.Hazards.Classification = append(s.Hazards.Classification, sheet.Fact[sheet.ClassStatement]{State: sheet.Stated, Value: sheet.ClassStatement{Hazard: h, Printed: v}})
		case "code":
			s.Hazards.Statements = append(s.Hazards.Statements, sheet.Fact[sheet.Statement]{State: sheet.Stated, Value: sheet.Statement{Code: ghs.Code(v)}})
		case "pictogram":
			p, _ := ghs.ParsePictogram(v)
			s.Hazards.Pictograms = append(s.Hazards.Pictograms, sheet.Fact[ghs.Pictogram]{State: sheet.Stated, Value: p})
		case "ingredient":
			name, cas, _ := strings.Cut(v, " | ")
			s.Composition.Ingredients = append(s.Composition.Ingredients, sheet.Ingredient{Name: text(name), CAS: text(cas)})
		}
	}
	return s, nil
}

// tin is the text of an invented sheet.
func tin(product, revised string, more ...string) []byte {
	return []byte("product: " + product + "\nsupplier: Halyard & Keel Coatings\nrevised: " + revised + "\nsignal: Warning\nclass: Flam. Liq. 3\ncode: H226\npictogram: GHS02\ningredient: xylene | 1330-20-7\n" + strings.Join(more, "\n"))
}
