package demo_test

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// The audit is measured on generated sheets, taken as their Spec says and not through the reader: every planted fault
// that has a check must be noticed, and a sheet without fault must not be contradicted.

func auditOf(t *testing.T, spec sheetprint.Spec) audit.Report {
	t.Helper()
	c := &audit.Case{Sheet: sheetOf(spec), RuleSet: spec.Rules, Substances: substance.Embedded(), Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}
	r, err := audit.Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func generated(t *testing.T, seeds uint64, each func(name string, spec sheetprint.Spec)) {
	t.Helper()
	n := 0
	for seed := uint64(1); seed <= seeds; seed++ {
		for _, rs := range ghs.RuleSets() {
			spec, err := invent.Random(seed, ghs.English, rs)
			if err != nil {
				continue // a blend whose ranges leave its classification open
			}
			n++
			each(fmt.Sprintf("seed %d %s", seed, rs), spec)
		}
	}
	if uint64(n) < seeds*3 {
		t.Fatalf("only %d sheets were generated", n)
	}
}

func TestCleanGeneratedSheetsAreNotContradicted(t *testing.T) {
	sheets, contradicted := 0, map[string]int{}
	kinds := map[string]int{}
	generated(t, 60, func(name string, spec sheetprint.Spec) {
		sheets++
		for _, f := range auditOf(t, spec).Findings {
			kinds[f.Kind.String()+" "+f.Check]++
			if f.Kind == audit.Contradiction {
				contradicted[f.Check]++
				if contradicted[f.Check] <= 3 {
					t.Errorf("%s %s: %s: %s %v", name, spec.Product, f.Check, f.Title, sides(f))
				}
			}
		}
	})
	t.Logf("%d clean sheets, contradictions %v", sheets, contradicted)
	var keys []string
	for k := range kinds {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		t.Logf("%5d %s", kinds[k], k)
	}
}

func sides(f audit.Finding) []string {
	var out []string
	for _, s := range slices.Concat(f.Says, f.Follows) {
		out = append(out, fmt.Sprintf("[%d] %s %v", s.Section, s.Text, s.Trace))
	}
	return out
}

func TestPlantedFaultsAreNoticed(t *testing.T) {
	for _, fault := range invent.Faults() {
		planted, noticed := 0, 0
		var missed []string
		generated(t, 15, func(name string, spec sheetprint.Spec) {
			bad, ok := fault.Plant(spec)
			if !ok || planted >= 40 {
				return
			}
			planted++
			before := map[string]bool{}
			for _, f := range auditOf(t, spec).Findings {
				before[f.ID] = true
			}
			var extra []string
			for _, f := range auditOf(t, bad).Findings {
				if !before[f.ID] && slices.Contains(looks(fault), f.Check) {
					extra = append(extra, f.Check)
				}
			}
			if len(extra) > 0 {
				noticed++
			} else {
				missed = append(missed, name+" "+spec.Product)
			}
		})
		t.Logf("%-30s noticed %d of %d", fault.Kind, noticed, planted)
		if len(missed) > 0 {
			t.Logf("   missed: %v", missed[:min(4, len(missed))])
		}
	}
}

// looks lists the checks of which one must notice a fault. A class that is missing from section 2 is reported by the check
// of its kind of harm.
func looks(f invent.Fault) []string {
	out := f.Checks()
	if slices.Contains(out, "class-missing") {
		out = append(out, "sensitiser-hidden", "corrosive-hidden", "chronic-hidden", "acute-hidden")
	}
	switch f.Kind {
	case "secret-without-class":
		out = append(out, "secret-class-missing")
	case "vomiting-advised":
		out = append(out, "vomiting-advised")
	}
	return out
}

func fact[T any](section int, v T) sheet.Fact[T] {
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Evidence: []sheet.Evidence{{Page: section, Words: fmt.Sprint(v), How: sheet.ByText}}}
}

func textFact(section int, s string) sheet.Fact[string] {
	if s == "" {
		return sheet.Fact[string]{}
	}
	return fact(section, s)
}

