package audit

import (
	"fmt"
	"sixteen/classify"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkDoseAgainstClass() Check {
	return Check{
		ID: "dose-against-class", Title: "A toxic dose of the product does not fit its acute toxicity class", Group: With11,
		Kinds: []Kind{Contradiction, Gap, Doubt}, Harm: HarmDeath,
		Compares: "LD50, LC50 and estimates of section 11 for the product itself with the acute toxicity categories of section 2.",
		Clauses:  acuteClauses(),
		Example:  "LD50 oral 180 mg/kg of the product; section 2 says Acute Tox. 4.",
		Do:       "Act on the stricter of the two.",
		Run: func(c *Case, e *Emit) {
			for _, route := range []ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust} {
				compareDose(c, e, route)
			}
		},
	}
}

func acuteClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200 App. A, Table A.1.1",
		ghs.USHCS2012: "29 CFR 1910.1200 App. A, Table A.1.1",
		ghs.EUCLP:     "CLP Annex I Table 3.1.1 (from memory)",
		ghs.GBCLP:     "GB CLP Annex I Table 3.1.1 (from memory)",
		ghs.CAHPR:     "Hazardous Products Regulations s. 8.1.1, tables 1 to 3",
		ghs.AUWHS:     "GHS Table 3.1.1 as adopted (from memory)",
		ghs.UNGHS:     "UN GHS Table 3.1.1 (from memory)",
	}
}

// productDoses are the stated doses of the product itself by one route, for the exposure time the categories are made for.
func (c *Case) productDoses(route ghs.Qualifier) []sheet.Fact[sheet.ToxValue] {
	var out []sheet.Fact[sheet.ToxValue]
	for _, f := range c.Sheet.Toxicology.Values {
		v := f.Value
		if f.Known() && v.Ingredient == "" && v.CAS == "" && v.Route == route && (v.Hours == 0 || v.Hours == 4) && plausibleDose(v) {
			out = append(out, f)
		}
	}
	return out
}

// plausibleDose tells whether the unit belongs to the route, and whether a number printed with two separators was read as
// the large number that it is.
func plausibleDose(v sheet.ToxValue) bool {
	unit := strings.ToLower(v.Quantity.Unit)
	if unit != "" && !strings.HasPrefix(unit, classify.RouteUnit(v.Route)) {
		return false
	}
	p := v.Quantity.Printed
	return !(strings.Count(p, ",") >= 2 || strings.Count(p, ".") >= 2) || v.Quantity.Lo >= 1e6
}

// doseCategories are the strictest and the mildest category that a stated dose can mean.
func doseCategories(route ghs.Qualifier, v sheet.Interval) (strictest, mildest string) {
	strictest, mildest = "1", "none"
	if v.HasLo {
		strictest = acuteCategory(route, v.Lo)
		if v.LoOpen && strictest != "none" && v.Lo == acuteBounds(route)[strictest[0]-'1'] {
			strictest = acuteCategory(route, v.Lo*1.0001)
		}
	}
	if v.HasHi {
		mildest = acuteCategory(route, v.Hi)
	}
	return strictest, mildest
}

func compareDose(c *Case, e *Emit, route ghs.Qualifier) {
	doses := c.productDoses(route)
	if len(doses) == 0 {
		return
	}
	strictest, mildest := "none", "1"
	var sides []Side
	for _, f := range doses {
		s, m := doseCategories(route, f.Value.Quantity.Interval)
		strictest, mildest = min(strictest, s), max(mildest, m)
		sides = append(sides, says(11, fmt.Sprintf("%s %s %s", f.Value.Measure, route.Title(ghs.English), printed(f.Value.Quantity)), f))
	}
	declared := c.acuteDeclared(route)
	category := "none"
	if declared != ghs.NoHazard && base(declared) != "5" {
		category = base(declared)
	}
	switch {
	case category > mildest:
		h := acuteHazard(route, mildest)
		e.Report(Fault{
			Kind: c.against(), Hazard: h, Section: 2, Title: "Section 11 makes the product " + h.String() + ", section 2 says less",
			Says: sides, Follows: []Side{follows(h.Title(ghs.English), fmt.Sprintf("category %s ends at %s", mildest, number(acuteBounds(route)[mildest[0]-'1'])))},
			Ask: ask("classify", h.String(), "LD50/LC50/ATE"), Key: []string{route.String(), mildest, category},
		})
	case category < strictest && declared.Qualifier() == route:
		e.Report(Fault{
			Kind: Doubt, Hazard: declared, Section: 11, Title: "Section 2 states " + declared.String() + ", the dose in section 11 does not reach it",
			Says:    append(sides, Side{Section: 2, Text: declared.Title(ghs.English), Evidence: c.declaredAt(declared)}),
			Follows: []Side{follows("The dose leads to category " + strictest)},
			Ask:     ask("basis", declared.String()), Key: []string{route.String(), "less", category},
		})
	}
}

// acuteDeclared is the acute toxicity that the sheet declares by one route, NoHazard when none. Breathing counts as one
// route.
func (c *Case) acuteDeclared(route ghs.Qualifier) ghs.Hazard {
	for _, h := range c.declares().All() {
		if h.Class() == ghs.AcuteToxicity && kin(h, acuteHazard(route, "4")) {
			return h
		}
	}
	return ghs.NoHazard
}

// acuteHazard is the hazard of one route and category, "1" to "4".
func acuteHazard(route ghs.Qualifier, category string) ghs.Hazard {
	for _, h := range ghs.AcuteToxicity.Hazards() {
		if h.Qualifier() == route && h.Category() == category {
			return h
		}
	}
	return ghs.NoHazard
}
