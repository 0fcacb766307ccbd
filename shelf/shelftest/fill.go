package shelftest

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

// Load says how much Fill puts on a shelf.
type Load struct {
	Products int
	Sheets   int // at least as many as products; the further ones are older and newer revisions
	Places   int
	Seed     uint64
}

// Words of invented names.
var (
	first  = []string{"Tide", "Keel", "Halyard", "Rudder", "Cleat", "Capstan", "Bilge", "Spar", "Mizzen", "Fender", "Anchor", "Gunwale", "Oakum", "Tiller", "Sextant", "Lanyard", "Bowsprit", "Cutter", "Dinghy", "Ebb"}
	second = []string{"guard", "mark", "coat", "seal", "bond", "shine", "flow", "fast", "proof", "line", "gel", "tex", "film", "core", "dur", "clean"}
	third  = []string{"varnish", "resin", "hardener", "thinner", "primer", "filler", "adhesive", "antifouling", "topcoat", "cleaner", "wax", "catalyst", "sealant", "oil", "stripper", "gelcoat"}
)

// listed are ingredients with their CAS numbers, as every reference table has them.
var listed = [][2]string{
	{"xylene", "1330-20-7"}, {"acetone", "67-64-1"}, {"toluene", "108-88-3"}, {"ethanol", "64-17-5"}, {"styrene", "100-42-5"}, {"butanone", "78-93-3"},
	{"n-butyl acetate", "123-86-4"}, {"ethylbenzene", "100-41-4"}, {"propan-2-ol", "67-63-0"}, {"methanol", "67-56-1"}, {"formaldehyde", "50-00-0"}, {"n-hexane", "110-54-3"},
}

// name is the name of invented product i, different for each.
func name(i int) string {
	return fmt.Sprintf("%s%s %s %d", first[i%len(first)], second[i/len(first)%len(second)], third[i/len(first)/len(second)%len(third)], i)
}

// Fill puts invented products with sheets, places, amounts, questions and papers on a shelf, the same for the same seed, without
// reading a document: a few pattern sheets are judged, all others share their judgements. It is for measuring with many.
func Fill(ctx context.Context, s *shelf.Shelf, l Load) error {
	random := rand.New(rand.NewPCG(l.Seed, 16))
	patterns, err := patterns(ctx)
	if err != nil {
		return err
	}
	const batch = 250
	for from := 0; from < l.Sheets; from += batch {
		var documents []shelf.ReadDocument
		for i := from; i < min(from+batch, l.Sheets); i++ {
			documents = append(documents, document(i, l.Products, patterns[random.IntN(len(patterns))], random))
		}
		if _, err := s.AddRead(ctx, "load", documents); err != nil {
			return err
		}
	}
	return furnish(ctx, s, l, random)
}

