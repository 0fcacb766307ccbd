package substance

import (
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
)

// classStart finds where a hazard class begins in the text of a cell that lists several, by the short names that
// harmonised tables use.
var classStart = regexp.MustCompile(`(?i)(?:unst\.?\s*expl|expl\.|flam\.?\s*(?:gas|liq|sol)|aerosol|ox\.?\s*(?:gas|liq|sol)|press\.?\s*gas|self-?react|pyr\.?\s*(?:gas|liq|sol)|self-?heat|water-?react|org\.?\s*perox|met\.?\s*corr|desen|acute\s*tox|skin\s*(?:corr|irrit|sens)|eye\s*(?:dam|irrit)|resp\.?\s*sens|muta|carc|repr|lact|stot|asp\.?\s*tox|aquatic|ozone|ed\s*(?:hh|env)|pbt|vpvb|pmt|vpvm)`)

// readClasses reads the classes and the statement codes of an entry, which stand in two cells in the same order, one or
// several to a line, with stars that point to footnotes ("Acute Tox. 4 *"). Class and code are paired by their order when
// there are as many of one as of the other, else by what the standard gives to each class. One star marks a minimum
// classification (Annex VI, 1.2.1), which stands in Check.
func readClasses(classCell, codeCell string, form func(category string) ghs.Qualifier) (out []Classification, unread []string) {
	parts := splitAt(classCell, classStart)
	var codes []ghs.Code
	for _, h := range ghs.ParseCodes(strings.ReplaceAll(codeCell, "*", " ")) {
		codes = append(codes, h.Code)
	}
	for i, part := range parts {
		stars := strings.Count(part, "*")
		name := oneLine(strings.Trim(strings.ReplaceAll(part, "*", ""), " ,;|/\n\t"))
		if name == "" {
			continue
		}
		c := Classification{}
		switch {
		case len(codes) == len(parts):
			c.Code = codes[i]
		default:
			c.Code, codes = takeCode(name, codes)
		}
		h, err := hazardOf(name, c.Code, form)
		if err != nil {
			unread = append(unread, name)
			continue
		}
		c.Hazard = h
		if c.Code == "" {
			c.Code = codeOf(h)
		}
		if stars == 1 {
			c.Check = "minimum classification: data may call for a severer category"
		}
		out = append(out, c)
	}
	return out, unread
}

// splitAt cuts text where the pattern begins.
func splitAt(text string, pattern *regexp.Regexp) []string {
	var out []string
	last := -1
	for _, m := range pattern.FindAllStringIndex(text, -1) {
		if last >= 0 {
			out = append(out, text[last:m[0]])
		} else if strings.Trim(text[:m[0]], " ,;|/-–—\n\t") != "" {
			out = append(out, text[:m[0]])
		}
		last = m[0]
	}
	if last >= 0 {
		return append(out, text[last:])
	}
	if strings.Trim(text, " ,;|/-–—\n\t") != "" {
		return []string{text}
	}
	return nil
}

// takeCode takes the first code out of the list that the standard gives to a hazard of that name.
func takeCode(name string, codes []ghs.Code) (ghs.Code, []ghs.Code) {
	meant := ghs.Readings(name)
	for i, c := range codes {
		for _, h := range ghs.EUCLP.HazardsOf(c) {
			if slices.Contains(meant, h) || slices.ContainsFunc(meant, func(m ghs.Hazard) bool { return m.Class() == h.Class() && m.Category() == h.Category() }) {
				return c, slices.Delete(slices.Clone(codes), i, i+1)
			}
		}
	}
	return "", codes
}

// codeOf is the statement code that the EU gives to a hazard, empty when it is none or several.
func codeOf(h ghs.Hazard) ghs.Code {
	if e, ok := ghs.EUCLP.Elements(h); ok && len(e.Codes) == 1 {
		return e.Codes[0]
	}
	return ""
}
