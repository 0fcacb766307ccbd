package ocr

import (
	"regexp"
	"strings"
)

// Tesseract's languages hold no raised 2 and 3 and no middle dot; units show what stood there: an area per second, a mass
// per volume, a viscosity.
var (
	viscosity = regexp.MustCompile(`\b(mm)[?*'"’”°7](/s)`)
	perVolume = regexp.MustCompile(`\b((?:m|µ|u|k|n)?g/c?m)[?*'"’”°](\W|$)`)
	pascal    = regexp.MustCompile(`((?:\b|\d)m?Pa)[-:.;"'’*~](s)\b`)
)

// glued is a range whose word between the numbers lost its blanks: "15a20", "5to10", "10bis25".
var glued = regexp.MustCompile(`^([<>]?\d{1,3}(?:[.,]\d+)?)(a|à|to|bis|y)([<>]?\d{1,3}(?:[.,]\d+)?%?)$`)

// roman matches upright strokes of which one at least was taken for a bracket, bar or exclamation mark: "[II", "I|".
var roman = regexp.MustCompile(`^[I\[\]|!l]{2,3}$`)

// mendWorth is what the confidence of a word is multiplied with whose unit was mended.
const mendWorth = 0.97

// mend puts the sign into a unit that recognition cannot give, and makes a Roman number of strokes. Changed tells whether
// it did.
func mend(text string) (mended string, changed bool) {
	if roman.MatchString(text) && strings.ContainsAny(text, "[]|!") && strings.Contains(text, "I") {
		return strings.Repeat("I", len(text)), true
	}
	if glued.MatchString(text) {
		return glued.ReplaceAllString(text, "$1 $2 $3"), true
	}
	mended = viscosity.ReplaceAllString(text, "${1}²${2}")
	mended = perVolume.ReplaceAllString(mended, "${1}³${2}")
	mended = pascal.ReplaceAllString(mended, "${1}·${2}")
	return mended, mended != text
}
