package blend

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sixteen/ghs"
	"sixteen/substance"
)

// Target is what the author wants to reach: classes that no composition may have any more, and a flash point that the
// product must lie above.
type Target struct {
	Words        string
	RuleSet      ghs.RuleSet // under which Hazards are judged: the recipe's, or that of the model regulations for transport
	Hazards      []ghs.Hazard
	FlashAboveC  float64 // 0: the target says nothing of the flash point
	FlashBecause Why
}

// ParseTarget reads a target: "no H317", "no Skin Sens. 1A", "below Skin Corr. 1", "below corrosive", "no H350",
// "signal word Warning at most", "no signal word", "no transport class 3", "no transport class 8", "not dangerous goods".
// A class stands for itself and everything severer.
func ParseTarget(s string, rs ghs.RuleSet) (Target, error) {
	t := Target{Words: strings.TrimSpace(s), RuleSet: rs}
	low := strings.ToLower(strings.Join(strings.Fields(s), " "))
	switch {
	case strings.HasPrefix(low, "signal word warning"):
		t.Hazards = bySignal(rs, ghs.Danger)
	case low == "no signal word":
		t.Hazards = bySignal(rs, ghs.Warning)
	case low == "not dangerous goods" || low == "no dangerous goods":
		t.RuleSet = ghs.UNGHS
		t.Hazards = transportHazards("")
		t.FlashAboveC, t.FlashBecause = 60, flashRule
	case strings.HasPrefix(low, "no transport class "):
		class := strings.TrimPrefix(low, "no transport class ")
		t.RuleSet = ghs.UNGHS
		if class == "3" {
			t.FlashAboveC, t.FlashBecause = 60, flashRule
			return t, nil
		}
		if t.Hazards = transportHazards(class); len(t.Hazards) == 0 {
			return t, fmt.Errorf("target: no hazard class here leads to transport class %s: use 3, 5.1, 5.2, 6.1, 8 or 9", class)
		}
	case low == "below corrosive" || low == "not corrosive":
		t.Hazards = orSeverer(rs, ghs.SkinCorr1C)
	case strings.HasPrefix(low, "no ") || strings.HasPrefix(low, "below "):
		_, what, _ := strings.Cut(t.Words, " ")
		var err error
		if t.Hazards, err = named(strings.TrimSpace(what), rs); err != nil {
			return t, err
		}
	default:
		return t, fmt.Errorf("target: %q is not understood: write as in \"no H317\", \"no Skin Sens. 1A\", \"below corrosive\", \"signal word Warning at most\", \"no transport class 8\" or \"not dangerous goods\"", s)
	}
	return t, nil
}

// named are the hazards of a code, or a class with everything severer.
func named(what string, rs ghs.RuleSet) ([]ghs.Hazard, error) {
	if c, ok := ghs.NormaliseCode(what); ok {
		if hs := rs.HazardsOf(c); len(hs) > 0 {
			return hs, nil
		}
		return nil, fmt.Errorf("target: %s gives no class the statement %s", rs.Name(), c)
	}
	if h, ok := ghs.ParseHazard(what); ok {
		return orSeverer(rs, h), nil
	}
	if c, ok := ghs.ParseClass(what); ok {
		var all []ghs.Hazard
		for _, h := range c.Hazards() {
			if rs.Exists(h) {
				all = append(all, h)
			}
		}
		return all, nil
	}
	return nil, fmt.Errorf("target: %q is neither a hazard statement such as H317 nor a class such as Skin Sens. 1A", what)
}

// orSeverer is a hazard with the severer ones of its class, as far as the rule set has them.
func orSeverer(rs ghs.RuleSet, h ghs.Hazard) []ghs.Hazard {
	var out []ghs.Hazard
	for _, o := range h.Class().Hazards() {
		sameKind := o.Qualifier() == h.Qualifier()
		base := func(h ghs.Hazard) string { return h.Category()[:min(1, len(h.Category()))] }
		if rs.Exists(o) && sameKind && (o == h || o.Severer(h) || base(o) < base(h) || base(o) == base(h) && !h.Severer(o)) {
			out = append(out, o)
		}
	}
	return out
}

// bySignal are the hazards whose signal word is at least as grave.
func bySignal(rs ghs.RuleSet, from ghs.SignalWord) []ghs.Hazard {
	var out []ghs.Hazard
	for _, h := range rs.Hazards().All() {
		if e, ok := rs.Elements(h); ok && e.SignalWord >= from {
			out = append(out, h)
		}
	}
	return out
}

// transportHazards are the hazards of the model rules that lead into a transport class, "" for any.
func transportHazards(class string) []ghs.Hazard {
	var out []ghs.Hazard
	for _, h := range ghs.UNGHS.Hazards().All() {
		c, _ := transportOf(h)
		if c != "" && c != "3" && (class == "" || c == class) {
			out = append(out, h)
		}
	}
	return out
}

// Flammables lists the ingredients whose own flash point the table holds at or below a limit, with it, for targets that
// hang on a measured flash point.
func (m *Mix) Flammables(limitC float64) []string {
	var out []string
	for i, p := range m.Parts {
		if p.Row == nil || !p.Row.FlashPointC.Known || p.Row.FlashPointC.V > limitC || p.Row.FlashPointC.AtLeast {
			continue
		}
		if _, hi := m.Mixture.Ingredients[i].Bounds(); hi > 0 {
			out = append(out, m.Mixture.Ingredients[i].Name+" ("+strconv.FormatFloat(p.Row.FlashPointC.V, 'g', 4, 64)+" °C"+recalled(p.Row.FlashPointC.Source)+")")
		}
	}
	slices.Sort(out)
	return out
}

func recalled(s substance.Source) string {
	if s.Memory {
		return ", from memory"
	}
	return ""
}

// flashMet tells whether the flash point is known to lie above the target's.
func (m *Mix) flashMet(t Target) bool {
	if t.FlashAboveC == 0 || !m.liquid() || m.Mixture.Tested.NoFlashPoint {
		return true
	}
	measured := m.Mixture.Tested.FlashPointC
	return measured != nil && *measured > t.FlashAboveC
}

// FlashWords says how a target stands that hangs on the flash point, "" for other targets. A flash point is measured: it
// cannot be worked out exactly from the shares.
func (m *Mix) FlashWords(t Target) string {
	if t.FlashAboveC == 0 || !m.liquid() {
		return ""
	}
	measured := m.Mixture.Tested.FlashPointC
	low := m.Flammables(t.FlashAboveC)
	switch {
	case m.Mixture.Tested.NoFlashPoint:
		return "A test found no flash point: transport class 3 does not apply (" + t.FlashBecause.Clause + ")."
	case measured != nil && *measured > t.FlashAboveC:
		return fmt.Sprintf("The measured flash point of %s °C lies above %s °C: transport class 3 does not apply (%s).", short(*measured), short(t.FlashAboveC), t.FlashBecause.Clause)
	}
	text := fmt.Sprintf("Transport class 3 hangs on the measured flash point, which shares alone do not tell: it has to lie above %s °C, closed cup (%s).", short(t.FlashAboveC), t.FlashBecause.Clause)
	if measured != nil {
		text += fmt.Sprintf(" Measured: %s °C.", short(*measured))
	}
	if len(low) > 0 {
		text += " Ingredients whose own flash point lies at or below it: " + strings.Join(low, ", ") + ". Lower these, measure again."
	}
	return text
}
