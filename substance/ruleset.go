package substance

import (
	"fmt"
	"slices"

	"sixteen/ghs"
)

// Basis is what is known of a substance's classification, sorted for one rule set. Official and Typical never mix: each
// entry carries its authority and source.
type Basis struct {
	RuleSet ghs.RuleSet `json:"rule_set"`

	// Official holds harmonised or imported entries. Binding tells whether they are law under the rule set; where they are
	// not, they are still the best supported evidence held.
	Official []Classification `json:"official,omitempty"`
	Binding  bool             `json:"binding"`

	// Typical holds what notifiers and suppliers commonly state for hazards that Official says nothing about. A harmonised
	// entry settles only the hazards it names; the supplier must classify the rest.
	Typical []Classification `json:"typical,omitempty"`

	// Differing holds typical statements that disagree with Official, or with each other, on the same hazard.
	Differing []Classification `json:"differing,omitempty"`

	// Conditional holds official entries that depend on a constituent by a note (NoteText): a petroleum fraction is a
	// carcinogen unless it holds less than 0.1 % benzene. They are not in Use; whoever uses the substance must ask.
	Conditional []Classification `json:"conditional,omitempty"`

	// Outside holds entries whose hazard the rule set does not know (aquatic hazards in the United States).
	Outside []Classification `json:"outside,omitempty"`

	Statement string `json:"statement"` // in words, what this rests on
}

// Use lists the entries to classify with: official ones, then typical ones for other hazards. Statements that no hazard
// applies ("not classified") and supplemental statements are left in; their Hazard is none.
func (b Basis) Use() []Classification { return slices.Concat(b.Official, b.Typical) }

// Stricter lists the differing statements that are severer than what Use holds for the same hazard.
func (b Basis) Stricter() []Classification {
	var out []Classification
	for _, d := range b.Differing {
		for _, c := range b.Use() {
			if d.Hazard != ghs.NoHazard && hazardKey(d) == hazardKey(c) && d.Hazard.Severer(c.Hazard) {
				out = append(out, d)
				break
			}
		}
	}
	return out
}

// key is what two classifications must share to speak of the same hazard: class, and for acute toxicity and for the
// passing effects of a single exposure the route or effect. Supplemental statements go by their code.
type key struct {
	class     ghs.Class
	qualifier ghs.Qualifier
	code      ghs.Code
}

func hazardKey(c Classification) key {
	if c.Hazard == ghs.NoHazard {
		return key{code: c.Code}
	}
	k := key{class: c.Hazard.Class(), qualifier: c.Hazard.Qualifier()}
	switch k.qualifier {
	case ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust:
		k.qualifier = ghs.InhalationVapour // one route, whatever the form
	case ghs.Oral, ghs.Dermal, ghs.Narcotic, ghs.Respiratory:
	default:
		k.qualifier = ghs.NoQualifier
	}
	return k
}

// annexVI tells whether a rule set takes the harmonised entries of the EU as law. Great Britain took them over in 2020
// and keeps its own list since; entries changed later may differ there.
func annexVI(rs ghs.RuleSet) bool { return rs == ghs.EUCLP || rs == ghs.GBCLP }

// ForRuleSet sorts what is known of the substance for a rule set. Entries imported from a user's own official table for
// that rule set come before the embedded harmonised ones and replace them; per hazard, notifiers come before suppliers.
func (s *Substance) ForRuleSet(rs ghs.RuleSet) Basis {
	b := Basis{RuleSet: rs}
	imported, harmonised := s.by(Imported, rs), s.by(Harmonised, rs)
	switch {
	case len(imported) > 0:
		b.Official, b.Binding = imported, true
	default:
		b.Official, b.Binding = harmonised, annexVI(rs) && len(harmonised) > 0
	}
	b.Official = slices.DeleteFunc(b.Official, func(c Classification) bool {
		if NoteText(c.Note) == "" {
			return false
		}
		b.Conditional = append(b.Conditional, c)
		return true
	})
	covered := map[key]Classification{}
	for _, c := range b.Official {
		covered[hazardKey(c)] = c
	}
	var nothing []Classification
	for _, a := range []Authority{Notified, Supplier, Derived} {
		mine := map[key]Classification{}
		for _, c := range s.by(a, rs) {
			if c.NotClassified {
				nothing = append(nothing, c)
				continue
			}
			k := hazardKey(c)
			if known, ok := covered[k]; !ok {
				mine[k] = c
				b.Typical = append(b.Typical, c)
			} else if known.Hazard != c.Hazard {
				b.Differing = append(b.Differing, c)
			}
		}
		for k, c := range mine {
			covered[k] = c
		}
	}
	if len(b.Official)+len(b.Typical) == 0 {
		b.Typical = nothing
	} else {
		b.Differing = append(b.Differing, nothing...)
	}
	b.adapt()
	b.Statement = b.words(len(imported) > 0)
	return b
}

