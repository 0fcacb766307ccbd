package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSecretRange() Check {
	return Check{
		ID: "secret-range", Title: "A withheld share is given in a range that the law does not know", Group: Section3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "The range is so wide that the class cannot be worked out.",
		Compares: "The range of each ingredient claimed as a trade secret with the prescribed ranges.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(i)(1)(iv) to (vi)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4.5(1) and (3)",
		},
		Example: "“Trade secret, 5 – 40 %”.",
		Do:      "Reckon with the upper end.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				p := ing.Percent.Value.Interval
				if !ing.Secret.Known() || !ing.Secret.Value || !ing.Percent.Known() || withinBand(p) {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: 3, Title: nameOf(ing) + ": " + printed(ing.Percent.Value) + " fits none of the prescribed ranges",
					Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)}, Follows: []Side{follows("Prescribed: " + bandText())},
					Ask: ask("range", nameOf(ing), printed(ing.Percent.Value)), Key: []string{nameOf(ing), printed(ing.Percent.Value)},
				})
			}
		},
	}
}

// bands are the prescribed ranges of a share kept as a trade secret, in percent: 29 CFR 1910.1200(i)(1)(iv)(A) to (M)
// and, the same, Hazardous Products Regulations s. 4.5(3).
func bands() [][2]float64 {
	return [][2]float64{{0.1, 1}, {0.5, 1.5}, {1, 5}, {3, 7}, {5, 10}, {7, 13}, {10, 30}, {15, 40}, {30, 60}, {45, 70}, {60, 80}, {65, 85}, {80, 100}}
}

// withinBand tells whether a range lies within one prescribed range or, up to 30 %, within two neighbouring ones.
func withinBand(p sheet.Interval) bool {
	lo, hi := lowest(p), highest(p)
	for i, b := range bands() {
		top := b[1]
		if i < 6 {
			top = max(top, bands()[i+1][1])
		}
		if lo >= b[0] && hi <= top {
			return true
		}
	}
	return hi < 0.1
}

func bandText() string {
	var out []string
	for _, b := range bands() {
		out = append(out, number(b[0])+" – "+number(b[1]))
	}
	return strings.Join(out, ", ") + " %"
}
