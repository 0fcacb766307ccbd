package shelf_test

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sixteen/shelf"
)

// killed runs a child of this test and kills it (SIGKILL) some time after it said that the shelf is open, or, when early, after it
// was started. It returns what the child had acknowledged.
func killed(t testing.TB, what string, o shelf.Options, early bool, after time.Duration, env ...string) (acks []string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), append(env, "SHELF_CHILD="+what, "SHELF_URL="+o.URL, "SHELF_DOCUMENTS="+o.Documents)...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out := must(cmd.StdoutPipe())(t)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill := func() { time.AfterFunc(after, func() { cmd.Process.Kill() }) }
	if early {
		kill()
	}
	set := false
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		switch word {
		case "open", "ack":
			// The time runs from the opening for one child in ten, for the others from the first acknowledged document.
			if !early && !set && (word == "ack" || what != "upload" || len(env) > 0 && strings.HasSuffix(env[0], "0")) {
				set = true
				kill()
			}
			if word == "open" {
				continue
			}
			acks = append(acks, rest)
		case "error":
			t.Errorf("the child failed: %s", rest)
		}
	}
	cmd.Wait() // it was killed
	if errs.Len() > 0 {
		t.Errorf("the child said %s", errs.String())
	}
	return acks
}

// intact checks what has to hold after any kill: every acknowledged document is there and whole, nothing is twice, no sheet is
// half read, the trail has no gap, the products have their newest revision in force and are found by their names, and the
// lists and counts are those that the tables give.
func intact(t *testing.T, s *shelf.Shelf, acks []string) {
	t.Helper()
	ctx := t.Context()
	for _, sum := range acks {
		if _, _, err := s.OpenDocument(ctx, sum); err != nil {
			t.Errorf("an acknowledged document: %v", err)
		}
		if n := must(s.Sheets(ctx, shelf.SheetFilter{Document: sum}))(t).Total; n != 1 {
			t.Errorf("an acknowledged document has %d sheets", n)
		}
	}
	if got := must(s.Damaged(ctx))(t); len(got) > 0 {
		t.Errorf("%d documents are damaged", len(got))
	}
	page := must(s.Sheets(ctx, shelf.SheetFilter{States: []shelf.State{shelf.Read}, Paging: shelf.Paging{Limit: 1000}}))(t)
	for _, h := range page.Items {
		if _, _, err := s.JudgementOf(ctx, h.ID); err != nil {
			t.Errorf("a sheet that was read: %v", err)
		}
	}
	if err := shelf.CheckSearch(ctx, s); err != nil {
		t.Errorf("the index of the search: %v", err)
	}
	unlisted(t, s)
	trail := must(s.Trail(ctx, shelf.TrailFilter{}))(t)
	if seq := must(s.Seq(ctx))(t); int64(trail.Total) != seq {
		t.Errorf("the trail has %d entries up to number %d", trail.Total, seq)
	}
	names := map[string]bool{}
	for _, p := range must(s.Products(ctx, shelf.ProductFilter{Paging: shelf.Paging{Limit: 1000}}))(t).Items {
		if names[p.Name] {
			t.Errorf("%s is there twice", p.Name)
		}
		names[p.Name] = true
		found := must(s.Search(ctx, p.Name, 0))(t)
		if !slices.ContainsFunc(found, func(f shelf.Found) bool { return f.ID == p.ID && f.Word == "" }) {
			t.Errorf("%s is not found by its name", p.Name)
		}
		for _, r := range must(s.Revisions(ctx, p.ID))(t) {
			if r.State == shelf.Read && p.InForce != nil && r.RevisionDate > p.InForce.RevisionDate {
				t.Errorf("%s: %s is in force, %s was read", p.Name, p.InForce.RevisionDate, r.RevisionDate)
			}
		}
	}
}

func testKills(t *testing.T, p place, kills int) {
	random := rand.New(rand.NewPCG(16, uint64(kills)))
	p.options.Now = nil
	p.open(t).Close() // the schema is there
	var acks []string
	for i := range kills {
		acks = append(acks, killed(t, "upload", p.options, false, time.Duration(random.IntN(500))*time.Millisecond, fmt.Sprintf("SHELF_ROUND=%d", i))...)
		s := p.open(t)
		intact(t, s, acks)
		s.Close()
	}
	if len(acks) < kills/2 {
		t.Fatalf("only %d documents were acknowledged in %d rounds", len(acks), kills)
	}
	// What was left is read to its end: no document is lost, none is given up, none is read into two sheets.
	s := p.open(t)
	if err := s.StartReading(t.Context(), 2); err != nil {
		t.Fatal(err)
	}
	got := waitRead(t, s)
	if got.Failed != 0 || got.Read < len(acks) {
		t.Errorf("%d acknowledged, after all: %+v", len(acks), got)
	}
	intact(t, s, acks)
	t.Logf("%d processes killed while they took in and read documents: %d acknowledged, %d read", kills, len(acks), got.Read)
}

