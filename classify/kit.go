package classify

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Kit is a product in parts that are mixed before use, such as resin and hardener.
type Kit struct {
	Name  string
	Parts []Part
	Basis Basis // what the amounts of the parts count
	// Inert says that the parts do not react with each other, as with paint and thinner. Resin and hardener do.
	Inert bool
}

// Part is one part of a kit.
type Part struct {
	Name          string
	Mixture       Mixture
	Amount        sheet.Interval // parts of the mixing ratio: 100 and 32, or 2 and 1; for ByEquivalent, equivalents
	DensityGML    sheet.Interval // g/ml, needed for ByVolume
	EquivalentGEq sheet.Interval // g per equivalent, needed for ByEquivalent: EEW of a resin, AHEW of an amine hardener
}

// Basis is what a mixing ratio counts.
type Basis uint8

// Bases.
const (
	ByMass Basis = iota
	ByVolume
	ByEquivalent // reactive groups: one epoxide for one amine hydrogen
)

// String is the basis in words.
func (b Basis) String() string { return [...]string{"by mass", "by volume", "by equivalent weight"}[b] }

// ErrKit is wrapped by errors about a kit that cannot be mixed on paper.
var ErrKit = errors.New("the mixing ratio cannot be worked out")

// masses are the masses of the parts that the ratio mixes, in any unit.
func (k *Kit) masses() ([]sheet.Interval, error) {
	if len(k.Parts) < 2 {
		return nil, fmt.Errorf("%w: kit %q has %d part; give at least two", ErrKit, k.Name, len(k.Parts))
	}
	if len(k.Parts) > 12 {
		return nil, fmt.Errorf("%w: kit %q has %d parts; mix no more than twelve at a time", ErrKit, k.Name, len(k.Parts))
	}
	masses := make([]sheet.Interval, len(k.Parts))
	for i := range k.Parts {
		p := &k.Parts[i]
		if !positive(p.Amount) {
			return nil, fmt.Errorf("%w: part %q needs its amount in the mixing ratio, above 0", ErrKit, p.Name)
		}
		masses[i] = p.Amount
		switch k.Basis {
		case ByVolume:
			if !positive(p.DensityGML) {
				return nil, fmt.Errorf("%w: a ratio by volume needs the density of part %q in g/ml", ErrKit, p.Name)
			}
			masses[i] = times(p.Amount, p.DensityGML)
		case ByEquivalent:
			if !positive(p.EquivalentGEq) {
				return nil, fmt.Errorf("%w: a ratio by equivalents needs the equivalent weight of part %q in g/eq (EEW of a resin, AHEW of a hardener)", ErrKit, p.Name)
			}
			masses[i] = times(p.Amount, p.EquivalentGEq)
		}
	}
	return masses, nil
}

// positive tells whether both ends of the interval are there and above 0.
func positive(v sheet.Interval) bool { return v.HasLo && v.HasHi && v.Lo > 0 && v.Hi >= v.Lo }

// times is the product of two intervals of numbers that are not negative.
func times(a, b sheet.Interval) sheet.Interval {
	return sheet.Interval{Lo: a.Lo * b.Lo, Hi: a.Hi * b.Hi, HasLo: true, HasHi: true,
		LoOpen: a.LoOpen || b.LoOpen, HiOpen: a.HiOpen || b.HiOpen, Approx: a.Approx || b.Approx}
}

// Fractions are the shares of the parts in the fresh mix, percent by mass. They are exact: each end is taken by some
// masses within their ranges.
func (k *Kit) Fractions() ([]sheet.Interval, error) {
	masses, err := k.masses()
	if err != nil {
		return nil, err
	}
	out := make([]sheet.Interval, len(masses))
	for i := range masses {
		shares := make([]sheet.Interval, len(masses))
		for j := range shares {
			shares[j] = sheet.Exactly(0)
		}
		shares[i] = sheet.Exactly(whole)
		out[i] = mean(masses, shares)
	}
	return out, nil
}

