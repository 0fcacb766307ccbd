package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func ratingTrials() []trial {
	us := ghs.USHCS2024
	rate := func(system string, health, flammability int) func(*Case) {
		return func(c *Case) {
			c.Sheet.Ratings = []sheet.Fact[sheet.Rating]{stated(2, sheet.Rating{System: system, Health: health, Flammability: flammability, Instability: 0}, "rating")}
		}
	}
	return []trial{
		finds("rating-flash", Contradiction, "flammability 1 beside 25 °C", us, thinner, rate("NFPA", 2, 1)),
		finds("rating-flash", Doubt, "flammability 4 beside 25 °C", us, thinner, rate("NFPA", 2, 4)),
		passes("rating-flash", "100 °F is the step itself: 2", us, thinner, both(rate("NFPA", 2, 2), set(sheet.FlashPoint, sheet.Exactly((100-32)/1.8), "°C", "100 °F"))),
		passes("rating-flash", "flammability 3 beside 25 °C", us, thinner, rate("NFPA", 2, 3)),
		passes("rating-flash", "“> 150 °C” allows 0 and 1", us, resin, rate("NFPA", 2, 1)),
		finds("rating-health", Doubt, "burns and health 1", us, hardener, rate("NFPA", 1, 1)),
		passes("rating-health", "burns and health 3", us, hardener, rate("NFPA", 3, 1)),
		passes("rating-health", "the diamond does not rate an allergy", us, resin, rate("NFPA", 1, 1)),
		finds("rating-direction", Note, "any rating", us, resin, rate("NFPA", 2, 1)),
		finds("rating-direction", Doubt, "Skin Corr. 1B and health 1: the digit was copied", us, hardener, rate("HMIS", 1, 1)),
		passes("rating-direction", "no rating", us, resin, nil),
	}
}
