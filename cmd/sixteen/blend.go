package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sixteen/blend"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/sheet"
)

// blendCommand works on own blends: drafts from a recipe file, and the blends that are kept on the shelf.
type blendCommand struct {
	Draft  blendDraft  `cmd:"" default:"withargs" help:"Classify a recipe, draft its sheet, say what reaches a target. This is what 'sixteen blend FILE' does."`
	Keep   blendKeep   `cmd:"" help:"Keep a recipe on the shelf; of a blend that is kept already, as its next revision."`
	List   blendList   `cmd:"" help:"List the blends on the shelf, those to be worked out again first."`
	Show   blendShow   `cmd:"" help:"Show a kept blend: classes, the suppliers' sheets in it, its revisions; or its recipe."`
	Redo   blendRedo   `cmd:"" help:"Work a kept blend out again with the sheets in force, and say what changed."`
	Retire blendRetire `cmd:"" help:"Take a blend off the list, with the reason. Its revisions are kept."`
}

type blendDraft struct {
	Recipe  string   `arg:"" optional:"" help:"Recipe of your own product (YAML), or a table of ingredients (.csv, .xlsx, .json). See --example."`
	Kept    string   `help:"In place of a recipe file: a blend that is kept on the shelf, by its name or ID." placeholder:"NAME"`
	Example bool     `help:"Print a commented recipe that names every field and end."`
	Fields  bool     `help:"Print the fields that a sheet must have under the rule sets, each with its clause, and end."`
	Rules   []string `help:"Rule sets, separated by commas: us-hcs-2024, eu-clp, ca-hpr. Without it those of the recipe."`
	Lang    []string `help:"Languages of the drafts, separated by commas: en, fr, de, es. Without it those of the recipe, or English."`
	Out     string   `help:"Write the drafted sheet to this file: .pdf, .docx, .html, .txt. With several rule sets or languages their names are added to the file's." placeholder:"FILE" type:"path"`
	Why     bool     `help:"Print the whole draft with what stands behind every line."`
	Target  []string `help:"Say which change of an ingredient reaches this: \"no H317\", \"no Skin Sens. 1A\", \"below corrosive\", \"signal word Warning at most\", \"no transport class 8\", \"not dangerous goods\". May be repeated." sep:"none" placeholder:"TARGET"`
	Replace string   `help:"With --target: the ingredient of the recipe that takes the place of what goes; without it the others keep their proportions." placeholder:"NAME"`
	JSON    bool     `help:"Print everything as JSON."`
}

// Run drafts the sheets, or answers the targets, or prints the example.
func (c *blendDraft) Run(ctx context.Context, io streams) error {
	if c.Example {
		_, err := fmt.Fprint(io.out, blend.Example)
		return err
	}
	rules, err := c.ruleSets()
	if err != nil {
		return err
	}
	if c.Fields {
		return printFields(io, rules)
	}
	if c.Recipe == "" && c.Kept == "" {
		return errors.New("name a recipe file, or a kept blend with --kept, or use --example to see a recipe")
	}
	if c.Recipe != "" && c.Kept != "" {
		return errors.New("name a recipe file or a kept blend, not both")
	}
	recipe, stock, err := c.read(ctx, io)
	if err != nil {
		return err
	}
	if len(rules) == 0 {
		rules = recipe.RuleSets()
	}
	langs, err := c.languages(recipe)
	if err != nil {
		return err
	}
	if len(c.Target) > 0 {
		return c.targets(io, recipe, stock, rules)
	}
	drafts, mixes, err := draftAll(recipe, stock, rules, langs)
	if err != nil {
		return err
	}
	return c.show(io, drafts, mixes)
}

func (c *blendDraft) ruleSets() ([]ghs.RuleSet, error) {
	var out []ghs.RuleSet
	for _, name := range c.Rules {
		rs, err := parseRules(strings.TrimSpace(name))
		if err != nil {
			return nil, err
		}
		if !slices.Contains(blend.Drafted(), rs) {
			return nil, fmt.Errorf("--rules: no sheet can be drafted for %s yet: use %v", rs, blend.Drafted())
		}
		out = append(out, rs)
	}
	return out, nil
}

