package invent

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"sixteen/classify"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Random makes up the sheet of a product of the trade. The same arguments give the same sheet.
func Random(seed uint64, lang ghs.Lang, rules ghs.RuleSet) (sheetprint.Spec, error) {
	rng := rand.New(rand.NewPCG(seed, 0x5eed))
	r := recipes[rng.IntN(len(recipes))]
	b, err := mix(r, substance.Embedded(), rng)
	if err != nil {
		return sheetprint.Spec{}, err
	}
	return b.spec(rng, lang, rules)
}

// Share is one line of a given composition: a CAS number of the substance table, or the trade description of a polymer;
// the real share and the range that the sheet discloses (% by mass).
type Share struct {
	CAS     string
	Polymer string
	Percent float64
	Range   sheet.Interval
}

// Product makes the sheet of a given composition of a kind of product (see Kinds): classification, label, data, limits
// and transport follow from it. It fails when a substance is not in the table or the ranges leave a hazard open.
func Product(kind string, shares []Share, lang ghs.Lang, rules ghs.RuleSet, seed uint64) (sheetprint.Spec, error) {
	i := slices.IndexFunc(recipes, func(r recipe) bool { return r.kind == kind })
	if i < 0 {
		return sheetprint.Spec{}, fmt.Errorf("no kind of product is called %q: choose one of %v", kind, Kinds())
	}
	b := Blend{recipe: recipes[i], given: true}
	for _, sh := range shares {
		p := Part{Name: sh.Polymer, Share: sh.Percent, Range: sh.Range}
		if sh.CAS != "" {
			sub, ok := substance.Embedded().ByCAS(sh.CAS)
			if !ok {
				return sheetprint.Spec{}, fmt.Errorf("%s: %s is not in the substance table", kind, sh.CAS)
			}
			p.Substance, p.Name = sub, sub.Name
		}
		b.Parts = append(b.Parts, p)
	}
	return b.spec(rand.New(rand.NewPCG(seed, 0x5eed)), lang, rules)
}

// Kinds lists the kinds of products.
func Kinds() []string {
	var out []string
	for _, r := range recipes {
		out = append(out, r.kind)
	}
	return out
}

// spec is the sheet of a blend. The ranges are made finer until the classification is the same for every composition
// they allow, so that the sheet holds together.
func (b Blend) spec(rng *rand.Rand, lang ghs.Lang, rules ghs.RuleSet) (sheetprint.Spec, error) {
	s := sheetprint.Spec{Lang: lang, Rules: rules, State: b.recipe.state, Colour: b.recipe.colour, Odour: b.recipe.odour,
		Use: b.recipe.use[string(lang)], Properties: b.properties(rng)}
	names(&s, b.recipe, rng)
	dates(&s, rng)
	hazards, err := b.discloseSettled(rng, rules, s.Properties)
	if err != nil {
		return s, fmt.Errorf("%s: %w", b.recipe.kind, err)
	}
	if err := b.supplements(&s); err != nil {
		return s, fmt.Errorf("%s: %w", b.recipe.kind, err)
	}
	for _, h := range hazards {
		c, ok := classOf(h)
		if !ok {
			return s, fmt.Errorf("%s: no label element for %v", b.recipe.kind, h)
		}
		s.Classes = append(s.Classes, c)
	}
	label(&s)
	b.ingredients(&s, rules)
	b.unknown(&s)
	b.limits(&s, rules)
	b.toxicity(&s, rules)
	b.carcinogens(&s)
	b.protection(&s)
	b.transport(&s)
	if !europe(rules) {
		b.ratings(&s, rng)
	}
	s.RevisionsList = rng.IntN(4) == 0
	return s, nil
}

// discloseSettled chooses ranges under which the classification is settled, and returns it. Given ranges stay.
func (b *Blend) discloseSettled(rng *rand.Rand, rules ghs.RuleSet, data map[sheet.Property]sheetprint.Value) ([]ghs.Hazard, error) {
	if b.given {
		return b.settled(rules, data)
	}
	for ladder := rng.IntN(len(bands) + 1); ; ladder++ {
		b.disclose(ladder)
		hazards, err := b.settled(rules, data)
		if err == nil || ladder == len(bands) || !errors.As(err, &unsettled{}) {
			return hazards, err
		}
	}
}

