package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"

	"sixteen/compare"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/paper"
	"sixteen/plan"
	"sixteen/shelf"
)

// compareView is products beside each other, axis by axis.
type compareView struct {
	Pick     []choiceView
	Products []optionView
	Jobs     []optionView
	Job      string
	Wrong    []string
	Names    []compareName
	Rows     []axisRow
	Says     []string
	Pairs    []pair
	Notes    []string
	Leading  string
	Law      string
	Files    []linkView
	Partial  bool
}

type compareName struct{ Name, Href string }

type axisRow struct {
	Axis  string
	Cells []axisCell
}

// axisCell is where a product stands on an axis. Sure and Maybe are the lengths of its bar in percent.
type axisCell struct {
	Range, Words, Mark string
	Unknown            bool
	Sure, Maybe        int
	Why                []string
}

// mostCompared is how many products stand beside each other.
const mostCompared = 8

// compareFile is the comparison that the query names, as a file.
func compareFile(a *App, v *visit) error {
	q := v.r.URL.Query()
	ids := slices.DeleteFunc(q["id"], func(id string) bool { return id == "" })
	c, wrong, err := a.Compare(v.ctx(), ids[:min(len(ids), mostCompared)], q.Get("job"))
	if err != nil {
		return err
	}
	if c == nil {
		return refused("Choose two products or more that have a sheet. " + join(wrong))
	}
	return sendDocument(v, paper.Comparison(c, paper.PaperOptions{Date: a.now(), Page: paper.A4}), "Comparison", v.r.PathValue("kind"))
}

func showCompare(a *App, v *visit) error {
	q := v.r.URL.Query()
	var ids []string
	for _, id := range q["id"] {
		if id != "" && !slices.Contains(ids, id) && len(ids) < mostCompared {
			ids = append(ids, id)
		}
	}
	view := compareView{Job: q.Get("job"), Jobs: []optionView{{"", "no job: what the papers say"}}}
	var err error
	if view.Products, err = a.comparable(v.ctx(), ids, q.Get("find")); err != nil {
		return err
	}
	for i := range max(3, len(ids)+1) {
		c := choiceView{Label: fmt.Sprintf("Product %d", i+1)}
		if i < len(ids) {
			c.Value = ids[i]
		}
		view.Pick = append(view.Pick, c)
	}
	jobs, err := a.shelf.Jobs(v.ctx(), "")
	if err != nil {
		return err
	}
	for _, j := range jobs[:min(len(jobs), 50)] {
		view.Jobs = append(view.Jobs, optionView{j.ID, j.Name})
	}
	switch {
	case len(ids) == 1:
		view.Wrong = append(view.Wrong, "One product alone cannot be compared. Choose another that would do the same job.")
	case len(ids) > 1:
		c, names, wrong, err := a.compared(v.ctx(), ids, view.Job)
		if err != nil {
			return err
		}
		view.Names, view.Wrong = names, append(view.Wrong, wrong...)
		if c != nil {
			view.take(c)
			view.Files = []linkView{{"Comparison as PDF", "/compare/pdf?" + v.r.URL.RawQuery}, {"Comparison to edit", "/compare/docx?" + v.r.URL.RawQuery}}
		}
	}
	return a.show(v, http.StatusOK, screen{title: "Compare", here: "compare", name: "compare", value: view})
}

// comparable are the products to choose from, kits among them.
func (a *App) comparable(ctx context.Context, ids []string, words string) ([]optionView, error) {
	out, err := a.productOptions(ctx, ids, words)
	if err != nil {
		return nil, err
	}
	kits, err := a.shelf.ProductNames(ctx, shelf.ProductFilter{Kits: true, Order: shelf.ByName, Paging: shelf.Paging{Limit: few}})
	if err != nil {
		return nil, err
	}
	for _, k := range kits.Items {
		if !slices.ContainsFunc(out, func(o optionView) bool { return o.Value == k.ID }) {
			out = append(out, optionView{k.ID, k.Name + " (kit)"})
		}
	}
	return out, nil
}

// Compare compares products of the shelf, for a job of the shelf or by what their papers say when job is "". wrong says
// what could not be compared, and what to do; then the comparison may be nil.
func (a *App) Compare(ctx context.Context, ids []string, job string) (c *compare.Comparison, wrong []string, err error) {
	c, _, wrong, err = a.compared(ctx, ids, job)
	return c, wrong, err
}