func TestKillsWhileUploadingAndReadingLoseNothing(t *testing.T) {
	t.Run("SQLite", func(t *testing.T) { testKills(t, sqlitePlace(t), killsReading) })
	t.Run("PostgreSQL", func(t *testing.T) { testKills(t, postgresPlace(t), killsPostgres) })
}

// firstSchema makes the place a shelf as the first version of the program made it.
func firstSchema(t testing.TB, p place) {
	t.Helper()
	f := must(os.Open("testdata/schema-2.sqlite.gz"))(t)
	defer f.Close()
	raw := must(io.ReadAll(must(gzip.NewReader(f))(t)))(t)
	file := p.options.URL
	if onPostgres(p) {
		file = filepath.Join(t.TempDir(), "first.sqlite")
	}
	if err := os.WriteFile(file, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	if onPostgres(p) {
		shelf.FirstSchema(t, p.options, file)
	}
}

func onPostgres(p place) bool { return strings.HasPrefix(p.options.URL, "postgres") }

// whole checks the contents of the shelf of the first version.
func whole(t testing.TB, s *shelf.Shelf) {
	t.Helper()
	ctx := t.Context()
	page := must(s.Products(ctx, shelf.ProductFilter{Text: "keel"}))(t)
	if page.Total != 1 || page.Items[0].InForce == nil || len(must(s.Revisions(ctx, page.Items[0].ID))(t)) != 2 || len(must(s.Places(ctx))(t)) != 3 {
		t.Errorf("the shelf of the first version holds %+v", page)
	}
	if _, err := s.Login(ctx, "ada", "correct horse battery", "127.0.0.1", "test"); err != nil {
		t.Errorf("login: %v", err)
	}
	must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Added after"}))(t)
}

func TestShelfOfTheFirstVersionIsBroughtUpToDate(t *testing.T) {
	p := sqlitePlace(t)
	firstSchema(t, p)
	before := must(os.ReadFile(p.options.URL))(t)
	readOnly := p.options
	readOnly.ReadOnly = true
	if err := os.MkdirAll(filepath.Join(filepath.Dir(p.options.URL), "documents"), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := shelf.Open(t.Context(), readOnly); !errors.Is(err, shelf.ErrOlder) || !strings.Contains(err.Error(), "sixteen shelf list") {
		t.Errorf("an older shelf, opened to read: %v", err)
	}
	asked := readOnly
	asked.Older = true
	old := must(shelf.Open(t.Context(), asked))(t)
	if d, err := old.Decided(t.Context(), "a document that is not on the shelf"); err != nil || len(d.Corrections) != 0 || len(d.Overrulings) != 0 {
		t.Errorf("decisions on an older shelf: %+v, %v", d, err)
	}
	old.Close()
	if _, err := shelf.Open(t.Context(), readOnly); err == nil {
		t.Error("opened for reading without being brought up to date")
	}
	s := p.open(t)
	whole(t, s)
	copied := must(sql.Open("sqlite", p.options.URL+".schema-2.copy"))(t)
	defer copied.Close()
	var n int
	if err := copied.QueryRow("SELECT COUNT(*) FROM products").Scan(&n); err != nil || n != 1 {
		t.Errorf("the copy made before holds %d products: %v", n, err)
	}
	if len(before) == 0 {
		t.Error("there was no shelf before")
	}
}

// A PostgreSQL database with the first schema is brought up to date too, and then holds what the SQLite shelf holds.
func TestDatabaseOfTheFirstSchemaIsBroughtUpToDate(t *testing.T) {
	p := postgresPlace(t)
	firstSchema(t, p)
	readOnly := p.options
	readOnly.ReadOnly = true
	if _, err := shelf.Open(t.Context(), readOnly); !errors.Is(err, shelf.ErrOlder) {
		t.Errorf("an older shelf, opened to read: %v", err)
	}
	s := p.open(t)
	whole(t, s)
	// What stands there is what the same shelf holds on the other store.
	other := sqlitePlace(t)
	firstSchema(t, other)
	o := other.open(t)
	whole(t, o)
	a := must(s.Products(t.Context(), shelf.ProductFilter{Text: "keel"}))(t).Items[0]
	b := must(o.Products(t.Context(), shelf.ProductFilter{Text: "keel"}))(t).Items[0]
	if a.ID != b.ID || a.Name != b.Name || a.Sheet != b.Sheet || a.ReviewDue != b.ReviewDue {
		t.Errorf("PostgreSQL %+v, SQLite %+v", a, b)
	}
}

func TestKillsWhileMigratingLoseNothing(t *testing.T) {
	for name, new := range map[string]func(testing.TB) place{"SQLite": sqlitePlace, "PostgreSQL": postgresPlace} {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(16, 3))
			for range killsMigration {
				p := new(t)
				firstSchema(t, p)
				killed(t, "migrate-only", p.options, true, time.Duration(20+random.IntN(150))*time.Millisecond)
				s := p.open(t)
				whole(t, s)
				s.Close()
			}
			t.Logf("%d processes killed while they migrated", killsMigration)
		})
	}
}