// supplements adds the supplemental statements of the rule set at the real composition, with the substances to name.
func (b Blend) supplements(s *sheetprint.Spec) error {
	program, err := classify.Compile(b.mixture(s.Rules, s.Properties), s.Rules)
	if err != nil {
		return err
	}
	var x []float64
	for _, p := range b.Parts {
		x = append(x, p.Share)
	}
	c := program.At(x)
	for _, sup := range c.Supplements() {
		s.Supplemental = append(s.Supplemental, sup.Code)
		if sup.Code == "EUH208" {
			s.Contains = append(s.Contains, sup.Ingredients...)
		}
	}
	b.estimates(s, c.Numbers())
	return nil
}

// estimates are the acute toxicity estimates of the mixture by the additivity formula; those beyond every category and
// those of a mixture that is mostly unknown are not printed.
func (b Blend) estimates(s *sheetprint.Spec, numbers map[string]float64) {
	for _, r := range []struct {
		route, name, unit string
		ceiling           float64
	}{
		{"oral", "ate_mix_oral", "mg/kg", 5000}, {"dermal", "ate_mix_dermal", "mg/kg", 5000},
		{"vapour", "ate_mix_inhalation_vapour", "mg/l", 50}, {"dust", "ate_mix_inhalation_dust", "mg/l", 12},
	} {
		v, ok := numbers[r.name]
		if !ok || v > r.ceiling {
			continue
		}
		if v >= 100 {
			v = math.Round(v)
		} else {
			v = math.Round(v*10) / 10
		}
		s.Tox = append(s.Tox, sheetprint.Tox{Measure: "ATE", Route: r.route, Value: v, Unit: r.unit})
	}
}

// carcinogens quotes the listings of IARC in groups 1, 2A and 2B for parts of 0.1 % and more.
func (b Blend) carcinogens(s *sheetprint.Spec) {
	for _, p := range b.known() {
		g := p.Substance.IARC
		if p.Share >= 0.1 && (g == "1" || g == "2A" || g == "2B") {
			s.Carcinogens = append(s.Carcinogens, sheetprint.Carcinogen{Name: nameIn(p.Substance, s.Lang), CAS: p.Substance.CAS, Agency: "IARC", Group: g})
		}
	}
}

// unknown states the share of ingredients whose acute toxicity is not known, required from 1 % (29 CFR 1910.1200
// App. C, C.3.3; CLP Annex I, 3.1.3.6.2.2).
func (b Blend) unknown(s *sheetprint.Spec) {
	share := 0.0
	for _, p := range b.Parts {
		if p.Substance == nil {
			share += p.Share
		}
	}
	if share >= 1 {
		s.Unknown = []sheetprint.UnknownShare{{Percent: share}}
	}
}

func europe(r ghs.RuleSet) bool { return r == ghs.EUCLP || r == ghs.GBCLP }

func choose[T any](rng *rand.Rand, from []T) T { return from[rng.IntN(len(from))] }

// names makes up the product, its house and how to reach it. Telephone numbers and mail addresses cannot exist.
func names(s *sheetprint.Spec, r recipe, rng *rand.Rand) {
	compound := choose(rng, firstNames) + choose(rng, lastNames)
	s.Product = compound + " " + choose(rng, r.words)
	s.Code = fmt.Sprintf("%s-%03d", strings.ToUpper(compound[:2]), 100+rng.IntN(900))
	house := choose(rng, firstNames) + choose(rng, lastNames)
	s.Supplier = sheetprint.Supplier{
		Name:    house + " " + choose(rng, houseNames),
		Address: []string{choose(rng, streets), choose(rng, towns)},
		Phone:   fmt.Sprintf("+00 555 %03d %03d", rng.IntN(1000), rng.IntN(1000)),
		Email:   "sheets@" + strings.ToLower(house) + ".example",
	}
	s.Emergency = fmt.Sprintf("+00 555 %03d 112", rng.IntN(1000))
	if europe(s.Rules) {
		const letters = "ACDEFGHJKMNPQRSTUVWXY0123456789"
		var u []byte
		for i := range 16 {
			if i > 0 && i%4 == 0 {
				u = append(u, '-')
			}
			u = append(u, letters[rng.IntN(len(letters))])
		}
		s.UFI = string(u)
	}
}

