package invent

import (
	"fmt"
	"math"
	"slices"

	"sixteen/classify"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// hazardsOf are the hazards of a substance as the rule set names them: of several entries on one question the severest.
func hazardsOf(sub *substance.Substance, rules ghs.RuleSet) ghs.HazardSet {
	var set ghs.HazardSet
	if sub == nil {
		return set
	}
	for _, c := range sub.Classifications {
		h := local(c.Hazard, rules)
		if h == ghs.NoHazard || c.NotClassified || c.OnlyByLimit {
			continue
		}
		for _, old := range set.All() {
			switch {
			case old.Class() != h.Class() || old.Qualifier() != h.Qualifier():
			case h.Severer(old) || old.Category() == "1" && h.Category() == "1B" || old.Category() == "1" && h.Category() == "1A":
				set.Remove(old)
			default:
				h = ghs.NoHazard
			}
		}
		if h != ghs.NoHazard {
			set.Add(h)
		}
	}
	return set
}

// local is the hazard under the name that the rule set has for it, or NoHazard.
func local(h ghs.Hazard, rules ghs.RuleSet) ghs.Hazard {
	if h == ghs.NoHazard || rules.Exists(h) {
		return h
	}
	for _, other := range h.Class().Hazards() {
		a, b := h.Category(), other.Category()
		if rules.Exists(other) && other.Qualifier() == h.Qualifier() && a != "" && b != "" && a[0] == b[0] {
			return other
		}
	}
	return ghs.NoHazard
}

// mixture is the blend as package classify takes it, with the disclosed ranges and the data of the sheet.
func (b Blend) mixture(rules ghs.RuleSet, data map[sheet.Property]sheetprint.Value) classify.Mixture {
	m := classify.Mixture{Name: b.recipe.kind, Form: classify.Liquid, Complete: b.Rest() == 0}
	for _, p := range b.Parts {
		m.Ingredients = append(m.Ingredients, p.ingredient(rules))
	}
	single := func(p sheet.Property) *float64 {
		v, ok := data[p]
		if !ok || v.NoData || !v.HasLo {
			return nil
		}
		at := v.Lo
		if v.LoOpen {
			at += 0.1
		}
		return &at
	}
	m.Tested.FlashPointC, m.Tested.BoilingPointC = single(sheet.FlashPoint), single(sheet.BoilingPoint)
	m.Tested.PH, m.Tested.Viscosity40MM2S = single(sheet.PH), single(sheet.KinematicViscosity)
	if b.recipe.peroxide == "D" {
		m.Tested.Hazards.Add(ghs.OrgPeroxD)
	}
	return m
}

func (p Part) ingredient(rules ghs.RuleSet) classify.Ingredient {
	in := classify.Ingredient{Name: p.Name, Percent: p.Range, Hazards: hazardsOf(p.Substance, rules)}
	if p.Substance == nil {
		for _, route := range []ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationVapour, ghs.InhalationDust} {
			in.ATE[route] = classify.ATE{Status: classify.ATEUnknown}
		}
		return in
	}
	in.CAS = p.Substance.CAS
	if p.Substance.MolarMassGMol.Known {
		in.MolarMassGMol = p.Substance.MolarMassGMol.V
	}
	specific := slices.Contains([]ghs.RuleSet{ghs.EUCLP, ghs.GBCLP, ghs.AUWHS, ghs.UNGHS}, rules)
	for _, c := range p.Substance.Classifications {
		switch c.Hazard.Class() {
		case ghs.AquaticAcute:
			in.MAcute = math.Max(in.MAcute, c.MFactor)
		case ghs.AquaticChronic:
			in.MChronic = math.Max(in.MChronic, c.MFactor)
		}
		for _, a := range c.ATE {
			if old := in.ATE[a.Route]; old.Status != classify.ATEValue || a.Value < old.Value {
				in.ATE[a.Route] = classify.ATE{Status: classify.ATEValue, Value: a.Value}
			}
		}
		for _, l := range c.Limits {
			h := local(l.Hazard, rules)
			if !specific || h == ghs.NoHazard {
				continue
			}
			s := classify.SpecificLimit{Hazard: h, Percent: sheet.Interval{Lo: l.From, HasLo: true, LoOpen: l.FromOpen, Hi: l.To, HasHi: true, HiOpen: l.ToOpen}}
			if !slices.Contains(in.Limits, s) {
				in.Limits = append(in.Limits, s)
			}
		}
	}
	return in
}

// settled classifies the blend. It fails with unsettled where the disclosed ranges leave a hazard open.
func (b Blend) settled(rules ghs.RuleSet, data map[sheet.Property]sheetprint.Value) ([]ghs.Hazard, error) {
	program, err := classify.Compile(b.mixture(rules, data), rules)
	if err != nil {
		return nil, err
	}
	e, err := program.Envelope()
	if err != nil {
		return nil, err
	}
	if open := e.Possible.Minus(e.Certain); !open.Empty() {
		return nil, unsettled{open}
	}
	return e.Certain.All(), nil
}

// unsettled tells which hazards the disclosed ranges leave open.
type unsettled struct{ open ghs.HazardSet }

func (u unsettled) Error() string {
	return fmt.Sprintf("the disclosed ranges leave open: %v", u.open)
}
