package plan

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"

	"sixteen/classify"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// ParseProduct reads one product from YAML, written as under products of a job file. Unknown fields are refused.
func ParseProduct(raw []byte) (exposure.Product, error) {
	var p exposure.Product
	if err := yaml.NewDecoder(bytes.NewReader(raw), yaml.Strict()).Decode(&p); err != nil {
		return p, fmt.Errorf("the product file cannot be read: %w", err)
	}
	if p.File == "" && len(p.Parts) == 0 && len(p.Ingredients) == 0 {
		return p, errors.New("the product file names neither a file, nor parts, nor ingredients")
	}
	return p, nil
}

// ErrNoSource is returned when a job names a file and there is nothing to read files with.
var ErrNoSource = errors.New("a product is named by its file, and no reader of files was given")

// RulesFor is the rule set of a job: the stated one, or the one in force at the place whose limits count.
func RulesFor(j *exposure.Job) ghs.RuleSet {
	switch {
	case j.Rules != "":
		return j.Rules
	case j.Jurisdiction == substance.UnitedStates || j.Jurisdiction == substance.California:
		return ghs.USHCS2024
	case j.Jurisdiction == substance.Ontario:
		return ghs.CAHPR
	case j.Jurisdiction == substance.UnitedKingdom:
		return ghs.GBCLP
	case j.Jurisdiction == substance.EuropeanUnion || j.Jurisdiction == substance.Germany:
		return ghs.EUCLP
	}
	return ghs.UNGHS
}

// Fill gives every product of a job its ingredients: from the file it names, from its parts at their ratio, or as given.
// The job itself is not changed. The known products come in the order of the job's. An error names the product.
func Fill(ctx context.Context, job *exposure.Job, table *substance.Table, src Source) (*exposure.Job, []Known, error) {
	filled := *job
	filled.Products = slices.Clone(job.Products)
	rules := RulesFor(job)
	var all []Known
	for i := range filled.Products {
		k, err := FillProduct(ctx, &filled.Products[i], table, src, rules)
		if err != nil {
			return nil, nil, &exposure.FieldError{Field: fmt.Sprintf("products[%d]", i), Question: err.Error()}
		}
		all = append(all, k)
	}
	return &filled, all, nil
}

// FillProduct is Fill for one product, which is changed: it gets its ingredients, and what its file tells beside them where
// the product itself does not say.
func FillProduct(ctx context.Context, p *exposure.Product, table *substance.Table, src Source, rules ghs.RuleSet) (Known, error) {
	if len(p.Parts) > 0 {
		return mixParts(ctx, p, table, src, rules)
	}
	part := exposure.Part{Name: p.Name, File: p.File, DensityKgM3: p.DensityKgM3, Complete: p.Complete, Ingredients: p.Ingredients, Hazards: p.Hazards, FlashPointC: p.FlashPointC}
	k, err := knownPart(ctx, part, table, src, rules)
	if err != nil {
		return k, err
	}
	if len(p.Ingredients) == 0 {
		take(p, k, table)
	}
	return k, nil
}

// knownPart reads a part from its file or works it out from what the job gives; what the job states goes before the file.
func knownPart(ctx context.Context, p exposure.Part, table *substance.Table, src Source, rules ghs.RuleSet) (Known, error) {
	stated, err := statedHazards(p.Hazards, rules)
	if err != nil {
		return Known{}, err
	}
	var k Known
	if p.File != "" && len(p.Ingredients) == 0 {
		if src == nil {
			return k, ErrNoSource
		}
		if k, err = src.Product(ctx, p.File, rules); err != nil {
			return k, err
		}
	} else {
		m, err := mixtureOf(p, rules)
		if err != nil {
			return k, err
		}
		m, _ = m.Fill(table, rules)
		if k, err = OfMixture(m, rules); errors.Is(err, classify.ErrImpossibleComposition) {
			return k, fmt.Errorf("no composition fits the percentages of %s: check that they can add up to 100", p.Name)
		} else if err != nil {
			return k, err
		}
	}
	k.Declared = k.Declared.Union(stated)
	k.Possible = k.Possible.Minus(stated)
	if p.Name != "" {
		k.Name = p.Name
	}
	if p.DensityKgM3 > 0 {
		k.DensityKgM3 = p.DensityKgM3
	}
	if p.FlashPointC != nil {
		k.FlashPointC = p.FlashPointC
	}
	return k, nil
}

// mixtureOf is a part as the rules of classification see it.
func mixtureOf(p exposure.Part, rules ghs.RuleSet) (classify.Mixture, error) {
	m := classify.Mixture{Name: p.Name, Complete: p.Complete, Form: classify.Liquid}
	m.Tested.FlashPointC = p.FlashPointC
	for _, i := range p.Ingredients {
		hazards, err := statedHazards(i.Hazards, rules)
		if err != nil {
			return m, fmt.Errorf("%s: %w", i.Name, err)
		}
		m.Ingredients = append(m.Ingredients, classify.Ingredient{Name: i.Name, CAS: i.CAS, Percent: i.Percent.Interval, Hazards: hazards, MolarMassGMol: i.MolarMass})
	}
	return m, nil
}

