package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

type kitCommand struct {
	Parts      []string  `arg:"" name:"part" help:"The parts in the order of the ratio: sheets (PDF, text) or recipes (.json, .csv, .xlsx)."`
	Ratio      string    `required:"" help:"Mixing ratio: \"100:32\" by mass, \"2:1 by volume\", \"1:1 by equivalents\"."`
	Rules      string    `help:"Rule set: ${rulesets}. Without it that of the first sheet."`
	Density    []float64 `help:"Densities of the parts in g/ml, for a ratio by volume, where the sheets do not state them."`
	Equivalent []float64 `help:"Equivalent weights of the parts in g/eq (EEW of a resin, AHEW of a hardener), for a ratio by equivalents."`
	Inert      bool      `help:"The parts do not react with each other (paint and thinner)."`
	JSON       bool      `help:"Print everything as JSON."`
}

// Run classifies the parts and the fresh mix and says what to act on until it has cured.
func (c *kitCommand) Run(ctx context.Context, io streams) error {
	amounts, basis, err := classify.ParseRatio(c.Ratio)
	if err != nil {
		return err
	}
	if len(amounts) != len(c.Parts) {
		return fmt.Errorf("the ratio %q has %d parts, %d files are named: give one file for each", c.Ratio, len(amounts), len(c.Parts))
	}
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	kit := classify.Kit{Name: "kit", Basis: basis, Inert: c.Inert}
	for i, file := range c.Parts {
		part, found, err := c.part(ctx, desk, file, rules)
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		if rules == "" {
			rules = found
		}
		part.Amount = amounts[i]
		if i < len(c.Density) {
			part.DensityGML = sheet.Exactly(c.Density[i])
		}
		if i < len(c.Equivalent) {
			part.EquivalentGEq = sheet.Exactly(c.Equivalent[i])
		}
		kit.Parts = append(kit.Parts, part)
	}
	result, err := kit.Classify(rules)
	if err != nil {
		return err
	}
	if c.JSON {
		return printKitJSON(io, rules, result)
	}
	p := &printer{w: io.out}
	printKit(p, rules, result)
	return p.err
}

// part reads one part of the kit: a recipe, or a sheet whose ingredients are completed from the substance table.
func (c *kitCommand) part(ctx context.Context, desk *judge.Desk, file string, rules ghs.RuleSet) (classify.Part, ghs.RuleSet, error) {
	if ext := strings.ToLower(filepath.Ext(file)); slices.Contains([]string{".json", ".csv", ".xlsx"}, ext) {
		if rules == "" {
			return classify.Part{}, "", fmt.Errorf("a recipe does not say which law it is for: name the rule set with --rules")
		}
		f, err := os.Open(file)
		if err != nil {
			return classify.Part{}, "", err
		}
		defer f.Close()
		m, err := classify.ReadRecipe(f, ext)
		if err != nil {
			return classify.Part{}, "", err
		}
		m, _ = m.Fill(desk.Substances(), rules)
		if m.Name == "" {
			m.Name = filepath.Base(file)
		}
		return classify.Part{Name: m.Name, Mixture: m}, rules, nil
	}
	data, err := readFile(file)
	if err != nil {
		return classify.Part{}, "", err
	}
	s, err := desk.Read(ctx, filepath.Base(file), data)
	if err != nil {
		return classify.Part{}, "", err
	}
	rs, _ := judge.RuleSetFor(s, rules)
	m, _ := audit.BuildMixture(s, desk.Substances(), rs)
	part := classify.Part{Name: judge.Name(s), Mixture: m}
	if d := s.Physical.Quantities[sheet.Density]; len(d) > 0 && d[0].Known() && d[0].Value.HasLo && d[0].Value.HasHi {
		v := d[0].Value.Interval
		v.Lo, v.Hi = v.Lo/1000, v.Hi/1000
		part.DensityGML = v
	}
	return part, rs, nil
}

type kitJSON struct {
	RuleSet ghs.RuleSet        `json:"rule_set"`
	Parts   []kitPartJSON      `json:"parts"`
	Mix     []judge.Conclusion `json:"mix"`
	Notes   []string           `json:"notes"`
	Reacts  bool               `json:"reacts"`
	Rule    string             `json:"rule"`
	ActOn   []ghs.Hazard       `json:"act_on"`
	Perhaps []ghs.Hazard       `json:"act_on_if_possible"`
}

type kitPartJSON struct {
	Name    string             `json:"name"`
	Share   sheet.Interval     `json:"share_percent"`
	Classes []judge.Conclusion `json:"classes"`
}

func printKitJSON(io streams, rules ghs.RuleSet, r *classify.KitClassification) error {
	out := kitJSON{RuleSet: rules, Notes: r.Notes, Reacts: r.Rule.Reacts, Rule: r.Rule.Text,
		Mix: judge.ConclusionsOf(r.Mix, &r.Program.Mixture), ActOn: r.Rule.Certain.All(), Perhaps: r.Rule.Possible.Minus(r.Rule.Certain).All()}
	for i, p := range r.Kit.Parts {
		out.Parts = append(out.Parts, kitPartJSON{p.Name, r.Fractions[i], judge.ConclusionsOf(r.Parts[i], &p.Mixture)})
	}
	enc := json.NewEncoder(io.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

func printKit(p *printer, rules ghs.RuleSet, r *classify.KitClassification) {
	p.heading(fmt.Sprintf("Kit of %d parts, %s", len(r.Kit.Parts), rules.Name()))
	verdicts := func(e *classify.Envelope, m *classify.Mixture) string {
		var out []string
		for _, k := range judge.ConclusionsOf(e, m) {
			out = append(out, k.Hazard.String()+" ("+k.Verdict+")")
		}
		if len(out) == 0 {
			return "no class from what is disclosed"
		}
		return strings.Join(out, ", ")
	}
	for i, part := range r.Kit.Parts {
		p.pair(0, 30, shorten(part.Name, 28), judge.IntervalShown(rounded(r.Fractions[i]))+" % of the mix by mass: "+verdicts(r.Parts[i], &part.Mixture))
	}
	p.pair(0, 30, "freshly mixed", verdicts(r.Mix, &r.Program.Mixture))
	for _, n := range r.Notes {
		p.line(0, 2, n)
	}
	p.printf("\n")
	p.line(0, 0, r.Rule.Text)
	if r.Rule.Reacts {
		p.pair(0, 30, "act on, until cured", hazardNames(r.Rule.Certain))
		if perhaps := r.Rule.Possible.Minus(r.Rule.Certain); !perhaps.Empty() {
			p.pair(0, 30, "possible besides", hazardNames(perhaps))
		}
	}
}

// rounded keeps four digits of a computed share, outwards, so that the shown range never is narrower than the true one.
func rounded(v sheet.Interval) sheet.Interval {
	lo, hi := v.Lo, v.Hi
	if lo == hi {
		return sheet.Exactly(float64(int(lo*100+0.5)) / 100)
	}
	v.Lo, v.Hi = float64(int(lo*100))/100, float64(int(hi*100+0.999999))/100
	return v
}