func TestKillsWhileBackingUpLeaveAWholeBackup(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		random := rand.New(rand.NewPCG(16, 4))
		s := p.open(t)
		furnish(t, s)
		s.Close()
		out := t.TempDir()
		restored := 0
		for range killsBackup {
			killed(t, "backup", p.options, false, time.Duration(5+random.IntN(150))*time.Millisecond, "SHELF_OUT="+out)
			file := filepath.Join(out, "backup.zip")
			if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
				continue // killed before the first was there
			}
			to := sqlitePlace(t).open(t)
			must(to.RestoreFrom(t.Context(), file))(t)
			again := p.open(t)
			same(t, again, to)
			again.Close()
			to.Close()
			restored++
		}
		if restored == 0 {
			t.Errorf("no backup was made in %d rounds", killsBackup)
		}
		t.Logf("%d processes killed while they backed up, %d backups restored", killsBackup, restored)
	})
}

func TestNewerSchemaIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		p.open(t).Close()
		engine := "sqlite"
		if strings.HasPrefix(p.options.URL, "postgres") {
			engine = "pgx"
		}
		db := must(sql.Open(engine, p.options.URL))(t)
		must(db.Exec("INSERT INTO schema_versions (version, name, at) VALUES (99, 'later', '')"))(t)
		db.Close()
		if _, err := shelf.Open(t.Context(), p.options); !errors.Is(err, shelf.ErrNewer) {
			t.Errorf("a newer shelf: %v", err)
		}
	})
}

// A disk that is full: nothing of the change is there, the sentence says what to do, and after making room it works.
func TestFullDiskChangesNothing(t *testing.T) {
	p := sqlitePlace(t)
	ctx, s := t.Context(), p.open(t)
	must(s.AddProduct(ctx, "ada", shelf.Product{Name: "First"}))(t)
	shelf.LimitPages(t, s, 0)
	seq := must(s.Seq(ctx))(t)
	var err error
	for range 200 { // until no page is left
		if _, err = s.AddProduct(ctx, "ada", shelf.Product{Name: "Too much", Note: strings.Repeat("note ", 2000)}); err != nil {
			break
		}
		seq++
	}
	if err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Fatalf("a full disk gave %v", err)
	}
	if now := must(s.Seq(ctx))(t); now != seq {
		t.Errorf("the trail is at %d, was %d before the change that failed", now, seq)
	}
	shelf.LimitPages(t, s, 1<<30)
	must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Fits again"}))(t)
}

// A full disk under the documents: the upload is refused with what to do, no row is there, and after making room it works.
func TestFullDiskUnderTheDocuments(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		makeRoom := shelf.FillDisk(s)
		seq := must(s.Seq(ctx))(t)
		if _, err := s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""); err == nil || !strings.Contains(err.Error(), "the disk is full, so nothing was changed: make room") {
			t.Errorf("a full disk gave %v", err)
		}
		if now, sheets := must(s.Seq(ctx))(t), must(s.Sheets(ctx, shelf.SheetFilter{}))(t); now != seq || sheets.Total != 0 {
			t.Errorf("%d changes and %d sheets came of an upload that was refused", now-seq, sheets.Total)
		}
		makeRoom()
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t)
	})
}

// The tables that backups, moves and comparisons know are all that there are, column by column.
func TestEveryTableIsInTheBackup(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		for _, problem := range must(shelf.TableProblems(t.Context(), p.open(t)))(t) {
			t.Error(problem)
		}
	})
}

// A database that goes away under a shelf that reads: changes fail meanwhile, and afterwards they go through, what waited is read.
func TestDatabaseGoneAndBack(t *testing.T) {
	if cluster == nil {
		t.Skip("PostgreSQL is not installed on this machine; where tests run for everybody it has to be")
	}
	p := postgresPlace(t)
	ctx, s := t.Context(), p.open(t)
	must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Before"}))(t)
	if err := s.StartReading(ctx, 1); err != nil {
		t.Fatal(err)
	}
	const documents = 20
	for i := range documents {
		must(s.AddDocument(ctx, "ada", "a.pdf", tin(fmt.Sprintf("Bilge paint %d", i), "2024-01-01"), ""))(t)
	}
	if err := cluster.Crash(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddProduct(ctx, "ada", shelf.Product{Name: "Meanwhile"}); err == nil {
		t.Error("a change without a database was acknowledged")
	}
	if err := cluster.Restart(); err != nil {
		t.Fatal(err)
	}
	deadline := time.Now().Add(30 * time.Second)
	for {
		_, err := s.AddProduct(ctx, "ada", shelf.Product{Name: "After"})
		if err == nil {
			break
		}
		if time.Now().After(deadline) {
			t.Fatalf("the database is back, the shelf is not: %v", err)
		}
		time.Sleep(50 * time.Millisecond)
	}
	if got := waitRead(t, s); got.Read != documents || got.Failed != 0 {
		t.Errorf("of %d documents that were acknowledged before: %+v", documents, got)
	}
	if got := must(s.Products(ctx, shelf.ProductFilter{}))(t); got.Total != documents+2 {
		t.Errorf("%d products", got.Total)
	}
}