func dates(s *sheetprint.Spec, rng *rand.Rand) {
	revised := time.Date(2024, 8, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rng.IntN(780))
	s.Revision = revised.Format(time.DateOnly)
	if rng.IntN(2) == 0 {
		s.Supersedes = revised.AddDate(-1-rng.IntN(2), -rng.IntN(9), -rng.IntN(25)).Format(time.DateOnly)
	}
	if rng.IntN(3) == 0 {
		s.Printed = revised.AddDate(0, 0, 3+rng.IntN(60)).Format(time.DateOnly)
	}
	s.Version = fmt.Sprintf("%d.%d", 1+rng.IntN(7), rng.IntN(4))
}

func (b Blend) ingredients(s *sheetprint.Spec, rules ghs.RuleSet) {
	for _, p := range b.Parts {
		in := sheetprint.Ingredient{Name: p.Name, Percent: p.Range}
		if p.Substance != nil {
			in.Name, in.CAS, in.EC = nameIn(p.Substance, s.Lang), p.Substance.CAS, p.Substance.EC
		}
		for _, h := range hazardsOf(p.Substance, rules).All() {
			if k, ok := classOf(h); ok && !slices.Contains(in.Classes, k) {
				in.Classes = append(in.Classes, k)
			}
		}
		s.Ingredients = append(s.Ingredients, in)
	}
}

// nameIn is the substance's name in a language where the table has one.
func nameIn(sub *substance.Substance, lang ghs.Lang) string {
	for _, n := range sub.Synonyms {
		if n.Lang == lang && lang != ghs.English {
			return n.Text
		}
	}
	return sub.Name
}

