package paper

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"sixteen/ghs"
)

// LabelSize is the size of a label in millimetres, as it is read: width, then height.
type LabelSize struct {
	WidthMM, HeightMM float64
}

// String is "74x52".
func (s LabelSize) String() string {
	return strconv.FormatFloat(s.WidthMM, 'f', -1, 64) + "x" + strconv.FormatFloat(s.HeightMM, 'f', -1, 64)
}

// ErrSize is returned for the size of a label that cannot be read or printed.
var ErrSize = errors.New("write the size of a label as width x height in millimetres, for example 74x52, each from 15 to 420")

// ParseLabelSize reads "74x52".
func ParseLabelSize(s string) (LabelSize, error) {
	w, h, ok := strings.Cut(strings.ToLower(strings.NewReplacer("×", "x", " ", "", "mm", "", ",", ".").Replace(s)), "x")
	a, err1 := strconv.ParseFloat(w, 64)
	b, err2 := strconv.ParseFloat(h, 64)
	if !ok || err1 != nil || err2 != nil || !(a >= 15 && a <= 420) || !(b >= 15 && b <= 420) {
		return LabelSize{}, fmt.Errorf("%q: %w", s, ErrSize)
	}
	return LabelSize{a, b}, nil
}

// LabelSizes are the sizes offered, small to large: those of Regulation (EC) No 1272/2008 Annex I table 1.3 lying and
// standing, and smaller ones for jars and bottles (common practice).
func LabelSizes() []LabelSize {
	return []LabelSize{{60, 30}, {60, 40}, {74, 52}, {52, 74}, {105, 74}, {74, 105}, {148, 105}, {105, 148}, {210, 148}, {148, 210}}
}

// Minimum is what a law or practice asks of a label for a container.
type Minimum struct {
	UpToLitres   float64 // capacity of the container; infinite for the last row
	Label        LabelSize
	IfPossible   bool    // of Label
	PictogramMM  float64 // edge of the diamond, not of the square around it
	WantedMM     float64 // edge wanted where there is room; 0: the same
	LetterXMM    float64 // height of a lower-case x
	Clause       string
	FromMemory   bool
	LetterClause string
}

const (
	clp13    = "Regulation (EC) No 1272/2008 Annex I 1.2.1.4 table 1.3"
	letters  = "Regulation (EU) 2024/2865, Annex I 1.2.1.4, as summarised publicly"
	ownFloor = "common practice: the law names no size"
	auCode   = "Australian code of practice for labels of workplace hazardous chemicals, section 4"
)

// minima are the rows per rule set; the rows of "" hold where a rule set has none of its own.
func minima(rs ghs.RuleSet) []Minimum {
	inf := math.Inf(1)
	switch rs {
	case ghs.EUCLP, ghs.GBCLP:
		return []Minimum{
			{0.5, LabelSize{74, 52}, true, 10, 16, 1.2, clp13, false, letters},
			{3, LabelSize{74, 52}, true, 10, 16, 1.4, clp13, false, letters},
			{50, LabelSize{105, 74}, false, 23, 0, 1.8, clp13, false, letters},
			{500, LabelSize{148, 105}, false, 32, 0, 2.0, clp13, false, letters},
			{inf, LabelSize{210, 148}, false, 46, 0, 2.0, clp13, false, letters},
		}
	case ghs.AUWHS:
		return []Minimum{
			{0.5, LabelSize{}, true, 15, 0, 1.2, auCode, true, ownFloor},
			{5, LabelSize{}, true, 20, 0, 1.4, auCode, true, ownFloor},
			{25, LabelSize{}, true, 50, 0, 1.8, auCode, true, ownFloor},
			{inf, LabelSize{}, true, 100, 0, 2.0, auCode, true, ownFloor},
		}
	}
	return []Minimum{
		{3, LabelSize{}, true, 10, 16, 1.2, ownFloor, false, ownFloor},
		{50, LabelSize{}, true, 16, 23, 1.4, ownFloor, false, ownFloor},
		{inf, LabelSize{}, true, 23, 32, 1.8, ownFloor, false, ownFloor},
	}
}

// MinimumFor is what a rule set asks of a label for a container of a capacity in litres. A capacity of 0 is taken as that
// of a jar of up to half a litre.
func MinimumFor(rs ghs.RuleSet, litres float64) Minimum {
	rows := minima(rs)
	for _, m := range rows {
		if litres <= m.UpToLitres {
			return m
		}
	}
	return rows[len(rows)-1]
}

// minPictogram is the least edge of a diamond in points: that of the row, one fifteenth of the least area of the label
// where the row asks for it, and one square centimetre (1.2.1.3).
func (m Minimum) minPictogram() float64 {
	edge := max(m.PictogramMM, 10)
	if !m.IfPossible {
		edge = max(edge, math.Sqrt(m.Label.WidthMM*m.Label.HeightMM/15))
	}
	return edge * MM
}

// wantedPictogram is the edge of a diamond that is aimed at.
func (m Minimum) wantedPictogram() float64 { return max(m.WantedMM*MM, m.minPictogram()) }

// minLetter is the least letter size in points.
func (m Minimum) minLetter() float64 { return m.LetterXMM * MM / xHeight }

// holds tells whether a size is at least another, lying or standing.
func (s LabelSize) holds(o LabelSize) bool {
	return min(s.WidthMM, s.HeightMM) >= min(o.WidthMM, o.HeightMM) && max(s.WidthMM, s.HeightMM) >= max(o.WidthMM, o.HeightMM)
}

// larger lists the offered sizes with more area than s, small to large; those of the same posture come first among equals.
func (s LabelSize) larger() []LabelSize {
	lying := s.WidthMM >= s.HeightMM
	var out []LabelSize
	for _, o := range LabelSizes() {
		if o.WidthMM*o.HeightMM > s.WidthMM*s.HeightMM {
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b LabelSize) int {
		return cmp.Or(cmp.Compare(a.WidthMM*a.HeightMM, b.WidthMM*b.HeightMM), cmp.Compare(btof((a.WidthMM >= a.HeightMM) != lying), btof((b.WidthMM >= b.HeightMM) != lying)))
	})
	return out
}

// NoRoom is the error of a label on which its words do not fit at the least letter and pictogram size. Nothing is cut off.
type NoRoom struct {
	Size LabelSize
	Next LabelSize // the next size offered on which everything fits; zero when none does
	Why  string
}

// Error names the next size.
func (e *NoRoom) Error() string {
	if e.Next == (LabelSize{}) {
		return fmt.Sprintf("a label of %s mm has no room for what it must say (%s), and no size offered has: leave out a language, or use a folded label or a tag", e.Size, e.Why)
	}
	return fmt.Sprintf("a label of %s mm has no room for what it must say (%s): take %s mm", e.Size, e.Why, e.Next)
}