// mean is the interval of Σ m·a / Σ m for masses and shares anywhere within theirs. The greatest mean weighs shares
// above it with their greatest mass and those below with their least, so that an end is found among the corners.
func mean(masses, shares []sheet.Interval) sheet.Interval {
	out := sheet.Interval{HasLo: true, HasHi: true}
	for corner := range 1 << len(masses) {
		var m, lo, hi float64
		var loOpen, hiOpen bool
		for i, mass := range masses {
			w, open := mass.Lo, mass.LoOpen
			if corner>>i&1 == 1 {
				w, open = mass.Hi, mass.HiOpen
			}
			m += w
			lo += w * shares[i].Lo
			hi += w * shares[i].Hi
			open = open && mass.Lo < mass.Hi
			loOpen = loOpen || open || shares[i].LoOpen
			hiOpen = hiOpen || open || shares[i].HiOpen
		}
		if v := lo / m; corner == 0 || v < out.Lo || v == out.Lo && !loOpen {
			out.Lo, out.LoOpen = v, loOpen
		}
		if v := hi / m; corner == 0 || v > out.Hi || v == out.Hi && !hiOpen {
			out.Hi, out.HiOpen = v, hiOpen
		}
	}
	return out
}

// Fresh is the mixture that the parts give before they react: every ingredient with its exact range in the mix. An
// ingredient that occurs in several parts (same CAS number, or same name where none is given) is one ingredient of the
// mix, with the hazards that any part states and the stricter of differing figures; notes tell where parts differ.
// Nothing measured on a part is taken for the mix.
func (k *Kit) Fresh() (m Mixture, notes []string, err error) {
	masses, err := k.masses()
	if err != nil {
		return Mixture{}, nil, err
	}
	m = Mixture{Name: k.Name + ", freshly mixed", Complete: true, Form: k.Parts[0].Mixture.Form}
	shares := map[string][]sheet.Interval{}
	for i := range k.Parts {
		p := &k.Parts[i].Mixture
		s, err := newSpace(p)
		if err != nil {
			return Mixture{}, nil, fmt.Errorf("part %q: %w", k.Parts[i].Name, err)
		}
		m.Complete = m.Complete && p.Complete
		m.ForPublic = m.ForPublic || p.ForPublic
		if p.Form != m.Form {
			m.Form = FormUnknown
		}
		for g := range p.Ingredients {
			in := &p.Ingredients[g]
			key := in.identity()
			if shares[key] == nil {
				shares[key] = slices.Repeat([]sheet.Interval{sheet.Exactly(0)}, len(k.Parts))
			}
			shares[key][i] = plus(shares[key][i], s.interval(g))
			notes = m.merge(in, notes)
		}
	}
	for g := range m.Ingredients {
		in := &m.Ingredients[g]
		in.Percent = mean(masses, shares[in.identity()])
	}
	return m, notes, nil
}

// identity is what an ingredient is recognised by in another part.
func (in *Ingredient) identity() string {
	if in.CAS != "" {
		return in.CAS
	}
	return strings.ToLower(strings.Join(strings.Fields(in.Name), " "))
}

// interval is the range of variable i.
func (s *space) interval(i int) sheet.Interval {
	return sheet.Interval{Lo: s.lo[i], Hi: s.hi[i], HasLo: true, HasHi: true, LoOpen: s.loOpen[i], HiOpen: s.hiOpen[i]}
}

// plus is the sum of two intervals.
func plus(a, b sheet.Interval) sheet.Interval {
	return sheet.Interval{Lo: a.Lo + b.Lo, Hi: a.Hi + b.Hi, HasLo: true, HasHi: true, LoOpen: a.LoOpen || b.LoOpen, HiOpen: a.HiOpen || b.HiOpen}
}

// merge adds an ingredient to the mix, or joins it with what the mix has of it, always to the stricter side.
func (m *Mixture) merge(in *Ingredient, notes []string) []string {
	at := slices.IndexFunc(m.Ingredients, func(have Ingredient) bool { return have.identity() == in.identity() })
	if at < 0 {
		add := *in
		add.Limits = slices.Clone(in.Limits)
		m.Ingredients = append(m.Ingredients, add)
		return notes
	}
	have := &m.Ingredients[at]
	if have.Hazards != in.Hazards {
		notes = append(notes, "the parts classify "+in.Name+" differently; the mix counts it by every class stated")
		have.Hazards = have.Hazards.Union(in.Hazards)
	}
	for _, route := range routes {
		if have.ATE[route] != in.ATE[route] {
			notes = append(notes, "the parts differ in the acute toxicity ("+route.String()+") of "+in.Name+"; the mix counts the stricter")
			have.ATE[route] = stricterATE(have.ATE[route], in.ATE[route])
		}
	}
	have.MAcute, have.MChronic = max(have.MAcute, in.MAcute), max(have.MChronic, in.MChronic)
	have.ActiveOxygenPct = max(have.ActiveOxygenPct, in.ActiveOxygenPct)
	for _, l := range in.Limits {
		if !slices.Contains(have.Limits, l) {
			have.Limits = append(have.Limits, l)
		}
	}
	for _, st := range in.Statements {
		if !slices.Contains(have.Statements, st) {
			have.Statements = append(slices.Clone(have.Statements), st)
		}
	}
	return notes
}

