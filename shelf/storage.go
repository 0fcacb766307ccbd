package shelf

import (
	"bytes"
	"cmp"
	"context"
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"sixteen/ghs"
	"sixteen/sheet"
)

// StorageClass is what the law and insurers limit the amount of in one place.
type StorageClass string

// Storage classes. The categories of flammable liquids are those of the standard: 1 flash point below 23 °C and boiling at or
// below 35 °C, 2 flash point below 23 °C, 3 up to 60 °C, 4 up to 93 °C (29 CFR 1910.106(a)(19)).
const (
	FlammableLiquid1     StorageClass = "flammable liquids, category 1"
	FlammableLiquid2     StorageClass = "flammable liquids, category 2"
	FlammableLiquid3     StorageClass = "flammable liquids, category 3"
	FlammableLiquid4     StorageClass = "flammable liquids, category 4"
	FlammableLiquids1to3 StorageClass = "flammable liquids, categories 1 to 3"
	FlammableLiquids2to4 StorageClass = "flammable liquids, categories 2 to 4"
	FlammableLiquids     StorageClass = "flammable liquids"
	FlammableGases       StorageClass = "flammable gases"
	FlammableAerosols    StorageClass = "flammable aerosols"
	FlammableSolids      StorageClass = "flammable solids"
	Oxidisers            StorageClass = "oxidisers"
	OrganicPeroxides     StorageClass = "organic peroxides"
	ToxicProducts        StorageClass = "toxic products" // acute toxicity, categories 1 to 3
	Corrosives           StorageClass = "corrosives"
	Everything           StorageClass = "everything"
)

// classMembers are the beginnings of the names of the hazards in each class.
func classMembers(c StorageClass) []string {
	switch c {
	case FlammableLiquid1:
		return []string{"Flam. Liq. 1"}
	case FlammableLiquid2:
		return []string{"Flam. Liq. 2"}
	case FlammableLiquid3:
		return []string{"Flam. Liq. 3"}
	case FlammableLiquid4:
		return []string{"Flam. Liq. 4"}
	case FlammableLiquids1to3:
		return []string{"Flam. Liq. 1", "Flam. Liq. 2", "Flam. Liq. 3"}
	case FlammableLiquids2to4:
		return []string{"Flam. Liq. 2", "Flam. Liq. 3", "Flam. Liq. 4"}
	case FlammableLiquids:
		return []string{"Flam. Liq."}
	case FlammableGases:
		return []string{"Flam. Gas"}
	case FlammableAerosols:
		return []string{"Aerosol 1", "Aerosol 2", "Chem. Press. 1", "Chem. Press. 2"}
	case FlammableSolids:
		return []string{"Flam. Sol."}
	case Oxidisers:
		return []string{"Ox. "}
	case OrganicPeroxides:
		return []string{"Org. Perox."}
	case ToxicProducts:
		return []string{"Acute Tox. 1", "Acute Tox. 2", "Acute Tox. 3"}
	case Corrosives:
		return []string{"Skin Corr.", "Met. Corr."}
	case Everything:
		return []string{""}
	}
	return nil
}

// StorageClasses lists the storage classes.
func StorageClasses() []StorageClass {
	return []StorageClass{
		FlammableLiquid1, FlammableLiquid2, FlammableLiquid3, FlammableLiquid4, FlammableLiquids1to3, FlammableLiquids2to4, FlammableLiquids,
		FlammableGases, FlammableAerosols, FlammableSolids, Oxidisers, OrganicPeroxides, ToxicProducts, Corrosives, Everything,
	}
}

// StorageGroup is a group of products that published tables keep apart from other groups.
type StorageGroup string

// StorageGroups lists the groups of the segregation table.
func StorageGroups() []StorageGroup {
	return []StorageGroup{
		"flammable-liquid", "flammable-solid", "self-heating", "water-reactive", "oxidising", "organic-peroxide", "toxic", "corrosive", "corrosive-liquid",
		"acid", "alkali", "cyanide", "isocyanate", "epoxy-resin", "amine-hardener", "cobalt-accelerator",
	}
}

// Separation is one row of the segregation table: what is kept apart from what, how far, and by whose word. Recalled rows were
// not read in the source again.
type Separation struct {
	A        StorageGroup `json:"a"`
	B        StorageGroup `json:"b"`
	Outcome  string       `json:"outcome"` // keep apart, segregate, isolate
	Why      string       `json:"why"`
	Source   string       `json:"source"`
	Recalled bool         `json:"recalled"`
}

