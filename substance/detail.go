package substance

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"sixteen/ghs"
)

// Details is what the last column of a harmonised entry states beside the class: specific concentration limits,
// M-factors and acute toxicity estimates. A zero M-factor is none. Unread holds every part that could not be read, as
// printed; a caller that drops it loses law.
type Details struct {
	Limits           []SpecificLimit
	MAcute, MChronic float64
	ATE              []ATE
	Unread           []string
}

// ParseDetails reads the text of that column, for example
//
//	Skin Irrit. 2; H315: C ≥ 5 %
//	STOT SE 3; H335: 1 % ≤ C < 10 %
//	M = 10        M (Chronic) = 1
//	oral: ATE = 500 mg/kg bw
//	inhalation: ATE = 1,5 mg/L (dusts or mists)
//
// in that order or any other, one or several on a line. Form of inhalation of hazards and estimates that is not stated
// is given by form, which gets the category; nil takes dust or mist.
func ParseDetails(text string, form func(category string) ghs.Qualifier) Details {
	var d Details
	if form == nil {
		form = func(string) ghs.Qualifier { return ghs.InhalationDust }
	}
	for _, part := range splitDetails(text) {
		if !d.readM(part) && !d.readATE(part, form) && !d.readLimit(part, form) {
			d.Unread = append(d.Unread, part)
		}
	}
	return d
}

// detailStart finds where a new statement begins: a hazard name, an M-factor or a route with its estimate.
var detailStart = regexp.MustCompile(`(?i)(?:(?:expl|flam|aerosol|ox|press|self-react|pyr|self-heat|water-react|org|met|acute tox|skin|eye|resp|muta|carc|repr|lact|stot|asp|aquatic|ozone|ed)\b[^:;]*?\b\d?[A-G]?\s*;?\s*(?:H\d{3}[A-Za-z]{0,4}\s*)?:|M\s*(?:\([^)]*\))?\s*=|M-?factor|\b(?:oral|dermal|inhalation)\s*:?\s*ATE)`)

// splitDetails cuts text into single statements, without footnote stars.
func splitDetails(text string) []string {
	text = strings.NewReplacer("\u00a0", " ", "*", " ", "\r", " ").Replace(text)
	cuts := detailStart.FindAllStringIndex(text, -1)
	var out []string
	add := func(s string) {
		if s = strings.Trim(strings.Join(strings.Fields(s), " "), " ;,"); s != "" && s != "-" && s != "—" {
			out = append(out, s)
		}
	}
	last := 0
	for _, c := range cuts {
		add(text[last:c[0]])
		last = c[0]
	}
	add(text[last:])
	return out
}

const figure = `(\d+(?:[.,]\d+)?)`

var (
	mFactor = regexp.MustCompile(`(?i)^M(?:-?factor)?\s*(\([^)]*\))?\s*=?\s*(\d+(?:[ .,]?\d{3})*)\s*(\(?.*)$`)
	ateText = regexp.MustCompile(`(?i)^(oral|dermal|inhalation)\s*:?\s*(\([^)]*\))?\s*ATE\s*=?\s*` + figure + `\s*(mg/kg|mg/l|ppm|ppmv)[^()]*(\(.*\))?.*$`)
)

func (d *Details) readM(s string) bool {
	m := mFactor.FindStringSubmatch(s)
	if m == nil {
		return false
	}
	n, err := strconv.ParseFloat(strings.NewReplacer(" ", "", ",", "", ".", "").Replace(m[2]), 64)
	if err != nil || n < 1 {
		return false
	}
	rest := strings.ToLower(m[1] + m[3])
	switch {
	case strings.Contains(rest, "chronic"):
		d.MChronic = n
	case strings.Contains(rest, "acute"):
		d.MAcute = n
	case strings.Trim(rest, " ()") == "":
		if d.MAcute == 0 {
			d.MAcute = n
		}
		if d.MChronic == 0 {
			d.MChronic = n
		}
	default:
		return false
	}
	return true
}

func (d *Details) readATE(s string, form func(string) ghs.Qualifier) bool {
	m := ateText.FindStringSubmatch(s)
	if m == nil {
		return false
	}
	n, err := decimal(m[3])
	if err != nil || n <= 0 {
		return false
	}
	a := ATE{Value: n, Unit: strings.ToLower(m[4])}
	how := strings.ToLower(m[2] + m[5])
	switch r := strings.ToLower(m[1]); {
	case r == "oral":
		a.Route = ghs.Oral
	case r == "dermal":
		a.Route = ghs.Dermal
	case strings.Contains(how, "vapo"):
		a.Route = ghs.InhalationVapour
	case strings.Contains(how, "dust") || strings.Contains(how, "mist"):
		a.Route = ghs.InhalationDust
	case strings.HasPrefix(a.Unit, "ppm") || strings.Contains(how, "gas"):
		a.Route, a.Unit = ghs.InhalationGas, "ppm"
	default:
		a.Route = form("")
	}
	if wantMass := a.Route == ghs.Oral || a.Route == ghs.Dermal; wantMass != (a.Unit == "mg/kg") {
		return false
	}
	d.ATE = append(d.ATE, a)
	return true
}