// statedHazards reads "H317" and "Skin Sens. 1". A code that stands for several categories gives the one without letter, with
// its route or effect where there is one, or the first.
func statedHazards(words []string, rules ghs.RuleSet) (ghs.HazardSet, error) {
	var out ghs.HazardSet
	for _, w := range words {
		if h, ok := ghs.ParseHazard(w); ok {
			out.Add(h)
			continue
		}
		code, ok := ghs.NormaliseCode(w)
		hs := rules.HazardsOf(code)
		if !ok || len(hs) == 0 {
			return out, fmt.Errorf("%q is neither a hazard statement nor a class under %s: write H317 or Skin Sens. 1", w, rules.Name())
		}
		plain := func(h ghs.Hazard) bool { return !strings.ContainsAny(h.Category(), "ABC") }
		i := slices.IndexFunc(hs, func(h ghs.Hazard) bool { return plain(h) && h.Qualifier() != ghs.NoQualifier })
		if i < 0 {
			i = slices.IndexFunc(hs, plain)
		}
		out.Add(hs[max(0, i)])
	}
	return out, nil
}

// mixParts makes the fresh mix of a kit at its ratio.
func mixParts(ctx context.Context, p *exposure.Product, table *substance.Table, src Source, rules ghs.RuleSet) (Known, error) {
	amounts, basis, err := classify.ParseRatio(p.Ratio)
	if err != nil {
		return Known{}, err
	}
	if len(amounts) != len(p.Parts) {
		return Known{}, fmt.Errorf("the ratio %q has %d numbers for %d parts", p.Ratio, len(amounts), len(p.Parts))
	}
	kit := classify.Kit{Name: p.Name, Basis: basis, Inert: p.Inert}
	k := Known{Name: p.Name, RuleSet: rules, Classified: true}
	var parts []Known
	for i, part := range p.Parts {
		known, err := knownPart(ctx, part, table, src, rules)
		if err != nil {
			return Known{}, fmt.Errorf("part %d: %w", i+1, err)
		}
		member := classify.Part{Name: known.Name, Mixture: known.Mixture, Amount: amounts[i]}
		if known.DensityKgM3 > 0 {
			member.DensityGML = sheet.Exactly(known.DensityKgM3 / 1000)
		}
		kit.Parts = append(kit.Parts, member)
		parts = append(parts, known)
	}
	r, err := kit.Classify(rules)
	if err != nil {
		return Known{}, err
	}
	k.ofKit(r, parts)
	stated, err := statedHazards(p.Hazards, rules)
	if err != nil {
		return Known{}, err
	}
	k.Declared = k.Declared.Union(stated)
	k.Possible = k.Possible.Minus(k.Acting())
	if p.DensityKgM3 > 0 {
		k.DensityKgM3 = p.DensityKgM3
	}
	if p.PricePerKg == 0 {
		p.PricePerKg = mixPrice(p.Parts, r.Fractions)
	}
	if len(p.Ingredients) == 0 {
		take(p, k, table)
	}
	return k, nil
}

// ofKit is what holds from the moment the parts meet: the hazards of every part and of the fresh mix.
func (k *Known) ofKit(r *classify.KitClassification, parts []Known) {
	k.Mixture = r.Program.Mixture
	k.Certain, k.Possible = r.Rule.Certain, r.Rule.Possible.Union(r.Mix.Open).Minus(r.Rule.Certain)
	k.Hidden = [2]float64{r.Mix.MinRemainder, r.Mix.MaxRemainder}
	k.Notes = append(append(k.Notes, r.Rule.Text), r.Notes...)
	volume := 0.0
	for i, part := range parts {
		k.Declared = k.Declared.Union(part.Declared)
		k.FromSheet = k.FromSheet || part.FromSheet
		k.Classified = k.Classified && part.Classified
		k.Contradictions, k.Gaps, k.Doubts = k.Contradictions+part.Contradictions, k.Gaps+part.Gaps, k.Doubts+part.Doubts
		for _, f := range part.Findings {
			k.Findings = append(k.Findings, part.Name+": "+f)
		}
		if f := part.FlashPointC; f != nil && (k.FlashPointC == nil || *f < *k.FlashPointC) {
			k.FlashPointC = f
		}
		share := (r.Fractions[i].Lo + r.Fractions[i].Hi) / 200
		volume += share / part.DensityKgM3 // an unknown density makes it infinite
	}
	if volume > 0 && !math.IsInf(volume, 1) {
		k.DensityKgM3 = 1 / volume
	}
	k.Declared = severest(k.Declared)
}

// severest keeps the severest category of each class and effect, so that a kit whose parts are in categories 1 and 2 is
// shown with category 1.
func severest(s ghs.HazardSet) ghs.HazardSet {
	out := s
	for _, h := range s.All() {
		for _, o := range s.All() {
			if o.Severer(h) {
				out.Remove(h)
			}
		}
	}
	return out
}

func mixPrice(parts []exposure.Part, shares []sheet.Interval) float64 {
	sum := 0.0
	for i, p := range parts {
		if p.PricePerKg == 0 {
			return 0
		}
		sum += p.PricePerKg * (shares[i].Lo + shares[i].Hi) / 200
	}
	return sum
}