func (c *blendDraft) languages(r *blend.Recipe) ([]ghs.Lang, error) {
	var out []ghs.Lang
	for _, name := range c.Lang {
		l := ghs.Lang(strings.ToLower(strings.TrimSpace(name)))
		if !slices.Contains(ghs.Langs(), l) {
			return nil, fmt.Errorf("--lang: no language is called %q: use en, fr, de, es", name)
		}
		out = append(out, l)
	}
	if len(out) == 0 {
		out = r.Languages
	}
	if len(out) == 0 {
		out = []ghs.Lang{ghs.English}
	}
	return out, nil
}

// read reads the recipe and the supplier sheets that it names, which lie beside it.
func (c *blendDraft) read(ctx context.Context, io streams) (*blend.Recipe, blend.Stock, error) {
	var stock blend.Stock
	if c.Kept != "" {
		return readKept(ctx, io, c.Kept)
	}
	data, err := readFile(c.Recipe)
	if err != nil {
		return nil, stock, fmt.Errorf("%s: %w", c.Recipe, err)
	}
	var recipe *blend.Recipe
	if ext := strings.ToLower(filepath.Ext(c.Recipe)); slices.Contains([]string{".csv", ".xlsx", ".json"}, ext) {
		m, err := classify.ReadRecipe(strings.NewReader(string(data)), ext)
		if err != nil {
			return nil, stock, fmt.Errorf("%s: %w", c.Recipe, err)
		}
		m.Name = cmp.Or(m.Name, strings.TrimSuffix(filepath.Base(c.Recipe), filepath.Ext(c.Recipe)))
		recipe = blend.Of(m)
	} else if recipe, err = blend.Read(strings.NewReader(string(data))); err != nil {
		return nil, stock, fmt.Errorf("%s: %w", c.Recipe, err)
	}
	if stock.Table, err = judge.Substances(); err != nil {
		return nil, stock, err
	}
	if len(recipe.Files()) == 0 {
		return recipe, stock, nil
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return nil, stock, err
	}
	defer desk.Close()
	stock.Sheets = map[string]*sheet.Sheet{}
	for _, file := range recipe.Files() {
		path := file
		if !filepath.IsAbs(path) {
			path = filepath.Join(filepath.Dir(c.Recipe), filepath.FromSlash(file))
		}
		raw, err := readFile(path)
		if err != nil {
			if _, gone := os.Stat(path); errors.Is(gone, fs.ErrNotExist) {
				if facts, ok := sheetOnShelf(ctx, io, file); ok {
					stock.Sheets[file] = facts
					continue
				}
			}
			return nil, stock, fmt.Errorf("the sheet %s that the recipe names: %w; no product on the shelf is called so either", path, err)
		}
		if stock.Sheets[file], err = desk.Read(ctx, filepath.Base(path), raw); err != nil {
			return nil, stock, fmt.Errorf("the sheet %s that the recipe names: %w", path, err)
		}
	}
	return recipe, stock, nil
}

func draftAll(r *blend.Recipe, stock blend.Stock, rules []ghs.RuleSet, langs []ghs.Lang) (drafts []*blend.Draft, mixes []*blend.Mix, err error) {
	for _, rs := range rules {
		m, err := blend.Make(r, stock, rs)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", rs.Name(), err)
		}
		mixes = append(mixes, m)
		for _, l := range langs {
			d, err := m.Draft(l, stock)
			if err != nil {
				return nil, nil, err
			}
			drafts = append(drafts, d)
		}
	}
	return drafts, mixes, nil
}

