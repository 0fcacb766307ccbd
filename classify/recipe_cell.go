package classify

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// setRecipeCell takes up one cell of an ingredient's row.
func (in *Ingredient) setRecipeCell(column, cell string) (err error) {
	if route, ok := strings.CutPrefix(column, "ate "); ok {
		return in.setRecipeATE(route, cell)
	}
	switch column {
	case "name":
		in.Name = cell
	case "cas":
		in.CAS = cell
		return checkCAS(cell)
	case "percent":
		in.Percent, err = parseShare(cell)
	case "hazards":
		in.Hazards, err = parseHazards(cell)
	case "statements":
		for _, s := range splitList(cell) {
			in.Statements = append(in.Statements, ghs.Code(strings.ToUpper(strings.ReplaceAll(s, " ", ""))))
		}
	case "limits":
		in.Limits, err = parseLimits(cell)
	case "m acute":
		in.MAcute, err = parseNumber(cell)
	case "m chronic":
		in.MChronic, err = parseNumber(cell)
	case "active oxygen":
		in.ActiveOxygenPct, err = parseNumber(cell)
	case "molar mass":
		in.MolarMassGMol, err = parseNumber(cell)
	case "properties":
		err = in.setRecipeProperties(cell)
	}
	return err
}

// setRecipeATE reads "500", "unknown", "not toxic" or "> 2000". A limit dose above every category is known and not
// toxic; one below is taken as the estimate itself, the stricter reading.
func (in *Ingredient) setRecipeATE(route, cell string) error {
	var q ghs.Qualifier
	if err := q.UnmarshalText([]byte(route)); err != nil {
		return err
	}
	switch strings.ToLower(cell) {
	case "unknown", "no data":
		in.ATE[q] = ATE{Status: ATEUnknown}
		return nil
	case "not toxic", "not_toxic", "none":
		in.ATE[q] = ATE{Status: ATENotToxic}
		return nil
	}
	above := strings.HasPrefix(cell, ">") || strings.HasPrefix(cell, "≥")
	v, err := parseNumber(strings.TrimLeft(cell, ">=≥ "))
	if err != nil {
		return fmt.Errorf("%q is no dose: write a number of %s, \"> 2000\", \"not toxic\" or \"unknown\"", cell, RouteUnit(q))
	}
	in.ATE[q] = ATE{Status: ATEValue, Value: v}
	if above && v >= highestDose[q] {
		in.ATE[q] = ATE{Status: ATENotToxic}
	}
	return nil
}

// highestDose is the upper end of category 4 by route.
var highestDose = [8]float64{ghs.Oral: 2000, ghs.Dermal: 2000, ghs.InhalationGas: 20000, ghs.InhalationVapour: 20, ghs.InhalationDust: 5}

func (in *Ingredient) setRecipeProperties(cell string) error {
	for _, s := range splitList(cell) {
		name, value, has := strings.Cut(s, "=")
		name = strings.TrimSpace(name)
		v := 1.0
		if has {
			var err error
			if v, err = parseNumber(value); err != nil {
				return err
			}
		}
		if !slices.Contains(PropertyNames(), name) {
			return fmt.Errorf("no property is called %q: use %s", name, strings.Join(PropertyNames(), ", "))
		}
		in.Properties[name] = v
	}
	return nil
}

func splitList(cell string) []string {
	var list []string
	for _, s := range strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == '\n' || r == '|' }) {
		if s = strings.TrimSpace(s); s != "" {
			list = append(list, s)
		}
	}
	if len(list) == 1 {
		return splitCommas(list[0])
	}
	return list
}

func splitCommas(s string) []string {
	var list []string
	for _, p := range strings.Split(s, ",") {
		if p = strings.TrimSpace(p); p != "" {
			list = append(list, p)
		}
	}
	return list
}

func parseHazards(cell string) (ghs.HazardSet, error) {
	var set ghs.HazardSet
	for _, s := range splitList(cell) {
		h, ok := ghs.ParseHazard(s)
		if !ok {
			return set, fmt.Errorf("no hazard class is called %q: write as in \"Skin Irrit. 2; Acute Tox. 4 oral\"", s)
		}
		set.Add(h)
	}
	return set, nil
}

// parseLimits reads "Skin Corr. 1B >= 5; Skin Irrit. 2 0.5 - < 2".
func parseLimits(cell string) ([]SpecificLimit, error) {
	var limits []SpecificLimit
	for _, s := range splitList(cell) {
		l, err := parseLimit(s)
		if err != nil {
			return nil, err
		}
		limits = append(limits, l)
	}
	return limits, nil
}

