package shelf_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"sixteen/sheet"
	"sixteen/shelf"
)

// slow is a desk that takes a moment, so that a kill finds documents half read.
type slow struct{ shelf.Desk }

func (d slow) Read(ctx context.Context, name string, data []byte) (*sheet.Sheet, error) {
	time.Sleep(3 * time.Millisecond)
	return d.Desk.Read(ctx, name, data)
}

func slowDesk(ctx context.Context) (shelf.Desk, error) {
	d, err := fakeDesk(ctx)
	return slow{d}, err
}

// runChild does what a test that kills this process asks for: each thing that is acknowledged is said on the output after it was.
func runChild(what string) int {
	ctx := context.Background()
	s, err := shelf.Open(ctx, shelf.Options{URL: os.Getenv("SHELF_URL"), Documents: os.Getenv("SHELF_DOCUMENTS"), Desk: slowDesk})
	if err != nil {
		fmt.Println("error", err)
		return 1
	}
	fmt.Println("open")
	switch what {
	case "migrate-only":
		time.Sleep(time.Minute) // until it is killed
	case "upload":
		err = uploads(ctx, s, os.Getenv("SHELF_ROUND"))
	case "backup":
		for i := 0; err == nil; i++ {
			_, err = s.BackupTo(ctx, filepath.Join(os.Getenv("SHELF_OUT"), "backup.zip"))
			fmt.Println("backup", i)
		}
	}
	fmt.Println("error", err)
	return 1
}

// uploads puts documents of 20 products on the shelf, in ever newer revisions, while they are read.
func uploads(ctx context.Context, s *shelf.Shelf, round string) error {
	if err := s.StartReading(ctx, 2); err != nil {
		return err
	}
	for i := 0; ; i++ {
		data := tin(fmt.Sprintf("Crash paint %d", i%20), fmt.Sprintf("20%02d-01-01", i/20%90+10), "note: "+round)
		added, err := s.AddDocument(ctx, "child", fmt.Sprintf("%s-%d.pdf", round, i), data, "")
		if err != nil {
			return err
		}
		fmt.Println("ack", added.Sheet.Document)
	}
}