func (a *App) compared(ctx context.Context, ids []string, job string) (c *compare.Comparison, names []compareName, wrong []string, err error) {
	req := compare.Request{Options: plan.Options{Source: shelfSource{a}}}
	settings, err := a.shelf.Settings(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	req.Rules = settings.RuleSet
	for _, id := range ids {
		p, err := a.shelf.Product(ctx, id)
		if err != nil {
			return nil, nil, nil, onShelf(err, "One of the products is not on the shelf any more.")
		}
		if p.Sheet == "" && len(p.Parts) == 0 {
			wrong = append(wrong, p.Name+" has no sheet that was read, so nothing can be said of it.")
			continue
		}
		if req.Rules == "" {
			if req.Rules, err = a.lawOf(ctx, p); err != nil {
				return nil, nil, nil, err
			}
		}
		req.Products = append(req.Products, productFile(p))
		names = append(names, compareName{p.Name, "/products/" + p.ID})
	}
	if job != "" {
		j, err := a.shelf.Job(ctx, job)
		if err != nil {
			return nil, nil, nil, onShelf(err, "There is no such job on this shelf.")
		}
		if req.Job, err = exposure.ParseJob([]byte(j.Description)); err != nil {
			return nil, nil, nil, err
		}
		req.Job, req.Role = oneProductJob(req.Job)
		req.Rules = "" // that of the job
	}
	if len(req.Products) < 2 {
		return nil, names, wrong, nil
	}
	c, err = compare.Make(ctx, req, a.desk.Substances())
	if err != nil {
		return nil, names, append(wrong, questionsOf(err)...), ctx.Err()
	}
	return c, names, wrong, nil
}

// lawOf is the law that a product is judged under: its own, or that of its sheet, or of its first part.
func (a *App) lawOf(ctx context.Context, p shelf.Product) (ghs.RuleSet, error) {
	if p.RuleSet != "" {
		return p.RuleSet, nil
	}
	if len(p.Parts) > 0 {
		part, err := a.shelf.Product(ctx, p.Parts[0].Product)
		if err != nil {
			return "", err
		}
		return a.lawOf(ctx, part)
	}
	if p.Sheet == "" {
		return "", nil
	}
	s, err := a.shelf.Sheet(ctx, p.Sheet)
	return s.RuleSet, err
}

// oneProductJob is a job with the product of its first step as the one that others stand in for.
func oneProductJob(j *exposure.Job) (*exposure.Job, string) {
	for _, t := range j.Tasks {
		if t.Product != "" {
			return j, t.Product
		}
	}
	return j, ""
}

// take takes over a comparison that was made.
func (view *compareView) take(c *compare.Comparison) {
	view.Law, view.Says, view.Notes, view.Partial = c.RuleSet.Name(), c.Headline, c.Notes, c.Partial
	view.Leading = join(c.Leading)
	view.Names = view.Names[:min(len(view.Names), len(c.Products))]
	for i, axis := range compare.Axes() {
		row, top := axisRow{Axis: axis.Title()}, 1.0
		for _, p := range c.Products {
			top = max(top, p.Scores[i].Hi, p.Scores[i].Lo)
		}
		for k, p := range c.Products {
			s := p.Scores[i]
			cell := axisCell{Range: s.Range(), Words: s.Words, Why: s.Why, Unknown: s.Open, Sure: int(100 * s.Lo / top)}
			cell.Maybe = int(100*s.Hi/top) - cell.Sure
			if s.Open {
				cell.Maybe = 100 - cell.Sure
			}
			cell.Mark = markOf(c.Products, k, i)
			row.Cells = append(row.Cells, cell)
		}
		view.Rows = append(view.Rows, row)
	}
	for _, p := range c.Pairs {
		words := p.TradeOff
		if p.Dominates != "" {
			words = p.Dominates + " is nowhere worse and somewhere better. " + words
		}
		view.Pairs = append(view.Pairs, pair{p.First + " and " + p.Second, words})
	}
}

// markOf says whether product k is better, or worse, than every other on an axis.
func markOf(products []compare.Product, k, axis int) string {
	best, worst := true, true
	for i, other := range products {
		if i == k {
			continue
		}
		switch compare.Weigh(products[k].Scores[axis], other.Scores[axis]) {
		case compare.Better:
			worst = false
		case compare.Worse:
			best = false
		default:
			best, worst = false, false
		}
	}
	switch {
	case best:
		return "least here"
	case worst:
		return "most here"
	}
	return ""
}
