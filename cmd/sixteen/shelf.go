package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"sixteen/judge"
	"sixteen/shelf"
)

// shelfCommand works on the shelf: the register of products, sheets, places and questions.
type shelfCommand struct {
	Add      shelfAdd      `cmd:"" help:"Put sheets on the shelf (files, folders, ZIP files) and read them; their products are found or made."`
	New      shelfNew      `cmd:"" help:"Put a product or a kit on the shelf that has no sheet yet."`
	List     shelfList     `cmd:"" help:"List products, by words and filters."`
	Show     shelfShow     `cmd:"" help:"Show one product: sheet in force, findings, where it stands, questions, papers."`
	Find     shelfFind     `cmd:"" help:"Search everything on the shelf; spelling mistakes are forgiven."`
	Place    shelfPlace    `cmd:"" help:"Add or change a place and its limits; without a name, what stands where against the limits."`
	Stock    shelfStock    `cmd:"" help:"Say how much of a product stands where; or that it is gone."`
	Question shelfQuestion `cmd:"" help:"Questions to suppliers: list, add, sent, answer, close."`
	Due      shelfDue      `cmd:"" help:"List what wants attention."`
	Reviewed shelfReviewed `cmd:"" help:"Say that a product's sheet was looked at, and set the next date."`
	Retire   shelfRetire   `cmd:"" help:"Take a product off the shelf, with the reason. It is kept."`
	Trail    shelfTrail    `cmd:"" help:"List who changed what and when."`
	Import   shelfImport   `cmd:"" help:"Take a CSV list of products over."`
	Export   shelfExport   `cmd:"" help:"Write the register as CSV, XLSX or JSON, or the review dates as a calendar."`
	Backup   shelfBackup   `cmd:"" help:"Write everything on the shelf to one file."`
	Restore  shelfRestore  `cmd:"" help:"Fill an empty shelf from a backup."`
	Move     shelfMove     `cmd:"" help:"Copy everything to another, empty shelf, SQLite or PostgreSQL, and compare row by row."`
	Verify   shelfVerify   `cmd:"" help:"Read every document and compare it with its checksum."`
}

// onShelf opens the shelf, runs f, and closes it.
func onShelf(ctx context.Context, io streams, f func(*shelf.Shelf) error) error {
	s, err := shelf.Open(ctx, io.shelf)
	if err != nil {
		return err
	}
	err = f(s)
	if closed := s.Close(); err == nil {
		err = closed
	}
	return err
}

// pick finds the one product that is meant: by its ID, its whole name, or words that find only one.
func pick(ctx context.Context, s *shelf.Shelf, words string) (shelf.Product, error) {
	if p, err := s.Product(ctx, words); err == nil {
		return p, nil
	}
	page, err := s.Products(ctx, shelf.ProductFilter{Text: words, Paging: shelf.Paging{Limit: 10}})
	if err != nil {
		return shelf.Product{}, err
	}
	var same []shelf.Product
	var names []string
	for _, l := range page.Items {
		if strings.EqualFold(l.Name, words) {
			same = append(same, l.Product)
		}
		names = append(names, fmt.Sprintf("%s (%s)", l.Name, l.ID))
	}
	switch {
	case len(same) == 1:
		return same[0], nil
	case page.Total == 1:
		return page.Items[0].Product, nil
	case page.Total == 0:
		return shelf.Product{}, fmt.Errorf("no product is found by %q: 'sixteen shelf list' shows those there are", words)
	}
	return shelf.Product{}, fmt.Errorf("%q may be %s: name it by its ID", words, strings.Join(names, ", "))
}

// pickPlace finds a place by its ID or name.
func pickPlace(ctx context.Context, s *shelf.Shelf, words string) (shelf.Place, error) {
	places, err := s.Places(ctx)
	if err != nil {
		return shelf.Place{}, err
	}
	var names []string
	for _, p := range places {
		if p.ID == words || strings.EqualFold(p.Name, words) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return shelf.Place{}, fmt.Errorf("there is no place yet: 'sixteen shelf place %s' makes it", words)
	}
	return shelf.Place{}, fmt.Errorf("there is no place %q; there are %s", words, strings.Join(names, ", "))
}

type shelfAdd struct {
	Files   []string `arg:"" name:"file" help:"Sheets (PDF, text, HTML, DOCX), folders or ZIP files of them."`
	Product string   `help:"The product they are of; found or made by the sheet when not given."`
	Later   bool     `help:"Only queue them; a running 'sixteen serve' or the next 'shelf add' reads them."`
	Workers int      `help:"How many are read at once; one per processor when not given."`
	Who     string   `help:"Who adds them; this account's name when not given."`
	JSON    bool     `help:"Print the outcome as JSON lines."`
}

