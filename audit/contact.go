package audit

import (
	"regexp"
	"slices"
	"strings"

	"sixteen/sheet"
)

// The patterns below keep a contact that stands on the sheet, but was not understood as one, from being called missing.
var (
	telephone = regexp.MustCompile(`(\+|\(|\b)\d[\d ()./–-]{5,}\d`)
	postcode  = regexp.MustCompile(`\b\d{4,5}(-\d{4})?\b [A-ZÄÖÜÉ]|[A-Z]{2},? \d{5}\b|\b[A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}\b|\b[A-Z]\d[A-Z] \d[A-Z]\d\b`)
	urgent    = regexp.MustCompile(`(?i)emergenc|24[ -]?h|notruf|notfall|urgence|emergencia|poison|antigift|giftinfo|centre antipoison`)
)

// Dates, and the numbers of laws, are written like telephone numbers and postcodes: "15 janvier 2025", "1907/2006",
// "29 CFR 1910.1200".
var writtenDate = regexp.MustCompile(`\b\d{1,2}\.? \p{L}{3,10}\.? \d{4}\b|\p{L}{3,10} \d{1,2}, \d{4}\b|\b(19|20)\d\d/\d{1,4}\b|\b\d{2,4}/(19|20)\d\d\b|\b1910\.1\d{3}\b|\b\d{4}-\d{1,2}-\d{1,2}\b|\b\d{1,2}[./]\s?\d{1,2}[./]\s?\d{2,4}\b`)

// matchesBesideDates tells whether a pattern matches a text from which the dates are left out.
func matchesBesideDates(pattern *regexp.Regexp, text string) bool {
	return pattern.MatchString(writtenDate.ReplaceAllString(text, "¶"))
}

// contactLine tells whether a line of section 1, or of what stands before it, matches a pattern; with beside, only where
// that line or the one before matches beside too.
func (c *Case) contactLine(pattern, beside *regexp.Regexp) bool {
	for _, n := range []int{0, 1} {
		before := ""
		for _, l := range c.Sheet.Sections[n].Text {
			if matchesBesideDates(pattern, l.Text) && (beside == nil || beside.MatchString(l.Text) || beside.MatchString(before)) {
				return true
			}
			before = l.Text
		}
	}
	return false
}

// labelled is an address behind its name; what is behind "e-mail address" is none.
var labelled = regexp.MustCompile(`(?i)(^|[^\p{L}])(address|adresse|anschrift|dirección)\s*[:\t ]\s*[^\s:].{7,}`)

// namedAddress tells whether a line of section 1 gives an address by that name.
func (c *Case) namedAddress() bool {
	return slices.ContainsFunc(c.Sheet.Sections[1].Text, func(l sheet.Line) bool {
		return labelled.MatchString(l.Text) && !hasAny(strings.ToLower(l.Text), "mail", "lectr", "@", "http", "www.")
	})
}

// otherTelephone tells whether section 1, or what stands before it, has a telephone number that is not for emergencies.
func (c *Case) otherTelephone() bool {
	emergency := digitsOf(c.Sheet.Identification.EmergencyPhone.Value)
	for _, n := range []int{0, 1} {
		before := ""
		for _, l := range c.Sheet.Sections[n].Text {
			number := telephone.FindString(writtenDate.ReplaceAllString(l.Text, "¶"))
			if number != "" && !urgent.MatchString(l.Text) && !(urgent.MatchString(before) && !telephone.MatchString(before)) && (emergency == "" || digitsOf(number) != emergency) {
				return true
			}
			before = l.Text
		}
	}
	return false
}

func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}