// OutcomeMeans says in words what an outcome of the segregation table asks for (HSE HSG71, 4th ed. 2009, from memory).
func OutcomeMeans(outcome string) string {
	switch outcome {
	case "keep apart":
		return "at least 3 m between them, or a wall; a leak of one must not reach the other"
	case "segregate":
		return "a fire-resisting wall of at least 30 minutes or a larger gap between them, spills held back on each side"
	case "isolate":
		return "not in the same room or cupboard"
	}
	return ""
}

//go:embed segregation.csv
var segregationTable []byte

// Separations is the segregation table.
var Separations = sync.OnceValues(func() ([]Separation, error) {
	rows, err := csv.NewReader(bytes.NewReader(segregationTable)).ReadAll()
	if err != nil {
		return nil, err
	}
	var out []Separation
	for _, r := range rows[1:] {
		out = append(out, Separation{StorageGroup(r[0]), StorageGroup(r[1]), r[2], r[3], r[4], r[5] == "yes"})
	}
	return out, nil
})

// in tells whether one of the hazards is in a class.
func in(c StorageClass, hazards []ghs.Hazard) bool {
	for _, begin := range classMembers(c) {
		if begin == "" {
			return true
		}
		for _, h := range hazards {
			if strings.HasPrefix(h.String(), begin) {
				return true
			}
		}
	}
	return false
}

// flammableClass is the class by which a product burns; none when the sheet declares none.
func flammableClass(hazards []ghs.Hazard) ghs.Hazard {
	for _, begin := range []string{"Flam. Gas", "Pyr. ", "Aerosol 1", "Aerosol 2", "Chem. Press. 1", "Chem. Press. 2", "Flam. Liq. 1", "Flam. Liq. 2", "Flam. Liq. 3", "Flam. Liq. 4", "Flam. Sol."} {
		for _, h := range hazards {
			if strings.HasPrefix(h.String(), begin) {
				return h
			}
		}
	}
	return ghs.NoHazard
}

// flammableByFlash is the category of a liquid by its flash and boiling points, for a sheet that declares none; an unknown boiling
// point counts as above 35 °C (29 CFR 1910.106(a)(19)).
func flammableByFlash(flashC, boilingC *float64) ghs.Hazard {
	switch {
	case flashC == nil || *flashC > 93:
		return ghs.NoHazard
	case *flashC < 23 && boilingC != nil && *boilingC <= 35:
		return ghs.FlamLiq1
	case *flashC < 23:
		return ghs.FlamLiq2
	case *flashC <= 60:
		return ghs.FlamLiq3
	}
	return ghs.FlamLiq4
}

// groupsOf are the storage groups of a product by its declared hazards, pH and ingredients.
func groupsOf(s *sheet.Sheet, hazards []ghs.Hazard) []StorageGroup {
	var out []StorageGroup
	put := func(g StorageGroup, when bool) {
		if when {
			out = appendNew(out, g)
		}
	}
	has := func(begins ...string) bool {
		return slices.ContainsFunc(hazards, func(h ghs.Hazard) bool {
			return slices.ContainsFunc(begins, func(b string) bool { return strings.HasPrefix(h.String(), b) })
		})
	}
	contains := func(parts ...string) bool { return containsIngredient(s, parts...) }
	corrosive := has("Skin Corr.", "Met. Corr.")
	liquid := s.Physical.State.Value == "" || strings.Contains(strings.ToLower(s.Physical.State.Value), "liquid")
	put("flammable-liquid", has("Flam. Liq. 1", "Flam. Liq. 2", "Flam. Liq. 3"))
	put("flammable-solid", has("Flam. Sol.", "Self-react."))
	put("self-heating", has("Self-heat.", "Pyr. "))
	put("water-reactive", has("Water-react."))
	put("oxidising", has("Ox. "))
	put("organic-peroxide", has("Org. Perox."))
	put("toxic", has("Acute Tox. 1", "Acute Tox. 2", "Acute Tox. 3"))
	put("corrosive", corrosive)
	put("corrosive-liquid", corrosive && liquid)
	ph := lowestOf(s, sheet.PH)
	amine := contains("amine", "amin")
	put("acid", corrosive && (ph != nil && *ph < 7 || ph == nil && contains("acid", "säure", "acide", "ácido") && !amine))
	put("alkali", corrosive && (ph != nil && *ph > 7 || ph == nil && (amine || contains("hydroxide", "hydroxid", "hydroxyde", "hidróxido"))))
	put("cyanide", contains("cyanide", "cyanid", "cyanure", "cianuro") && !contains("isocyan"))
	put("isocyanate", contains("isocyanat"))
	put("epoxy-resin", contains("epichlorohydrin", "epichlorhydrin", "epoxy resin", "diglycidyl"))
	put("amine-hardener", amine && (corrosive || has("Skin Sens.")))
	put("cobalt-accelerator", contains("cobalt", "kobalt"))
	return out
}

