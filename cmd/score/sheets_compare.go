package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// compare compares one sheet with its record, field by field. Fields that the record leaves open (null where null means
// "not recorded") are not counted.
func (b *scoreboard) compare(id string, s *sheet.Sheet, truth map[string]any) {
	b.compareSections(id, s, truth)
	b.compareIdentity(id, s, truth)
	b.compareHazards(id, s, truth)
	b.compareIngredients(id, s, truth)
	for _, p := range []struct {
		field string
		prop  sheet.Property
	}{
		{"flash_point_c", sheet.FlashPoint}, {"boiling_point_c", sheet.BoilingPoint}, {"density", sheet.Density}, {"vapour_pressure", sheet.VapourPressure},
		{"ph", sheet.PH}, {"voc", sheet.VOC}, {"lower_flammable", sheet.LowerFlammable}, {"upper_flammable", sheet.UpperFlammable},
		{"auto_ignition_c", sheet.AutoIgnition}, {"kinematic_viscosity", sheet.KinematicViscosity}, {"dynamic_viscosity", sheet.DynamicViscosity},
	} {
		b.compareQuantity(id, p.field, s.Physical.Quantities[p.prop], truth)
	}
	b.compareTransport(id, s, truth)
	b.compareRatings(id, s, truth)
	b.compareLimits(id, s, truth)
	b.compareTox(id, s, truth)
}

func text(m map[string]any, key string) (string, bool) {
	v, ok := m[key].(string)
	return v, ok
}

func number(v any) (float64, bool) {
	f, ok := v.(float64)
	return f, ok
}