func (c *blendDraft) show(io streams, drafts []*blend.Draft, mixes []*blend.Mix) error {
	if c.Out != "" {
		for _, d := range drafts {
			file := c.fileFor(d, len(drafts) > 1)
			if err := writeDraft(file, d); err != nil {
				return fmt.Errorf("%s: %w", file, err)
			}
			fmt.Fprintf(io.err, "sixteen: draft written to %s; %d open questions\n", file, len(d.Questions))
		}
	}
	switch {
	case c.JSON:
		return printIndented(io.out, drafts)
	case c.Why:
		for _, d := range drafts {
			if err := d.WriteText(io.out, true); err != nil {
				return err
			}
		}
		return nil
	case c.Out != "":
		return nil
	}
	p := &printer{w: io.out}
	for _, m := range mixes {
		printMix(p, m)
	}
	if len(drafts) > 0 {
		p.heading(drafts[0].Asks)
		for i, q := range drafts[0].Questions {
			p.pair(2, 5, fmt.Sprintf("%d.", i+1), q.Text)
		}
		p.printf("\nWrite the draft with --out FILE.pdf, .docx, .html or .txt. A competent person has to review it before it is used.\n")
	}
	return p.err
}

// fileFor is the file of one draft: with the names of rule set and language when there are several.
func (c *blendDraft) fileFor(d *blend.Draft, several bool) string {
	if !several {
		return c.Out
	}
	ext := filepath.Ext(c.Out)
	return fmt.Sprintf("%s-%s-%s%s", strings.TrimSuffix(c.Out, ext), d.RuleSet, d.Lang, ext)
}

func writeDraft(file string, d *blend.Draft) error {
	date, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // the date is an open question; the file's own date stays neutral
	}
	doc := paper.DraftedSheet(d, date)
	switch strings.ToLower(filepath.Ext(file)) {
	case ".pdf":
		return writeWhole(file, doc.WritePDF)
	case ".docx":
		return writeWhole(file, doc.WriteDOCX)
	case ".html", ".htm":
		return writeWhole(file, doc.WriteHTML)
	case ".txt":
		return writeWhole(file, func(w io.Writer) error { return d.WriteText(w, false) })
	}
	return fmt.Errorf("a draft is written as .pdf, .docx, .html or .txt: give the file one of these endings")
}

