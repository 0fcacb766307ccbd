package audit

import (
	"fmt"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Kit is a product of several parts that are mixed before use. Parts are in the order of the recipe; Percent is the share
// of each in the fresh mixture by mass.
type Kit struct {
	Name  string    `json:"name"`
	Inert bool      `json:"inert,omitempty"` // the parts do not react with each other, as paint and thinner
	Parts []KitPart `json:"parts"`
}

// KitPart is one part of a kit.
type KitPart struct {
	Name    string       `json:"name"`
	Sheet   *sheet.Sheet `json:"-"` // nil: no sheet at hand
	Percent float64      `json:"percent"`
}

// Classify works out the classification of every part and of the fresh mix, with ingredients as BuildMixture takes them.
// It fails when a part has no sheet or no share.
func (k *Kit) Classify(rs ghs.RuleSet, t *substance.Table) (*classify.KitClassification, error) {
	out := classify.Kit{Name: k.Name, Inert: k.Inert}
	for _, p := range k.Parts {
		if p.Sheet == nil {
			return nil, fmt.Errorf("part %q of %q has no sheet: read one first", p.Name, k.Name)
		}
		if p.Percent <= 0 {
			return nil, fmt.Errorf("part %q of %q has no share of the mix: give its percentage by mass", p.Name, k.Name)
		}
		m, _ := BuildMixture(p.Sheet, t, rs)
		m.Name = p.Name
		out.Parts = append(out.Parts, classify.Part{Name: p.Name, Mixture: m, Amount: sheet.Exactly(p.Percent)})
	}
	return out.Classify(rs)
}

// kitCheck is the row of a check that compares the sheet of a part with its kit. It does nothing without a kit.
func kitCheck(row Check, run func(*Case, *Kit, *Emit)) Check {
	row.Group = KitParts
	row.Run = func(c *Case, e *Emit) {
		if c.Kit != nil && len(c.Kit.Parts) > 1 {
			run(c, c.Kit, e)
		}
	}
	return row
}