// properties works out plausible data: the lowest flash and boiling point of what is there in quantity, density by
// volumes, vapour pressure by Raoult's law on mole fractions where molar masses are known.
func (b Blend) properties(rng *rand.Rand) map[sheet.Property]sheetprint.Value {
	out := map[sheet.Property]sheetprint.Value{}
	flash, boil, volume, mass := math.Inf(1), math.Inf(1), 0.0, 0.0
	auto := math.Inf(1)
	var volatile float64
	for _, p := range b.known() {
		sub := p.Substance
		if sub.DensityKgM3.Known {
			volume += p.Share / sub.DensityKgM3.V
			mass += p.Share
		}
		if sub.BoilingPointC.Known && sub.BoilingPointC.V < 250 && sub.FlashPointC.Known {
			volatile += p.Share
		}
		if p.Share < 3 {
			continue
		}
		if sub.FlashPointC.Known {
			flash = math.Min(flash, sub.FlashPointC.V)
		}
		if sub.BoilingPointC.Known {
			boil = math.Min(boil, sub.BoilingPointC.V)
		}
		if sub.AutoIgnitionC.Known {
			auto = math.Min(auto, sub.AutoIgnitionC.V)
		}
	}
	rest := b.Rest() + b.polymers()
	volume += rest / 1120
	mass += rest
	density := math.Round(mass / volume)
	out[sheet.Density] = sheetprint.Value{Interval: sheet.Exactly(density), AtC: float64(20 * rng.IntN(2))}
	watery := b.recipe.ph != 0 && b.recipe.kind != "amine hardener"
	switch {
	case b.recipe.peroxide != "":
		out[sheet.FlashPoint] = sheetprint.Value{NoData: true}
		out[sheet.Decomposition] = sheetprint.Value{Interval: sheet.Exactly(60)}
	case watery:
		out[sheet.FlashPoint] = sheetprint.Value{NoData: true}
		out[sheet.BoilingPoint] = sheetprint.Value{Interval: sheet.Exactly(100)}
	case math.IsInf(flash, 1), flash > 100:
		out[sheet.FlashPoint] = sheetprint.Value{Interval: sheet.Interval{Lo: 100, HasLo: true, LoOpen: true}, Cup: "closed"}
	default:
		out[sheet.FlashPoint] = sheetprint.Value{Interval: sheet.Exactly(math.Round(flash)), Cup: "closed",
			Method: choose(rng, []string{"", "ISO 3679", "ASTM D 93", "ISO 2719"})}
	}
	if !watery && b.recipe.peroxide == "" && !math.IsInf(boil, 1) && boil < 300 {
		v := sheetprint.Value{Interval: sheet.Exactly(math.Round(boil))}
		if rng.IntN(3) == 0 {
			v.Interval = sheet.Between(math.Round(boil), math.Round(boil)+5+float64(rng.IntN(20)))
		}
		out[sheet.BoilingPoint] = v
	}
	if b.recipe.ph != 0 {
		out[sheet.PH] = sheetprint.Value{Interval: sheet.Exactly(b.recipe.ph)}
	} else if rng.IntN(2) == 0 {
		out[sheet.PH] = sheetprint.Value{NoData: true}
	}
	if pa := b.vapourPressure(); pa > 0 && rng.IntN(4) > 0 {
		out[sheet.VapourPressure] = sheetprint.Value{Interval: sheet.Exactly(pa), AtC: 20}
	}
	if volatile > 0 && !watery {
		out[sheet.VOC] = sheetprint.Value{Interval: sheet.Exactly(math.Round(volatile / 100 * density)), Unit: "g/l"}
		if rng.IntN(4) == 0 {
			out[sheet.VOC] = sheetprint.Value{Interval: sheet.Exactly(round(volatile)), Unit: "%"}
		}
	}
	if !math.IsInf(auto, 1) && rng.IntN(2) == 0 && !watery {
		out[sheet.AutoIgnition] = sheetprint.Value{Interval: sheet.Exactly(math.Round(auto))}
	}
	b.explosion(out, watery)
	b.viscosity(out, rng)
	out[sheet.WaterSolubility] = sheetprint.Value{Interval: sheet.Exactly(map[bool]float64{true: 50, false: 0.1}[watery])}
	return out
}

// vapourPressure is Raoult's sum at 20 °C in Pa over the disclosed substances, the rest being counted at 400 g/mol.
func (b Blend) vapourPressure() float64 {
	moles := (b.Rest() + b.polymers()) / 400
	sum := 0.0
	for _, p := range b.known() {
		m := 400.0
		if p.Substance.MolarMassGMol.Known {
			m = p.Substance.MolarMassGMol.V
		}
		moles += p.Share / m
		if p.Substance.VapourPressurePa.Known {
			sum += p.Share / m * p.Substance.VapourPressurePa.V
		}
	}
	if moles == 0 {
		return 0
	}
	return math.Round(sum / moles)
}

func (b Blend) explosion(out map[sheet.Property]sheetprint.Value, watery bool) {
	lo, hi := math.Inf(1), 0.0
	for _, p := range b.known() {
		if p.Share >= 5 && p.Substance.LowerFlammablePct.Known && p.Substance.UpperFlammablePct.Known {
			lo, hi = math.Min(lo, p.Substance.LowerFlammablePct.V), math.Max(hi, p.Substance.UpperFlammablePct.V)
		}
	}
	if hi > 0 && !watery {
		out[sheet.LowerFlammable] = sheetprint.Value{Interval: sheet.Exactly(lo)}
		out[sheet.UpperFlammable] = sheetprint.Value{Interval: sheet.Exactly(hi)}
	}
}

