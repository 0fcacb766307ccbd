package demo

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"sixteen/audit"
	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
	"sixteen/read/pdf"
)

// readme tells what the workshop is and which faults were planted.
//
//go:embed README.md
var readme []byte

// Write fills dir with the demo workshop: sheets, labels, claims, jobs, blends, workshop.json and README.md. The same program writes the same
// bytes. dir is made when it does not exist.
func Write(dir string) error {
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{})
	if err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	defer engine.Close()
	for _, sub := range []string{"sheets", "labels", "claims"} {
		if err := os.MkdirAll(filepath.Join(dir, sub), 0o755); err != nil {
			return err
		}
	}
	if err := writeJobs(dir); err != nil {
		return err
	}
	if err := writeBlends(dir); err != nil {
		return err
	}
	w := Described()
	for _, item := range w.Products {
		if err := item.write(ctx, dir, engine); err != nil {
			return err
		}
	}
	b, err := json.MarshalIndent(w, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "README.md"), readme, 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "workshop.json"), append(b, '\n'), 0o644)
}

// Spec is the content of the product's sheet with its planted faults in it.
func (i Item) Spec() (sheetprint.Spec, error) {
	s, err := i.build()
	if err != nil {
		return s, err
	}
	for _, kind := range i.fault {
		f, ok := invent.FaultOf(kind)
		if !ok {
			return s, fmt.Errorf("%s: no fault is called %q", i.Name, kind)
		}
		if s, ok = f.Plant(s); !ok {
			return s, fmt.Errorf("%s: %s cannot be planted in it", i.Name, kind)
		}
	}
	if i.extra != nil {
		i.extra(&s)
	}
	return s, nil
}

// PreviousSpec is the content of the revision before, without planted faults; false when there is none.
func (i Item) PreviousSpec() (sheetprint.Spec, bool, error) {
	if i.before == "" {
		return sheetprint.Spec{}, false, nil
	}
	s, err := i.build()
	if err != nil {
		return s, false, err
	}
	if i.extra != nil {
		i.extra(&s)
	}
	s.Revision, s.Version = i.before, "1.0"
	s.Emergency = "+00 555 112 000"
	return s, true, nil
}

// writePrevious prints the revision before.
// PrintedPrevious is the revision before the product's sheet as a PDF; nil when there is none.
func (i Item) PrintedPrevious() ([]byte, error) {
	s, ok, err := i.PreviousSpec()
	if err != nil || !ok {
		return nil, err
	}
	l, err := sheetprint.NewLayout(i.layout, i.Rules, i.Lang, uint64(len(i.ID))+1)
	if err != nil {
		return nil, err
	}
	printed, _, err := sheetprint.Print(s, l)
	return printed, err
}

func (i Item) writePrevious(dir string) error {
	printed, err := i.PrintedPrevious()
	if err != nil || printed == nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, i.Before), printed, 0o644)
}

// PrintedSheet is the product's sheet as a PDF with text, before any scanning, and its truth.
func (i Item) PrintedSheet() ([]byte, sheetprint.Truth, error) {
	s, err := i.Spec()
	if err != nil {
		return nil, sheetprint.Truth{}, err
	}
	l, err := sheetprint.NewLayout(i.layout, i.Rules, i.Lang, uint64(len(i.ID)))
	if err != nil {
		return nil, sheetprint.Truth{}, err
	}
	return sheetprint.Print(s, l)
}

// write puts the product's papers into dir.
func (i Item) write(ctx context.Context, dir string, engine *pdf.Engine) error {
	printed, _, err := i.PrintedSheet()
	if err != nil {
		return err
	}
	if i.Scan {
		if printed, err = sheetprint.Scan(ctx, engine, printed, uint64(len(i.ID))); err != nil {
			return err
		}
	}
	if err := os.WriteFile(filepath.Join(dir, i.Sheet), printed, 0o644); err != nil {
		return err
	}
	if err := i.writePrevious(dir); err != nil {
		return err
	}
	label, _, err := i.MakeLabel()
	if err != nil {
		return err
	}
	b, err := json.MarshalIndent(label, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, i.Label), append(b, '\n'), 0o644); err != nil {
		return err
	}
	if err := i.writePicture(ctx, dir, engine, label); err != nil {
		return err
	}
	if i.Claims == "" {
		return nil
	}
	return os.WriteFile(filepath.Join(dir, i.Claims), []byte(i.claims), 0o644)
}

// writePicture draws the label and photographs it, so to speak: a PNG of what stands on the tin.
func (i Item) writePicture(ctx context.Context, dir string, engine *pdf.Engine, label audit.Label) error {
	if i.Picture == "" {
		return nil
	}
	layout, err := sheetprint.NewLayout(i.layout, i.Rules, i.Lang, uint64(len(i.ID)))
	if err != nil {
		return err
	}
	printed, err := sheetprint.PrintLabel(label, i.Lang, layout)
	if err != nil {
		return err
	}
	doc, err := engine.Open(ctx, printed)
	if err != nil {
		return err
	}
	defer doc.Close()
	picture, err := doc.Render(0, 200)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, i.Picture), out.Bytes(), 0o644)
}

// MakeLabel is the product's label and what is wrong with it, if anything.
func (i Item) MakeLabel() (audit.Label, []PlantedFault, error) {
	s, err := i.Spec()
	if err != nil {
		return audit.Label{}, nil, err
	}
	l := labelOf(s, 1000)
	_, l.Text, _ = strings.Cut(strings.TrimSpace(i.claims), "\n")
	if i.labelDrop == nil {
		return l, nil, nil
	}
	f := i.labelDrop(&l)
	f.File = i.Label
	return l, []PlantedFault{f}, nil
}

// Described is the workshop with the names of its files and what is planted in each.
func Described() Place {
	w := Workshop()
	for k := range w.Products {
		i := &w.Products[k]
		i.Sheet, i.Label = "sheets/"+i.ID+".pdf", "labels/"+i.ID+".json"
		i.Picture = "labels/" + i.ID + ".png"
		if i.before != "" {
			i.Before = "sheets/" + i.ID + "-before.pdf"
		}
		if i.claims != "" {
			i.Claims = "claims/" + i.ID + ".txt"
		}
		i.Planted, i.Beside = i.planted(), i.besides()
	}
	return w
}

// planted is what is wrong on purpose in the sheet itself.
func (i Item) planted() []PlantedFault {
	var out []PlantedFault
	for _, kind := range i.fault {
		if f, ok := invent.FaultOf(kind); ok {
			out = append(out, PlantedFault{i.Sheet, kind, f.Says, f.Checks()})
		}
	}
	return out
}

// besides is what is wrong on purpose between the sheet and the other papers.
func (i Item) besides() []PlantedFault {
	var out []PlantedFault
	if i.before != "" && len(i.fault) > 0 {
		out = append(out, PlantedFault{i.Sheet, "revision-milder", "The revision before stated a graver hazard; nothing in the composition changed.",
			[]string{"revision-milder"}})
	}
	if i.boasts {
		out = append(out, PlantedFault{i.Claims, "claim", "The papers do not bear out what is claimed.", []string{"claim"}})
	}
	if _, onLabel, err := i.MakeLabel(); err == nil {
		out = append(out, onLabel...)
	}
	return out
}
