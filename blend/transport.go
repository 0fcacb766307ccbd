package blend

import (
	"cmp"
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

//go:embed transport.csv
var transportTable string

// entry is one row of the dangerous goods list that mixtures of the trade fall under.
type entry struct {
	un, class         string
	subsidiary        []string
	kind, state       string
	groups            []string
	names             map[ghs.Lang]string
	source            string
	memory, namesTech bool
}

var entries = sync.OnceValue(func() []entry {
	rows, err := csv.NewReader(strings.NewReader(transportTable)).ReadAll()
	if err != nil {
		panic("blend: transport.csv: " + err.Error())
	}
	var out []entry
	for _, r := range rows[1:] {
		out = append(out, entry{un: r[0], class: r[1], subsidiary: list(r[2]), kind: r[3], state: r[4], groups: list(r[5]),
			names:  map[ghs.Lang]string{ghs.English: r[6], ghs.French: r[7], ghs.German: r[8], ghs.Spanish: r[9]},
			source: r[10], memory: r[11] == "yes", namesTech: strings.Contains(r[6], "N.O.S.")})
	}
	return out
})

func list(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, ";")
}

// Proposal is how the product could be classified for transport: a proposal from the data at hand, to be confirmed by a
// person trained for it.
type Proposal struct {
	Decided      bool     `json:"decided"`    // false: a fact is missing that could change the answer
	Regulated    bool     `json:"regulated"`  // dangerous goods
	UN           string   `json:"un"`         // four digits
	Names        Words    `json:"names"`      // proper shipping name by language
	Technical    []string `json:"technical"`  // names in brackets, of an entry that wants them
	Class        string   `json:"class"`      //
	Subsidiary   []string `json:"subsidiary"` //
	PackingGroup string   `json:"packing_group"`
	Environment  bool     `json:"environment"` // environmentally hazardous, marine pollutant
	Why          []Why    `json:"why"`
	By           string   `json:"by,omitempty"` // the trained person who decided it; "" for a proposal
}

var flashRule = Why{Rule: "class 3: flash point at or below 60 °C (closed cup)", Clause: "UN Model Regulations 2.3.1.2 and 2.3.2.6; read in 49 CFR 173.120 and 173.121"}

// transportOf is the transport class and packing group that a hazard of the model rules leads to, "" for none. Packing
// groups of class 8 were read in ADR 2.2.8.1.5.3, the others are from memory (UN Model Regulations part 2).
func transportOf(h ghs.Hazard) (class, group string) {
	type row struct{ class, group string }
	switch h {
	case ghs.SkinCorr1A:
		return "8", "I"
	case ghs.SkinCorr1B, ghs.SkinCorr1:
		return "8", "II"
	case ghs.SkinCorr1C:
		return "8", "III"
	}
	groups := map[string]string{"1": "I", "2": "II", "3": "III"}
	var r row
	switch h.Class() {
	case ghs.CorrosiveToMetals:
		r = row{"8", "III"}
	case ghs.AcuteToxicity:
		if g, ok := groups[h.Category()]; ok && h.Qualifier() != ghs.InhalationGas {
			r = row{"6.1", g}
		}
	case ghs.OrganicPeroxides:
		if slices.Contains([]string{"B", "C", "D", "E", "F"}, h.Category()) {
			r = row{"5.2", ""}
		}
	case ghs.OxidisingLiquids, ghs.OxidisingSolids:
		r = row{"5.1", groups[h.Category()]}
	case ghs.FlammableSolids:
		r = row{"4.1", map[string]string{"1": "II", "2": "III"}[h.Category()]}
	case ghs.FlammableLiquids:
		if c := h.Category(); c == "1" || c == "2" || c == "3" {
			r = row{"3", groups[c]}
		}
	case ghs.AquaticAcute:
		if h.Category() == "1" {
			r = row{"9", "III"}
		}
	case ghs.AquaticChronic:
		if h.Category() == "1" || h.Category() == "2" {
			r = row{"9", "III"}
		}
	}
	return r.class, r.group
}

