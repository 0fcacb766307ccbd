package substance

import (
	"encoding/json"
	"fmt"
	"slices"

	"sixteen/ghs"
)

// Overlay is everything a user has imported, oldest layer first. It is one JSON document (encoding/json) to be kept
// wherever the user keeps things. The zero Overlay is empty.
type Overlay struct {
	Layers []Layer `json:"layers"`
}

// Layer is one imported table.
type Layer struct {
	Kind      TableKind     `json:"kind"`
	Edition   string        `json:"edition"`
	Applied   string        `json:"applied,omitempty"` // date and by whom, as the caller states it
	RuleSets  []ghs.RuleSet `json:"rule_sets,omitempty"`
	Authority string        `json:"authority,omitempty"`
	Complete  bool          `json:"complete,omitempty"`
	Entries   []Entry       `json:"entries"`
}

// Entry is what a layer says of one substance.
type Entry struct {
	Line            int              `json:"line"` // of the imported file
	Index           string           `json:"index,omitempty"`
	CAS             string           `json:"cas,omitempty"`
	EC              string           `json:"ec,omitempty"`
	Name            string           `json:"name"`
	Classifications []Classification `json:"classifications,omitempty"`
	Limits          []Limit          `json:"limits,omitempty"`
}

func (e Entry) key() string {
	if e.CAS != "" {
		return "cas " + e.CAS
	}
	return "ec " + e.EC
}

// Apply gives the overlay with the plan's layer on top. applied is a note on when and by whom, kept with the layer.
func (o Overlay) Apply(p Plan, applied string) Overlay {
	l := p.Layer
	l.Applied = applied
	return Overlay{Layers: append(slices.Clone(o.Layers), l)}
}

// Undo gives the overlay without its topmost layer, and that layer. ok is false when there is none.
func (o Overlay) Undo() (rest Overlay, undone Layer, ok bool) {
	n := len(o.Layers)
	if n == 0 {
		return o, Layer{}, false
	}
	return Overlay{Layers: slices.Clone(o.Layers[:n-1])}, o.Layers[n-1], true
}

// ReadOverlay reads the JSON of an overlay and checks it.
func ReadOverlay(raw []byte) (Overlay, error) {
	var o Overlay
	if err := json.Unmarshal(raw, &o); err != nil {
		return Overlay{}, fmt.Errorf("the imported tables cannot be read: %w; import them again", err)
	}
	for i, l := range o.Layers {
		if l.Kind != ClassificationTable && l.Kind != LimitTable {
			return Overlay{}, fmt.Errorf("imported table %d is of unknown kind %q; import it again with this version", i+1, l.Kind)
		}
		for _, e := range l.Entries {
			if (e.CAS == "" || !ValidCAS(e.CAS)) && (e.EC == "" || !ValidEC(e.EC)) {
				return Overlay{}, fmt.Errorf("imported table %d (%s), row %d: neither CAS number %q nor EC number %q is valid; import it again", i+1, l.Edition, e.Line, e.CAS, e.EC)
			}
		}
	}
	return o, nil
}

// With gives a table with the overlay laid over t; t stays as it is. Later layers win over earlier ones of the same kind
// for the same rule sets or authority. Substances that only an imported table names are added.
func (t *Table) With(o Overlay) *Table {
	if len(o.Layers) == 0 {
		return t
	}
	b := builder{byCAS: map[string]*Substance{}, byEC: map[string]*Substance{}}
	for _, s := range t.all {
		b.put(*s)
	}
	for _, l := range o.Layers {
		b.lay(l)
	}
	return newTable(b.all)
}

// builder holds copies of substances that may be changed.
type builder struct {
	all         []*Substance
	byCAS, byEC map[string]*Substance
}

func (b *builder) put(s Substance) *Substance {
	s.Classifications, s.Limits = slices.Clone(s.Classifications), slices.Clone(s.Limits)
	p := &s
	b.all = append(b.all, p)
	if s.CAS != "" {
		b.byCAS[s.CAS] = p
	}
	if s.EC != "" {
		b.byEC[s.EC] = p
	}
	return p
}

func (b *builder) find(e Entry) *Substance {
	if e.CAS != "" {
		return b.byCAS[e.CAS]
	}
	return b.byEC[e.EC]
}

func (b *builder) lay(l Layer) {
	named := map[*Substance]bool{}
	for _, e := range l.Entries {
		s := b.find(e)
		if s == nil {
			s = b.put(Substance{CAS: e.CAS, EC: e.EC, ECSource: Source{Text: l.Edition + " (imported)"}, Name: e.Name, Family: "imported"})
		}
		if s.EC == "" && e.EC != "" {
			s.EC, s.ECSource = e.EC, Source{Text: l.Edition + " (imported)"}
			b.byEC[e.EC] = s
		}
		named[s] = true
		l.replace(s)
		s.Classifications = append(s.Classifications, e.Classifications...)
		s.Limits = append(s.Limits, e.Limits...)
	}
	if l.Complete {
		for _, s := range b.all {
			if !named[s] {
				l.replace(s)
			}
		}
	}
}

// replace takes away what the layer speaks in place of: limits of its authority; official entries for its rule sets. An
// embedded harmonised entry keeps the rule sets that the layer is not about.
func (l Layer) replace(s *Substance) {
	if l.Kind == LimitTable {
		s.Limits = slices.DeleteFunc(s.Limits, func(x Limit) bool { return x.Authority == l.Authority })
		return
	}
	out := s.Classifications[:0]
	for _, c := range s.Classifications {
		if c.Authority == Harmonised || c.Authority == Imported {
			sets := c.RuleSets
			if len(sets) == 0 {
				sets = ghs.RuleSets()
			}
			c.RuleSets = slices.DeleteFunc(slices.Clone(sets), func(rs ghs.RuleSet) bool { return slices.Contains(l.RuleSets, rs) })
			if len(c.RuleSets) == 0 {
				continue
			}
		}
		out = append(out, c)
	}
	s.Classifications = out
}
