package shelf_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"sixteen/shelf"
)

func TestFolderIsImported(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		dir := t.TempDir()
		for name, data := range map[string]string{"a.pdf": "one", "deep/er/b.PDF": "two", "deep/notes.md": "no", ".hidden.pdf": "no", "copy.pdf": "one"} {
			file := filepath.Join(dir, filepath.FromSlash(name))
			if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, []byte(data), 0o644)); err != nil {
				t.Fatal(err)
			}
		}
		if err := os.Symlink("/etc/passwd", filepath.Join(dir, "link.pdf")); err != nil {
			t.Fatal(err)
		}
		var got []shelf.Imported
		if err := s.ImportFolder(ctx, "ada", dir, func(i shelf.Imported) { got = append(got, i) }); err != nil {
			t.Fatal(err)
		}
		if len(got) != 3 || got[0].Known || !got[1].Known || got[2].Failure != "" {
			t.Errorf("%+v", got)
		}
		if err := s.ImportFolder(ctx, "ada", filepath.Join(dir, "none"), func(shelf.Imported) {}); err == nil {
			t.Error("a folder that there is not was imported")
		}
	})
}

func archive(t testing.TB, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range files {
		w := must(z.Create(name))(t)
		must(w.Write(data))(t)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestArchiveIsImportedAndHarmfulOnesAreRefused(t *testing.T) {
	ctx, s := t.Context(), sqlitePlace(t).open(t)
	take := func(raw []byte) ([]shelf.Imported, error) {
		var got []shelf.Imported
		err := s.ImportArchive(ctx, "ada", bytes.NewReader(raw), int64(len(raw)), func(i shelf.Imported) { got = append(got, i) })
		return got, err
	}
	got, err := take(archive(t, map[string][]byte{"x/a.pdf": []byte("one"), "b.txt": []byte("two"), "x/": nil, "__MACOSX/._a.pdf": []byte("no"), "picture.png": []byte("no")}))
	if err != nil || len(got) != 2 {
		t.Errorf("%+v, %v", got, err)
	}
	before := must(s.Seq(ctx))(t)
	for name, raw := range map[string][]byte{
		"a path upwards":     archive(t, map[string][]byte{"ok.pdf": []byte("z"), "../../etc/cron.d/x.pdf": []byte("x")}),
		"an absolute path":   archive(t, map[string][]byte{"/etc/x.pdf": []byte("x")}),
		"a path of Windows":  archive(t, map[string][]byte{`..\..\x.pdf`: []byte("x")}),
		"a bomb":             archive(t, map[string][]byte{"bomb.pdf": make([]byte, 300<<20)}),
		"no archive":         []byte("hello"),
		"an archive cut off": archive(t, map[string][]byte{"a.pdf": bytes.Repeat([]byte("abc"), 1000)})[:60],
	} {
		var invalid *shelf.Invalid
		if _, err := take(raw); !errors.As(err, &invalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if after := must(s.Seq(ctx))(t); after != before {
		t.Error("a refused archive left something")
	}
}

func TestListIsImportedWithErrorsPerLine(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		list := "\ufeffProdukt;Lieferant;Lagerort;Menge;Bemerkung\n" +
			"Deck oil;Halyard & Keel;Shed;2,5 l;=1+1\n" +
			"Deck oil;Halyard & Keel;Loft;1 kg;\n" +
			";Halyard & Keel;Shed;1 l;\n" +
			"Resin;;Shed;some;\n" +
			"Resin;;Shed;3;\n" +
			"Resin;;;;\n"
		var got []shelf.Imported
		if err := s.ImportList(ctx, "ada", strings.NewReader(list), nil, func(i shelf.Imported) { got = append(got, i) }); err != nil {
			t.Fatal(err)
		}
		var failed []string
		for _, i := range got {
			if i.Failure != "" {
				failed = append(failed, i.Name)
			}
		}
		if len(got) != 6 || strings.Join(failed, ",") != "line 4,line 5,line 6" || !got[1].Known || got[0].Product != got[1].Product {
			t.Errorf("%+v", got)
		}
		if n := len(must(s.Stock(ctx, shelf.StockFilter{}))(t)); n != 2 {
			t.Errorf("%d amounts", n)
		}
		if n := len(must(s.Places(ctx))(t)); n != 2 {
			t.Errorf("%d places: a line with a mistake made one", n)
		}
		var invalid *shelf.Invalid
		if err := s.ImportList(ctx, "ada", strings.NewReader("a,b\n1,2\n"), nil, func(shelf.Imported) {}); !errors.As(err, &invalid) {
			t.Errorf("a list without names: %v", err)
		}
		if err := s.ImportList(ctx, "ada", strings.NewReader("a,b\n1,2\n"), []shelf.ListColumn{"", shelf.ListName}, func(i shelf.Imported) { got = append(got, i) }); err != nil || got[6].Failure != "" {
			t.Errorf("a list with named columns: %v, %+v", err, got[6])
		}
	})
}

func TestExportsHoldNoFormulas(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		furnish(t, s)
		evil := []string{"=HYPERLINK(\"http://x\")", "+1+2", "-1+cmd|' /C calc'!A0", "@SUM(1)", "\t=1"}
		for _, e := range evil {
			must(s.AddProduct(ctx, "ada", shelf.Product{Name: "x", Note: e}))(t)
		}
		var b bytes.Buffer
		if err := s.ExportCSV(ctx, &b); err != nil {
			t.Fatal(err)
		}
		rows := must(csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff"))).ReadAll())(t)
		if len(rows) != 2+len(evil) {
			t.Fatalf("%d rows", len(rows))
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsRune("=+-@\t", rune(cell[0])) {
					t.Errorf("a cell begins %q", cell)
				}
			}
		}
		b.Reset()
		if err := s.ExportXLSX(ctx, &b); err != nil {
			t.Fatal(err)
		}
		f := must(excelize.OpenReader(&b))(t)
		defer f.Close()
		table := must(f.GetRows("Register"))(t)
		if len(table) != len(rows) || !strings.Contains(strings.Join(table[1], "|"), "Keel paint") || !strings.Contains(table[1][4], "Steel cupboard: 2.5 l") {
			t.Errorf("the spreadsheet has %d rows: %v", len(table), table[1])
		}
		for i := range table {
			for j := range table[i] {
				cell := must(excelize.CoordinatesToCellName(j+1, i+1))(t)
				if formula := must(f.GetCellFormula("Register", cell))(t); formula != "" {
					t.Errorf("%s is the formula %q", cell, formula)
				}
			}
		}
		b.Reset()
		if err := s.ExportJSON(ctx, &b); err != nil {
			t.Fatal(err)
		}
		var all struct {
			Products []shelf.ProductLine
			Places   []shelf.Place
		}
		if err := json.Unmarshal(b.Bytes(), &all); err != nil || len(all.Products) != 1+len(evil) || len(all.Places) != 3 {
			t.Errorf("the JSON holds %d products, %v", len(all.Products), err)
		}
	})
}

// Content lines end in CRLF and have at most 75 octets; commas and semicolons of texts are escaped (RFC 5545 sections 3.1, 3.3.11).
func TestCalendarOfReviews(t *testing.T) {
	ctx, s := t.Context(), sqlitePlace(t).open(t)
	must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Größter Bootslack, zweikomponentig; " + strings.Repeat("sehr ", 20) + "lang", ReviewDue: "2026-12-31"}))(t)
	var b bytes.Buffer
	if err := s.ExportCalendar(ctx, &b); err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(b.String(), "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("line of %d octets: %q", len(line), line)
		}
	}
	whole := strings.ReplaceAll(b.String(), "\r\n ", "")
	for _, want := range []string{"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", "DTSTART;VALUE=DATE:20261231\r\nDTEND;VALUE=DATE:20270101\r\n", `Größter Bootslack\, zweikomponentig\; sehr `, "DTSTAMP:20260302T090000Z"} {
		if !strings.Contains(whole, want) {
			t.Errorf("no %q in %s", want, whole)
		}
	}
}
