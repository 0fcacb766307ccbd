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
	parts := splitClasses(classCell)
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
		if rest := extraWords(name, h); rest != "" {
			unread = append(unread, rest)
		}
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

// splitClasses cuts the text of a cell into single classes: at line ends and wherever a class name begins. A line that
// begins with a figure, a bracket or a star goes on with the class before it.
func splitClasses(cell string) []string {
	var out []string
	for _, line := range strings.FieldsFunc(cell, func(r rune) bool { return r == '\n' || r == '\r' || r == ';' || r == '|' }) {
		line = strings.Trim(line, " ,-–—\t\u00a0")
		if line == "" {
			continue
		}
		starts := classStart.FindAllStringIndex(line, -1)
		first := len(line)
		if len(starts) > 0 {
			first = starts[0][0]
		}
		if head := strings.Trim(line[:first], " ,"); head != "" {
			if len(out) > 0 && strings.ContainsAny(head[:1], "0123456789(*") {
				out[len(out)-1] += " " + head
			} else {
				out = append(out, head)
			}
		}
		for i, s := range starts {
			end := len(line)
			if i+1 < len(starts) {
				end = starts[i+1][0]
			}
			out = append(out, strings.Trim(line[s[0]:end], " ,"))
		}
	}
	return out
}

// plainWords are words that may stand beside a class and category without changing them.
var plainWords = map[string]bool{"inhalation": true, "vapours": true, "vapour": true, "dusts": true, "mists": true, "mist": true, "dust": true, "gas": true,
	"gases": true, "or": true, "and": true, "oral": true, "dermal": true, "narcotic": true, "respiratory": true, "tract": true, "irritation": true, "effects": true,
	"category": true, "cat": true, "comp": true, "liq": true, "ref": true, "diss": true}

// extraWords gives what the text of a class says beyond the hazard read from it, brackets apart.
func extraWords(name string, h ghs.Hazard) string {
	own := strings.Fields(fold(h.String()))
	var extra []string
	for _, w := range strings.Fields(fold(inBrackets.ReplaceAllString(name, " "))) {
		if !plainWords[w] && !slices.Contains(own, w) {
			extra = append(extra, w)
		}
	}
	return strings.Join(extra, " ")
}

var inBrackets = regexp.MustCompile(`\([^)]*\)`)

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
