package shelf_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
	"sixteen/shelf"
)

// waitRead waits until nothing waits to be read.
func waitRead(t testing.TB, s *shelf.Shelf) shelf.Progress {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 60*time.Second)
	defer cancel()
	var out shelf.Progress
	done := errors.New("done")
	err := s.Watch(ctx, 0, func(shelf.Entry) error {
		p, err := s.Progress(ctx)
		if err != nil {
			return err
		}
		if out = p; p.Waiting == 0 && len(p.Reading) == 0 {
			return done
		}
		return nil
	})
	if !errors.Is(err, done) {
		t.Fatalf("reading did not end: %+v, %v", out, err)
	}
	return out
}

func TestDocumentsAreReadInTheBackground(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		for i := range 6 {
			added := must(s.AddDocument(ctx, "ada", fmt.Sprintf("varnish-%d.pdf", i), tin(fmt.Sprintf("Varnish %d", i), "2024-05-01"), ""))(t)
			if added.Known || added.Sheet.State != shelf.Waiting {
				t.Errorf("document %d: %+v", i, added)
			}
		}
		must(s.AddDocument(ctx, "ada", "menu.pdf", []byte("leaflet of the canteen"), ""))(t)
		must(s.AddDocument(ctx, "ada", "scan.pdf", []byte("broken"), ""))(t)
		if again := must(s.AddDocument(ctx, "ben", "copy.pdf", tin("Varnish 3", "2024-05-01"), ""))(t); !again.Known {
			t.Error("the same document was taken twice")
		}
		if err := s.StartReading(ctx, 2); err != nil {
			t.Fatal(err)
		}
		if got := waitRead(t, s); got.Read != 6 || got.NoSheet != 1 || got.Failed != 1 {
			t.Errorf("the outcome is %+v", got)
		}
		list := must(s.Products(ctx, shelf.ProductFilter{}))(t)
		if list.Total != 6 {
			t.Fatalf("%d products", list.Total)
		}
		l := list.Items[0]
		if l.Name != "Varnish 0" || l.SupplierName != "Halyard & Keel Coatings" || l.InForce == nil || l.InForce.SignalWord != ghs.Warning || len(l.InForce.Pictograms) != 1 || l.InForce.Flammable != ghs.FlamLiq3 || l.ReviewDue != "2029-03-02" {
			t.Errorf("the first line is %+v with %+v", l.Product, l.InForce)
		}
		j, sh, err := s.JudgementOf(ctx, l.Sheet)
		if err != nil {
			t.Fatal(err)
		}
		if j.Sheet.Identification.ProductName.Value != "Varnish 0" || len(j.Report.Findings) == 0 || j.Report.Made == 0 {
			t.Errorf("the judgement holds %d findings of %q", len(j.Report.Findings), j.Sheet.Identification.ProductName.Value)
		}
		if n := len(j.Report.Findings); sh.Contradictions+sh.Gaps+sh.Doubts+sh.Notes != n {
			t.Errorf("counted %d %d %d %d of %d findings", sh.Contradictions, sh.Gaps, sh.Doubts, sh.Notes, n)
		}
	})
}