// Run puts documents on the shelf and waits until they are read.
func (c *shelfAdd) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		since, err := s.Seq(ctx)
		if err != nil {
			return err
		}
		product := ""
		if c.Product != "" {
			p, err := pick(ctx, s, c.Product)
			if err != nil {
				return err
			}
			product = p.ID
		}
		var waited []string
		failed := false
		tell := func(i shelf.Imported) {
			switch {
			case i.Failure != "":
				failed = true
				fmt.Fprintf(io.err, "sixteen: %s: %s\n", i.Name, i.Failure)
			case i.Known:
				fmt.Fprintf(io.err, "sixteen: %s is on the shelf already.\n", i.Name)
				waited = append(waited, i.Sheet)
			default:
				waited = append(waited, i.Sheet)
			}
		}
		for _, file := range c.Files {
			if err := c.take(ctx, s, file, product, tell); err != nil {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				tell(shelf.Imported{Name: file, Failure: err.Error()})
			}
		}
		if !c.Later && len(waited) > 0 {
			if err := c.read(ctx, io, s, since, waited); err != nil {
				return err
			}
		} else if !c.JSON {
			fmt.Fprintf(io.out, "%d documents wait to be read.\n", len(waited))
		}
		if failed {
			return errSaid
		}
		return nil
	})
}

// take puts one file, folder or ZIP file on the shelf.
func (c *shelfAdd) take(ctx context.Context, s *shelf.Shelf, file, product string, tell func(shelf.Imported)) error {
	info, err := os.Stat(file)
	switch {
	case err == nil && info.IsDir():
		return s.ImportFolder(ctx, orAccount(c.Who), file, tell)
	case err == nil && strings.EqualFold(filepath.Ext(file), ".zip"):
		f, err := os.Open(file)
		if err != nil {
			return err
		}
		defer f.Close()
		return s.ImportArchive(ctx, orAccount(c.Who), f, info.Size(), tell)
	}
	data, err := readFile(file)
	if err != nil {
		return err
	}
	added, err := s.AddDocument(ctx, orAccount(c.Who), file, data, product)
	if err == nil {
		tell(shelf.Imported{Name: filepath.Base(file), Sheet: added.Sheet.ID, Product: added.Sheet.Product, Known: added.Known})
	}
	return err
}

// read reads what waits in this process and prints the outcome of each document that was added.
func (c *shelfAdd) read(ctx context.Context, io streams, s *shelf.Shelf, since int64, waited []string) error {
	if err := s.StartReading(ctx, c.Workers); err != nil {
		return err
	}
	open := map[string]bool{}
	p := &printer{w: io.out}
	for _, id := range waited {
		t, err := s.Sheet(ctx, id)
		if err != nil {
			return err
		}
		if open[id] = t.State == shelf.Waiting || t.State == shelf.Reading; !open[id] {
			delete(open, id)
			if err := c.outcome(io, p, t); err != nil {
				return err
			}
		}
	}
	if len(open) == 0 {
		return p.err
	}
	err := s.Watch(ctx, since, func(e shelf.Entry) error {
		if e.Kind != shelf.SheetKind || !open[e.Ref] {
			return nil
		}
		t, err := s.Sheet(ctx, e.Ref)
		if err != nil || t.State == shelf.Waiting || t.State == shelf.Reading {
			return err
		}
		delete(open, e.Ref)
		if err := c.outcome(io, p, t); err != nil {
			return err
		}
		if len(open) == 0 {
			return errAllRead
		}
		return nil
	})
	if err == errAllRead {
		err = p.err
	}
	return err
}

// errAllRead ends the wait for documents.
var errAllRead = fmt.Errorf("all documents are read")

func (c *shelfAdd) outcome(io streams, p *printer, t shelf.Sheet) error {
	if c.JSON {
		return encode(io, t)
	}
	switch t.State {
	case shelf.Read:
		p.pair(0, 30, t.FileName, fmt.Sprintf("%s: %d contradictions, %d gaps, %d doubts, %d notes", t.Name, t.Contradictions, t.Gaps, t.Doubts, t.Notes))
	default:
		p.pair(0, 30, t.FileName, firstNonEmpty(t.Failure, string(t.State)))
	}
	return p.err
}

func firstNonEmpty(all ...string) string {
	for _, s := range all {
		if s != "" {
			return s
		}
	}
	return ""
}