func (b Blend) viscosity(out map[sheet.Property]sheetprint.Value, rng *rand.Rand) {
	switch {
	case b.recipe.thin:
		out[sheet.KinematicViscosity] = sheetprint.Value{Interval: sheet.Exactly(1 + math.Round(rng.Float64()*30)/10)}
	case b.aspirated() || b.recipe.state == "liquid" && rng.IntN(2) == 0:
		out[sheet.KinematicViscosity] = sheetprint.Value{Interval: sheet.Interval{Lo: 20.5, HasLo: true, LoOpen: true}}
	case b.recipe.state == "liquid":
		out[sheet.DynamicViscosity] = sheetprint.Value{Interval: sheet.Exactly(float64(100 + 50*rng.IntN(60)))}
	}
}

// aspirated tells whether the viscosity decides on the aspiration hazard, so that a sheet has to give it.
func (b Blend) aspirated() bool {
	return slices.ContainsFunc(b.known(), func(p Part) bool { return hazardsOf(p.Substance, ghs.UNGHS).Has(ghs.AspTox1) })
}

// places are the jurisdictions whose limits a sheet of a rule set prints.
func places(rules ghs.RuleSet, lang ghs.Lang) []substance.Jurisdiction {
	switch {
	case rules == ghs.CAHPR:
		return []substance.Jurisdiction{substance.Ontario}
	case europe(rules) && lang == ghs.German:
		return []substance.Jurisdiction{substance.Germany, substance.EuropeanUnion}
	case europe(rules) && lang == ghs.English:
		return []substance.Jurisdiction{substance.EuropeanUnion, substance.UnitedKingdom}
	case europe(rules):
		return []substance.Jurisdiction{substance.EuropeanUnion}
	}
	return []substance.Jurisdiction{substance.UnitedStates}
}

func (b Blend) limits(s *sheetprint.Spec, rules ghs.RuleSet) {
	for _, p := range b.known() {
		for _, j := range places(rules, s.Lang) {
			for _, l := range p.Substance.LimitsFor(j) {
				mg := l.MgM3
				if l.Computed {
					mg = 0
				}
				s.Limits = append(s.Limits, sheetprint.Limit{Name: nameIn(p.Substance, s.Lang), CAS: p.Substance.CAS, Authority: l.Authority,
					Kind: sheet.LimitKind(l.Kind), PPM: l.PPM, MgM3: mg, Skin: l.Skin})
			}
		}
	}
}

// toxicity prints the acute toxicity estimates that the substance table holds.
func (b Blend) toxicity(s *sheetprint.Spec, rules ghs.RuleSet) {
	for _, p := range b.known() {
		for _, c := range p.Substance.Classifications {
			for _, a := range c.ATE {
				route := map[ghs.Qualifier]string{ghs.Oral: "oral", ghs.Dermal: "dermal", ghs.InhalationVapour: "vapour", ghs.InhalationDust: "dust",
					ghs.InhalationGas: "gas"}[a.Route]
				t := sheetprint.Tox{Name: nameIn(p.Substance, s.Lang), CAS: p.Substance.CAS, Measure: "ATE", Route: route, Value: a.Value, Unit: a.Unit}
				if !slices.Contains(s.Tox, t) {
					s.Tox = append(s.Tox, t)
				}
			}
		}
	}
}

func (b Blend) protection(s *sheetprint.Spec) {
	s.Gloves = sheetprint.Gloves{Material: "nitrile", ThicknessMM: 0.4, MinutesOver: 240, Standard: "ASTM F739"}
	if europe(s.Rules) {
		s.Gloves.Standard = "EN 374"
	}
	if hasCode(*s, "H225", "H314") {
		s.Gloves.Material, s.Gloves.ThicknessMM, s.Gloves.MinutesOver = "butyl", 0.7, 120
	}
	switch {
	case hasCode(*s, "H334"):
		s.Respirator = "supplied"
	case hasCode(*s, "H332", "H331", "H335", "H336", "H225", "H226"):
		s.Respirator = map[bool]string{true: "A2", false: "OV"}[europe(s.Rules)]
		if slices.ContainsFunc(b.known(), lowBoiling) {
			s.Respirator = map[bool]string{true: "AX", false: "supplied"}[europe(s.Rules)]
		}
	}
}