// containsIngredient tells whether a listed ingredient's name contains one of the parts.
func containsIngredient(s *sheet.Sheet, parts ...string) bool {
	for _, i := range s.Composition.Ingredients {
		name := strings.ToLower(i.Name.Value)
		for _, p := range parts {
			if strings.Contains(name, p) {
				return true
			}
		}
	}
	return false
}

// Held is what a place holds of one storage class, with what stands in the places within it, against the limit that a person
// set. Amounts that are unknown, or that cannot be converted to the unit because the sheet gives no density, are counted apart,
// so a total with such is a lower bound.
type Held struct {
	Class       StorageClass `json:"class"`
	Amount      float64      `json:"amount"`
	Unit        string       `json:"unit"`
	Products    int          `json:"products"`
	Unknown     int          `json:"unknown"`     // amounts not known
	Unconverted int          `json:"unconverted"` // amounts in the other unit without a density
	Limit       *Limit       `json:"limit,omitempty"`
	Over        bool         `json:"over"`     // more than the limit
	MayBeOver   bool         `json:"may_over"` // not over by what is known, and something is unknown
}

// Neighbours are two products in one place that a table keeps apart.
type Neighbours struct {
	Separation
	ProductA string `json:"product_a"` // IDs and names
	NameA    string `json:"name_a"`
	ProductB string `json:"product_b"`
	NameB    string `json:"name_b"`
}

// PlaceTotals is what stands in a place.
type PlaceTotals struct {
	Place          Place        `json:"place"`
	Held           []Held       `json:"held"`
	Neighbours     []Neighbours `json:"neighbours"`      // at most 200, the strictest
	MoreNeighbours int          `json:"more_neighbours"` // pairs beyond those listed
	Amounts        int          `json:"amounts"`         // that stand there itself, not within places in it
	NoSheet        int          `json:"no_sheet"`        // products there without a sheet that was read: their classes are not known
}

// standing is one amount with what its product's sheet says.
type standing struct {
	id, place, product string
	name, folded       string
	amount             *float64
	factor             float64 // of the unit, to l or kg
	volume             bool
	density            *float64
	sheet              bool // there is one in force
	*traits
}

// traits are what a sheet says that counts where its product stands. Products have them in common.
type traits struct {
	hazards []ghs.Hazard
	groups  []StorageGroup
	classes []bool // of StorageClasses
}

// traitsOf reads the traits of each different text once.
type traitsOf map[[3]string]*traits

func (known traitsOf) read(hazards, groups, flammable string) (*traits, error) {
	key := [3]string{hazards, groups, flammable}
	if t, ok := known[key]; ok {
		return t, nil
	}
	t := &traits{}
	var burns ghs.Hazard
	err := errors.Join(codedList[ghs.Hazard]{&t.hazards, ghs.ParseHazard}.Scan(hazards), list[StorageGroup]{&t.groups}.Scan(groups), coded[ghs.Hazard]{&burns, ghs.ParseHazard}.Scan(flammable))
	if burns != ghs.NoHazard {
		t.hazards = appendNew(t.hazards, burns)
	}
	for _, c := range StorageClasses() {
		t.classes = append(t.classes, in(c, t.hazards))
	}
	known[key] = t
	return t, err
}

