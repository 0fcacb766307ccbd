package judge

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// StateShown is a state that carries no value, in words. The four are different answers and read differently.
func StateShown(s sheet.State) string {
	switch s {
	case sheet.NotStated:
		return "not stated in the sheet"
	case sheet.NoData:
		return "the sheet says it has no data"
	case sheet.NotApplicable:
		return "the sheet says it does not apply"
	case sheet.NoneStated:
		return "the sheet says there is none"
	}
	return "stated"
}

// Shown is a text fact as shown to a person: its value, or its state in words.
func Shown(f sheet.Fact[string]) string {
	if f.Known() {
		return f.Value
	}
	return StateShown(f.State)
}

// Name is what to call the product of a sheet.
func Name(s *sheet.Sheet) string {
	if n := s.Identification.ProductName; n.Known() && n.Value != "" {
		return n.Value
	}
	return "Product name not read (" + s.Source.Name + ")"
}

// SignalShown is the signal word of a sheet as shown to a person, with a word that is none of the standard's marked so.
func SignalShown(h sheet.Hazards) string {
	if p := h.SignalPrinted; p.Known() && (!h.SignalWord.Known() || h.SignalWord.Value == ghs.NoSignalWord) {
		return fmt.Sprintf("“%s”, which is not a signal word of the standard", p.Value)
	}
	if h.SignalWord.Known() {
		return h.SignalWord.Value.String()
	}
	return StateShown(h.SignalWord.State)
}

// StatementShown is a statement with its code, and the standard's phrase when the sheet prints only the code.
func StatementShown(s sheet.Statement) string {
	phrase := s.Phrase
	if phrase == "" {
		phrase, _ = ghs.Phrase(s.Code, ghs.English)
	}
	switch {
	case s.Code == "":
		return phrase
	case s.FromPhrase:
		return fmt.Sprintf("%s (%s, code concluded from the words)", phrase, s.Code)
	}
	return strings.TrimSpace(string(s.Code) + " " + phrase)
}

// Traps are the two things a newcomer misses, said when the sheet gives an occasion for them.
func Traps(s *sheet.Sheet) []string {
	var out []string
	allergy := func(f sheet.Fact[sheet.Statement]) bool { return f.Value.Code == "H317" || f.Value.Code == "H334" }
	if slices.ContainsFunc(s.Hazards.Statements, allergy) {
		out = append(out, "H317 and H334 mean allergy: once it has developed it stays for life, and traces then set it off. On a label H317 has the same exclamation mark as irritation that passes.")
	}
	if len(s.Ratings) > 0 {
		out = append(out, "Two scales run in opposite directions here: in GHS category 1 is the worst; in a 0–4 rating 4 is the worst.")
	}
	return out
}

// ReasonShown is one step of a trace with its clause, and whether the rule was read or recalled.
func ReasonShown(r classify.Reason) string {
	out := r.Text
	if r.Clause != "" {
		out += " [" + r.Clause + "]"
	}
	if r.Memory {
		out += " (rule recalled, not read: check it)"
	}
	return out
}

// IngredientShown is an ingredient's name with its CAS number.
func IngredientShown(i sheet.Ingredient) string {
	name := Shown(i.Name)
	if i.CAS.Known() {
		name += " (" + i.CAS.Value + ")"
	}
	return name
}

// ShareShown is an ingredient's share as printed.
func ShareShown(i sheet.Ingredient) string {
	switch {
	case i.Percent.Known() && i.Percent.Value.Printed != "":
		return strings.TrimSuffix(i.Percent.Value.Printed, "%") + " %"
	case i.Percent.Known():
		return IntervalShown(i.Percent.Value.Interval) + " %"
	case i.Secret.Known() && i.Secret.Value:
		return "withheld"
	}
	return StateShown(i.Percent.State)
}

// IntervalShown is a range of numbers with its two ends.
func IntervalShown(v sheet.Interval) string {
	number := func(f float64) string { return strconv.FormatFloat(f, 'g', 6, 64) }
	approx := ""
	if v.Approx {
		approx = "about "
	}
	if one, ok := v.Single(); ok {
		return approx + number(one)
	}
	low, high := "≥ ", "≤ "
	if v.LoOpen {
		low = "> "
	}
	if v.HiOpen {
		high = "< "
	}
	switch {
	case v.HasLo && v.HasHi:
		return approx + low + number(v.Lo) + " to " + high + number(v.Hi)
	case v.HasLo:
		return approx + low + number(v.Lo)
	case v.HasHi:
		return approx + high + number(v.Hi)
	}
	return "no number"
}

// ChoicesShown lists the hazards used for ingredient i, and on whose word each rests.
func ChoicesShown(choices []audit.Choice, i int) (classes, from string) {
	var names []string
	bases := map[string][]string{}
	for _, c := range choices {
		if c.Ingredient != i {
			continue
		}
		names = append(names, c.Hazard.String())
		bases[basisShown(c)] = append(bases[basisShown(c)], c.Hazard.String())
	}
	if len(names) == 0 {
		return "none known", "neither the sheet nor the substance table gives a class"
	}
	if len(bases) == 1 {
		return strings.Join(names, ", "), basisShown(choices[slices.IndexFunc(choices, func(c audit.Choice) bool { return c.Ingredient == i })])
	}
	var parts []string
	for b, hs := range bases {
		parts = append(parts, strings.Join(hs, ", ")+": "+b)
	}
	slices.Sort(parts)
	return strings.Join(names, ", "), strings.Join(parts, "; ")
}

func basisShown(c audit.Choice) string {
	switch c.Basis {
	case audit.OfSheet:
		return "the sheet"
	case audit.OfBoth:
		return "the sheet and the substance table"
	}
	out := "the substance table"
	if c.Authority != "" {
		out += ", " + string(c.Authority)
	}
	if c.Source.Memory {
		out += ", recalled, not looked up"
	}
	return out
}