// document is sheet i: of product i modulo the number of products.
func document(i, products int, pattern *judge.Judgement, random *rand.Rand) shelf.ReadDocument {
	j := *pattern
	facts := *pattern.Sheet
	text := func(v string) sheet.Fact[string] { return sheet.Fact[string]{State: sheet.Stated, Value: v} }
	facts.Identification.ProductName = text(name(i % products))
	facts.Identification.Supplier = text("Invented supplier " + fmt.Sprint(i%products%211))
	facts.Identification.RevisionDate = text(time.Date(2015+i/products*3+random.IntN(3), time.Month(1+random.IntN(12)), 1+random.IntN(28), 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
	j.Sheet = &facts
	return shelf.ReadDocument{Name: fmt.Sprintf("sheet-%d.pdf", i), Data: fmt.Appendf(nil, "invented sheet %d", i), Facts: &facts, Judgement: &j}
}

// patterns are judged sheets of about the size of real ones.
func patterns(ctx context.Context) ([]*judge.Judgement, error) {
	table, err := judge.Substances()
	if err != nil {
		return nil, err
	}
	classes := [][]ghs.Hazard{{ghs.FlamLiq2}, {ghs.FlamLiq3}, {ghs.FlamLiq1, ghs.FlamLiq3}, {}, {ghs.OrgPeroxD}, {ghs.FlamLiq4}}
	var out []*judge.Judgement
	for i := range 12 {
		s := &sheet.Sheet{Source: sheet.Source{Name: "pattern.pdf", Format: "pdf", Kind: "text"}}
		s.Language = sheet.Fact[ghs.Lang]{State: sheet.Stated, Value: ghs.English}
		s.Hazards.Classified = sheet.Stated
		for _, h := range classes[i%len(classes)] {
			s.Hazards.Classification = append(s.Hazards.Classification, sheet.Fact[sheet.ClassStatement]{State: sheet.Stated, Value: sheet.ClassStatement{Hazard: h, Printed: h.String()}})
		}
		s.Hazards.SignalWord = sheet.Fact[ghs.SignalWord]{State: sheet.Stated, Value: ghs.Warning}
		for _, p := range ghs.Pictograms()[i%3 : i%3+2] {
			s.Hazards.Pictograms = append(s.Hazards.Pictograms, sheet.Fact[ghs.Pictogram]{State: sheet.Stated, Value: p})
		}
		for _, c := range []ghs.Code{"H225", "H226", "H315", "H317", "H319", "H336"}[i%4 : i%4+2] {
			s.Hazards.Statements = append(s.Hazards.Statements, sheet.Fact[sheet.Statement]{State: sheet.Stated, Value: sheet.Statement{Code: c}})
		}
		for k := range 4 {
			of := listed[(i+k*5)%len(listed)]
			s.Composition.Ingredients = append(s.Composition.Ingredients, sheet.Ingredient{
				Name: sheet.Fact[string]{State: sheet.Stated, Value: of[0]}, CAS: sheet.Fact[string]{State: sheet.Stated, Value: of[1]},
				Percent: sheet.Fact[sheet.Quantity]{State: sheet.Stated, Value: sheet.Quantity{Interval: sheet.Between(5, 20), Unit: "%", Printed: "5 - 20 %"}},
			})
		}
		for n := 1; n <= 16; n++ {
			s.Sections[n].Found = true
			for k := range 24 {
				s.Sections[n].Text = append(s.Sections[n].Text, sheet.Line{Text: fmt.Sprintf("Line %d of section %d of the pattern %d, as long as lines of sheets are", k, n, i), Page: 1 + n/3, Box: sheet.Rect{X0: 56.7, Y0: float64(40 + 11*k), X1: 538.1, Y1: float64(50 + 11*k)}})
			}
		}
		j, err := judge.JudgeSheet(ctx, s, table, judge.Request{Now: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	return out, nil
}

// furnish puts places, amounts, questions and papers on a shelf with products.
func furnish(ctx context.Context, s *shelf.Shelf, l Load, random *rand.Rand) error {
	var places []shelf.Place
	for i := range l.Places {
		p := shelf.Place{Name: fmt.Sprintf("Place %d", i), Sort: shelf.Cupboard, Limits: shelf.LimitAt(shelf.Cupboard)}
		if i%5 == 0 {
			p.Sort, p.Limits = shelf.Room, shelf.LimitAt(shelf.Room)
		} else {
			p.Within = places[i/5*5].ID
		}
		p, err := s.AddPlace(ctx, "load", p)
		if err != nil {
			return err
		}
		places = append(places, p)
	}
	for offset := 0; offset < l.Products; offset += 1000 {
		page, err := s.Products(ctx, shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: 1000, Offset: offset}})
		if err != nil {
			return err
		}
		for _, p := range page.Items {
			if err := furnishOne(ctx, s, p, places, random); err != nil {
				return err
			}
		}
	}
	return nil
}

func furnishOne(ctx context.Context, s *shelf.Shelf, p shelf.ProductLine, places []shelf.Place, random *rand.Rand) error {
	if len(places) > 0 {
		amount := float64(random.IntN(400)) / 20
		if _, err := s.AddStock(ctx, "load", shelf.Stock{Product: p.ID, Place: places[random.IntN(len(places))].ID, Amount: &amount, Unit: []string{"l", "kg"}[random.IntN(2)]}); err != nil {
			return err
		}
	}
	if random.IntN(10) == 0 {
		if _, err := s.AddQuestion(ctx, "load", shelf.Question{Product: p.ID, Sheet: p.Sheet, Supplier: p.Supplier, Text: "Which share is it exactly?"}); err != nil {
			return err
		}
	}
	if random.IntN(5) == 0 {
		if _, err := s.AddPaper(ctx, "load", shelf.Paper{Sort: shelf.WorkplaceLabel, Title: p.Name, Product: p.ID, Sheet: p.Sheet, Options: json.RawMessage(`{}`)}); err != nil {
			return err
		}
	}
	return nil
}
