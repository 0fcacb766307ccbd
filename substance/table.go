package substance

import "sync"

// Table is a set of substances with its look-ups. It is safe for use by many goroutines; nothing in it may be changed.
type Table struct {
	all   []*Substance
	byCAS map[string]*Substance
	byEC  map[string]*Substance
	index func() *index // for Search, built at first use
}

func newTable(all []*Substance) *Table {
	t := &Table{all: all, byCAS: make(map[string]*Substance, len(all)), byEC: map[string]*Substance{}}
	for _, s := range all {
		if s.CAS != "" {
			t.byCAS[s.CAS] = s
		}
		if s.EC != "" {
			t.byEC[s.EC] = s
		}
	}
	t.index = sync.OnceValue(func() *index { return newIndex(all) })
	return t
}

// All lists the substances in table order.
func (t *Table) All() []*Substance { return t.all }

// Len counts the substances.
func (t *Table) Len() int { return len(t.all) }

// ByCAS finds a substance by CAS number, in any form that NormaliseCAS reads.
func (t *Table) ByCAS(cas string) (*Substance, bool) {
	if s, ok := t.byCAS[cas]; ok {
		return s, true
	}
	n, ok := NormaliseCAS(cas)
	if !ok {
		return nil, false
	}
	s, ok := t.byCAS[n]
	return s, ok
}

// ByEC finds a substance by EC or list number, in any form that NormaliseEC reads.
func (t *Table) ByEC(ec string) (*Substance, bool) {
	n, ok := NormaliseEC(ec)
	if !ok {
		return nil, false
	}
	s, ok := t.byEC[n]
	return s, ok
}

// RepairCAS is RepairCAS kept to the numbers that name a substance of the table.
func (t *Table) RepairCAS(s string) []*Substance {
	var out []*Substance
	for _, c := range RepairCAS(s) {
		if x, ok := t.byCAS[c]; ok {
			out = append(out, x)
		}
	}
	return out
}
