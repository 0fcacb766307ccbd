package web

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"sixteen/blend"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/sheet"
	"sixteen/shelf"
)

// blendView is the recipe of an own product, and what it comes to.
type blendView struct {
	Recipe, Rules, Lang, Target string
	RuleSets, Langs             []optionView
	Example                     bool
	Result                      blendResult
}

type blendResult struct {
	Asked     bool
	Wrong     []string
	Product   string
	Law       string
	Classes   []classView
	Signal    string
	Symbols   []symbolView
	Says      []string // hazard statements of the label
	Care      []string // precautionary statements of the label
	Listed    []pair
	Questions []pair
	Target    []string
}

func showBlend(a *App, v *visit) error {
	recipe := ""
	if v.r.URL.Query().Get("example") != "" {
		recipe = blend.Example
	}
	return a.showBlendWith(v, http.StatusOK, recipe, "", "", "", blendResult{})
}

func (a *App) showBlendWith(v *visit, status int, recipe, rules, lang, target string, result blendResult) error {
	view := blendView{Recipe: recipe, Rules: rules, Lang: lang, Target: target, Langs: languages(), Result: result}
	for _, rs := range blend.Drafted() {
		view.RuleSets = append(view.RuleSets, optionView{string(rs), rs.Name()})
	}
	return a.show(v, status, screen{title: "Own blends", here: "blends", name: "blend", value: view})
}

// mixed is a recipe worked out under one law.
func (a *App) mixed(ctx context.Context, text string, rs ghs.RuleSet) (*blend.Mix, blend.Stock, error) {
	stock := blend.Stock{Table: a.desk.Substances(), Sheets: map[string]*sheet.Sheet{}}
	r, err := blend.Read(strings.NewReader(text))
	if err != nil {
		return nil, stock, refused(sentence(err.Error()))
	}
	for _, file := range r.Files() {
		facts, err := a.sheetNamed(ctx, file)
		if err != nil {
			return nil, stock, err
		}
		stock.Sheets[file] = facts
	}
	m, err := blend.Make(r, stock, rs)
	if err != nil {
		return nil, stock, refused(sentence(err.Error()))
	}
	return m, stock, nil
}

// sheetNamed is the sheet that a recipe names: by the name of a product on the shelf, or of its file.
func (a *App) sheetNamed(ctx context.Context, name string) (*sheet.Sheet, error) {
	base := name[strings.LastIndexByte(name, '/')+1:]
	page, err := a.shelf.Products(ctx, shelf.ProductFilter{Text: strings.TrimSuffix(base, ".pdf"), Paging: shelf.Paging{Limit: 50}})
	if err != nil {
		return nil, err
	}
	for _, p := range page.Items {
		if p.Sheet == "" {
			continue
		}
		s, err := a.shelf.Sheet(ctx, p.Sheet)
		if err != nil {
			return nil, err
		}
		if strings.EqualFold(p.Name, name) || strings.EqualFold(s.FileName, base) {
			return a.shelf.Facts(ctx, s.Document)
		}
	}
	return nil, refused(fmt.Sprintf("The recipe names the sheet “%s”, and no product or sheet on the shelf is called so. Put the supplier's sheet on the shelf, and write the product's name in the recipe.", name))
}

// workOutBlend classifies a recipe and lists what the draft still asks.
func workOutBlend(a *App, v *visit) error {
	if err := v.parseForm(); err != nil {
		return err
	}
	recipe, target := v.r.FormValue("recipe"), v.form("target")
	rs, lang := ghs.RuleSet(v.form("rules")), blendLang(v.form("lang"))
	result := blendResult{Asked: true}
	m, stock, err := a.mixed(v.ctx(), recipe, rs)
	if err == nil {
		result, err = blendOf(m, stock, lang, target)
	}
	status := http.StatusOK
	if err != nil {
		words := ""
		if status, words = statusOf(err); status >= 500 {
			return err
		}
		result.Wrong = linesOf(words)
	}
	return a.showBlendWith(v, status, recipe, string(rs), string(lang), target, result)
}

func blendLang(name string) ghs.Lang {
	for _, l := range ghs.Langs() {
		if string(l) == name {
			return l
		}
	}
	return ghs.English
}

func blendOf(m *blend.Mix, stock blend.Stock, lang ghs.Lang, target string) (blendResult, error) {
	v := blendResult{Asked: true, Product: m.Recipe.Product, Law: m.RuleSet.Name(), Classes: classesOf(judge.ConclusionsOf(m.Envelope, &m.Mixture)), Signal: m.Label.SignalWord.Value.In(lang)}
	for _, p := range m.Label.PrintedPictograms() {
		v.Symbols = append(v.Symbols, symbolOf(p))
	}
	say := func(codes []ghs.Code) []string {
		var out []string
		for _, c := range codes {
			text, ok := m.RuleSet.Phrase(c, lang, ghs.Blanks{})
			if !ok {
				text = string(c)
			}
			out = append(out, c.Printed()+" "+text)
		}
		return out
	}
	v.Says, v.Care = say(m.Label.PrintedStatements()), say(m.Label.PrintedPrecautions())
	for _, e := range m.Disclosed(lang) {
		v.Listed = append(v.Listed, pair{e.Name, fmt.Sprintf("%s %%. %s", e.Percent, e.Why[0])})
	}
	d, err := m.Draft(lang, stock)
	if err != nil {
		return v, refused(sentence(err.Error()))
	}
	for _, q := range d.Questions {
		v.Questions = append(v.Questions, pair{fmt.Sprintf("Section %d", q.Section), q.Text})
	}
	if target != "" {
		v.Target, err = targetWords(m, stock, target)
	}
	return v, err
}

// targetWords says which change of an ingredient reaches a target.
func targetWords(m *blend.Mix, stock blend.Stock, words string) ([]string, error) {
	t, err := blend.ParseTarget(words, m.RuleSet)
	if err != nil {
		return nil, refused(sentence(err.Error()))
	}
	under, err := m.Under(t, stock)
	if err != nil {
		return nil, refused(sentence(err.Error()))
	}
	if met, _ := under.Met(t); met {
		return []string{"The recipe meets this already."}, nil
	}
	changes, err := under.Reach(t, "")
	if err != nil {
		return nil, refused(sentence(err.Error()))
	}
	var out []string
	for _, c := range changes {
		out = append(out, c.Words())
	}
	if flash := under.FlashWords(t); flash != "" {
		out = append(out, flash)
	}
	return out, nil
}

// draftBlend sends the drafted sheet of a recipe as a file.
func draftBlend(a *App, v *visit) error {
	if err := v.parseForm(); err != nil {
		return err
	}
	recipe, rs, lang := v.r.FormValue("recipe"), ghs.RuleSet(v.form("rules")), blendLang(v.form("lang"))
	m, stock, err := a.mixed(v.ctx(), recipe, rs)
	if err != nil {
		status, words := statusOf(err)
		if status >= 500 {
			return err
		}
		return a.showBlendWith(v, status, recipe, string(rs), string(lang), v.form("target"), blendResult{Asked: true, Wrong: linesOf(words)})
	}
	d, err := m.Draft(lang, stock)
	if err != nil {
		return refused(sentence(err.Error()))
	}
	date, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		date = a.now() // the date of the sheet is an open question
	}
	return sendDocument(v, paper.DraftedSheet(d, date), "Draft "+m.Recipe.Product, v.r.PathValue("kind"))
}