// transportRule is the clause behind a transport class.
func transportRule(class string) Why {
	switch class {
	case "3":
		return flashRule
	case "8":
		return Why{Rule: "class 8: skin corrosion gives the packing group (1A I, 1B II, 1C III; metal III)", Clause: "UN Model Regulations 2.8.3 and 2.8.4; read in ADR 2.2.8.1.5.3 and 2.2.8.1.6.3"}
	case "6.1":
		return Why{Rule: "class 6.1: acute toxicity of categories 1 to 3 gives packing group I to III", Clause: "UN Model Regulations 2.6.2.2.4", Memory: true}
	case "5.2":
		return Why{Rule: "class 5.2: the type of the organic peroxide gives the entry", Clause: "UN Model Regulations 2.5.3.2", Memory: true}
	case "9":
		return Why{Rule: "environmentally hazardous: acute category 1, chronic category 1 or 2", Clause: "UN Model Regulations 2.9.3; read in ADR 2.2.9.1.10.4.6"}
	}
	return Why{Rule: "class " + class + " by the hazard class of the same name", Clause: "UN Model Regulations part 2", Memory: true}
}

// danger is one transport class of the product with its packing group.
type danger struct{ class, group string }

// propose works out the transport proposal from the mix under the model regulations.
func propose(m *Mix) Proposal {
	if t := m.Recipe.Transport; t != nil {
		return Proposal{Decided: true, Regulated: !t.NotRegulated, UN: t.UN, Names: t.Name, Class: t.Class, Subsidiary: t.Subsidiary, PackingGroup: t.PackingGroup,
			Environment: t.Environment, By: cmp.Or(t.By, "the author"), Why: []Why{{Fact: "stated in the recipe by " + cmp.Or(t.By, "the author")}}}
	}
	p := Proposal{Decided: true}
	var dangers []danger
	for _, h := range m.Declared.All() {
		class, group := transportOf(h)
		switch class {
		case "":
		case "9":
			p.Environment = true
			p.Why = append(p.Why, because(h, class))
		default:
			dangers = append(dangers, danger{class, group})
			p.Why = append(p.Why, because(h, class))
		}
	}
	if flash := m.Mixture.Tested.FlashPointC; flash != nil && m.liquid() {
		p.Why = append(p.Why, Why{Fact: fmt.Sprintf("flash point %s °C", short(*flash)), Rule: flashRule.Rule, Clause: flashRule.Clause})
	} else if m.liquid() && !m.Mixture.Tested.NoFlashPoint && len(m.Flammables(60)) > 0 {
		p.Decided = false
		p.Why = append(p.Why, Why{Fact: "flash point not known; flammable ingredients: " + strings.Join(m.Flammables(60), ", "), Rule: flashRule.Rule, Clause: flashRule.Clause})
	}
	dangers = strongest(dangers)
	if len(dangers) == 0 && p.Environment {
		dangers = []danger{{"9", "III"}}
	}
	if len(dangers) == 0 {
		if p.Decided {
			p.Why = append(p.Why, Why{Rule: "no criterion of a transport class is met by the data at hand", Clause: "UN Model Regulations 2.0.1.1", Memory: true})
		}
		return p
	}
	p.Regulated = true
	p.Class, p.PackingGroup = dangers[0].class, dangers[0].group
	for _, d := range dangers[1:] {
		p.Subsidiary = append(p.Subsidiary, d.class)
		p.PackingGroup = stricterGroup(p.PackingGroup, d.group)
	}
	m.chooseEntry(&p)
	return p
}

func because(h ghs.Hazard, class string) Why {
	w := transportRule(class)
	w.Fact = h.String() + " by the model rules"
	return w
}

// liquid tells whether class 3 can apply: every form but solids, powders and gases.
func (m *Mix) liquid() bool {
	switch m.Mixture.Form {
	case classify.Solid, classify.Powder, classify.Gas, classify.Aerosol:
		return false
	}
	return true
}

// strongest keeps each class once with its strictest packing group, the primary class first: organic peroxides before all,
// then by the table of precedence (UN Model Regulations 2.0.3.3, from memory).
func strongest(ds []danger) []danger {
	var out []danger
	for _, d := range ds {
		i := slices.IndexFunc(out, func(o danger) bool { return o.class == d.class })
		if i < 0 {
			out = append(out, d)
			continue
		}
		out[i].group = stricterGroup(out[i].group, d.group)
	}
	slices.SortStableFunc(out, func(a, b danger) int {
		switch {
		case precedes(a, b):
			return -1
		case precedes(b, a):
			return 1
		}
		return 0
	})
	return out
}

