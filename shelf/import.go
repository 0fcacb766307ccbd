package shelf

import (
	"archive/zip"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"sixteen/judge"
)

// Bounds of an import.
const (
	mostFiles    = 20_000
	mostUnpacked = 8 << 30 // bytes of all files of one archive
	mostRatio    = 200     // unpacked to packed, for files above ratioFrom
	ratioFrom    = 1 << 20
	mostLines    = 100_000
)

// Imported is what became of one file or line of an import.
type Imported struct {
	Name    string `json:"name"`            // of the file, or "line 7"
	Sheet   string `json:"sheet,omitempty"` // ID
	Product string `json:"product,omitempty"`
	Known   bool   `json:"known,omitempty"` // it was there already
	Failure string `json:"failure,omitempty"`
}

// documentEndings are the endings of the names of files that are taken from folders and archives.
func documentEndings() []string { return []string{".pdf", ".txt", ".html", ".htm", ".docx"} }

func isDocument(name string) bool {
	return !strings.HasPrefix(path.Base(name), ".") && slices.Contains(documentEndings(), strings.ToLower(path.Ext(name)))
}

// ImportFolder puts every document in a folder, and in the folders within it, on the shelf. Links are not followed. f is told of
// each file; one that cannot be taken stops nothing.
func (s *Shelf) ImportFolder(ctx context.Context, by, folder string, f func(Imported)) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return &Invalid{What: "The folder " + folder + " cannot be opened.", Do: "Check its name and that you may read it."}
	}
	defer root.Close()
	n := 0
	return fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			f(Imported{Name: name, Failure: sentence(err)})
			return nil
		}
		if !d.Type().IsRegular() || !isDocument(name) {
			return ctx.Err()
		}
		if n++; n > mostFiles {
			return &Invalid{What: fmt.Sprintf("The folder has more than %d documents.", mostFiles), Do: "Import its folders one by one."}
		}
		file, err := root.Open(name)
		if err != nil {
			f(Imported{Name: name, Failure: sentence(err)})
			return nil
		}
		defer file.Close()
		return s.importOne(ctx, by, name, file, f)
	})
}

// ImportArchive puts every document in a ZIP file on the shelf. It fails with *Invalid, before anything is taken, for an archive
// with names that lead out of a folder, with too many files, or that unpacks to far more than its size.
func (s *Shelf) ImportArchive(ctx context.Context, by string, r io.ReaderAt, size int64, f func(Imported)) error {
	z, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return &Invalid{What: "This is no ZIP file, or not all of it.", Do: "Pack the documents again, or import the folder."}
	}
	if err := checkArchive(z, size); err != nil {
		return err
	}
	for _, file := range z.File {
		if file.FileInfo().IsDir() || !isDocument(file.Name) {
			continue
		}
		in, err := file.Open()
		if err != nil {
			f(Imported{Name: file.Name, Failure: "It cannot be unpacked: " + err.Error() + "."})
			continue
		}
		err = s.importOne(ctx, by, file.Name, in, f)
		in.Close()
		if err != nil {
			return err
		}
	}
	return nil
}