// by lists the entries of one authority that speak for the rule set.
func (s *Substance) by(a Authority, rs ghs.RuleSet) []Classification {
	var out []Classification
	for _, c := range s.Classifications {
		if c.Authority == a && (len(c.RuleSets) == 0 || slices.Contains(c.RuleSets, rs)) {
			out = append(out, c)
		}
	}
	return out
}

// adapt puts each hazard into the terms of the rule set: a subcategory it does not know becomes its category (eye
// irritation 2A is 2 in the EU), and hazards it does not know at all go to Outside.
func (b *Basis) adapt() {
	keep := func(list []Classification) []Classification {
		out := list[:0:0]
		for _, c := range list {
			h, ok := adaptHazard(c.Hazard, b.RuleSet)
			if c.Hazard = h; ok {
				out = append(out, c)
			} else {
				b.Outside = append(b.Outside, c)
			}
		}
		return out
	}
	b.Official, b.Typical, b.Differing, b.Conditional = keep(b.Official), keep(b.Typical), keep(b.Differing), keep(b.Conditional)
}

func adaptHazard(h ghs.Hazard, rs ghs.RuleSet) (ghs.Hazard, bool) {
	if h == ghs.NoHazard || rs.Exists(h) {
		return h, true
	}
	cat := h.Category()
	for _, other := range h.Class().Hazards() {
		same := other.Qualifier() == h.Qualifier() && len(cat) == 2 && other.Category() == cat[:1]
		if same && rs.Exists(other) {
			return other, true
		}
	}
	return h, false
}

func (b Basis) words(imported bool) string {
	law := "no official entry held"
	switch {
	case imported:
		law = "official entry from an imported table"
	case b.Binding && b.RuleSet == ghs.GBCLP:
		law = "harmonised entry of the EU, law in Great Britain as far as its own list has not parted from it since 2020"
	case b.Binding:
		law = "harmonised entry, law under " + string(b.RuleSet)
	case len(b.Official) > 0:
		law = "harmonised entry of the EU, which is not law under " + string(b.RuleSet) + " but the best supported evidence held"
	}
	typical := "no typical classification beside it"
	if n := len(b.Typical); n > 0 {
		typical = fmt.Sprintf("%d typical %s of notifiers or suppliers for hazards it does not name", n, plural(n, "statement", "statements"))
		if len(b.Official) == 0 {
			typical = fmt.Sprintf("%d typical %s of notifiers or suppliers", n, plural(n, "statement", "statements"))
		}
	}
	recalled := 0
	for _, c := range b.Use() {
		if c.Source.Memory {
			recalled++
		}
	}
	out := law + "; " + typical
	if n := len(b.Differing); n > 0 {
		out += fmt.Sprintf("; %d %s", n, plural(n, "statement that differs", "statements that differ"))
	}
	if n := len(b.Conditional); n > 0 {
		out += fmt.Sprintf("; %d official %s on a constituent", n, plural(n, "class that depends", "classes that depend"))
	}
	if recalled > 0 {
		out += fmt.Sprintf("; %d of %d from memory", recalled, len(b.Use()))
	}
	return out
}

// NoteText says in words what a note of Annex VI, part 1, does to a class. Only notes that make a class depend on a
// constituent are carried; text is empty for others. J and K were read in a draft amendment of 2019, the others are
// from memory.
func NoteText(letter string) string {
	switch letter {
	case "J", "P":
		return "does not apply as carcinogen or mutagen when the substance holds less than 0.1 % benzene (note " + letter + "); aspiration and other hazards stay"
	case "K":
		return "does not apply as carcinogen or mutagen when the substance holds less than 0.1 % buta-1,3-diene (note K)"
	case "L":
		return "does not apply as carcinogen when the substance holds less than 3 % DMSO extract by IP 346 (note L)"
	case "M":
		return "does not apply as carcinogen when the substance holds less than 0.005 % benzo[a]pyrene (note M)"
	case "N":
		return "does not apply as carcinogen when the full refining history shows that no carcinogen went in (note N)"
	}
	return ""
}
