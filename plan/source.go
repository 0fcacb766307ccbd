package plan

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// Source gives what is known of a product by the name of its file, as a job or a comparison names it.
type Source interface {
	// Product reads a sheet or recipe for a rule set; an empty rule set takes the one the sheet is written for.
	Product(ctx context.Context, file string, rules ghs.RuleSet) (Known, error)
}

// ShelfFile stands before the ID of a product on the shelf where a job names a file.
const ShelfFile = "shelf:"

// Known is a product, or one part of a kit, with what is known of it.
type Known struct {
	Name     string           `json:"name"`
	File     string           `json:"file,omitempty"`
	RuleSet  ghs.RuleSet      `json:"rule_set"`
	Mixture  classify.Mixture `json:"-"`
	Declared ghs.HazardSet    `json:"declared"` // by the sheet or the person who wrote the job
	Certain  ghs.HazardSet    `json:"certain"`  // what follows from the ingredients whatever the true shares are
	Possible ghs.HazardSet    `json:"possible"` // for some shares in the stated ranges, or if facts hold that are not known; those certain not among them
	Hidden   [2]float64       `json:"undisclosed_percent"`

	DensityKgM3 float64  `json:"density_kg_m3,omitempty"` // 0: not known
	FlashPointC *float64 `json:"flash_point_c,omitempty"`

	FromSheet      bool     `json:"from_sheet"`
	Classified     bool     `json:"classified"`               // a supplier has classified the whole product, the undisclosed part included
	Contradictions int      `json:"contradictions,omitempty"` // open findings of the sheet, by kind
	Gaps           int      `json:"gaps,omitempty"`
	Doubts         int      `json:"doubts,omitempty"`
	Findings       []string `json:"findings,omitempty"` // titles of the contradictions and gaps
	Notes          []string `json:"notes,omitempty"`
}

// Acting is the hazards to act on: declared or certain, of each class and effect the severest.
func (k Known) Acting() ghs.HazardSet { return severest(k.Declared.Union(k.Certain)) }

// Files reads products from files with the desk of the main job. Relative names are looked for in Dir.
type Files struct {
	Desk *judge.Desk
	Dir  string
}

// Product reads a recipe (.json, .csv, .xlsx) or judges a sheet. The error names the file.
func (f Files) Product(ctx context.Context, file string, rules ghs.RuleSet) (Known, error) {
	path := file
	if !filepath.IsAbs(path) {
		path = filepath.Join(f.Dir, file)
	}
	switch info, err := os.Stat(path); {
	case os.IsNotExist(err):
		return Known{}, fmt.Errorf("%s: there is no such file in %s", file, orHere(f.Dir))
	case err != nil:
		return Known{}, err
	case info.IsDir() || info.Size() > judge.MaxDocumentBytes:
		return Known{}, fmt.Errorf("%s is a folder or larger than %d MB: name a sheet or a recipe", file, judge.MaxDocumentBytes>>20)
	}
	if ext := strings.ToLower(filepath.Ext(file)); slices.Contains([]string{".json", ".csv", ".xlsx"}, ext) {
		return f.recipe(path, file, ext, rules)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return Known{}, err
	}
	j, err := f.Desk.Judge(ctx, filepath.Base(file), data, judge.Request{Rules: rules})
	if err != nil {
		return Known{}, fmt.Errorf("%s: %w", file, err)
	}
	k := OfJudgement(j)
	k.File = file
	return k, nil
}

func orHere(dir string) string {
	if dir == "" {
		return "this folder"
	}
	return dir
}

func (f Files) recipe(path, file, ext string, rules ghs.RuleSet) (Known, error) {
	if rules == "" {
		rules = ghs.UNGHS
	}
	r, err := os.Open(path)
	if err != nil {
		return Known{}, err
	}
	defer r.Close()
	m, err := classify.ReadRecipe(r, ext)
	if err != nil {
		return Known{}, fmt.Errorf("%s: %w", file, err)
	}
	m, _ = m.Fill(f.Desk.Substances(), rules)
	if m.Name == "" {
		m.Name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	}
	k, err := OfMixture(m, rules)
	if err != nil {
		return Known{}, fmt.Errorf("%s: %w", file, err)
	}
	k.File = file
	return k, nil
}

// OfJudgement is what a judged sheet says of its product, with what follows from it.
func OfJudgement(j *judge.Judgement) Known {
	c := j.Case()
	k := Known{Name: judge.Name(j.Sheet), RuleSet: j.RuleSet, Mixture: c.Mixture(), Declared: c.Declared(), FromSheet: true}
	k.Classified = !k.Declared.Empty() || j.Sheet.Hazards.Classified == sheet.NoneStated
	k.envelope(c.Envelope())
	for _, f := range j.Report.Open() {
		switch f.Kind {
		case audit.Contradiction:
			k.Contradictions++
			k.Findings = append(k.Findings, f.Title)
		case audit.Gap:
			k.Gaps++
			k.Findings = append(k.Findings, f.Title)
		case audit.Doubt:
			k.Doubts++
		}
	}
	if q, ok := quantity(j.Sheet, sheet.Density); ok {
		k.DensityKgM3 = (q.Lo + q.Hi) / 2
	}
	if q, ok := quantity(j.Sheet, sheet.FlashPoint); ok {
		k.FlashPointC = &q.Lo
	}
	return k
}

// quantity is the first printed value of a property that has both ends.
func quantity(s *sheet.Sheet, p sheet.Property) (sheet.Quantity, bool) {
	for _, q := range s.Physical.Quantities[p] {
		if q.Known() && q.Value.HasLo && q.Value.HasHi {
			return q.Value, true
		}
	}
	return sheet.Quantity{}, false
}

// OfMixture is what follows from a mixture whose ingredients carry their hazards (classify.Mixture.Fill).
func OfMixture(m classify.Mixture, rules ghs.RuleSet) (Known, error) {
	p, err := classify.Compile(m, rules)
	if err != nil {
		return Known{}, err
	}
	k := Known{Name: m.Name, RuleSet: rules, Mixture: m, FlashPointC: m.Tested.FlashPointC}
	e, err := p.Envelope()
	if err != nil {
		return Known{}, err
	}
	k.envelope(e, nil)
	return k, nil
}

// envelope takes over what is certain and possible; a composition that cannot be becomes a note.
func (k *Known) envelope(e *classify.Envelope, err error) {
	if err != nil {
		k.Notes = append(k.Notes, "nothing can be worked out from the composition: "+err.Error())
		return
	}
	k.Certain, k.Possible = e.Certain, e.Possible.Union(e.Open).Minus(e.Certain).Minus(k.Declared)
	k.Hidden = [2]float64{e.MinRemainder, e.MaxRemainder}
}
