package shelf_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
	"sixteen/shelf"
)

const keelThinner = `product: Keel Thinner
form: liquid
rules: [eu-clp, us-hcs-2024]
ingredients:
  - sheet: Keel solvent
    percent: 5
  - cas: 123-86-4
    percent: rest
measured: {flash_point: {value: 27, cup: closed}, boiling_point: {value: 126}}
`

// A blend is kept with the sheets it was worked out with; a new revision of one of them, and a corrected fact, mark it; worked
// out again it has the classes of the new sheet, and the revisions before stay readable.
func TestBlendsAreKeptAndWorkedOutAgainWhenASheetChanges(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		if _, err := s.AddBlend(ctx, "ada", keelThinner, ""); err == nil || !strings.Contains(err.Error(), "Put the supplier's sheet on the shelf") {
			t.Errorf("a sheet that is not on the shelf: %v", err)
		}
		must(s.AddDocument(ctx, "ada", "solvent.pdf", tin("Keel solvent", "2021-01-01"), ""))(t)
		waitRead(t, s)
		product := must(s.Products(ctx, shelf.ProductFilter{}))(t).Items[0]
		b := must(s.AddBlend(ctx, "ada", keelThinner, "first batch"))(t)
		if b.Name != "Keel Thinner" || b.Revision != 1 || len(b.Uses) != 1 || b.Uses[0].Product != product.ID || b.Uses[0].Sheet != product.Sheet || !b.Redo.IsZero() {
			t.Errorf("kept: %+v", b)
		}
		if eu := b.Classes[ghs.EUCLP]; !slices.Contains(eu, "Flam. Liq. 3") || slices.ContainsFunc(eu, func(c string) bool { return strings.HasPrefix(c, "Skin Sens") }) {
			t.Errorf("classes: %v", b.Classes)
		}
		if _, err := s.AddBlend(ctx, "ada", keelThinner, ""); err == nil || !strings.Contains(err.Error(), "already") {
			t.Errorf("twice: %v", err)
		}
		if found := must(s.Search(ctx, "keel thinner", 10))(t); !slices.ContainsFunc(found, func(h shelf.Found) bool { return h.Kind == shelf.BlendKind && h.ID == b.ID }) {
			t.Errorf("the search finds %+v", found)
		}

		// A sheet of another product changes nothing; a new revision of this one does.
		must(s.AddDocument(ctx, "ada", "other.pdf", tin("Other paint", "2024-01-01"), ""))(t)
		waitRead(t, s)
		if b = must(s.Blend(ctx, b.ID))(t); !b.Redo.IsZero() {
			t.Errorf("marked by another product's sheet: %v", b.RedoWhy)
		}
		p.clock.at = p.clock.at.Add(24 * time.Hour)
		must(s.AddDocument(ctx, "ada", "solvent-2.pdf", tin("Keel solvent", "2025-01-01", "class: Skin Sens. 1", "code: H317"), ""))(t)
		waitRead(t, s)
		b = must(s.Blend(ctx, b.ID))(t)
		if b.Redo.IsZero() || len(b.RedoWhy) != 1 || !strings.Contains(b.RedoWhy[0], "Keel solvent") || b.Revision != 1 {
			t.Errorf("after a new revision: %+v", b)
		}
		due := must(s.Due(ctx, p.clock.at))(t)
		if due.Total[shelf.BlendOutdated] != 1 || !slices.ContainsFunc(due.Items, func(d shelf.Due) bool { return d.Kind == shelf.BlendKind && d.ID == b.ID && d.Day == "2026-03-03" }) {
			t.Errorf("due: %+v", due)
		}
		b = must(s.RedoBlend(ctx, "ben", b.ID, b.Version))(t)
		if !b.Redo.IsZero() || b.Revision != 2 || !slices.ContainsFunc(b.Classes[ghs.EUCLP], func(c string) bool { return strings.HasPrefix(c, "Skin Sens. 1") }) {
			t.Errorf("worked out again: %+v", b)
		}

		// A corrected fact marks it too.
		if _, err := s.Correct(ctx, "ada", must(s.Sheet(ctx, b.Uses[0].Sheet))(t).Document, "identification.product_name", []byte(`"Keel solvent"`), "as printed", ""); err != nil {
			t.Fatal(err)
		}
		if got := must(s.Blend(ctx, b.ID))(t); got.Redo.IsZero() || !strings.Contains(got.RedoWhy[0], "corrected") {
			t.Errorf("after a correction: %+v", got)
		}

		// Revising: on the version that was seen, and with what was changed.
		var conflict *shelf.Conflict
		if _, err := s.ReviseBlend(ctx, "ben", b.ID, b.Version, keelThinner, "more"); !errors.As(err, &conflict) {
			t.Errorf("on an older version: %v", err)
		}
		b = must(s.Blend(ctx, b.ID))(t)
		if _, err := s.ReviseBlend(ctx, "ben", b.ID, b.Version, keelThinner, " "); err == nil || !strings.Contains(err.Error(), "changed") {
			t.Errorf("without a note: %v", err)
		}
		if _, err := s.ReviseBlend(ctx, "ben", b.ID, b.Version, "product: Keel Thinner\n", "empty"); err == nil || !strings.Contains(err.Error(), "no ingredients") {
			t.Errorf("without ingredients: %v", err)
		}
		b = must(s.ReviseBlend(ctx, "ben", b.ID, b.Version, strings.Replace(keelThinner, "percent: 5", "percent: 0.5", 1), "solvent lowered"))(t)
		history := must(s.BlendRevisions(ctx, b.ID))(t)
		var says []string
		for _, h := range history {
			says = append(says, h.By+" "+h.What+": "+h.Note)
		}
		if len(history) != 3 || history[0].Revision != 3 || history[2].Recipe != keelThinner || history[2].Uses[0].Sheet != product.Sheet || says[0] != "ben revised: solvent lowered" || !strings.HasPrefix(says[1], "ben worked out again: sheets in force: another sheet of Keel solvent") || says[2] != "ada added: first batch" {
			t.Errorf("history: %v", says)
		}
		if slices.ContainsFunc(b.Classes[ghs.EUCLP], func(c string) bool { return strings.HasPrefix(c, "Skin Sens") }) {
			t.Errorf("0.5 %% of a product with a sensitiser below 1 %%: %v", b.Classes)
		}
		if err := s.RetireBlend(ctx, "ada", b.ID, "no longer sold"); err != nil {
			t.Fatal(err)
		}
		if all := must(s.Blends(ctx))(t); len(all) != 0 {
			t.Errorf("%d blends after the last was retired", len(all))
		}
		if got := must(s.BlendRevisions(ctx, b.ID))(t); len(got) != 3 {
			t.Errorf("%d revisions of a retired blend", len(got))
		}
	})
}

// A blend goes to another store and back without a difference.
func TestBlendsMove(t *testing.T) {
	ctx, a, b := t.Context(), sqlitePlace(t).open(t), sqlitePlace(t).open(t)
	if cluster != nil {
		b = postgresPlace(t).open(t)
	}
	kept := must(a.AddBlend(ctx, "ada", "product: Plain Thinner\nform: liquid\ningredients: [{cas: 123-86-4, percent: 100}]\n", ""))(t)
	must(shelf.Move(ctx, a, b))(t)
	if diff := must(shelf.Compare(ctx, a, b))(t); len(diff) != 0 {
		t.Errorf("%+v", diff)
	}
	if got := must(b.Blend(ctx, kept.ID))(t); got.Recipe != kept.Recipe || len(got.Classes) != len(kept.Classes) {
		t.Errorf("%+v", got)
	}
}

// keelBlend is a blend of the workshop that furnish fills.
const keelBlend = "product: Keel Primer\nform: liquid\nrules: [eu-clp]\ningredients: [{sheet: ümläut \u2028.pdf, percent: 40}, {cas: 123-86-4, percent: rest}]\n"