// stricterATE prefers a value to none, the lower of two values, and unknown to not toxic.
func stricterATE(a, b ATE) ATE {
	rank := map[ATEStatus]int{ATEValue: 0, ATEUnknown: 1, ATEFromClass: 2, ATENotToxic: 3}
	if rank[b.Status] < rank[a.Status] || a.Status == ATEValue && b.Status == ATEValue && b.Value < a.Value {
		return b
	}
	return a
}

// KitClassification is what a kit is classified as, part by part and freshly mixed.
type KitClassification struct {
	Kit       *Kit
	Fractions []sheet.Interval // share of each part in the mix, percent by mass
	Parts     []*Envelope
	Mix       *Envelope // of the fresh mix, before anything reacts
	Program   *Program  // of the fresh mix
	Notes     []string
	Rule      KitRule
}

// KitRule is what to act on from the moment the parts meet until the mix has cured.
type KitRule struct {
	Reacts   bool
	Text     string
	Certain  ghs.HazardSet // the severest per class among the certain hazards of the parts and the mix
	Possible ghs.HazardSet // the same among the possible ones
}

// Classify works out the envelope of every part and of the fresh mix. The mix is taken as any composition of its
// ingredients' ranges, which are exact one by one; that is never narrower than the truth, so a hazard it rules out or
// calls certain is so.
func (k *Kit) Classify(rs ghs.RuleSet) (*KitClassification, error) {
	c := &KitClassification{Kit: k}
	var err error
	if c.Fractions, err = k.Fractions(); err != nil {
		return nil, err
	}
	fresh, notes, err := k.Fresh()
	if err != nil {
		return nil, err
	}
	c.Notes = notes
	for i := range k.Parts {
		_, e, err := envelopeOf(k.Parts[i].Mixture, rs)
		if err != nil {
			return nil, fmt.Errorf("part %q: %w", k.Parts[i].Name, err)
		}
		c.Parts = append(c.Parts, e)
	}
	if c.Program, c.Mix, err = envelopeOf(fresh, rs); err != nil {
		return nil, fmt.Errorf("%s: %w", fresh.Name, err)
	}
	c.Rule = c.rule()
	return c, nil
}

func envelopeOf(m Mixture, rs ghs.RuleSet) (*Program, *Envelope, error) {
	p, err := Compile(m, rs)
	if err != nil {
		return nil, nil, err
	}
	e, err := p.Envelope()
	return p, e, err
}

func (c *KitClassification) rule() KitRule {
	r := KitRule{Reacts: !c.Kit.Inert, Certain: c.Mix.Certain, Possible: c.Mix.Possible}
	if c.Kit.Inert {
		r.Text = "The parts are said not to react with each other: the mix is classified like any mixture. The containers keep the classification of their parts."
		return r
	}
	for _, e := range c.Parts {
		r.Certain = r.Certain.Union(e.Certain)
		r.Possible = r.Possible.Union(e.Possible)
	}
	r.Certain, r.Possible = severestOnly(r.Certain), severestOnly(r.Possible)
	r.Text = "The fresh mix reacts: from the moment the parts meet its composition changes and it may give off heat and vapour. " +
		"The classification of the fresh mix holds for that moment only. Until the mix has cured, act on the strictest of the parts and the mix, class by class. " +
		"Cured material is another product; what is not fully cured still holds the ingredients of the parts."
	return r
}

// severestOnly keeps the severest hazard of each class, by route or effect.
func severestOnly(set ghs.HazardSet) ghs.HazardSet {
	out := set
	all := set.All()
	for _, h := range all {
		for _, other := range all {
			if groupOf(h) == groupOf(other) && other.Severer(h) {
				out.Remove(h)
			}
		}
	}
	return out
}