func stricterGroup(a, b string) string {
	if a == "" {
		return b
	}
	if b == "" {
		return a
	}
	if len(b) < len(a) {
		return b
	}
	return a
}

// precedes tells whether class a is the primary one beside b.
func precedes(a, b danger) bool {
	at := func(g string) int { return max(1, len(g)) }
	switch {
	case a.class == "5.2" || b.class == "5.2":
		return a.class == "5.2"
	case a.class == "3" && b.class == "8":
		return !(at(a.group) >= 2 && b.group == "I" || a.group == "III" && b.group == "II")
	case a.class == "8" && b.class == "3":
		return !precedes(b, a)
	case a.class == "3" && b.class == "6.1":
		return !(a.group == "III" && (b.group == "I" || b.group == "II"))
	case a.class == "6.1" && b.class == "3":
		return !precedes(b, a)
	case a.class == "8" && b.class == "6.1":
		return at(a.group) <= at(b.group)
	case a.class == "6.1" && b.class == "8":
		return at(a.group) < at(b.group)
	}
	return a.class < b.class
}

// chooseEntry picks the row of the list: the most particular kind that fits, else the n.o.s. entry.
func (m *Mix) chooseEntry(p *Proposal) {
	state := "liquid"
	if !m.liquid() {
		state = "solid"
	}
	kinds := m.transportKinds()
	var best *entry
	subs := slices.Sorted(slices.Values(p.Subsidiary))
	for i := range entries() {
		e := &entries()[i]
		// subsidiary classes of an organic peroxide go by its formulation, not by its entry
		fits := e.class == "5.2" || slices.Equal(slices.Sorted(slices.Values(e.subsidiary)), subs)
		if e.class != p.Class || e.state != state || !fits || e.kind != "" && !slices.Contains(kinds, e.kind) {
			continue
		}
		if best == nil || best.kind == "" && e.kind != "" {
			best = e
		}
	}
	if best == nil {
		p.Decided = false
		p.Why = append(p.Why, Why{Rule: "no entry held for class " + p.Class + " with " + strings.Join(p.Subsidiary, ", "), Clause: "UN Model Regulations 3.2"})
		return
	}
	p.UN = best.un
	if len(best.groups) == 0 {
		p.PackingGroup = ""
	} else if !slices.Contains(best.groups, p.PackingGroup) {
		p.PackingGroup = best.groups[len(best.groups)-1]
	}
	p.Names = Words{}
	for l, n := range best.names {
		p.Names[l] = n
	}
	if best.namesTech {
		p.Technical = m.technical(p.Class)
	}
	p.Why = append(p.Why, Why{Fact: "UN " + best.un + ", " + best.names[ghs.English], Rule: "the entry of the dangerous goods list that fits best", Clause: best.source, Memory: best.memory})
}

// transportKinds are the kinds of product and of main ingredient that have entries of their own.
func (m *Mix) transportKinds() []string {
	var out []string
	for _, k := range m.Recipe.Kinds {
		out = append(out, string(k))
	}
	for _, h := range m.Declared.All() {
		if h.Class() == ghs.OrganicPeroxides {
			out = append(out, h.String())
		}
	}
	for i, p := range m.Parts {
		_, hi := m.Mixture.Ingredients[i].Bounds()
		if p.Row != nil && p.Row.Family == "amine hardener" && hi >= 1 && corrosive(m.Mixture.Ingredients[i].Hazards) {
			out = append(out, "amine")
		}
	}
	return out
}

func corrosive(hs ghs.HazardSet) bool {
	return !hs.Intersect(ghs.SetOf(ghs.SkinCorr1, ghs.SkinCorr1A, ghs.SkinCorr1B, ghs.SkinCorr1C)).Empty()
}

// technical are the names in brackets: the two ingredients with the largest shares among those that give the class.
func (m *Mix) technical(class string) []string {
	var at []int
	for i, in := range m.Mixture.Ingredients {
		for _, h := range in.Hazards.All() {
			if c, _ := transportOf(h); c == class && !m.Parts[i].Hidden {
				at = append(at, i)
				break
			}
		}
	}
	share := func(i int) sheet.Interval { return m.Mixture.Ingredients[i].Percent }
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(share(b).Hi, share(a).Hi) })
	var out []string
	for _, i := range at[:min(2, len(at))] {
		out = append(out, m.Mixture.Ingredients[i].Name)
	}
	return out
}
