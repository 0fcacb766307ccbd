package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func checkLimitDiffers() Check {
	return Check{
		ID: "limit-differs", Title: "A limit in section 8 is higher than the law's", Group: Limits8, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Could:    "Air is taken for acceptable that is not.",
		Compares: "Each limit of section 8 with the same authority's limit in the substance table.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1000 Tables Z-1 to Z-3",
			ghs.USHCS2012: "29 CFR 1910.1000 Tables Z-1 to Z-3",
			ghs.EUCLP:     "REACH Annex II 8.1.1 (from memory); the directives on indicative limits",
			ghs.GBCLP:     "UK REACH Annex II 8.1.1 (from memory); EH40",
			ghs.CAHPR:     "Hazardous Products Regulations, schedule 1, item 8(a); Ontario R.R.O. 1990 Reg. 833",
			"":            "common practice: a quoted limit is quoted as its authority sets it",
		},
		Example: "“OSHA PEL 500 ppm” for a substance whose limit is 100 ppm.",
		Do:      "Use the lower figure.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				for _, f := range c.statedLimits(ing, row) {
					ref, ok := sameLimit(c.legalLimits(row), f.Value)
					if !ok || c.statesTheLimit(ing, row, ref) {
						continue
					}
					value, unit := ref.MgM3, "mg/m3"
					if f.Value.Unit == "ppm" {
						value, unit = ref.PPM, "ppm"
					}
					if value <= 0 || f.Value.Unit != unit || f.Value.Value <= value*1.15 {
						continue
					}
					kind := Contradiction
					if ref.Source.Memory || f.Value.Vacated || c.older(5) {
						kind = Doubt
					}
					e.Report(Fault{
						Kind: kind, Section: 8, Title: fmt.Sprintf("%s: section 8 gives %s %s, the limit is %s", nameOf(ing), number(f.Value.Value), unit, number(value)),
						Says:    []Side{says(8, f.Value.Authority+" "+string(f.Value.Kind)+" "+f.Value.Printed, f)},
						Follows: []Side{looked(limitText(ref), ref.Source)}, Ask: ask("limit", nameOf(ing), limitText(ref)),
						Key: []string{ing.CAS.Value, ref.Authority, ref.Kind, number(f.Value.Value)},
					})
				}
			}
		},
	}
}

// sameLimit finds the reference limit of the same authority and averaging time; of several, for fume and dust or for
// fractions, the highest. Limits of a named fraction of the dust are left out: the table does not tell fractions apart.
func sameLimit(refs []substance.Limit, l sheet.ExposureLimit) (substance.Limit, bool) {
	var out substance.Limit
	found := false
	for _, r := range refs {
		if !strings.EqualFold(r.Kind, string(l.Kind)) || !sameAuthority(r.Authority, l.Authority) || l.Fraction != "" {
			continue
		}
		if !found || r.MgM3 > out.MgM3 || r.PPM > out.PPM {
			out, found = r, true
		}
	}
	return out, found
}

// statesTheLimit tells whether section 8 gives the reference figure, or less, beside the higher one, which is then a peak or
// another fraction.
func (c *Case) statesTheLimit(ing sheet.Ingredient, row *substance.Substance, ref substance.Limit) bool {
	for _, f := range c.statedLimits(ing, row) {
		l := f.Value
		if !sameAuthority(ref.Authority, l.Authority) || !strings.EqualFold(string(l.Kind), ref.Kind) {
			continue
		}
		if l.Unit == "ppm" && ref.PPM > 0 && l.Value <= ref.PPM*1.15 || l.Unit == "mg/m3" && ref.MgM3 > 0 && l.Value <= ref.MgM3*1.15 {
			return true
		}
	}
	return false
}

// older tells whether the sheet is dated more than the given years before today, so that the law may have changed since.
func (c *Case) older(years int) bool {
	date, ok := dateOf(c.Sheet.Identification.RevisionDate)
	return ok && !c.Today.IsZero() && date.AddDate(years, 0, 0).Before(c.Today)
}