// sheetOf is the sheet that a perfect reader would make of a printed Spec.
func sheetOf(s sheetprint.Spec) *sheet.Sheet {
	out := &sheet.Sheet{Language: fact(1, s.Lang), Jurisdiction: fact(1, s.Rules)}
	if s.PreGHS {
		out.PreGHS = fact(1, true)
	}
	for n := 1; n <= 16; n++ {
		if !slices.Contains(s.OmitSections, n) {
			out.Sections[n] = sheet.Section{Found: true, Heading: sheet.Evidence{Page: n}, Text: []sheet.Line{{Text: "Text.", Page: n}}}
		}
	}
	for key, text := range s.Sentences {
		n := map[string]int{"aid": 4}[strings.SplitN(key, ".", 2)[0]]
		out.Sections[n].Text = append(out.Sections[n].Text, sheet.Line{Text: text, Page: n})
	}
	out.Identification = sheet.Identification{ProductName: textFact(1, s.Product), UFI: textFact(1, s.UFI), Uses: textFact(1, s.Use), Supplier: textFact(1, s.Supplier.Name),
		SupplierAddress: textFact(1, strings.Join(s.Supplier.Address, ", ")), SupplierPhone: textFact(1, s.Supplier.Phone), SupplierEmail: textFact(1, s.Supplier.Email),
		EmergencyPhone: textFact(1, s.Emergency), RevisionDate: textFact(16, s.Revision), SupersedesDate: textFact(16, s.Supersedes), Version: textFact(16, s.Version)}
	out.Hazards = hazardsOf(s)
	out.Composition = compositionOf(s)
	out.Control = controlOf(s)
	out.Physical = sheet.Physical{State: textFact(9, s.State), Colour: textFact(9, s.Colour), Odour: textFact(9, s.Odour), Quantities: map[sheet.Property][]sheet.Fact[sheet.Quantity]{}}
	for p, v := range s.Properties {
		q := sheet.Quantity{Interval: v.Interval, Unit: v.Unit, Method: v.Method, Cup: v.Cup}
		if v.AtC != 0 {
			q.AtC = &v.AtC
		}
		if p == sheet.VOC && q.Unit == "" {
			q.Unit = "g/l"
		}
		f := fact(9, q)
		if v.NoData {
			f.State = sheet.NoData
		}
		out.Physical.Quantities[p] = []sheet.Fact[sheet.Quantity]{f}
	}
	for _, x := range s.Tox {
		route := map[string]ghs.Qualifier{"oral": ghs.Oral, "dermal": ghs.Dermal, "inhalation": ghs.InhalationVapour}[x.Route]
		v := sheet.Exactly(x.Value)
		if x.MoreThan {
			v = sheet.Interval{Lo: x.Value, HasLo: true, LoOpen: true}
		}
		out.Toxicology.Values = append(out.Toxicology.Values, fact(11, sheet.ToxValue{Ingredient: x.Name, CAS: x.CAS, Measure: x.Measure, Route: route, Species: x.Species, Hours: x.Hours,
			Quantity: sheet.Quantity{Interval: v, Unit: x.Unit}}))
	}
	for _, x := range s.Eco {
		out.Ecology.Values = append(out.Ecology.Values, fact(12, sheet.EcoValue{Ingredient: x.Name, CAS: x.CAS, Measure: x.Measure, Group: x.Group, Hours: x.Hours, Quantity: sheet.Quantity{Interval: sheet.Exactly(x.Value), Unit: "mg/l"}}))
	}
	t := sheet.Transport{UN: s.Transport.UN, Regulated: s.Transport.UN != "", ProperName: s.Transport.ProperName, Class: s.Transport.Class, PackingGroup: s.Transport.PackingGroup, MarinePollutant: sheet.NoneStated}
	if s.Transport.MarinePollutant {
		t.MarinePollutant = sheet.Stated
	}
	out.Transport = []sheet.Fact[sheet.Transport]{fact(14, t)}
	for system, r := range map[string]*sheetprint.Ratings{"NFPA": s.NFPA, "HMIS": s.HMIS} {
		if r != nil {
			out.Ratings = append(out.Ratings, fact(2, sheet.Rating{System: system, Health: r.Health, Flammability: r.Flammability, Instability: r.Instability, Chronic: r.Chronic}))
		}
	}
	return out
}