// checkArchive refuses archives that are made to harm, by what their directory says; importOne bounds what they really hold.
func checkArchive(z *zip.Reader, size int64) error {
	if len(z.File) > mostFiles {
		return &Invalid{What: fmt.Sprintf("The archive has %d files.", len(z.File)), Do: fmt.Sprintf("Pack at most %d into one.", mostFiles)}
	}
	var total uint64
	for _, file := range z.File {
		name := strings.ReplaceAll(file.Name, `\`, "/")
		if !filepath.IsLocal(filepath.FromSlash(strings.TrimSuffix(name, "/"))) || strings.ContainsRune(name, 0) {
			return &Invalid{What: fmt.Sprintf("The archive has a file named %q, which leads out of its folder.", file.Name), Do: "Do not use this archive. Ask whoever sent it, and import the documents one by one."}
		}
		total += file.UncompressedSize64
		if file.UncompressedSize64 > ratioFrom && file.UncompressedSize64/max(file.CompressedSize64, 1) > mostRatio {
			return &Invalid{What: fmt.Sprintf("%s unpacks to more than %d times its size, as no document does.", file.Name, mostRatio), Do: "Do not use this archive. Import the documents one by one."}
		}
	}
	if total > mostUnpacked {
		return &Invalid{What: fmt.Sprintf("The archive unpacks to %d GB.", total>>30), Do: fmt.Sprintf("Pack at most %d GB into one.", mostUnpacked>>30)}
	}
	return nil
}

// importOne takes one document of an import. Only an end of the whole import is an error.
func (s *Shelf) importOne(ctx context.Context, by, name string, r io.Reader, f func(Imported)) error {
	out := Imported{Name: name}
	data, err := io.ReadAll(io.LimitReader(r, judge.MaxDocumentBytes+1))
	if err == nil {
		var added Added
		added, err = s.AddDocument(ctx, by, name, data, "")
		out.Sheet, out.Product, out.Known = added.Sheet.ID, added.Sheet.Product, added.Known
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		out.Failure = sentence(err)
	}
	f(out)
	return nil
}

// ListColumn is what a column of a list of products holds.
type ListColumn string

// Columns of a list.
const (
	ListName     ListColumn = "name"
	ListCode     ListColumn = "code"
	ListSupplier ListColumn = "supplier"
	ListUsedFor  ListColumn = "used for"
	ListPlace    ListColumn = "place"
	ListAmount   ListColumn = "amount" // a number, or a number with a unit
	ListUnit     ListColumn = "unit"
	ListBatch    ListColumn = "batch"
	ListOpened   ListColumn = "opened"
	ListExpires  ListColumn = "expires"
	ListNote     ListColumn = "note"
)

// listWords are the headings that are understood for each column, folded.
func listWords() map[ListColumn][]string {
	return map[ListColumn][]string{
		ListName:     {"name", "product", "product name", "produkt", "produktname", "produit", "nom", "producto", "nombre"},
		ListCode:     {"code", "article", "article number", "item", "sku", "artikelnummer", "référence", "reference", "código"},
		ListSupplier: {"supplier", "maker", "manufacturer", "lieferant", "hersteller", "fournisseur", "proveedor"},
		ListUsedFor:  {"used for", "use", "purpose", "verwendung", "usage", "uso"},
		ListPlace:    {"place", "location", "room", "cupboard", "ort", "lagerort", "lieu", "lugar"},
		ListAmount:   {"amount", "quantity", "qty", "menge", "quantité", "cantidad"},
		ListUnit:     {"unit", "einheit", "unité", "unidad"},
		ListBatch:    {"batch", "lot", "charge", "lote"},
		ListOpened:   {"opened", "geöffnet", "ouvert", "abierto"},
		ListExpires:  {"expires", "expiry", "best before", "haltbar bis", "péremption", "caducidad"},
		ListNote:     {"note", "notes", "remark", "bemerkung", "remarque", "nota"},
	}
}

// GuessColumns tells what each column of a list holds by its headings; "" where that is not understood.
func GuessColumns(headings []string) []ListColumn {
	out := make([]ListColumn, len(headings))
	for i, h := range headings {
		h = folded(strings.TrimPrefix(h, "\ufeff"))
		for column, known := range listWords() {
			for _, w := range known {
				if folded(w) == h && !slices.Contains(out, column) {
					out[i] = column
				}
			}
		}
	}
	return out
}

// ListHeadings are the headings of a CSV list. It fails with *Invalid.
func ListHeadings(raw []byte) ([]string, error) {
	headings, err := listReader(raw).Read()
	if err != nil {
		return nil, &Invalid{What: "The list is empty or is no CSV.", Do: "Save the table as CSV with headings in the first line."}
	}
	return headings, nil
}

// listReader reads a list with the separator it uses.
func listReader(raw []byte) *csv.Reader {
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(strings.ToValidUTF8(string(raw), "\uFFFD"), "\ufeff")))
	in.Comma = separatorOf(string(raw))
	in.FieldsPerRecord = -1
	in.LazyQuotes = true
	return in
}

// ImportList adds the products of a CSV list (comma, semicolon or tab; the first line has the headings). columns says what each
// column holds, "" for one that is left out; nil guesses from the headings. A product that is there already, by name and supplier,
// is not added again; places and suppliers are made when they are not there. Each line is taken whole or not at all, and f is told
// of it; a line with a mistake stops nothing. It fails with *Invalid when no column holds the name.
func (s *Shelf) ImportList(ctx context.Context, by string, r io.Reader, columns []ListColumn, f func(Imported)) error {
	raw, err := io.ReadAll(io.LimitReader(r, 64<<20))
	if err != nil {
		return err
	}
	in := listReader(raw)
	headings, err := in.Read()
	if err != nil {
		return &Invalid{What: "The list is empty or is no CSV.", Do: "Save the table as CSV with headings in the first line."}
	}
	if columns == nil {
		columns = GuessColumns(headings)
	}
	if !slices.Contains(columns, ListName) {
		return &Invalid{What: fmt.Sprintf("No column holds the product's name; the headings are %s.", strings.Join(headings, ", ")), Do: "Name that column \"name\", or say which one it is."}
	}
	for n := 0; ; n++ {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		line, _ := in.FieldPos(0)
		out := Imported{Name: "line " + strconv.Itoa(line)}
		switch {
		case n >= mostLines:
			return &Invalid{What: fmt.Sprintf("The list has more than %d lines.", mostLines), Do: "Import it in parts."}
		case err != nil:
			out.Failure = sentence(err)
		default:
			if err := s.importLine(ctx, by, record, columns, &out); ctx.Err() != nil {
				return ctx.Err()
			} else if err != nil {
				out.Failure = sentence(err)
			}
		}
		f(out)
	}
}

// separatorOf is the separator that the first line of a list uses most.
func separatorOf(raw string) rune {
	first, _, _ := strings.Cut(raw, "\n")
	best, most := ',', 0
	for _, c := range ",;\t" {
		if n := strings.Count(first, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

func (s *Shelf) importLine(ctx context.Context, by string, record []string, columns []ListColumn, out *Imported) error {
	v := map[ListColumn]string{}
	for i, c := range columns {
		if c != "" && i < len(record) {
			v[c] = strings.TrimSpace(record[i])
		}
	}
	if v[ListName] == "" {
		return &Invalid{What: "The name is empty.", Do: "Give the product's name, or take the line out."}
	}
	st, has, err := stockOfLine(v)
	if err != nil {
		return err
	}
	return s.change(ctx, by, func(x *change) error {
		p := Product{Name: v[ListName], Code: v[ListCode], UsedFor: v[ListUsedFor], Note: v[ListNote]}
		var err error
		if p.Supplier, err = x.supplierNamed(ctx, v[ListSupplier]); err != nil {
			return err
		}
		same, err := loadAll[Product](ctx, x, "WHERE t.folded = ? AND t.retired = '' AND (COALESCE(t.supplier_id, '') = ? OR ? = '') ORDER BY t.seq LIMIT 1", folded(p.Name), p.Supplier, p.Supplier)
		if err != nil {
			return err
		}
		if out.Known = len(same) > 0; out.Known {
			p = same[0]
		} else if err := x.insert(ctx, &p, "from a list"); err != nil {
			return err
		}
		out.Product = p.ID
		if !has {
			return nil
		}
		if st.Place, err = x.placeNamed(ctx, v[ListPlace]); err != nil {
			return err
		}
		st.Product = p.ID
		return x.insert(ctx, &st, "from a list")
	})
}

// stockOfLine is what a line says of an amount; has is false when it names no place.
func stockOfLine(v map[ListColumn]string) (st Stock, has bool, err error) {
	if v[ListPlace] == "" {
		if v[ListAmount] != "" {
			return st, false, &Invalid{What: "There is an amount and no place.", Do: "Say where it stands."}
		}
		return st, false, nil
	}
	st = Stock{Batch: v[ListBatch], Opened: v[ListOpened], Expires: v[ListExpires], Unit: v[ListUnit]}
	number, unit, _ := strings.Cut(v[ListAmount], " ")
	if st.Unit == "" {
		st.Unit = strings.TrimSpace(unit)
	}
	st.Unit = strings.ToLower(st.Unit)
	if st.Unit == "" {
		st.Unit = "l"
		if number != "" {
			return st, false, &Invalid{What: "The amount " + number + " has no unit.", Do: "Write one of " + strings.Join(Units(), ", ") + " behind it."}
		}
	}
	if number != "" {
		n, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
		if err != nil {
			return st, false, &Invalid{What: fmt.Sprintf("%q is no amount.", number), Do: "Write a number such as 2.5."}
		}
		st.Amount = &n
	}
	return st, true, nil
}

// supplierNamed finds or makes a supplier by name; "" is none.
func (x *change) supplierNamed(ctx context.Context, name string) (string, error) {
	if name == "" {
		return "", nil
	}
	same, err := loadAll[Supplier](ctx, x, "WHERE t.folded = ? AND t.retired = '' ORDER BY t.seq LIMIT 1", folded(name))
	if err != nil {
		return "", err
	}
	if len(same) > 0 {
		return same[0].ID, nil
	}
	u := Supplier{Name: name}
	err = x.insert(ctx, &u, "")
	return u.ID, err
}

// placeNamed finds or makes a place by name; one that is made is a room.
func (x *change) placeNamed(ctx context.Context, name string) (string, error) {
	same, err := loadAll[Place](ctx, x, "WHERE lower(t.name) = ? AND t.retired = '' ORDER BY t.seq LIMIT 1", strings.ToLower(name))
	if err != nil {
		return "", err
	}
	if len(same) > 0 {
		return same[0].ID, nil
	}
	p := Place{Name: name, Sort: Room}
	err = x.insert(ctx, &p, "")
	return p.ID, err
}
