package demo

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/read/pdf"
)

// Generated says which sheets WriteGenerated makes. Zero values mean: every language, every layout, every rule set.
type Generated struct {
	N      int
	Seed   uint64
	Lang   ghs.Lang
	Layout int // from 1
	Rules  ghs.RuleSet
	Scan   bool // as pictures of pages, without text
}

// WriteGenerated writes N invented sheets (NNN.pdf) with what a reader must find in them (NNN.json) into dir, which is
// made when it does not exist. The same Generated gives the same bytes.
func WriteGenerated(dir string, g Generated) error {
	if g.N < 1 {
		return errors.New("generate: ask for at least one sheet")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	ctx := context.Background()
	var engine *pdf.Engine
	if g.Scan {
		var err error
		if engine, err = pdf.NewEngine(ctx, pdf.Options{}); err != nil {
			return fmt.Errorf("generate: %w", err)
		}
		defer engine.Close()
	}
	for i := range g.N {
		printed, truth, err := g.Sheet(i)
		if err != nil {
			return err
		}
		if g.Scan {
			truth.Kind = "scan"
			if printed, err = sheetprint.Scan(ctx, engine, printed, g.Seed+uint64(i)); err != nil {
				return err
			}
		}
		record, err := truth.JSON()
		if err != nil {
			return err
		}
		base := filepath.Join(dir, truth.ID)
		if err := os.WriteFile(base+".pdf", printed, 0o644); err != nil {
			return err
		}
		if err := os.WriteFile(base+".json", record, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// ruleSets are those that sheets are generated for.
var ruleSets = []ghs.RuleSet{ghs.USHCS2024, ghs.EUCLP, ghs.CAHPR}

// Sheet makes sheet number i (from 0).
func (g Generated) Sheet(i int) ([]byte, sheetprint.Truth, error) {
	seed := g.Seed*1_000_003 + uint64(i)
	rules := g.Rules
	if rules == "" {
		rules = ruleSets[(i/3)%len(ruleSets)]
	}
	lang := g.Lang
	if lang == "" {
		lang = languageFor(rules, i)
	}
	spec, err := invent.Random(seed, lang, rules)
	if err != nil {
		return nil, sheetprint.Truth{}, err
	}
	number := g.Layout
	if number == 0 {
		number = i%sheetprint.LayoutCount() + 1
	}
	layout, err := sheetprint.NewLayout(number, rules, lang, seed)
	if err != nil {
		return nil, sheetprint.Truth{}, err
	}
	pdf, truth, err := sheetprint.Print(spec, layout)
	truth.ID = fmt.Sprintf("%03d", i+1)
	return pdf, truth, err
}

// languageFor is a language in which sheets of the rule set are really written.
func languageFor(rules ghs.RuleSet, i int) ghs.Lang {
	switch {
	case rules == ghs.EUCLP:
		return ghs.Langs()[i%4]
	case rules == ghs.CAHPR && i%2 == 0:
		return ghs.French
	case i%7 == 0:
		return ghs.Spanish
	}
	return ghs.English
}