func TestNewRevisionIsComparedAndOutdatesPapers(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		must(s.AddDocument(ctx, "ada", "old.pdf", tin("Keel paint", "2021-01-01"), ""))(t)
		waitRead(t, s)
		product := must(s.Products(ctx, shelf.ProductFilter{}))(t).Items[0]
		other := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Thinner"}))(t)
		kit := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Keel set", Parts: []shelf.Part{{product.ID, "paint", 10}, {other.ID, "thinner", 1}}, PartsBy: "volume"}))(t)
		card := must(s.AddPaper(ctx, "ada", shelf.Paper{Sort: shelf.BenchCard, Title: "Keel paint", Product: product.ID, Sheet: product.Sheet}))(t)
		kitCard := must(s.AddPaper(ctx, "ada", shelf.Paper{Sort: shelf.BenchCard, Title: "Keel set", Product: kit.ID}))(t)
		must(s.Acknowledge(ctx, "ada", card.ID, "Ben"))(t)
		must(s.Acknowledge(ctx, "ada", card.ID, "Ben"))(t)
		if got := must(s.Acknowledgements(ctx, card.ID))(t); len(got) != 1 {
			t.Errorf("%d acknowledgements", len(got))
		}
		must(s.AddDocument(ctx, "ada", "new.pdf", tin("Keel Paint", "2025-01-01", "class: Skin Sens. 1", "code: H317"), ""))(t)
		waitRead(t, s)
		now := must(s.Product(ctx, product.ID))(t)
		revisions := must(s.Revisions(ctx, product.ID))(t)
		if len(revisions) != 2 || now.Sheet != revisions[0].ID || revisions[0].Supersedes != product.Sheet {
			t.Fatalf("in force %s of %d revisions: %+v", now.Sheet, len(revisions), revisions)
		}
		var says []string
		for _, c := range revisions[0].Changes {
			says = append(says, c.What+" "+string(c.Direction))
		}
		if !strings.Contains(strings.Join(says, ";"), "sterner") {
			t.Errorf("the changes are %v", says)
		}
		for _, id := range []string{card.ID, kitCard.ID} {
			if got := must(s.Paper(ctx, id))(t); got.Outdated.IsZero() || got.OutdatedBy != now.Sheet {
				t.Errorf("the paper %q is %+v", got.Title, got)
			}
		}
		// An older revision that arrives late is kept and does not come in force.
		must(s.AddDocument(ctx, "ada", "oldest.pdf", tin("Keel paint", "2019-01-01"), ""))(t)
		waitRead(t, s)
		if again := must(s.Product(ctx, product.ID))(t); again.Sheet != now.Sheet {
			t.Error("an older revision came in force")
		}
		if err := s.RetireSheet(ctx, "ada", now.Sheet, "wrong product"); err != nil {
			t.Fatal(err)
		}
		if again := must(s.Product(ctx, product.ID))(t); again.Sheet != product.Sheet {
			t.Error("after the newest was retired the one before is not in force")
		}
	})
}

func TestCorrectionsAndOverrulings(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		doc := must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t).Sheet.Document
		waitRead(t, s)
		id := must(s.Products(ctx, shelf.ProductFilter{}))(t).Items[0].Sheet
		const path = "identification.product_name"
		first := must(s.Correct(ctx, "ada", doc, path, []byte(`"Bilge paint grey"`), "the cover says grey", ""))(t)
		if got := must(s.Sheet(ctx, id))(t); got.Name != "Bilge paint grey" {
			t.Errorf("the summary says %q", got.Name)
		}
		var c *shelf.Conflict
		if _, err := s.Correct(ctx, "ben", doc, path, []byte(`"Bilge paint blue"`), "it is blue", ""); !errors.As(err, &c) || c.By != "ada" {
			t.Errorf("a second correction of the same fact gave %v", err)
		}
		must(s.Correct(ctx, "ben", doc, path, []byte(`"Bilge paint blue"`), "it is blue", first.ID))(t)
		if _, err := s.Correct(ctx, "ben", doc, "identification.nonsense", []byte(`"x"`), "why", ""); err == nil {
			t.Error("a fact that there is not was corrected")
		}
		if err := s.Uncorrect(ctx, "ben", doc, path); err != nil {
			t.Fatal(err)
		}
		j, before, err := s.JudgementOf(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		if got := j.Sheet.Identification.ProductName; got.Value != "Bilge paint grey" || len(got.Corrections) != 1 {
			t.Errorf("the fact is %+v", got)
		}
		const list = "hazards.statements.+"
		added := must(s.Correct(ctx, "ada", doc, list, []byte(`{"code":"H334"}`), "page 2", ""))(t)
		if _, err := s.Correct(ctx, "ben", doc, list, []byte(`{"code":"H335"}`), "page 2", ""); !errors.As(err, &c) {
			t.Errorf("a row added by somebody who did not see the last one gave %v", err)
		}
		j, _, err = s.JudgementOf(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		n := len(j.Sheet.Hazards.Statements) - 1
		if got := j.Sheet.Hazards.Statements[n]; got.Value.Code != "H334" || !got.Corrections[0].Added {
			t.Errorf("the added row is %+v", got)
		}
		on := fmt.Sprintf("hazards.statements.%d", n)
		must(s.Correct(ctx, "ada", doc, on, []byte(`{"code":"H317"}`), "read it again", ""))(t)
		var invalid *shelf.Invalid
		if err := s.Uncorrect(ctx, "ada", doc, list); !errors.As(err, &invalid) {
			t.Errorf("a row taken back under a correction of it gave %v", err)
		}
		must(added, s.Uncorrect(ctx, "ada", doc, on))(t)
		must(added, s.Uncorrect(ctx, "ada", doc, list))(t)
		j, _, err = s.JudgementOf(ctx, id)
		if err != nil || len(j.Sheet.Hazards.Statements) != n || len(j.Sheet.Problems) != 0 {
			t.Errorf("after it was taken back: %+v, %v, %v", j.Sheet.Hazards.Statements, j.Sheet.Problems, err)
		}
		finding := j.Report.Findings[0].ID
		must(s.Overrule(ctx, "ada", doc, finding, "seen on the tin"))(t)
		j, after, err := s.JudgementOf(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		if after.Overruled != before.Overruled+1 || j.Report.Findings[0].Overruled == nil || j.Report.Findings[0].Overruled.Why != "seen on the tin" {
			t.Errorf("overruled: %+v, %+v", after.Summary, j.Report.Findings[0])
		}
		if err := s.Reinstate(ctx, "ada", doc, finding); err != nil {
			t.Fatal(err)
		}
		if got := must(s.Sheet(ctx, id))(t); got.Overruled != 0 {
			t.Errorf("%d overruled after it was taken back", got.Overruled)
		}
		if err := s.Reinstate(ctx, "ada", doc, finding); err == nil {
			t.Error("taken back twice")
		}
	})
}

