package main

import (
	"context"
	"path/filepath"
	"testing"

	"sixteen/shelf"
)

// What one process put on the shelf, another reads that serves no pages.
func TestWorkReadsWhatWaits(t *testing.T) {
	keepCache(t)
	file := filepath.Join(t.TempDir(), "shelf.sqlite")
	s, err := shelf.Open(context.Background(), shelf.Options{URL: file})
	if err != nil {
		t.Fatal(err)
	}
	data := textPDF(t, 1, "SAFETY DATA SHEET\nSection 1: Identification\nProduct name: Slipway Wax\nSection 2: Hazards identification\nNot classified\nSection 3: Composition\nWater 7732-18-5 100 %\nSection 4: First-aid measures\nRinse.\nSection 5: Fire-fighting measures\nDoes not burn.\n", nil)
	if _, err := s.AddDocument(context.Background(), "Marit", "wax.pdf", data, ""); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	status, _, errText := runCommand(t, "work", "--once", "--shelf", file)
	if status != exitNone {
		t.Fatalf("status %d: %s", status, errText)
	}
	if s, err = shelf.Open(context.Background(), shelf.Options{URL: file, ReadOnly: true}); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p, err := s.Progress(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if p.Waiting != 0 || p.Read != 1 {
		t.Errorf("waiting %d, read %d; want the sheet read: %+v", p.Waiting, p.Read, p)
	}
}