type shelfNew struct {
	Name     string   `arg:"" help:"What it is called."`
	Supplier string   `help:"Who sells it; made when not there."`
	Code     string   `help:"Article number."`
	UsedFor  string   `help:"What it is used for."`
	Note     string   `help:"Anything else."`
	Part     []string `help:"For a kit: a part with its share of the mix, such as --part 'Resin A=100' --part 'Hardener B=45'." sep:"none"`
	By       string   `enum:"mass,volume" default:"mass" help:"Whether the shares of a kit are by mass or volume."`
	Who      string   `help:"Who adds it; this account's name when not given."`
}

// Run puts a product on the shelf.
func (c *shelfNew) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		p := shelf.Product{Name: c.Name, Code: c.Code, UsedFor: c.UsedFor, Note: c.Note}
		for _, part := range c.Part {
			name, share, _ := strings.Cut(part, "=")
			of, err := pick(ctx, s, name)
			if err != nil {
				return err
			}
			var parts float64
			if _, err := fmt.Sscanf(share, "%g", &parts); err != nil {
				return fmt.Errorf("--part %s: write the name, =, and a number", part)
			}
			p.Parts, p.PartsBy = append(p.Parts, shelf.Part{Product: of.ID, Role: of.Name, Parts: parts}), c.By
		}
		if c.Supplier != "" {
			list, err := s.Suppliers(ctx)
			if err != nil {
				return err
			}
			for _, u := range list {
				if strings.EqualFold(u.Name, c.Supplier) {
					p.Supplier = u.ID
				}
			}
			if p.Supplier == "" {
				u, err := s.AddSupplier(ctx, orAccount(c.Who), shelf.Supplier{Name: c.Supplier})
				if err != nil {
					return err
				}
				p.Supplier = u.ID
			}
		}
		p, err := s.AddProduct(ctx, orAccount(c.Who), p)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s is on the shelf as %s.\n", p.Name, p.ID)
		return err
	})
}

type shelfList struct {
	Words         []string `arg:"" optional:"" help:"Words of the name, supplier or sheet."`
	Place         string   `help:"Only what stands there."`
	Code          string   `help:"Only with this H code."`
	Flammable     bool     `help:"Only what burns."`
	Contradictory bool     `help:"Only with contradictions in the sheet."`
	NoSheet       bool     `help:"Only without a sheet."`
	Retired       bool     `help:"Those taken off the shelf."`
	Order         string   `enum:",name,change,worst,review,oldest,supplier" default:"" help:"name, change, worst, review, oldest or supplier."`
	Limit         int      `default:"50" help:"At most so many."`
	Skip          int      `help:"Leave out so many at the beginning."`
	JSON          bool     `help:"Print JSON."`
}

// Run lists products.
func (c *shelfList) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		f := shelf.ProductFilter{
			Text: strings.Join(c.Words, " "), Flammable: c.Flammable, Contradictory: c.Contradictory, Retired: c.Retired,
			Order: shelf.ProductOrder(c.Order), Paging: shelf.Paging{Limit: c.Limit, Offset: c.Skip},
		}
		if c.NoSheet {
			f.State = "none"
		}
		if c.Code != "" {
			f.Statement = hCode(c.Code)
		}
		if c.Place != "" {
			p, err := pickPlace(ctx, s, c.Place)
			if err != nil {
				return err
			}
			f.Place = p.ID
		}
		page, err := s.Products(ctx, f)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, page)
		}
		p := &printer{w: io.out}
		for _, l := range page.Items {
			p.pair(0, 24, l.ID, lineShown(l))
		}
		p.line(0, 0, fmt.Sprintf("%d of %d products.", len(page.Items), page.Total))
		return p.err
	})
}

// lineShown is one product of a list on one line.
func lineShown(l shelf.ProductLine) string {
	out := l.Name
	if l.SupplierName != "" {
		out += ", " + l.SupplierName
	}
	switch {
	case l.InForce != nil:
		if word := l.InForce.SignalWord.String(); word != "" {
			out += " — " + word
		}
		out += fmt.Sprintf(" — sheet of %s, %d contradictions, %d gaps", firstNonEmpty(l.InForce.RevisionDate, "unknown date"), l.InForce.Contradictions, l.InForce.Gaps)
	case l.Waiting > 0:
		out += " — being read"
	case len(l.Parts) > 0:
		out += fmt.Sprintf(" — kit of %d parts", len(l.Parts))
	default:
		out += " — no sheet"
	}
	if l.OpenQuestions > 0 {
		out += fmt.Sprintf(", %d open questions", l.OpenQuestions)
	}
	return out
}

