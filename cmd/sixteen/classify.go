package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"sixteen/audit"
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
	RuleSet   ghs.RuleSet            `json:"rule_set"`
	Choices   []audit.Choice         `json:"choices"`
	Answers   []judge.Conclusion     `json:"classes"`
	Results   []classify.ClassResult `json:"results,omitempty"` // one composition only
	Distances []string               `json:"what_would_change_it,omitempty"`

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
	var all []underRules
	for _, name := range c.Rules {
		rs, err := parseRules(strings.TrimSpace(name))
		if err != nil {
			return err
		}
		u, err := c.under(recipe, rs)
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

func (c *classifyCommand) under(recipe classify.Mixture, rs ghs.RuleSet) (underRules, error) {
	u := underRules{RuleSet: rs}
	m := recipe
	if !c.Bare {
		m, u.Choices = judge.FillRecipe(recipe, substance.Embedded(), rs)
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
		for _, d := range p.Distances(x) {
			u.Distances = append(u.Distances, distanceText(d, m.Ingredients))
		}
	}
	return u, nil
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
		for i, in := range u.ingredients {
			classes, from := judge.ChoicesShown(u.Choices, i)
			if len(u.Choices) == 0 {
				classes, from = hazardNames(in.Hazards), "the recipe"
			}
			p.pair(0, 32, shorten(in.Name, 30), fmt.Sprintf("%s %%: %s (%s)", judge.IntervalShown(in.Percent), classes, strings.ReplaceAll(from, "the sheet", "the recipe")))
		}
		p.printf("\n")
		for _, k := range u.Answers {
			p.line(0, 2, k.Hazard.String()+": "+k.Verdict)
			for _, r := range k.Why {
				p.line(4, 2, judge.ReasonShown(r))
			}
		}
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