// Storage adds up what stands where: totals by class against the limits, and neighbours that published tables keep apart.
// Products are neighbours when they stand in the same place, not merely in places within one room.
func (s *Shelf) Storage(ctx context.Context) ([]PlaceTotals, error) {
	places, err := s.Places(ctx)
	if err != nil {
		return nil, err
	}
	all, err := s.standing(ctx)
	if err != nil {
		return nil, err
	}
	separations, err := Separations()
	if err != nil {
		return nil, err
	}
	at := map[string][]standing{}
	for _, st := range all {
		at[st.place] = append(at[st.place], st)
	}
	within := map[string][]string{}
	for _, p := range places {
		within[p.Within] = append(within[p.Within], p.ID)
	}
	out := make([]PlaceTotals, len(places))
	for i, p := range places {
		var there []standing
		for _, id := range inside(p.ID, within, 0) {
			there = append(there, at[id]...)
		}
		out[i] = PlaceTotals{Place: p, Held: heldIn(p, there), Amounts: len(at[p.ID])}
		out[i].Neighbours, out[i].MoreNeighbours = neighboursIn(at[p.ID], separations)
		missing := map[string]bool{}
		for _, st := range there {
			if !st.sheet {
				missing[st.product] = true
			}
		}
		out[i].NoSheet = len(missing)
	}
	return out, nil
}

// inside lists a place and the places within it.
func inside(id string, within map[string][]string, depth int) []string {
	out := []string{id}
	if depth < 100 {
		for _, sub := range within[id] {
			out = append(out, inside(sub, within, depth+1)...)
		}
	}
	return out
}

func (s *Shelf) standing(ctx context.Context) ([]standing, error) {
	rows, err := s.rows(ctx, "SELECT t.id, t.place_id, t.amount, t.unit, l.product_id, l.name, l.folded, l.sheet_id <> '', l.hazards, l.groups, l.flammable, l.density"+
		" FROM stock t JOIN listed l ON l.product_id = t.product_id WHERE t.retired = ''")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []standing
	known := traitsOf{}
	for rows.Next() {
		var st standing
		var unit, hazards, groups, flammable string
		if err := rows.Scan(&st.id, &st.place, &st.amount, &unit, &st.product, &st.name, &st.folded, &st.sheet, &hazards, &groups, &flammable, &st.density); err != nil {
			return nil, err
		}
		if st.traits, err = known.read(hazards, groups, flammable); err != nil {
			return nil, err
		}
		st.factor, st.volume = unitOf(unit)
		out = append(out, st)
	}
	slices.SortFunc(out, func(a, b standing) int {
		return cmp.Or(cmp.Compare(a.folded, b.folded), cmp.Compare(a.product, b.product), cmp.Compare(a.id, b.id))
	})
	return out, rows.Err()
}

// heldIn adds up the classes that have a limit, and those of fire that something is there of.
func heldIn(p Place, there []standing) []Held {
	var out []Held
	for _, l := range p.Limits {
		h := heldOf(l.Class, l.Unit, there)
		h.Limit = &l
		h.Over = h.Amount > l.Most
		h.MayBeOver = !h.Over && h.Unknown+h.Unconverted > 0
		out = append(out, h)
	}
	for _, c := range []StorageClass{FlammableLiquid1, FlammableLiquid2, FlammableLiquid3, FlammableLiquid4, FlammableGases, FlammableAerosols, FlammableSolids, Oxidisers, OrganicPeroxides} {
		if slices.ContainsFunc(p.Limits, func(l Limit) bool { return l.Class == c }) {
			continue
		}
		unit := "kg"
		if strings.HasPrefix(string(c), "flammable liquids") {
			unit = "l"
		}
		if h := heldOf(c, unit, there); h.Products > 0 {
			out = append(out, h)
		}
	}
	return out
}

func heldOf(c StorageClass, unit string, there []standing) Held {
	h := Held{Class: c, Unit: unit}
	per, volume := unitOf(unit)
	products := map[string]bool{}
	class := slices.Index(StorageClasses(), c)
	for _, st := range there {
		if class < 0 || !st.classes[class] {
			continue
		}
		products[st.product] = true
		switch {
		case st.amount == nil:
			h.Unknown++
		case st.volume == volume:
			h.Amount += *st.amount * st.factor / per
		case st.density == nil || *st.density <= 0:
			h.Unconverted++
		case volume: // kg / (kg/m3) = m3
			h.Amount += *st.amount * st.factor / *st.density * 1000 / per
		default:
			h.Amount += *st.amount * st.factor * *st.density / 1000 / per
		}
	}
	h.Products = len(products)
	return h
}

// neighboursListed is how many pairs of one place are listed; the others are counted.
const neighboursListed = 200

