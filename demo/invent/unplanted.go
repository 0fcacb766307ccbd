package invent

// Unplanted names the checks of package audit for which no fault is planted, each with the reason. Their own tests plant
// the fault in a sheet built by hand.
func Unplanted() map[string]string {
	const (
		label       = "needs a label beside the sheet"
		predecessor = "needs the revision before"
		kit         = "needs the parts of a kit"
		everywhere  = "a note that every made-up sheet gives"
	)
	return map[string]string{
		"section-order":             "no layout prints the sections out of order on purpose",
		"section-empty":             "no layout prints a heading without text",
		"unreadable":                "needs a page that cannot be read",
		"registration-missing":      everywhere + ": none prints REACH numbers",
		"wrong-market":              "needs a reader under another law than the sheet's",
		"classification-missing":    "a made-up sheet without classes says that it is not classified",
		"pictogram-dropped":         "planted as a needless symbol it falls under pictogram-extra",
		"organs-missing":            everywhere + ": none names organs",
		"reproductive-effect":       everywhere + ": none tells fertility from the unborn child",
		"allergy-symbol":            "a note on every sheet with H317, not a fault",
		"m-factor-missing":          everywhere + ": none prints M-factors",
		"isocyanate-training":       everywhere + " of a diisocyanate: none prints the sentence on training",
		"constituent-note":          "a doubt on every sheet with such an ingredient and no word on the constituent, not a fault",
		"remainder":                 "a note on every sheet that leaves a part open, not a fault",
		"first-aid-breathing":       "the sections on first aid speak of breathing in more than one place",
		"peroxide-accelerator":      "the made-up sections on reactivity name amines or metals in every language",
		"cancer-statement-missing":  "section 11 of every made-up sheet has a line on cancer",
		"ecotoxicity-against-class": "the made-up sheets give ecotoxicity by ingredient only",
		"ecology-missing":           everywhere + " with an aquatic class: none prints values",
		"ventilation-missing":       "sections 7 and 8 of the made-up sheets speak of ventilation in several places",
		"rating-direction":          "a note on every sheet with ratings",
		"label-product":             label, "label-signal-word": label, "label-pictogram-missing": label, "label-pictogram-extra": label,
		"label-statement-missing": label, "label-statement-extra": label, "label-precautions": label, "label-ingredients": label, "label-supplier": label,
		"claim":            "needs a sales text",
		"kit-part-missing": kit, "kit-mixed": kit, "kit-law": kit,
		"revision-milder": predecessor, "revision-silent": predecessor, "revision-order": predecessor,
	}
}
