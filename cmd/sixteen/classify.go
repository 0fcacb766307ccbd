package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/substance"
)

type classifyCommand struct {
	Recipe string   `arg:"" help:"Recipe as .json, .csv or .xlsx; docs/rules.md lists the columns."`
	Rules  []string `help:"Rule sets to classify under, separated by commas." default:"us-hcs-2024,eu-clp"`
	Bare   bool     `help:"Use only what the recipe states, nothing from the substance table."`
	JSON   bool     `help:"Print everything as JSON."`
}

// underRules is the outcome of one recipe under one rule set.
type underRules struct {
	RuleSet   ghs.RuleSet             `json:"rule_set"`
	Filled    []string                `json:"filled_in"` // what the substance table added, in words
	Answers   []judge.Conclusion      `json:"classes"`
	Results   []classify.ClassResult  `json:"results,omitempty"` // one composition only
	Label     *classify.LabelElements `json:"label,omitempty"`   // one composition only
	Distances []string                `json:"what_would_change_it,omitempty"`

	ingredients []classify.Ingredient
}

// Run classifies the recipe under every rule set named.
func (c *classifyCommand) Run(io streams) error {
	f, err := os.Open(c.Recipe)
	if err != nil {
		return fmt.Errorf("the recipe cannot be opened: %w", err)
	}
	defer f.Close()
	recipe, err := classify.ReadRecipe(f, filepath.Ext(c.Recipe))
	if err != nil {
		return fmt.Errorf("%s: %w", c.Recipe, err)
	}
	table, err := judge.Substances()
	if err != nil {
		return err
	}
	var all []underRules
	for _, name := range c.Rules {
		rs, err := parseRules(strings.TrimSpace(name))
		if err != nil {
			return err
		}
		u, err := c.under(recipe, table, rs)
		if err != nil {
			return fmt.Errorf("%s under %s: %w", c.Recipe, rs.Name(), err)
		}
		all = append(all, u)
	}
	if c.JSON {
		enc := json.NewEncoder(io.out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(all)
	}
	p := &printer{w: io.out}
	printRecipe(p, recipe, all)
	return p.err
}

func (c *classifyCommand) under(recipe classify.Mixture, table *substance.Table, rs ghs.RuleSet) (underRules, error) {
	u := underRules{RuleSet: rs}
	m := recipe
	if !c.Bare {
		var filled []classify.Filled
		m, filled = recipe.Fill(table, rs)
		u.Filled = filledText(m, filled)
	}
	u.ingredients = m.Ingredients
	p, err := classify.Compile(m, rs)
	if err != nil {
		return u, err
	}
	e, err := p.Envelope()
	if err != nil {
		return u, err
	}
	u.Answers = judge.ConclusionsOf(e, &m)
	if x, ok := p.Point(); ok {
		at := p.At(x)
		u.Results = at.Results()
		label := at.Label(classify.LabelOptions{ForPublic: m.ForPublic})
		u.Label = &label
		for _, d := range p.Distances(x) {
			u.Distances = append(u.Distances, distanceText(d, m.Ingredients))
		}
	}
	return u, nil
}

// filledText tells what the table added, hazards of one ingredient with one source together.
func filledText(m classify.Mixture, filled []classify.Filled) []string {
	type origin struct {
		ingredient int
		authority  substance.Authority
		source     substance.Source
	}
	var order []origin
	hazards := map[origin][]string{}
	for _, f := range filled {
		o := origin{f.Ingredient, f.Authority, f.Source}
		if hazards[o] == nil {
			order = append(order, o)
		}
		hazards[o] = append(hazards[o], f.Hazard.String())
	}
	var out []string
	for _, o := range order {
		source := o.source.Text
		if o.source.Memory {
			source = "recalled, check before use: " + source
		}
		out = append(out, fmt.Sprintf("%s: %s (%s; %s)", m.Ingredients[o.ingredient].Name, strings.Join(hazards[o], ", "), o.authority, source))
	}
	return out
}

func distanceText(d classify.Distance, ingredients []classify.Ingredient) string {
	category := func(h ghs.Hazard) string {
		if h == ghs.NoHazard {
			return "no category of " + d.Class.String()
		}
		return h.String()
	}
	verb := "beyond"
	if d.AtOnce {
		verb = "at"
	}
	return fmt.Sprintf("%s becomes %s %s %.4g %% of %s (%+.4g)", category(d.From), category(d.To), verb, d.Percent, ingredients[d.Ingredient].Name, d.Change)
}

func printRecipe(p *printer, recipe classify.Mixture, all []underRules) {
	name := recipe.Name
	if name == "" {
		name = "Recipe"
	}
	p.heading(name)
	printSideBySide(p, all)
	for _, u := range all {
		p.heading(u.RuleSet.Name())
		for _, in := range u.ingredients {
			p.pair(0, 32, shorten(in.Name, 30), judge.IntervalShown(in.Percent)+" %: "+hazardNames(in.Hazards))
		}
		if len(u.Filled) > 0 {
			p.printf("\n")
			p.line(0, 0, "Filled in from the substance table:")
			for _, f := range u.Filled {
				p.line(2, 2, f)
			}
		}
		p.printf("\n")
		for _, k := range u.Answers {
			p.line(0, 2, k.Hazard.String()+": "+k.Verdict)
			for _, r := range k.Why {
				p.line(4, 2, judge.ReasonShown(r))
			}
		}
		printLabel(p, u.Label)
		if len(u.Distances) > 0 {
			p.printf("\n")
			p.line(0, 0, "What would change it, one ingredient at a time, the undisclosed or inert rest giving way:")
			for _, d := range u.Distances {
				p.line(2, 2, d)
			}
		}
	}
	p.printf("\n")
	p.line(0, 0, "Worked out from what the recipe and the substance table state. A competent person must review a classification before it is used on a label or a sheet; bridging from tested mixtures is not attempted.")
}

// printLabel writes the label elements with what is left off and why.
func printLabel(p *printer, l *classify.LabelElements) {
	if l == nil {
		return
	}
	p.printf("\n")
	p.line(0, 0, "Label:")
	p.pair(2, 18, "signal word", l.SignalWord.Value.String())
	for _, e := range l.Pictograms {
		p.pair(2, 18, e.Value.String(), elementText(e.Value.Name(ghs.English), e.Need, e.Why, e.Clause))
	}
	for _, e := range l.Hazard {
		phrase, _ := ghs.Phrase(e.Value, ghs.English)
		p.pair(2, 18, string(e.Value), elementText(phrase, e.Need, e.Why, e.Clause))
	}
	precautions, note := l.PrintedPrecautions(), ""
	if l.ShortClause != "" && len(l.Short) < len(precautions) {
		note = fmt.Sprintf("(%d precautionary statements apply; the short set for a label is shown, %s; --json lists all)", len(precautions), l.ShortClause)
		precautions = l.Short
	}
	for _, c := range precautions {
		phrase, _ := ghs.Phrase(c, ghs.English)
		p.pair(2, 18, string(c), phrase)
	}
	if note != "" {
		p.line(2, 2, note)
	}
	for _, r := range l.Remarks {
		p.line(2, 2, r)
	}
}

func elementText(name string, need classify.Need, why, clause string) string {
	if need == classify.Required {
		return name
	}
	return fmt.Sprintf("%s – %s: %s [%s]", name, need, why, clause)
}

func hazardNames(s ghs.HazardSet) string {
	var names []string
	for _, h := range s.All() {
		names = append(names, h.String())
	}
	if len(names) == 0 {
		return "no class stated"
	}
	return strings.Join(names, ", ")
}

// printSideBySide writes one row a hazard, one column a rule set.
func printSideBySide(p *printer, all []underRules) {
	var order []ghs.Hazard
	verdicts := map[ghs.Hazard][]string{}
	for i, u := range all {
		for _, k := range u.Answers {
			if verdicts[k.Hazard] == nil {
				order = append(order, k.Hazard)
				verdicts[k.Hazard] = make([]string, len(all))
			}
			verdicts[k.Hazard][i] = k.Verdict
		}
	}
	p.printf("%-34s", "class")
	for _, u := range all {
		p.printf("%-16s", u.RuleSet)
	}
	p.printf("\n")
	for _, h := range order {
		p.printf("%-34s", h)
		for i, v := range verdicts[h] {
			if v == "" {
				v = "–"
				if !all[i].RuleSet.Exists(h) {
					v = "no such class"
				}
			}
			p.printf("%-16s", v)
		}
		p.printf("\n")
	}
	if len(order) == 0 {
		p.printf("no class is given by any of these rule sets\n")
	}
}