// alike are the products of one place that are in the same storage groups.
type alike struct {
	groups   []StorageGroup
	products []standing
}

// alikeIn sorts the products of a place by their storage groups, those in no group left out, each product once.
func alikeIn(there []standing) []*alike {
	var out []*alike
	by := map[string]*alike{}
	seen := map[string]bool{}
	for _, st := range there {
		if seen[st.product] || len(st.groups) == 0 {
			continue
		}
		seen[st.product] = true
		k := fmt.Sprint(st.groups)
		if by[k] == nil {
			by[k] = &alike{groups: st.groups}
			out = append(out, by[k])
		}
		by[k].products = append(by[k].products, st)
	}
	return out
}

// strictness orders the outcomes of the segregation table; -1 for one that is not known.
func strictness(outcome string) int {
	return slices.Index([]string{"keep apart", "segregate", "isolate"}, outcome)
}

// strictest is the strictest row of a table between two sets of groups, and whether the second set is its side A.
func strictest(a, b []StorageGroup, table []Separation) (row Separation, swapped, found bool) {
	for _, r := range table {
		straight := slices.Contains(a, r.A) && slices.Contains(b, r.B)
		turned := slices.Contains(b, r.A) && slices.Contains(a, r.B)
		if (straight || turned) && (!found || strictness(r.Outcome) > strictness(row.Outcome)) {
			row, swapped, found = r, !straight, true
		}
	}
	return row, swapped, found
}

// neighboursIn lists the pairs of products that a table keeps apart, the strictest outcome of each pair, and counts those beyond
// the bound, which are never stricter than the ones listed. Sets of products are compared, not products.
func neighboursIn(there []standing, table []Separation) (listed []Neighbours, more int) {
	type meeting struct {
		row  Separation
		a, b *alike
	}
	var met []meeting
	sets := alikeIn(there)
	for i, a := range sets {
		for _, b := range sets[i:] {
			row, swapped, found := strictest(a.groups, b.groups, table)
			switch {
			case found && swapped:
				met = append(met, meeting{row, b, a})
			case found:
				met = append(met, meeting{row, a, b})
			}
		}
	}
	slices.SortStableFunc(met, func(x, y meeting) int { return strictness(y.row.Outcome) - strictness(x.row.Outcome) })
	listed = []Neighbours{}
	for _, m := range met {
		pairs, before := len(m.a.products)*len(m.b.products), len(listed)
		if m.a == m.b {
			pairs = len(m.a.products) * (len(m.a.products) - 1) / 2
		}
		listed = appendPairs(listed, m.row, m.a, m.b)
		more += pairs - (len(listed) - before)
	}
	slices.SortFunc(listed, func(a, b Neighbours) int {
		return cmp.Or(strictness(b.Outcome)-strictness(a.Outcome), cmp.Compare(a.NameA, b.NameA), cmp.Compare(a.NameB, b.NameB), cmp.Compare(a.ProductA+a.ProductB, b.ProductA+b.ProductB))
	})
	return listed, more
}

// appendPairs adds the pairs of two sets, or of one with itself, up to the bound.
func appendPairs(to []Neighbours, row Separation, a, b *alike) []Neighbours {
	for i, x := range a.products {
		others := b.products
		if a == b {
			others = others[i+1:]
		}
		for _, y := range others {
			if len(to) >= neighboursListed {
				return to
			}
			to = append(to, Neighbours{row, x.product, x.name, y.product, y.name})
		}
	}
	return to
}

// LimitAt suggests the limits that the law of the United States sets for one sort of place, for a person to accept: the most
// in one storage cabinet (29 CFR 1910.106(d)(3)(i)), and outside of cabinets in one fire area (29 CFR 1910.106(e)(2)(ii)(b)).
func LimitAt(sort PlaceSort) []Limit {
	const cabinet, area = "29 CFR 1910.106(d)(3)(i)", "29 CFR 1910.106(e)(2)(ii)(b)"
	switch sort {
	case Cupboard:
		return []Limit{{FlammableLiquids1to3, 60, "gal", cabinet}, {FlammableLiquid4, 120, "gal", cabinet}}
	case Room, Shelves:
		return []Limit{{FlammableLiquid1, 25, "gal", area}, {FlammableLiquids2to4, 120, "gal", area}}
	}
	return nil
}