func parseLimit(s string) (SpecificLimit, error) {
	for i := 1; i < len(s); i++ {
		if s[i-1] != ' ' && s[i-1] != ':' {
			continue
		}
		h, ok := ghs.ParseHazard(strings.Trim(s[:i], " :"))
		if !ok {
			continue
		}
		if iv, err := parseShare(s[i:]); err == nil && strings.ContainsAny(s[i:], "<>≤≥-–") {
			return SpecificLimit{Hazard: h, Percent: iv}, nil
		}
	}
	return SpecificLimit{}, fmt.Errorf("%q is no specific limit: write as in \"Skin Irrit. 2 >= 5\" or \"Eye Irrit. 2 1 - < 3\"", s)
}

func parseNumber(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return v, nil
}

// parseShare reads a share in percent: "5", "< 10", "≥ 1", "10 - 30", ">= 10 - < 25". Ends are closed unless < or > says
// otherwise.
func parseShare(cell string) (sheet.Interval, error) {
	words := strings.NewReplacer("%", "", "–", "-", "≤", "<=", "≥", ">=", " to ", "-").Replace(cell)
	if lo, hi, ok := strings.Cut(words, "-"); ok && strings.TrimSpace(lo) != "" {
		from, err1 := parseEnd(lo)
		to, err2 := parseEnd(hi)
		if err1 != nil || err2 != nil || from.upper || to.lower {
			return sheet.Interval{}, fmt.Errorf("%q is no range: write as in \"10 - 30\" or \"≥ 10 - < 25\"", cell)
		}
		if from.value > to.value {
			return sheet.Interval{}, fmt.Errorf("the range %q runs backwards", cell)
		}
		return sheet.Interval{Lo: from.value, HasLo: true, LoOpen: from.open, Hi: to.value, HasHi: true, HiOpen: to.open}, nil
	}
	e, err := parseEnd(words)
	if err != nil {
		return sheet.Interval{}, fmt.Errorf("%q is no share: write a percentage such as 5, < 10 or 10 - 30", cell)
	}
	switch {
	case e.lower:
		return sheet.Interval{Lo: e.value, HasLo: true, LoOpen: e.open}, nil
	case e.upper:
		return sheet.Interval{Hi: e.value, HasHi: true, HiOpen: e.open}, nil
	}
	return sheet.Exactly(e.value), nil
}

// end is one end of a range: "≥ 10" is a closed lower end.
type end struct {
	value        float64
	lower, upper bool
	open         bool
}

func parseEnd(s string) (end, error) {
	s = strings.TrimSpace(s)
	digits := strings.TrimLeft(s, "<>= ")
	v, err := parseNumber(digits)
	op := strings.TrimSpace(s[:len(s)-len(digits)])
	return end{value: v, lower: strings.HasPrefix(op, ">"), upper: strings.HasPrefix(op, "<"), open: op == "<" || op == ">"}, err
}

// checkCAS verifies the check digit of a CAS number.
func checkCAS(s string) error {
	digits := strings.ReplaceAll(s, "-", "")
	sum := 0
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return fmt.Errorf("%q is no CAS number: write it as in 64-17-5", s)
		}
		if i < len(digits)-1 {
			sum += (len(digits) - 1 - i) * int(digits[i]-'0')
		}
	}
	if len(digits) < 5 || len(digits) > 10 || sum%10 != int(digits[len(digits)-1]-'0') {
		return fmt.Errorf("the check digit of the CAS number %q is wrong: look it up again", s)
	}
	return nil
}

// Set takes up one thing said of the ingredient, as the recipe column of that name would: "percent" "10 - 30", "hazards"
// "Skin Irrit. 2; Acute Tox. 4 oral", "ate oral" "500". docs/rules.md lists the columns.
func (in *Ingredient) Set(column, text string) error {
	key := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(column, "_", " ")), " "))
	name, ok := recipeColumns[key]
	if !ok {
		return fmt.Errorf("nothing of an ingredient is called %q: use name, cas, percent, hazards, limits, m acute, m chronic, ate oral, ate dermal, ate gas, ate vapour, ate dust, statements, active oxygen, molar mass, properties", column)
	}
	if in.Properties == nil {
		in.Properties = map[string]float64{}
	}
	return in.setRecipeCell(name, strings.TrimSpace(text))
}