// lowBoiling tells whether a part boils at 65 °C or below, so that a common organic vapour filter does not hold it
// (EN 14387, type AX; from memory).
func lowBoiling(p Part) bool {
	return p.Share >= 1 && p.Substance.BoilingPointC.Known && p.Substance.BoilingPointC.V <= 65
}

func hasCode(s sheetprint.Spec, codes ...ghs.Code) bool {
	for _, k := range s.Classes {
		for _, c := range codes {
			if k.Code == c {
				return true
			}
		}
	}
	return false
}

// transport assigns the entry that follows from flash point, corrosion and the environment.
func (b Blend) transport(s *sheetprint.Spec) {
	t := sheetprint.Transport{Modes: []string{"DOT", "IMDG", "IATA"}}
	switch {
	case europe(s.Rules):
		t.Modes = []string{"ADR", "IMDG", "IATA"}
	case s.Rules == ghs.CAHPR:
		t.Modes = []string{"TDG"}
	}
	switch {
	case b.recipe.peroxide != "":
		t.UN, t.ProperName, t.Class = b.recipe.un, b.recipe.shipping, "5.2"
	case hasCode(*s, "H224", "H225", "H226"):
		t.UN, t.ProperName, t.Class, t.PackingGroup = "1993", "FLAMMABLE LIQUID, N.O.S.", "3", "III"
		if hasCode(*s, "H225") {
			t.PackingGroup = "II"
		}
		if b.recipe.un != "2735" && b.recipe.un != "3082" && b.recipe.un != "" {
			t.UN, t.ProperName = b.recipe.un, b.recipe.shipping
		}
	case hasCode(*s, "H314"):
		t.UN, t.ProperName, t.Class, t.PackingGroup = "1760", "CORROSIVE LIQUID, N.O.S.", "8", "III"
		if b.recipe.un == "2735" || b.recipe.un == "1824" || b.recipe.un == "1805" {
			t.UN, t.ProperName = b.recipe.un, b.recipe.shipping
		}
		for _, k := range s.Classes {
			if k.Name == "Skin Corr. 1B" || k.Name == "Skin Corr. 1A" || k.Name == "Skin Corr. 1" {
				t.PackingGroup = "II"
			}
		}
	case hasCode(*s, "H410", "H411", "H400"):
		t.UN, t.ProperName, t.Class, t.PackingGroup = "3082", "ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S.", "9", "III"
	}
	t.MarinePollutant = hasCode(*s, "H410", "H411", "H400")
	s.Transport = t
}

// ratings follow the flash point and the health classes (NFPA 704 degrees of flammability; health by the habit of the
// trade).
func (b Blend) ratings(s *sheetprint.Spec, rng *rand.Rand) {
	fire := 1
	if v, ok := s.Properties[sheet.FlashPoint]; ok && v.HasLo {
		switch {
		case v.Lo < 37.8:
			fire = 3
		case v.Lo < 93.4:
			fire = 2
		}
	} else {
		fire = 0
	}
	health := 1
	switch {
	case hasCode(*s, "H314", "H330", "H331", "H310", "H311", "H300", "H301"):
		health = 3
	case len(s.Classes) > 0 && hasCode(*s, "H302", "H312", "H332", "H315", "H319", "H317", "H318", "H334", "H335", "H336"):
		health = 2
	}
	instability := 0
	if b.recipe.peroxide != "" {
		instability, fire = 2, max(fire, 2)
	}
	r := sheetprint.Ratings{Health: health, Flammability: fire, Instability: instability}
	switch rng.IntN(4) {
	case 0:
		s.NFPA = &r
	case 1:
		h := r
		h.Chronic, h.PPE = hasCode(*s, "H351", "H350", "H373", "H372", "H361", "H360"), choose(rng, []string{"B", "G", "X"})
		s.HMIS = &h
	case 2:
		h := r
		h.PPE = "X"
		s.NFPA, s.HMIS = &r, &h
	}
}