func printIndented(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// printMix prints what the recipe comes to under one rule set.
func printMix(p *printer, m *blend.Mix) {
	p.heading(m.Recipe.Product + " – " + m.RuleSet.Name())
	for _, a := range judge.ConclusionsOf(m.Envelope, &m.Mixture) {
		p.pair(2, 30, a.Hazard.String(), a.Verdict)
		for _, w := range a.Why {
			p.line(6, 2, judge.ReasonShown(w))
		}
	}
	if m.Declared.Empty() {
		p.line(2, 2, "no class follows from ingredients and test data")
	}
	p.pair(2, 16, "signal word", cmp.Or(m.Label.SignalWord.Value.String(), "none"))
	p.pair(2, 16, "pictograms", cmp.Or(strings.Join(texts(m.Label.PrintedPictograms()), ", "), "none"))
	p.pair(2, 16, "statements", cmp.Or(strings.Join(texts(m.Label.PrintedStatements()), ", "), "none"))
	p.pair(2, 16, "precautions", cmp.Or(strings.Join(texts(m.Label.PrintedPrecautions()), ", "), "none"))
	for _, e := range m.Disclosed(ghs.English) {
		p.pair(2, 16, "listed", fmt.Sprintf("%s (%s) %s %%: %s", e.Name, cmp.Or(e.CAS, "withheld"), e.Percent, e.Why[0]))
	}
}

func texts[T any](all []T) []string {
	var out []string
	for _, v := range all {
		out = append(out, fmt.Sprint(v))
	}
	return out
}

func printFields(io streams, rules []ghs.RuleSet) error {
	if len(rules) == 0 {
		rules = blend.Drafted()
	}
	p := &printer{w: io.out}
	for _, rs := range rules {
		fields, err := blend.Fields(rs)
		if err != nil {
			return err
		}
		p.heading("Fields of a sheet – " + rs.Name())
		for _, f := range fields {
			clause := f.Clause
			if f.Memory {
				clause += " (from memory)"
			}
			p.pair(2, 26, f.Field, f.What+" — "+clause)
		}
	}
	return p.err
}

// answer is what is said of one target under one rule set.
type answer struct {
	Target      string             `json:"target"`
	RuleSet     ghs.RuleSet        `json:"rule_set"`
	Met         bool               `json:"met"`
	Left        []ghs.Hazard       `json:"classes_in_the_way,omitempty"`
	Changes     []blend.Change     `json:"changes,omitempty"`
	Combination *blend.Combination `json:"combination,omitempty"`
	NoWay       string             `json:"no_combination,omitempty"`
	Flash       string             `json:"flash_point,omitempty"`
}

func (c *blendDraft) targets(io streams, r *blend.Recipe, stock blend.Stock, rules []ghs.RuleSet) error {
	var all []answer
	for _, text := range c.Target {
		for _, rs := range rules {
			a, err := c.answer(text, r, stock, rs)
			if err != nil {
				return err
			}
			all = append(all, a)
			if a.RuleSet == ghs.UNGHS {
				break // transport follows the model rules whatever the sheet's law is
			}
		}
	}
	if c.JSON {
		return printIndented(io.out, all)
	}
	p := &printer{w: io.out}
	for _, a := range all {
		printAnswer(p, a)
	}
	return p.err
}

func (c *blendDraft) answer(text string, r *blend.Recipe, stock blend.Stock, rs ghs.RuleSet) (answer, error) {
	t, err := blend.ParseTarget(text, rs)
	if err != nil {
		return answer{}, err
	}
	m, err := blend.Make(r, stock, rs)
	if err == nil {
		m, err = m.Under(t, stock)
	}
	if err != nil {
		return answer{}, err
	}
	a := answer{Target: text, RuleSet: m.RuleSet}
	a.Met, a.Left = m.Met(t)
	a.Flash = m.FlashWords(t)
	if a.Met || len(a.Left) == 0 {
		return a, nil
	}
	if a.Changes, err = m.Reach(t, c.Replace); err != nil {
		return a, err
	}
	var grow []string
	if c.Replace != "" {
		grow = []string{c.Replace}
	}
	if a.Combination, err = m.Combine(t, grow...); err != nil {
		a.NoWay = err.Error()
	}
	return a, nil
}

func printAnswer(p *printer, a answer) {
	p.heading(a.Target + " – " + a.RuleSet.Name())
	if a.Flash != "" {
		p.line(2, 2, a.Flash)
	}
	if a.Met {
		p.line(2, 2, "Reached: no composition of the recipe has a class that stands in the way.")
		return
	}
	if len(a.Left) == 0 {
		p.line(2, 2, "No class that follows from the shares stands in the way; the flash point does, or is not known.")
		return
	}
	if len(a.Left) > 0 {
		p.pair(2, 16, "in the way", strings.Join(texts(a.Left), ", "))
	}
	for _, ch := range a.Changes {
		p.line(2, 4, ch.Words())
		if s := ch.Binding.String(); s != "" {
			p.line(6, 2, "because of "+s)
		}
	}
	if a.Combination != nil {
		p.line(2, 4, fmt.Sprintf("Least change of all together: %.4g %% of the product exchanged: %s", a.Combination.Moved, strings.Join(a.Combination.Words, "; ")))
		if len(a.Combination.Brings) > 0 {
			p.line(6, 2, "It brings classes that the recipe has not: "+strings.Join(texts(a.Combination.Brings), ", ")+". Look for another ingredient to take the place, with --replace.")
		}
		if len(a.Combination.Takes) > 0 {
			p.line(6, 2, "It takes away: "+strings.Join(texts(a.Combination.Takes), ", ")+".")
		}
	}
	if a.NoWay != "" {
		p.line(2, 4, a.NoWay)
	}
}
