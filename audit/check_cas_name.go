package audit

import (
	"fmt"

	"sixteen/substance"
)

func checkCASName() Check {
	return Check{
		ID: "cas-name", Title: "A CAS number belongs to another substance than the name", Group: Reference, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Could:    "Hazards of the wrong substance are looked up.",
		Compares: "Name and CAS number of each ingredient with those of the substance table.",
		Clauses:  common("a number and a name that the table knows under different substances cannot both be right; trade names are left alone"),
		Example:  "“Acetone, CAS 108-88-3” (that is toluene).",
		Do:       "Act on the more hazardous of the two until the supplier has answered.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				if row == nil || !ing.Name.Known() || knownAs(row, ing.Name.Value) {
					continue
				}
				other := c.named(ing.Name.Value)
				if other == nil || other.CAS == row.CAS || other.Family == row.Family && sameName(other.Name, row.Name) {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Section: 3, Title: fmt.Sprintf("CAS %s is %s, not %s", row.CAS, row.Name, ing.Name.Value),
					Says:    []Side{says(3, ing.Name.Value+", CAS "+ing.CAS.Value, ing.Name, ing.CAS)},
					Follows: []Side{{Text: fmt.Sprintf("%s is CAS %s", other.Name, other.CAS), Source: "substance table"}},
					Ask:     ask("number", ing.CAS.Value, ing.Name.Value, row.Name), Key: []string{row.CAS, other.CAS},
				})
			}
		},
	}
}

// knownAs tells whether a substance goes by a name, whole or as part of a longer one.
func knownAs(row *substance.Substance, name string) bool {
	if sameName(row.Name, name) {
		return true
	}
	for _, s := range row.Synonyms {
		if sameName(s.Text, name) || letters(s.Text) == letters(name) {
			return true
		}
	}
	return false
}

// named finds the one substance whose name or synonym is exactly the given one, nil when there is none or several.
func (c *Case) named(name string) *substance.Substance {
	if c.Substances == nil {
		return nil
	}
	want := letters(name)
	var found *substance.Substance
	for _, row := range c.Substances.All() {
		match := letters(row.Name) == want
		for _, s := range row.Synonyms {
			match = match || letters(s.Text) == want
		}
		if match {
			if found != nil {
				return nil
			}
			found = row
		}
	}
	return found
}
