package audit

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// skinHazard is the declared hazard for which hands need protection most, NoHazard when there is none.
func (c *Case) skinHazard() ghs.Hazard {
	return c.worst(func(h ghs.Hazard) bool {
		return h.Class() == ghs.SkinCorrosion || h.Class() == ghs.SkinSensitisation || (h.Class() == ghs.AcuteToxicity && h.Qualifier() == ghs.Dermal)
	})
}

// eyeHazard is the declared hazard for which eyes need protection most.
func (c *Case) eyeHazard() ghs.Hazard {
	return c.worst(func(h ghs.Hazard) bool {
		return h.Class() == ghs.EyeDamage || (h.Class() == ghs.SkinCorrosion && base(h) == "1")
	})
}

// breathingHazard is the declared hazard for which the lungs need protection most.
func (c *Case) breathingHazard() ghs.Hazard {
	return c.worst(func(h ghs.Hazard) bool {
		return h.Class() == ghs.RespiratorySensitisation || (h.Class() == ghs.AcuteToxicity && inhaled(h)) ||
			(h.Class() == ghs.STOTSingleExposure && base(h) == "3")
	})
}

// worst is the declared hazard of the worst harm among those that match.
func (c *Case) worst(match func(ghs.Hazard) bool) ghs.Hazard {
	var out ghs.Hazard
	for _, h := range c.declares().All() {
		if match(h) && (out == ghs.NoHazard || HarmOf(h) < HarmOf(out)) {
			out = h
		}
	}
	return out
}

// vapours are the listed ingredients that are bound to evaporate at room temperature: vapour pressure of 10 Pa or more at
// 20 °C (the volatile organic compound of Directive 2010/75/EU article 3(45), from memory), at least least percent.
func (c *Case) vapours(least float64) []vapour {
	var out []vapour
	for _, ing := range c.Sheet.Composition.Ingredients {
		row := c.known(ing.CAS.Value)
		if row == nil || !row.VapourPressurePa.Known || row.VapourPressurePa.V < 10 || lowest(ing.Percent.Value.Interval) < least || inorganic(row) {
			continue
		}
		out = append(out, vapour{ing, row})
	}
	return out
}

type vapour struct {
	ing sheet.Ingredient
	row *substance.Substance
}

func (v vapour) side() Side {
	s := looked(fmt.Sprintf("%s, at least %s %%, vapour pressure %s Pa at 20 °C", nameOf(v.ing), share(lowest(v.ing.Percent.Value.Interval)), number(v.row.VapourPressurePa.V)), v.row.VapourPressurePa.Source)
	s.Section, s.Evidence = 3, v.ing.Percent.Evidence
	return s
}

// inorganic tells whether a substance is no organic vapour: water, ammonia and mineral acids.
func inorganic(row *substance.Substance) bool {
	return row.Formula != "" && !hasCarbon(row.Formula) || slices.Contains([]string{"7732-18-5", "7664-41-7", "1336-21-6", "7647-01-0", "7722-84-1"}, row.CAS)
}

func hasCarbon(formula string) bool {
	for i := range formula {
		if formula[i] == 'C' && (i+1 == len(formula) || formula[i+1] < 'a' || formula[i+1] > 'z') {
			return true
		}
	}
	return false
}

// filterKinds tells what a list of filters holds back.
type filterKinds struct{ particles, organic, lowBoiling, other bool }

// readFilters understands the marks of EN 14387, EN 143 and EN 149 (A, AX, B, E, K, ABEK; P1 to P3, FFP1 to FFP3) and of
// 42 CFR part 84 (N, R, P with 95, 99, 100; OV).
func readFilters(filters []string) filterKinds {
	var k filterKinds
	for _, f := range filters {
		f = strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "TYPE", "", "/", "").Replace(f))
		gas := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(f, "P1"), "P2"), "P3")
		switch {
		case strings.HasPrefix(f, "FFP") || particleMark.MatchString(f):
			k.particles = true
		case strings.Contains(f, "AX"):
			k.organic, k.lowBoiling = true, true
		case strings.HasPrefix(gas, "A") || strings.Contains(f, "OV") || strings.Contains(f, "ORGANIC"):
			k.organic = true
		case f != "":
			k.other = true
		}
		if gas != f && gas != "" {
			k.particles = true
		}
	}
	return k
}

var particleMark = regexp.MustCompile(`^(P[123]|[NRP](95|99|100)|HEPA|DUST.*|PARTIC.*)$`)