func TestCorruptedDocumentIsDetectedAndSaid(t *testing.T) {
	p := sqlitePlace(t)
	ctx, s := t.Context(), p.open(t)
	doc := must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t).Sheet.Document
	_, folder := s.Where()
	file := filepath.Join(folder, doc[:2], doc)
	if err := os.WriteFile(file, []byte("product: something else"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.OpenDocument(ctx, doc); !errors.Is(err, shelf.ErrCorrupted) {
		t.Errorf("a changed file gave %v", err)
	}
	if got := must(s.Damaged(ctx))(t); len(got) != 1 || got[0].Name != "a.pdf" {
		t.Errorf("damaged: %+v", got)
	}
	if err := s.StartReading(ctx, 1); err != nil {
		t.Fatal(err)
	}
	waitRead(t, s)
	sheets := must(s.Sheets(ctx, shelf.SheetFilter{}))(t)
	if got := sheets.Items[0]; got.State != shelf.Failed || !strings.Contains(got.Failure, "changed on the disk") {
		t.Errorf("the sheet is %s: %s", got.State, got.Failure)
	}
	must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t) // heals the file
	must(s.ReadAgain(ctx, "ada", sheets.Items[0].ID))(t)
	if got := waitRead(t, s); got.Read != 1 || got.Failed != 0 {
		t.Errorf("after it was added again: %+v", got)
	}
}

func TestReadingIsCancelled(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		must(s.AddDocument(ctx, "ada", "endless.pdf", []byte("endless"), ""))(t)
		for i := range 5 {
			must(s.AddDocument(ctx, "ada", "b.pdf", []byte(fmt.Sprintf("endless %d", i)), ""))(t)
		}
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		begun := errors.New("begun")
		if err := s.Watch(ctx, 0, func(e shelf.Entry) error {
			if e.What == "being read" {
				return begun
			}
			return nil
		}); !errors.Is(err, begun) {
			t.Fatal(err)
		}
		if n := must(s.CancelReading(ctx, "ada"))(t); n != 6 {
			t.Errorf("%d cancelled", n)
		}
		if got := waitRead(t, s); got.Stopped != 6 {
			t.Errorf("%+v", got)
		}
	})
}
