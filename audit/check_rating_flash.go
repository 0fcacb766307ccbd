package audit

import (
	"fmt"

	"sixteen/sheet"
)

func checkRatingFlash() Check {
	return Check{
		ID: "rating-flash", Title: "The 0–4 flammability rating does not fit the flash point", Group: RatingsData, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmDeath,
		Could:    "Those who go by the diamond bring a flame near it.",
		Compares: "The flammability digit with the flash point of section 9, as a range.",
		Clauses:  Clauses{"": "NFPA 704 chapter 6 (steps read in public summaries): below 22.8 °C 3 or 4, below 37.8 °C 3, below 93.4 °C 2, above 1"},
		Example:  "Flammability 0 beside a flash point of 12 °C.",
		Do:       "Go by the flash point.",
		Run: func(c *Case, e *Emit) {
			flash, ok := c.only(sheet.FlashPoint)
			if !ok || c.notLiquid() || flash.Value.Cup == "open" {
				return
			}
			low, high := ratingFor(flash.Value.Interval)
			for _, f := range c.Sheet.Ratings {
				d := f.Value.Flammability
				if !f.Known() || d < 0 || (d >= low && d <= high) {
					continue
				}
				kind := Doubt
				if d < low-1 || (d < low && low >= 3) {
					kind = Contradiction
				}
				e.Report(Fault{
					Kind: kind, Section: 9, Title: fmt.Sprintf("Flammability %d beside a flash point of %s", d, printed(flash.Value)),
					Says:    []Side{says(0, fmt.Sprintf("%s flammability %d", f.Value.System, d), f), says(9, "Flash point "+printed(flash.Value), flash)},
					Follows: []Side{follows(fmt.Sprintf("The flash point leads to %s", digits(low, high)))}, Key: []string{f.Value.System, fmt.Sprint(d), printed(flash.Value)},
				})
			}
		},
	}
}

// ratingFor is the span of flammability digits that a flash point (°C) allows.
func ratingFor(v sheet.Interval) (low, high int) {
	// the steps are 73, 100 and 200 °F: a flash point printed in °F as one of them is not below it
	const rounding = 0.1
	low, high = 0, 4
	switch {
	case allBelow(v, 37.8-rounding):
		low = 3
	case allBelow(v, 93.4-rounding):
		low = 2
	case v.HasHi:
		low = 1
	}
	switch {
	case allAtLeast(v, 93.4-rounding):
		high = 1
	case allAtLeast(v, 37.8-rounding):
		high = 2
	case allAtLeast(v, 22.8-rounding):
		high = 3
	}
	return low, high
}

func digits(low, high int) string {
	if low == high {
		return fmt.Sprint(low)
	}
	return fmt.Sprintf("%d to %d", low, high)
}