type shelfFind struct {
	Words []string `arg:"" help:"What to look for."`
	Limit int      `default:"20" help:"At most so many."`
	JSON  bool     `help:"Print JSON."`
}

// Run searches the shelf.
func (c *shelfFind) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		found, err := s.Search(ctx, strings.Join(c.Words, " "), c.Limit)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, found)
		}
		p := &printer{w: io.out}
		for _, f := range found {
			p.pair(0, 36, string(f.Kind)+" "+f.ID, f.Title)
		}
		if len(found) == 0 {
			p.line(0, 0, "Nothing is found. Parts of words and numbers are enough: try fewer letters.")
		}
		return p.err
	})
}

type shelfShow struct {
	Product string `arg:"" help:"ID, name, or words that find only one."`
	JSON    bool   `help:"Print JSON."`
}

// shown is what 'shelf show' prints of a product.
type shown struct {
	Product   shelf.Product    `json:"product"`
	Supplier  *shelf.Supplier  `json:"supplier,omitempty"`
	Sheets    []shelf.Sheet    `json:"sheets"`
	Stock     []shelf.Stock    `json:"stock"`
	Questions []shelf.Question `json:"questions"`
	Papers    []shelf.Paper    `json:"papers"`
}

// Run shows one product.
func (c *shelfShow) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		product, err := pick(ctx, s, c.Product)
		if err != nil {
			return err
		}
		out := shown{Product: product}
		if product.Supplier != "" {
			u, err := s.Supplier(ctx, product.Supplier)
			if err != nil {
				return err
			}
			out.Supplier = &u
		}
		if out.Sheets, err = s.Revisions(ctx, product.ID); err != nil {
			return err
		}
		if out.Stock, err = s.Stock(ctx, shelf.StockFilter{Product: product.ID}); err != nil {
			return err
		}
		questions, err := s.Questions(ctx, shelf.QuestionFilter{Product: product.ID})
		if err != nil {
			return err
		}
		papers, err := s.Papers(ctx, shelf.PaperFilter{Product: product.ID})
		if err != nil {
			return err
		}
		out.Questions, out.Papers = questions.Items, papers.Items
		if c.JSON {
			return encode(io, out)
		}
		return c.print(ctx, io, s, out)
	})
}

func (c *shelfShow) print(ctx context.Context, io streams, s *shelf.Shelf, o shown) error {
	p := &printer{w: io.out}
	p.heading(o.Product.Name)
	said := func(label, text string) {
		if text != "" {
			p.pair(0, 16, label, text)
		}
	}
	said("ID", o.Product.ID)
	said("Code", o.Product.Code)
	if o.Supplier != nil {
		said("Supplier", o.Supplier.Name)
	}
	said("Used for", o.Product.UsedFor)
	said("Review due", o.Product.ReviewDue)
	said("Note", o.Product.Note)
	for _, t := range o.Sheets {
		force := ""
		if t.ID == o.Product.Sheet {
			force = " (in force)"
		}
		said("Sheet", fmt.Sprintf("%s%s, %s, %s: %d contradictions, %d gaps, %d doubts, %d notes %s", t.FileName, force, firstNonEmpty(t.RevisionDate, "no date"), t.State, t.Contradictions, t.Gaps, t.Doubts, t.Notes, t.Failure))
		for _, change := range t.Changes {
			said("", fmt.Sprintf("%s: %s", change.What, change.Means))
		}
	}
	for _, k := range o.Stock {
		place, err := s.Place(ctx, k.Place)
		if err != nil {
			return err
		}
		said("Stands in", fmt.Sprintf("%s: %s %s [%s]", place.Name, amountShown(k), k.Container, k.ID))
	}
	for _, q := range o.Questions {
		said("Question", questionShown(q))
	}
	for _, paper := range o.Papers {
		state := ""
		if !paper.Outdated.IsZero() {
			state = ", outdated since " + paper.Outdated.Format(time.DateOnly)
		}
		said("Paper", fmt.Sprintf("%s, %s%s", paper.Sort, paper.Added.Format(time.DateOnly), state))
	}
	return p.err
}

func amountShown(k shelf.Stock) string {
	if k.Amount == nil {
		return "amount not known"
	}
	return fmt.Sprintf("%g %s", *k.Amount, k.Unit)
}

// shelfDesk is the desk that a shelf reads with; it says on the error stream what takes long.
func shelfDesk(io streams) shelf.DeskMaker {
	return func(ctx context.Context) (shelf.Desk, error) {
		return judge.Open(ctx, judge.Options{Progress: func(what string) { fmt.Fprintln(io.err, "sixteen:", what) }})
	}
}
