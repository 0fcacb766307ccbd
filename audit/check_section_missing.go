package audit

import (
	"fmt"
	"regexp"
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSectionMissing() Check {
	return Check{
		ID: "section-missing", Title: "A section is missing", Group: Paper, Kinds: []Kind{Gap, Note}, Harm: HarmPaper,
		Could:    "Whoever needs this section in an emergency or at the bench finds nothing.",
		Compares: "The headings of the document with the sixteen that the law prescribes.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(2), its notes 1 and 2, and App. D",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(2) and App. D",
			ghs.EUCLP:     "REACH Article 31(6) and Annex II part B (from memory)",
			ghs.GBCLP:     "UK REACH Article 31(6) (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4(1) and schedule 1",
			ghs.AUWHS:     "model WHS Regulations schedule 7 (list of sections 1 to 9 read)",
			ghs.UNGHS:     "UN GHS 1.5.3.2.1 (from memory)",
		},
		Example: "The document goes from section 10 to section 12.",
		Do:      "Ask for a complete sheet; do not work with the product on half of one.",
		Run: func(c *Case, e *Emit) {
			for n := 1; n <= 16; n++ {
				if c.Sheet.Sections[n].Found || c.Sheet.PreGHS.Value {
					continue
				}
				if i := slices.IndexFunc(c.Sheet.Problems, func(p sheet.ReadProblem) bool { return p.Section == n }); i >= 0 && !c.leftOut(n) {
					e.Cannot(fmt.Sprintf("section %d could not be read: %s", n, c.Sheet.Problems[i].What))
					continue
				}
				kind := Gap
				if c.american() && n >= 12 && n <= 15 {
					kind = Note
				}
				e.Report(Fault{
					Kind: kind, Section: n, Title: fmt.Sprintf("Section %d (%s) is missing", n, headings()[n]),
					Says: []Side{silent(n, fmt.Sprintf("a section %d", n))},
					Ask:  ask("state", "@section", fmt.Sprint(n)), Key: []string{fmt.Sprint(n)},
				})
			}
		},
	}
}

// leftOut tells whether the document itself passes over a section, and not only the reader: no page was lost, nearly all
// other headings were found, among them those before and after, and nothing between them speaks of what the section is
// about. A heading that is a picture leaves its text there.
func (c *Case) leftOut(n int) bool {
	s := c.Sheet
	if len(s.Sections[n].Text) > 0 || slices.ContainsFunc(s.Problems, func(p sheet.ReadProblem) bool { return p.Section == 0 || p.Section == n && p.Page != 0 }) {
		return false
	}
	found := 0
	for k := 1; k <= 16; k++ {
		if s.Sections[k].Found {
			found++
		}
	}
	if found < 13 || n > 1 && !s.Sections[n-1].Found || n < 16 && !s.Sections[n+1].Found {
		return false
	}
	number := regexp.MustCompile(fmt.Sprintf(`(?m)^\D{0,12}\b%d(\.\d|[.:)–-]?\s+\p{L})`, n))
	before := c.text(max(0, n-1))
	return !number.MatchString(before) && !hasAny(before, topicWords()[n]...)
}

// topicWords are words that a section's text or heading hardly does without, in lower case, in the languages carried. An
// empty list means that any text will do, so that the number alone decides.
func topicWords() [17][]string {
	return [17][]string{
		1:  {"supplier", "fournisseur", "lieferant", "proveedor", "manufacturer", "fabricant", "hersteller", "fabricante"},
		2:  {"hazard", "danger", "gefahr", "peligro"},
		3:  {"cas", "ingredient", "composant", "bestandteil", "componente"},
		4:  {"first aid", "premiers", "erste hilfe", "primeros auxilios", "rinse", "rincer", "spülen", "enjuag"},
		5:  {"extinguish", "extinct", "löschmittel", "extinción", "fire-fight", "fire fight"},
		6:  {"spill", "release", "déversement", "dispersion", "freisetzung", "verschütt", "vertido", "derrame"},
		7:  {"storage", "stockage", "entreposage", "lagerung", "almacenamiento", "store "},
		8:  {"glove", "gant", "handschuh", "guante", "exposure limit", "respirator"},
		9:  {"flash point", "point d'éclair", "point d’éclair", "flammpunkt", "inflamación", "boiling", "density", "densité", "dichte", "densidad"},
		10: {"stability", "stabilité", "stabilität", "estabilidad", "incompatib", "unverträglich"},
		11: {"ld50", "dl50", "lc50", "toxic", "toxiz", "toxik", "tóxic"},
		12: {"ecolog", "écolog", "ökolog", "umwelt", "ecológ", "aquatic", "aquatique", "acuátic", "biodegrad", "biodégrad", "abbau", "bioaccum", "bioakkum", "bioacum"},
		13: {"waste", "disposal", "déchet", "élimination", "entsorg", "abfall", "residuo", "eliminación"},
		14: {"transport", "shipping", "imdg", "iata", "un number"},
		15: {"regulat", "réglement", "rechtsvorschrift", "vorschrift", "reglament", "tsca", "reach"},
		16: {"revision", "révision", "überarbeit", "revisión", "abbreviation", "abréviation", "abkürzung", "abreviatura"},
	}
}

// headings are the names of the sixteen sections.
func headings() [17]string {
	return [17]string{"", "identification", "hazards", "composition", "first aid", "fire", "spills", "handling and storage",
		"exposure and protection", "physical and chemical properties", "stability and reactivity", "toxicology", "ecology",
		"disposal", "transport", "regulation", "other information"}
}