var limitHead = regexp.MustCompile(`^(.*?)\s*;?\s*(H\d{3}[A-Za-z]{0,4})?\s*:\s*(.*)$`)

func (d *Details) readLimit(s string, form func(string) ghs.Qualifier) bool {
	m := limitHead.FindStringSubmatch(s)
	if m == nil {
		return false
	}
	h, err := hazardOf(m[1], ghs.Code(m[2]), form)
	if err != nil {
		return false
	}
	l, ok := parseRange(m[3])
	if !ok {
		return false
	}
	l.Hazard, l.Printed = h, s
	d.Limits = append(d.Limits, l)
	return true
}

// parseLimits reads our own layout: "Skin Corr. 1B: C >= 5 %; Skin Irrit. 2: 1 <= C < 5 %".
func parseLimits(s string, hazard func(string) (ghs.Hazard, error)) ([]SpecificLimit, error) {
	var out []SpecificLimit
	for _, part := range strings.Split(s, ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		name, cond, ok := strings.Cut(part, ":")
		if !ok {
			return nil, fmt.Errorf("specific limit %q: want hazard, colon, range", part)
		}
		h, err := hazard(strings.TrimSpace(name))
		if err != nil {
			return nil, fmt.Errorf("specific limit %q: %w", part, err)
		}
		l, ok := parseRange(cond)
		if !ok {
			return nil, fmt.Errorf("specific limit %q: cannot read the range", part)
		}
		l.Hazard, l.Printed = h, part
		out = append(out, l)
	}
	return out, nil
}

var rangeText = regexp.MustCompile(`^(?:` + figure + `\s*%?\s*(<=|<)\s*)?C(?:\s*(<=|<|>=|>)\s*` + figure + `\s*%?)?$`)

// parseRange reads "C >= 5 %", "1 % ≤ C < 10 %", "C < 10 %".
func parseRange(s string) (SpecificLimit, bool) {
	s = strings.NewReplacer("≤", "<=", "≥", ">=", "=<", "<=", "=>", ">=", "⩽", "<=", "⩾", ">=", "\u2009", " ").Replace(strings.TrimSpace(s))
	m := rangeText.FindStringSubmatch(strings.TrimRight(strings.ReplaceAll(s, "c", "C"), " ."))
	l := SpecificLimit{To: 100}
	if m == nil || (m[2] == "" && m[3] == "") || (m[2] != "" && strings.HasPrefix(m[3], ">")) {
		return l, false
	}
	var low, high string
	if m[2] != "" {
		low, l.FromOpen = m[1], m[2] == "<"
	}
	switch m[3] {
	case ">", ">=":
		low, l.FromOpen = m[4], m[3] == ">"
	case "<", "<=":
		high, l.ToOpen = m[4], m[3] == "<"
	}
	var err error
	if low != "" {
		if l.From, err = decimal(low); err != nil {
			return l, false
		}
	}
	if high != "" {
		if l.To, err = decimal(high); err != nil {
			return l, false
		}
	}
	return l, l.From >= 0 && l.From < l.To && l.To <= 100
}

// Covers tells whether a share in percent by mass lies in the range.
func (l SpecificLimit) Covers(percent float64) bool {
	above := percent > l.From || (percent == l.From && !l.FromOpen)
	below := percent < l.To || (percent == l.To && !l.ToOpen)
	return above && below
}

// decimal reads a figure with a point or a comma.
func decimal(s string) (float64, error) {
	return strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s), ",", "."), 64)
}

// hazardOf reads a class and category as tables print it, and takes route or effect from the statement code.
func hazardOf(name string, code ghs.Code, form func(category string) ghs.Qualifier) (ghs.Hazard, error) {
	name = strings.Join(strings.Fields(name), " ")
	low := strings.ToLower(name)
	bare := len(name) > 0 && strings.ContainsAny(name[len(name)-1:], "0123456789")
	switch c := string(code); {
	case strings.HasPrefix(low, "acute tox") && bare && c != "":
		category := name[len(name)-1:]
		switch c {
		case "H300", "H301", "H302", "H303":
			name += " oral"
		case "H310", "H311", "H312", "H313":
			name += " dermal"
		default:
			name += " " + routeName(form(category))
		}
	case strings.HasPrefix(low, "stot se 3") && bare && c == "H335":
		name += " respiratory"
	case strings.HasPrefix(low, "stot se 3") && bare && c == "H336":
		name += " narcotic"
	}
	return parseHazard(name)
}
