package audit

import (
	"regexp"
	"strings"
)

// The patterns below keep a contact that stands on the sheet, but was not understood as one, from being called missing.
var (
	telephone = regexp.MustCompile(`(\+|\(|\b)\d[\d ()./–-]{5,}\d`)
	postcode  = regexp.MustCompile(`\b\d{4,5}(-\d{4})?\b [A-ZÄÖÜÉ]|[A-Z]{2},? \d{5}\b|\b[A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}\b|\b[A-Z]\d[A-Z] \d[A-Z]\d\b`)
	urgent    = regexp.MustCompile(`(?i)emergenc|24[ -]?h|notruf|notfall|urgence|emergencia|poison|antigift|giftinfo|centre antipoison`)
)

// dates are written like telephone numbers.
var writtenDate = regexp.MustCompile(`\b\d{4}-\d{1,2}-\d{1,2}\b|\b\d{1,2}[./]\s?\d{1,2}[./]\s?\d{2,4}\b`)

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