func stringsOf(v any) []string {
	list, _ := v.([]any)
	var out []string
	for _, x := range list {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

func (b *scoreboard) compareSections(id string, s *sheet.Sheet, truth map[string]any) {
	list, _ := truth["sections_found"].([]any)
	if len(list) == 0 {
		return
	}
	means := false
	var want []string
	for _, x := range list {
		m, _ := x.(map[string]any)
		n, _ := number(m["section"])
		page, _ := number(m["page"])
		if v, ok := number(m["means"]); ok {
			n, means = v, true
		}
		want = append(want, fmt.Sprintf("%d page %d", int(n), int(page)))
	}
	var got []value
	for n := 1; n <= 16; n++ {
		sec := s.Sections[n]
		if sec.Heading.Page == 0 {
			continue
		}
		printed := n
		if !means {
			printed = printedNumber(sec.Heading.Words, n)
		}
		got = append(got, value{fmt.Sprintf("%d page %d", printed, sec.Heading.Page), 0.99})
	}
	b.sets(id, "sections", got, want)
}

// printedNumber is the number a heading carries, or its subject's number when it carries none.
func printedNumber(words string, n int) int {
	w := strings.TrimLeft(words, " SECTIONsectionABHRUQÓóabhruq\t.:§")
	v := 0
	if k, _ := fmt.Sscanf(w, "%d", &v); k == 1 && v >= 1 && v <= 16 {
		return v
	}
	return n
}

func (b *scoreboard) one(id, field string, f value, have bool, truth any) {
	var got []value
	if have {
		got = []value{f}
	}
	var want []string
	if t, ok := truth.(string); ok && t != "" {
		want = []string{t}
	}
	b.sets(id, field, got, want)
}

func (b *scoreboard) compareIdentity(id string, s *sheet.Sheet, truth map[string]any) {
	if want, ok := text(truth, "language"); ok {
		b.one(id, "language", value{string(s.Language.Value), s.Language.Confidence}, s.Language.Known(), want)
	}
	if want, ok := text(truth, "jurisdiction"); ok && ghs.RuleSet(want).Known() {
		got := s.Jurisdiction.Value
		b.one(id, "jurisdiction", value{string(got), s.Jurisdiction.Confidence}, s.Jurisdiction.Known(), want)
	}
	if want, ok := truth["revision_date"]; ok {
		date := s.Identification.RevisionDate
		if !date.Known() {
			date = s.Identification.IssueDate
		}
		b.one(id, "revision_date", value{date.Value, date.Confidence}, date.Known(), want)
	}
	for _, x := range []struct {
		field string
		fact  sheet.Fact[string]
	}{{"supersedes_date", s.Identification.SupersedesDate}, {"version", s.Identification.Version}, {"product_name", s.Identification.ProductName},
		{"supplier", s.Identification.Supplier}, {"emergency_phone", s.Identification.EmergencyPhone}} {
		if want, ok := text(truth, x.field); ok {
			b.one(id, x.field, value{strings.Join(strings.Fields(x.fact.Value), " "), x.fact.Confidence}, x.fact.Known(), strings.Join(strings.Fields(want), " "))
		}
	}
}

func (b *scoreboard) compareHazards(id string, s *sheet.Sheet, truth map[string]any) {
	h := &s.Hazards
	if want, ok := truth["signal_word"]; ok && truth["h_codes"] != nil {
		b.one(id, "signal_word", value{h.SignalWord.Value.String(), h.SignalWord.Confidence}, h.SignalWord.Known(), want)
	}
	var codes, euh, p, r []value
	for _, x := range h.Statements {
		v := value{string(x.Value.Code), x.Confidence}
		if strings.HasPrefix(v.text, "EUH") {
			euh = append(euh, v)
		} else if v.text != "" {
			codes = append(codes, v)
		}
	}
	for _, x := range h.Precautions {
		p = append(p, value{string(x.Value.Code), x.Confidence})
	}
	for _, x := range h.RiskPhrases {
		r = append(r, value{string(x.Value.Code), x.Confidence})
	}
	if _, ok := truth["h_codes"]; ok {
		b.sets(id, "h_codes", codes, stringsOf(truth["h_codes"]), stringsOf(truth["h_codes_also"])...)
	}
	if truth["euh_codes"] != nil {
		b.sets(id, "euh_codes", euh, stringsOf(truth["euh_codes"]))
	}
	if truth["r_phrases"] != nil {
		b.sets(id, "r_phrases", r, stringsOf(truth["r_phrases"]))
	}
	if truth["p_codes"] != nil {
		b.sets(id, "p_codes", p, stringsOf(truth["p_codes"]))
	}
	if truth["pictograms"] != nil {
		var got []value
		for _, x := range h.Pictograms {
			got = append(got, value{x.Value.String(), x.Confidence})
		}
		b.sets(id, "pictograms", got, stringsOf(truth["pictograms"]))
	}
	if truth["classification"] != nil {
		var got []value
		seen := map[string]bool{}
		for _, x := range h.Classification {
			if n := classNames(x.Value); !seen[n] {
				seen[n] = true
				got = append(got, value{n, x.Confidence})
			}
		}
		var want []string
		for _, t := range stringsOf(truth["classification"]) {
			n := classNames(sheet.ClassStatement{Hazard: one(ghs.Readings(t)), Possible: ghs.Readings(t), Printed: t})
			if !slices.Contains(want, n) { // two routes of one category count once, as on the other side
				want = append(want, n)
			}
		}
		b.sets(id, "classification", got, want)
	}
}

func one(r []ghs.Hazard) ghs.Hazard {
	if len(r) == 1 {
		return r[0]
	}
	return 0
}

// classNames is the class and category of a statement without its route: what the records compare.
func classNames(c sheet.ClassStatement) string {
	h := c.Hazard
	if h == 0 && len(c.Possible) > 0 {
		h = c.Possible[0]
	}
	if h == 0 {
		return c.Printed
	}
	return strings.TrimSpace(h.Class().Short() + " " + h.Category())
}

func (b *scoreboard) compareIngredients(id string, s *sheet.Sheet, truth map[string]any) {
	list, ok := truth["ingredients"].([]any)
	if !ok {
		return
	}
	var want, wantCAS []string
	for _, x := range list {
		m, _ := x.(map[string]any)
		cas, _ := text(m, "cas")
		if cas == "" {
			cas = "no CAS"
		} else {
			wantCAS = append(wantCAS, cas)
		}
		lo, hasLo := number(m["percent_min"])
		hi, hasHi := number(m["percent_max"])
		want = append(want, cas+" "+bounds(lo, hasLo, hi, hasHi))
	}
	var got, gotCAS []value
	for _, in := range s.Composition.Ingredients {
		cas := "no CAS"
		if in.CAS.Known() {
			cas = in.CAS.Value
			gotCAS = append(gotCAS, value{cas, in.CAS.Confidence})
		}
		q := in.Percent.Value
		lo := q.Lo
		hasLo := q.HasLo && !(q.Lo == 0 && q.HasHi && q.Hi > 0) // "0 – 1 %" and "≤ 1 %" are one statement
		got = append(got, value{cas + " " + bounds(lo, hasLo, q.Hi, q.HasHi), min(in.Percent.Confidence, 1)})
	}
	for i, w := range want {
		want[i] = strings.Replace(w, " 0 –", " … –", 1)
	}
	b.sets(id, "cas", gotCAS, wantCAS)
	b.sets(id, "cas_and_range", got, want)
}

func bounds(lo float64, hasLo bool, hi float64, hasHi bool) string {
	a, z := "…", "…"
	if hasLo {
		a = fmt.Sprintf("%g", lo)
	}
	if hasHi {
		z = fmt.Sprintf("%g", hi)
	}
	return a + " – " + z
}

// quantityTruth is one recorded quantity in the unit the reader normalises to.
type quantityTruth struct {
	lo, hi       float64
	hasLo, hasHi bool
	printed      string
	unit         string
}

func quantityOf(field string, m map[string]any) (q quantityTruth, ok bool) {
	unit, _ := text(m, "unit")
	q.printed, _ = text(m, "printed")
	scale := unitScale(field, unit)
	q.unit = unit
	if v, has := number(m["value"]); has {
		op, _ := text(m, "op")
		q.lo, q.hi, q.hasLo, q.hasHi = v*scale, v*scale, !strings.HasPrefix(op, "<") && op != "≤", !strings.HasPrefix(op, ">") && op != "≥"
		return q, true
	}
	lo, hasLo := number(m["min"])
	hi, hasHi := number(m["max"])
	q.lo, q.hi, q.hasLo, q.hasHi = lo*scale, hi*scale, hasLo, hasHi
	return q, hasLo || hasHi
}

// unitScale turns recorded units into those of package sheet.
func unitScale(field, unit string) float64 {
	u := strings.ToLower(unit)
	switch field {
	case "density":
		switch {
		case strings.HasPrefix(u, "kg/m"):
			return 1
		case strings.HasPrefix(u, "lb/gal"):
			return 119.826427
		}
		return 1000
	case "vapour_pressure":
		switch {
		case strings.HasPrefix(u, "mm") || strings.HasPrefix(u, "torr"):
			return 133.3224
		case strings.HasPrefix(u, "hpa"), strings.HasPrefix(u, "mbar"):
			return 100
		case strings.HasPrefix(u, "kpa"):
			return 1000
		case strings.HasPrefix(u, "bar"):
			return 1e5
		case strings.HasPrefix(u, "psi"):
			return 6894.757
		}
	case "voc":
		if strings.HasPrefix(u, "lb") {
			return 119.826427
		}
	case "dynamic_viscosity":
		if strings.HasPrefix(u, "pa") {
			return 1000
		}
	}
	return 1
}

func (b *scoreboard) compareQuantity(id, field string, facts []sheet.Fact[sheet.Quantity], truth map[string]any) {
	raw, ok := truth[field]
	if !ok {
		return
	}
	var wants []quantityTruth
	switch v := raw.(type) {
	case map[string]any:
		q, good := quantityOf(field, v)
		if !good {
			return // printed, but not as a number
		}
		wants = []quantityTruth{q}
	case []any:
		for _, x := range v {
			if m, isMap := x.(map[string]any); isMap {
				if q, good := quantityOf(field, m); good {
					wants = append(wants, q)
				}
			}
		}
	}
	f := b.field(field)
	f.Sheets++
	used := map[int]bool{}
	for _, w := range wants {
		hit := -1
		for i, g := range facts {
			if g.Known() && !used[i] && matches(field, w, g.Value) {
				hit = i
				break
			}
		}
		if hit >= 0 {
			used[hit] = true
			f.Right++
			b.calibrate(facts[hit].Confidence, true)
			continue
		}
		f.Missed++
		b.differ(id, field, readQuantities(facts), fmt.Sprintf("%s %s %s", bounds(w.lo, w.hasLo, w.hi, w.hasHi), w.unit, w.printed))
	}
	if len(used) > 0 {
		return // further values beside a right one are conversions or other conditions
	}
	for _, g := range facts {
		if g.Known() {
			f.Extra++
			b.calibrate(g.Confidence, false)
			if len(wants) == 0 {
				b.differ(id, field, readQuantities(facts), "")
			}
			break
		}
	}
}

func readQuantities(facts []sheet.Fact[sheet.Quantity]) string {
	var out []string
	for _, g := range facts {
		if g.Known() {
			out = append(out, g.Value.String()+" ("+g.Value.Printed+")")
		} else {
			out = append(out, g.State.String())
		}
	}
	return strings.Join(out, "; ")
}

// matches compares with the rounding of conversions: half a degree, one per cent.
func matches(field string, w quantityTruth, g sheet.Quantity) bool {
	if field == "voc" && (g.Unit == "%") != strings.Contains(w.unit, "%") {
		return false
	}
	near := func(a, b float64) bool {
		if strings.HasSuffix(field, "_c") {
			return math.Abs(a-b) <= 0.6
		}
		return math.Abs(a-b) <= 0.011*math.Max(math.Abs(a), math.Abs(b))+1e-12
	}
	if w.hasLo != g.HasLo || w.hasHi != g.HasHi {
		return false
	}
	return (!w.hasLo || near(w.lo, g.Lo)) && (!w.hasHi || near(w.hi, g.Hi))
}

func (b *scoreboard) compareTransport(id string, s *sheet.Sheet, truth map[string]any) {
	pick := func(get func(sheet.Transport) string, field string) {
		want, ok := truth[field]
		if !ok {
			return
		}
		seen := map[string]bool{}
		var got []value
		for _, t := range s.Transport {
			if v := get(t.Value); v != "" && !seen[v] {
				seen[v] = true
				got = append(got, value{v, t.Confidence})
			}
		}
		t, _ := want.(string)
		var ignore []string
		if t != "" && seen[t] { // other modes may differ
			for v := range seen {
				if v != t {
					ignore = append(ignore, v)
				}
			}
		}
		var wants []string
		if t != "" {
			wants = []string{t}
		}
		b.sets(id, field, got, wants, ignore...)
	}
	pick(func(t sheet.Transport) string { return t.UN }, "un_number")
	pick(func(t sheet.Transport) string { return t.Class }, "transport_class")
	pick(func(t sheet.Transport) string { return t.PackingGroup }, "packing_group")
}

func (b *scoreboard) compareRatings(id string, s *sheet.Sheet, truth map[string]any) {
	ratings, ok := truth["ratings"].(map[string]any)
	if !ok {
		return
	}
	var want []string
	for _, sys := range []string{"nfpa", "hmis", "unnamed"} {
		m, _ := ratings[sys].(map[string]any)
		for _, axis := range []string{"h", "f", "r", "p", "ppe"} {
			v, ok := m[axis]
			if !ok || v == nil {
				continue
			}
			if axis == "r" {
				axis = "p"
			}
			want = append(want, fmt.Sprintf("%s %s %v", sys, axis, v))
		}
	}
	var got []value
	for _, r := range s.Ratings {
		sys := strings.ToLower(r.Value.System)
		if sys == "" {
			sys = "unnamed"
		}
		add := func(axis string, v int, star bool) {
			if v >= 0 {
				t := fmt.Sprintf("%s %s %d", sys, axis, v)
				if star {
					t += "*"
				}
				got = append(got, value{t, r.Confidence})
			}
		}
		add("h", r.Value.Health, r.Value.Chronic)
		add("f", r.Value.Flammability, false)
		add("p", r.Value.Instability, false)
		if r.Value.Protection != "" {
			got = append(got, value{sys + " ppe " + r.Value.Protection, r.Confidence})
		}
	}
	b.sets(id, "ratings", got, want)
}

func (b *scoreboard) compareLimits(id string, s *sheet.Sheet, truth map[string]any) {
	list, ok := truth["exposure_limits"].([]any)
	if !ok {
		return
	}
	var want []string
	for _, x := range list {
		m, _ := x.(map[string]any)
		cas, _ := text(m, "cas")
		kind, _ := text(m, "type")
		v, _ := number(m["value"])
		unit, _ := text(m, "unit")
		want = append(want, limitText(cas, kind, v, unit))
	}
	var got []value
	for _, f := range s.Control.Limits {
		kind := string(f.Value.Kind)
		if f.Value.Kind == sheet.Ceiling {
			kind = "C"
		}
		got = append(got, value{limitText(f.Value.CAS, kind, f.Value.Value, f.Value.Unit), f.Confidence})
	}
	b.sets(id, "exposure_limits", got, want)
}

func limitText(cas, kind string, v float64, unit string) string {
	switch strings.ToLower(unit) {
	case "µg/m3", "μg/m3", "ug/m3":
		v, unit = v/1000, "mg/m3"
	}
	if cas == "" {
		cas = "no CAS"
	}
	return fmt.Sprintf("%s %s %g %s", cas, kind, v, strings.ToLower(strings.Replace(unit, "³", "3", 1)))
}

func (b *scoreboard) compareTox(id string, s *sheet.Sheet, truth map[string]any) {
	list, ok := truth["tox_values"].([]any)
	if !ok {
		return
	}
	var want []string
	for _, x := range list {
		m, _ := x.(map[string]any)
		cas, _ := text(m, "cas")
		measure, _ := text(m, "measure")
		v, _ := number(m["value"])
		unit, _ := text(m, "unit")
		want = append(want, fmt.Sprintf("%s %s %g %s", cas, measure, v, strings.ToLower(unit)))
	}
	var got []value
	for _, f := range s.Toxicology.Values {
		q := f.Value.Quantity
		v := q.Lo
		if !q.HasLo {
			v = q.Hi
		}
		got = append(got, value{fmt.Sprintf("%s %s %g %s", f.Value.CAS, f.Value.Measure, v, q.Unit), f.Confidence})
	}
	b.sets(id, "tox_values", got, want)
}

// covered is the state of one field of a sheet.
type covered struct {
	name  string
	state sheet.State
}

// coverageOf tells which fields of a sheet hold a value.
func coverageOf(s *sheet.Sheet) []covered {
	list := func(n int) sheet.State {
		if n > 0 {
			return sheet.Stated
		}
		return sheet.NotStated
	}
	sections := 0
	for n := 1; n <= 16; n++ {
		if s.Sections[n].Found {
			sections++
		}
	}
	full := sheet.NotStated
	if sections == 16 {
		full = sheet.Stated
	}
	date := s.Identification.RevisionDate.State
	if date == sheet.NotStated {
		date = s.Identification.IssueDate.State
	}
	classified := s.Hazards.Classified
	if classified == sheet.NotStated && s.PreGHS.Value {
		classified = sheet.NotApplicable
	}
	quantity := func(p sheet.Property) sheet.State {
		if fs := s.Physical.Quantities[p]; len(fs) > 0 {
			return fs[0].State
		}
		return sheet.NotStated
	}
	limits := s.Control.LimitsState
	composition := s.Composition.State
	return []covered{
		{"all 16 sections", full}, {"product name", s.Identification.ProductName.State}, {"supplier", s.Identification.Supplier.State},
		{"emergency telephone", s.Identification.EmergencyPhone.State}, {"date", date}, {"language", s.Language.State}, {"jurisdiction", s.Jurisdiction.State},
		{"classified or not", classified}, {"signal word", s.Hazards.SignalWord.State}, {"hazard statements", list(len(s.Hazards.Statements))},
		{"precautions", list(len(s.Hazards.Precautions))}, {"pictograms", s.Hazards.PictogramState}, {"ingredients", composition}, {"exposure limits", limits},
		{"flash point", quantity(sheet.FlashPoint)}, {"boiling point", quantity(sheet.BoilingPoint)}, {"density", quantity(sheet.Density)}, {"pH", quantity(sheet.PH)},
		{"toxicity values", list(len(s.Toxicology.Values))}, {"transport", list(len(s.Transport))}, {"ratings", list(len(s.Ratings))},
	}
}
