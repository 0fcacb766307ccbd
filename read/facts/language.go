package facts

import (
	"strings"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// commonWords are frequent words of each language carried that the others do not have.
var commonWords = func() map[string]ghs.Lang {
	m := map[string]ghs.Lang{}
	for lang, words := range map[ghs.Lang]string{
		ghs.English: "the and with of for this product not if may be is are from or by should use avoid water skin when wear any",
		ghs.French:  "les des est dans pour avec une sur ce produit pas aux sont peut ou par eau peau du au cette la le et",
		ghs.German:  "der die und das mit bei nicht oder von ist auf zur zum fur nach den dem ein eine des wird werden haut wasser",
		ghs.Spanish: "los las del con para una por este producto no se puede agua piel el en y al es que su sin",
	} {
		for _, w := range strings.Fields(words) {
			m[w] = lang
		}
	}
	return m
}()

// readLanguage counts common words of each language.
func (r *reader) readLanguage() {
	count := map[ghs.Lang]int{}
	total := 0
	for _, i := range r.all() {
		for _, t := range tokenize(r.lines[i].Text) {
			if lang, ok := commonWords[t.text]; ok {
				count[lang]++
				total++
			}
		}
		if total > 3000 {
			break
		}
	}
	best := ghs.English
	for _, l := range ghs.Langs() {
		if count[l] > count[best] {
			best = l
		}
	}
	if total < 10 {
		return
	}
	r.sheet.Language = sheet.Fact[ghs.Lang]{State: sheet.Stated, Value: best, Confidence: float64(count[best]) / float64(total)}
	if len(r.part.sections) > 0 {
		r.sheet.Language.Evidence = r.part.sections[0].head.where.evidence()
	}
}

// law is a wording that names the law a sheet is written for.
type law struct {
	rules  ghs.RuleSet
	weight int
}

// laws lists wordings that tell the rule set. Weights: 5 the sheet says that it follows this law, 2 it names an
// authority or list of that country, 1 a habit of the country.
var laws = func() *phrases[law] {
	p := &phrases[law]{}
	p.add(law{ghs.USHCS2024, 9}, `1910.1200 revised 2024|hazcom 2024|hcs 2024|federal register vol 89|osha 2024|hcs revised 2024|hazard communication standard 2024|1910.1200 2024`)
	p.add(law{ghs.USHCS2012, 5}, `29 cfr 1910.1200|1910.1200|osha hazard communication standard|hazcom 2012|hcs 2012|osha hcs|federal register vol 77|ghs us|hazard communication standard|norma de comunicacion de peligros|osha 2012`)
	p.add(law{ghs.USHCS2012, 2}, `osha|tsca|sara 313|sara|proposition 65|cercla|us dot|chemtrec|acgih`)
	p.add(law{ghs.EUCLP, 5}, `1907 2006|1272 2008|2020 878|2015 830|453 2010|reach|clp|1999 45|67 548|91 155|eec`)
	p.add(law{ghs.GBCLP, 9}, `uk reach|gb clp|gb mandatory classification|uk sds regulations|2019 758`)
	p.add(law{ghs.GBCLP, 3}, `eh40`)
	p.add(law{ghs.CAHPR, 6}, `hazardous products regulations|whmis 2015|hpr|simdut 2015|reglement sur les produits dangereux|whmis|simdut`)
	p.add(law{ghs.AUWHS, 6}, `safe work australia|whs regulations|work health and safety regulations|nohsc|swa|safework`)
	p.add(law{ghs.UNGHS, 2}, `un ghs|globally harmonized system of classification and labelling of chemicals`)
	return p
}()

// readJurisdiction weighs the words that name a law. A sheet under two laws goes to the heavier one.
func (r *reader) readJurisdiction() {
	score := map[ghs.RuleSet]int{}
	first := map[ghs.RuleSet]stretch{}
	strength := map[ghs.RuleSet]int{}
	counted := map[string]bool{}
	see := func(l *layout.Line, front bool) {
		ts := tokenize(l.Text)
		for i := range ts {
			v, n := laws.at(ts, i)
			if n == 0 {
				continue
			}
			w := v.weight
			if front && w >= 5 {
				w *= 4
			}
			key := string(v.rules) + ts[i].text
			if counted[key] && !front {
				continue
			}
			counted[key] = true
			score[v.rules] += w
			if w > strength[v.rules] {
				strength[v.rules] = w
				first[v.rules] = stretch{l, ts[i].start, min(ts[i+n-1].end, len(l.Text))}
			}
		}
	}
	for i := range r.running {
		see(&r.running[i], true)
	}
	for _, i := range r.part.front() {
		see(&r.lines[i], true)
	}
	for _, topic := range []int{1, 2} {
		for _, i := range r.part.body(topic) {
			see(&r.lines[i], true)
		}
	}
	for _, topic := range []int{3, 8, 11, 14, 15, 16} {
		for _, i := range r.part.body(topic) {
			see(&r.lines[i], false)
		}
	}
	if score[ghs.USHCS2024] > 0 {
		score[ghs.USHCS2024] += score[ghs.USHCS2012]
		score[ghs.USHCS2012] = 0
	}
	if score[ghs.GBCLP] >= 9 {
		score[ghs.GBCLP] += score[ghs.EUCLP]
		score[ghs.EUCLP] = 0
	}
	var best ghs.RuleSet
	total := 0
	for _, rs := range []ghs.RuleSet{ghs.USHCS2024, ghs.USHCS2012, ghs.EUCLP, ghs.GBCLP, ghs.CAHPR, ghs.AUWHS, ghs.UNGHS} {
		total += score[rs]
		if score[rs] > score[best] {
			best = rs
		}
	}
	if best == "" || score[best] < 2 {
		return
	}
	r.sheet.Jurisdiction = fact(best, min(0.97, float64(score[best])/float64(total)), first[best])
	for i := range r.sheet.Jurisdiction.Evidence {
		r.sheet.Jurisdiction.Evidence[i].How = sheet.ByInference
	}
}

// americanDate settles which version of the United States' rule a sheet follows that names no year: sheets dated before
// the revision was published (Federal Register vol. 89, 20 May 2024) follow the version of 2012.
func (r *reader) americanDate() {
	j := &r.sheet.Jurisdiction
	if j.Value != ghs.USHCS2012 || !j.Known() {
		return
	}
	for _, i := range r.all() {
		t := r.lines[i].Text
		if strings.Contains(t, "2012") && (strings.Contains(t, "OSHA") || strings.Contains(t, "HCS") || strings.Contains(t, "azCom") || strings.Contains(t, "Federal Register")) {
			return
		}
	}
	date := r.sheet.Identification.RevisionDate
	if !date.Known() {
		date = r.sheet.Identification.IssueDate
	}
	if date.Known() && date.Value >= "2024-05-20" {
		j.Value = ghs.USHCS2024
		j.Confidence = min(j.Confidence, uncertain)
		j.Evidence = append(j.Evidence, date.Evidence...)
	}
}

// monthFirstCountry tells whether dates of this sheet are more likely written month first.
func (r *reader) monthFirstCountry() bool {
	switch r.sheet.Jurisdiction.Value {
	case ghs.USHCS2012, ghs.USHCS2024:
		return true
	}
	return false
}