func classFacts(section int, cs []sheetprint.Class, withCode bool) []sheet.Fact[sheet.ClassStatement] {
	var out []sheet.Fact[sheet.ClassStatement]
	for _, c := range cs {
		h, _ := ghs.ParseHazard(strings.TrimSpace(c.Name + " " + c.Route))
		k := sheet.ClassStatement{Hazard: h, Printed: c.String()}
		if withCode {
			k.Code = c.Code
		}
		out = append(out, fact(section, k))
	}
	return out
}

func hazardsOf(s sheetprint.Spec) sheet.Hazards {
	h := sheet.Hazards{Classification: classFacts(2, s.Classes, true)}
	switch {
	case len(s.Classes) > 0:
		h.Classified = sheet.Stated
	case !s.PreGHS:
		h.Classified = sheet.NoneStated
	}
	for _, c := range slices.Concat(s.Statements, s.Supplemental) {
		phrase, _ := s.Rules.Phrase(c, s.Lang, ghs.Blanks{Organs: s.Organs[c]})
		h.Statements = append(h.Statements, fact(2, sheet.Statement{Code: c, Phrase: phrase}))
	}
	for _, p := range s.ExtraPhrases {
		h.Statements = append(h.Statements, fact(2, sheet.Statement{Phrase: p}))
	}
	for _, c := range s.Precautions {
		h.Precautions = append(h.Precautions, fact(2, sheet.Statement{Code: c}))
	}
	for _, r := range s.RiskPhrases {
		h.RiskPhrases = append(h.RiskPhrases, fact(2, sheet.Statement{Code: ghs.Code(r)}))
	}
	for _, p := range s.Pictograms {
		h.Pictograms = append(h.Pictograms, fact(2, p))
		h.PictogramState = sheet.Stated
	}
	if s.SignalWord != "" {
		h.SignalPrinted = fact(2, s.SignalWord)
		if w, ok := ghs.ParseSignalWord(s.SignalWord); ok {
			h.SignalWord = fact(2, w)
		}
	}
	for _, u := range s.Unknown {
		h.UnknownToxicity = append(h.UnknownToxicity, fact(2, sheet.UnknownShare{Percent: u.Percent}))
	}
	return h
}

func compositionOf(s sheetprint.Spec) sheet.Composition {
	var c sheet.Composition
	for _, i := range s.Ingredients {
		row := sheet.Ingredient{Name: textFact(3, i.Name), CAS: textFact(3, i.CAS), EC: textFact(3, i.EC), Hazards: classFacts(3, i.Classes, true)}
		if i.Percent.HasLo || i.Percent.HasHi {
			row.Percent = fact(3, sheet.Quantity{Interval: i.Percent, Unit: "%"})
		}
		if i.Secret {
			row.Secret = fact(3, true)
		}
		c.Ingredients = append(c.Ingredients, row)
	}
	return c
}

func controlOf(s sheetprint.Spec) sheet.Control {
	k := sheet.Control{Engineering: textFact(8, "Use local exhaust ventilation."), Eyes: textFact(8, "Tight-fitting goggles."), Skin: textFact(8, "Closed clothes.")}
	for _, l := range s.Limits {
		for unit, v := range map[string]float64{"ppm": l.PPM, "mg/m3": l.MgM3} {
			if v > 0 {
				k.Limits = append(k.Limits, fact(8, sheet.ExposureLimit{Substance: l.Name, CAS: l.CAS, Authority: l.Authority, Kind: l.Kind, Value: v, Unit: unit, Skin: l.Skin}))
			}
		}
	}
	g := sheet.Gloves{Text: "Wear suitable gloves."}
	if s.Gloves.Material != "" {
		g = sheet.Gloves{Text: s.Gloves.Material, Materials: []string{s.Gloves.Material}, ThicknessMM: sheet.Exactly(s.Gloves.ThicknessMM), BreakthroughMin: sheet.Exactly(float64(s.Gloves.MinutesOver)), Standard: s.Gloves.Standard}
	}
	k.Hands = fact(8, g)
	switch s.Respirator {
	case "":
		k.Respiratory = fact(8, sheet.Respirator{Text: "Not required under normal conditions of use."})
	case "supplied":
		k.Respiratory = fact(8, sheet.Respirator{Text: "Supplied-air respirator when spraying.", SuppliedAir: true})
	default:
		k.Respiratory = fact(8, sheet.Respirator{Text: "Filter " + s.Respirator, Filters: []string{s.Respirator}})
	}
	return k
}
