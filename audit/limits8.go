package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// quoted lists the authorities that the sheet quotes for any ingredient beside those it owes: what it gives for one it can
// be expected to give for all.
func (c *Case) quoted() []string {
	var out []string
	for _, f := range c.Sheet.Control.Limits {
		owed := slices.ContainsFunc(c.authorities(), func(a string) bool { return sameAuthority(a, f.Value.Authority) })
		if f.Known() && !owed && !slices.Contains(out, f.Value.Authority) {
			out = append(out, f.Value.Authority)
		}
	}
	return out
}

// authorities are the bodies whose exposure limits a sheet under the rule set owes its reader, as the substance table
// names them. Limits of single states and provinces are left to the reader's own table.
func (c *Case) authorities() []string {
	switch c.RuleSet {
	case ghs.USHCS2024, ghs.USHCS2012:
		return []string{"OSHA PEL"}
	case ghs.EUCLP:
		return []string{"EU IOELV", "EU BOELV"}
	case ghs.GBCLP:
		return []string{"UK WEL"}
	case ghs.CAHPR:
		return []string{"Ontario OEL"}
	}
	return nil
}

// sameAuthority tells whether a sheet's name of an authority is the table's: package read calls a province by its place.
func sameAuthority(table, stated string) bool {
	return strings.EqualFold(table, stated) || table == "Ontario OEL" && stated == "CA Ontario"
}

// legalLimits are the reference limits of one substance that the sheet owes.
func (c *Case) legalLimits(row *substance.Substance) []substance.Limit {
	var out []substance.Limit
	if row == nil {
		return nil
	}
	for _, l := range row.Limits {
		if slices.Contains(c.authorities(), l.Authority) {
			out = append(out, l)
		}
	}
	for _, l := range row.Limits {
		if slices.ContainsFunc(c.quoted(), func(q string) bool { return sameAuthority(l.Authority, q) }) {
			out = append(out, l)
		}
	}
	return out
}

// statedLimits are the limits that section 8 gives for one ingredient.
func (c *Case) statedLimits(ing sheet.Ingredient, row *substance.Substance) []sheet.Fact[sheet.ExposureLimit] {
	var out []sheet.Fact[sheet.ExposureLimit]
	for _, f := range c.Sheet.Control.Limits {
		if !f.Known() {
			continue
		}
		l := f.Value
		if l.CAS != "" && ing.CAS.Known() {
			if l.CAS == ing.CAS.Value {
				out = append(out, f)
			}
			continue
		}
		if namesIngredient(l.Substance, l.CAS, ing) || (row != nil && l.CAS == row.CAS) || sameName(l.Substance, ing.Name.Value) ||
			(row != nil && sameName(l.Substance, row.Name)) {
			out = append(out, f)
		}
	}
	return out
}

// sameName compares two names of a substance by their letters and digits; one may go on where the other ends.
func sameName(a, b string) bool {
	a, b = letters(a), letters(b)
	return len(a) > 3 && len(b) > 3 && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}

func letters(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127:
			return r
		}
		return -1
	}, strings.ToLower(s))
}

func limitText(l substance.Limit) string {
	out := l.Authority + " " + l.Kind
	if l.PPM > 0 {
		out += fmt.Sprintf(" %s ppm", number(l.PPM))
	}
	if l.MgM3 > 0 {
		out += fmt.Sprintf(" %s mg/m³", number(l.MgM3))
	}
	return out
}
