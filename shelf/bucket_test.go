package shelf_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/shelf"
	"sixteen/shelf/shelftest"
)

// inBucket is a place whose documents are in a bucket of an S3 server.
type inBucket struct {
	place
	server *shelftest.S3
	prefix string
}

// file is where the server keeps a document.
func (b inBucket) file(doc string) string {
	return b.server.File(b.prefix, filepath.Join(doc[:2], doc))
}

// Everything the shelf does with documents, with the documents in a bucket of an S3 server that runs as a process and is
// talked to over HTTP: reading, damage, backup, moving, killed processes, a server that is gone.
func TestDocumentsInABucket(t *testing.T) {
	server, err := shelftest.StartS3(t.Context(), "shelftest/s3server", t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := server.Stop(); err != nil {
			t.Error(err)
		}
	})
	for name, value := range server.Environment() {
		t.Setenv(name, value)
	}
	for name, test := range map[string]func(*testing.T, inBucket){
		"are read":                    bucketIsRead,
		"are the same in backups":     bucketIsBackedUp,
		"move to a folder and back":   bucketMoves,
		"are seen when damaged":       bucketIsDamaged,
		"survive killed processes":    func(t *testing.T, b inBucket) { testKills(t, b.place, killsBucket) },
		"wait for a server that left": bucketIsGone,
	} {
		t.Run(name, func(t *testing.T) {
			for _, store := range []struct {
				name string
				new  func(testing.TB) place
			}{{"SQLite", sqlitePlace}, {"PostgreSQL", postgresPlace}} {
				t.Run(store.name, func(t *testing.T) {
					b := inBucket{store.new(t), server, strings.NewReplacer("/", "-", " ", "-").Replace(t.Name())}
					b.options.Documents = server.Bucket(b.prefix)
					test(t, b)
				})
			}
		})
	}
}

func bucketIsRead(t *testing.T, b inBucket) {
	ctx, s := t.Context(), b.open(t)
	doc := must(s.AddDocument(ctx, "ada", "ümläut ../x.pdf", tin("Varnish", "2024-05-01"), ""))(t).Sheet.Document
	if _, err := os.Stat(b.file(doc)); err != nil {
		t.Fatalf("the server does not hold it: %v", err)
	}
	if again := must(s.AddDocument(ctx, "ben", "copy.pdf", tin("Varnish", "2024-05-01"), ""))(t); !again.Known {
		t.Error("the same document was taken twice")
	}
	if err := s.StartReading(ctx, 2); err != nil {
		t.Fatal(err)
	}
	if got := waitRead(t, s); got.Read != 1 {
		t.Errorf("%+v", got)
	}
	if _, data, err := s.OpenDocument(ctx, doc); err != nil || string(data) != string(tin("Varnish", "2024-05-01")) {
		t.Errorf("the document came back as %q, %v", data, err)
	}
}

func bucketIsBackedUp(t *testing.T, b inBucket) {
	ctx, s := t.Context(), b.open(t)
	furnish(t, s)
	file := filepath.Join(t.TempDir(), "b.zip")
	must(s.BackupTo(ctx, file))(t)
	folder := sqlitePlace(t).open(t)
	must(folder.RestoreFrom(ctx, file))(t)
	same(t, s, folder)
	other := sqlitePlace(t)
	other.options.Documents = b.server.Bucket(b.prefix + "-restored")
	restored := other.open(t)
	must(restored.RestoreFrom(ctx, file))(t)
	same(t, s, restored)
}

func bucketMoves(t *testing.T, b inBucket) {
	ctx := t.Context()
	first := sqlitePlace(t).open(t)
	furnish(t, first)
	s := b.open(t)
	n := must(shelf.Move(ctx, first, s))(t)
	back := sqlitePlace(t).open(t)
	if m := must(shelf.Move(ctx, s, back))(t); m != n || n < 50 {
		t.Errorf("%d rows there, %d back", n, m)
	}
	same(t, first, back)
}

func bucketIsDamaged(t *testing.T, b inBucket) {
	ctx, s := t.Context(), b.open(t)
	doc := must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t).Sheet.Document
	if err := os.WriteFile(b.file(doc), []byte("product: something else"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, what := range []string{"changed", "missing"} {
		if _, _, err := s.OpenDocument(ctx, doc); !errors.Is(err, shelf.ErrCorrupted) {
			t.Errorf("%s: %v", what, err)
		}
		if got := must(s.Damaged(ctx))(t); len(got) != 1 || got[0].Name != "a.pdf" {
			t.Errorf("%s: damaged are %+v", what, got)
		}
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t) // heals it
		if got := must(s.Damaged(ctx))(t); len(got) != 0 {
			t.Errorf("%s: after it was added again, damaged are %+v", what, got)
		}
		if err := os.Remove(b.file(doc)); err != nil {
			t.Fatal(err)
		}
	}
}

func bucketIsGone(t *testing.T, b inBucket) {
	ctx, s := t.Context(), b.open(t)
	must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t)
	seq := must(s.Seq(ctx))(t)
	if err := b.server.Stop(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddDocument(ctx, "ada", "b.pdf", tin("Hull paint", "2024-01-01"), ""); err == nil {
		t.Error("a document was acknowledged that nobody keeps")
	}
	if got := must(s.Seq(ctx))(t); got != seq {
		t.Errorf("%d changes came of it", got-seq)
	}
	if err := b.server.Start(ctx); err != nil {
		t.Fatal(err)
	}
	must(s.AddDocument(ctx, "ada", "b.pdf", tin("Hull paint", "2024-01-01"), ""))(t)
	if err := s.StartReading(ctx, 1); err != nil {
		t.Fatal(err)
	}
	if got := waitRead(t, s); got.Read != 2 || got.Failed != 0 {
		t.Errorf("%+v", got)
	}
}
