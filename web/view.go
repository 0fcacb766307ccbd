package web

import (
	"fmt"
	"html/template"
	"math"
	"slices"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// judgementPage is one judgement as the template shows it.
type judgementPage struct {
	Product       string
	Head          []pair
	Problems      []problemView
	Pages         []pageView
	PageCount     int
	Symbols       []symbolView
	Signal        string
	Statements    []lineView
	NoStatements  string
	Traps         []string
	Tally         []tallyView
	Findings      []findingView
	Unchecked     []string
	EnvelopeIntro []string
	Classes       []classView
	Ingredients   []ingredientView
	Sections      []sectionView
}

type pair struct{ Name, Value string }

type problemView struct{ What, Do string }

// pageView is one page of the document: its picture, and the marks that lie over it in points of the page.
type pageView struct {
	Number                  int
	Width, Height           float64
	Image                   template.URL
	PixelWidth, PixelHeight int
	Marks                   []markView
	Why                     string // why there is no picture
}

// markView is the evidence of one thing on one page.
type markView struct {
	ID, For string
	Boxes   []boxView
}

type boxView struct{ X, Y, W, H float64 }

// whereView points to a mark.
type whereView struct {
	ID   string
	Page int
}

type symbolView struct {
	Drawing template.HTML
	Name    string
}

type lineView struct {
	Text  string
	Where []whereView
}

type tallyView struct {
	Kind, Words string
	Count       int
}

type findingView struct {
	ID, Kind, Harm, Title string
	Says, Follows         []sideView
	Could, Do, Clause     string
}

type sideView struct {
	Text   string
	Where  []whereView
	Trace  []string
	Source string
}

type classView struct {
	Name, Verdict, Declared string
	Why                     []string
}

type ingredientView struct {
	Name, Share, Classes, From string
	Where                      []whereView
}

type sectionView struct {
	Title string
	Found bool
	Open  bool
	Facts []factView
}

type factView struct {
	Label, Value string
	Where        []whereView
}

// marks collects the evidence of everything on a page and gives each piece a place to point to.
type marks struct {
	byPage map[int][]markView
	n      int
}

// add marks the evidence of the thing named key and returns one pointer for each page it lies on.
func (m *marks) add(key string, evidence []sheet.Evidence) []whereView {
	var out []whereView
	for _, e := range evidence {
		if e.Page < 1 || e.Box == (sheet.Rect{}) {
			continue
		}
		box := boxView{round(e.Box.X0 - 1), round(e.Box.Y0 - 1), round(e.Box.X1 - e.Box.X0 + 2), round(e.Box.Y1 - e.Box.Y0 + 2)}
		if i := slices.IndexFunc(out, func(w whereView) bool { return w.Page == e.Page }); i >= 0 {
			page := m.byPage[e.Page]
			for k := range page {
				if page[k].ID == out[i].ID {
					page[k].Boxes = append(page[k].Boxes, box)
				}
			}
			continue
		}
		m.n++
		id := fmt.Sprintf("m%d", m.n)
		m.byPage[e.Page] = append(m.byPage[e.Page], markView{ID: id, For: key, Boxes: []boxView{box}})
		out = append(out, whereView{ID: id, Page: e.Page})
	}
	return out
}

func round(v float64) float64 { return math.Round(v*10) / 10 }

// judgementView makes the page of a judgement. image gives the address of page n's picture, "" when it has none; dpi is
// its resolution.
func judgementView(j *judge.Judgement, image func(n int) string, dpi int) judgementPage {
	m := &marks{byPage: map[int][]markView{}}
	s := j.Sheet
	v := judgementPage{Product: judge.Name(s), PageCount: len(s.Source.Pages), Head: headOf(j)}
	for _, p := range s.Problems {
		v.Problems = append(v.Problems, problemView{What: p.What, Do: p.Do})
	}
	v.hazards(s, m)
	v.findings(j, m)
	v.conclusions(j, m)
	v.sections(s, m)
	for i, p := range s.Source.Pages {
		n := i + 1
		pv := pageView{Number: n, Width: round(p.Width), Height: round(p.Height), Marks: m.byPage[n],
			PixelWidth: int(p.Width * float64(dpi) / 72), PixelHeight: int(p.Height * float64(dpi) / 72)}
		if pv.Image = template.URL(image(n)); pv.Image == "" {
			pv.Why = "There is no picture of this page."
		}
		v.Pages = append(v.Pages, pv)
	}
	return v
}

func headOf(j *judge.Judgement) []pair {
	id := j.Sheet.Identification
	head := []pair{
		{"Supplier", judge.Shown(id.Supplier)},
		{"Revision", judge.Shown(id.RevisionDate)},
		{"Judged under", fmt.Sprintf("%s (%s)", j.RuleSet.Name(), j.RuleSetWhy)},
		{"As of", j.AsOf.Format("2006-01-02")},
	}
	if id.ProductCode.Known() {
		head = slices.Insert(head, 0, pair{"Code", id.ProductCode.Value})
	}
	return head
}

func (v *judgementPage) hazards(s *sheet.Sheet, m *marks) {
	h := s.Hazards
	for _, p := range h.Pictograms {
		if p.Known() && p.Value != ghs.NoPictogram {
			v.Symbols = append(v.Symbols, symbolView{Drawing: template.HTML(ghs.PictogramSVG(p.Value)), Name: p.Value.Name(ghs.English)})
		}
	}
	v.Signal = judge.SignalShown(h)
	for i, st := range h.Statements {
		v.Statements = append(v.Statements, lineView{Text: judge.StatementShown(st.Value), Where: m.add(fmt.Sprintf("statement-%d", i), st.Evidence)})
	}
	for i, st := range h.RiskPhrases {
		v.Statements = append(v.Statements, lineView{Text: judge.StatementShown(st.Value) + " (older law)", Where: m.add(fmt.Sprintf("risk-%d", i), st.Evidence)})
	}
	v.NoStatements = "The sheet states no hazard statement. That is not the same as no hazard."
	if h.Classified == sheet.NoneStated {
		v.NoStatements = "The sheet states that the product is not classified as hazardous."
	}
	v.Traps = judge.Traps(s)
}

func (v *judgementPage) findings(j *judge.Judgement, m *marks) {
	for k, words := range map[audit.Kind]string{
		audit.Contradiction: "cannot be true", audit.Gap: "missing or too vague", audit.Doubt: "true for some compositions only", audit.Note: "worth knowing",
	} {
		v.Tally = append(v.Tally, tallyView{Kind: k.String(), Words: words, Count: j.Report.Count(k)})
	}
	order := []string{"contradiction", "gap", "doubt", "note"}
	slices.SortFunc(v.Tally, func(a, b tallyView) int { return slices.Index(order, a.Kind) - slices.Index(order, b.Kind) })
	for _, f := range j.Report.Findings {
		key := "finding-" + f.ID
		fv := findingView{ID: f.ID, Kind: f.Kind.String(), Harm: f.Harm.String(), Title: f.Title, Could: f.CouldHappen, Do: f.Do, Clause: f.Clause}
		for _, s := range f.Says {
			fv.Says = append(fv.Says, sideOf(s, key, m))
		}
		for _, s := range f.Follows {
			fv.Follows = append(fv.Follows, sideOf(s, key, m))
		}
		if o := f.Overruled; o != nil {
			fv.Title += fmt.Sprintf(" (overruled by %s: %s)", o.Who, o.Why)
		}
		v.Findings = append(v.Findings, fv)
	}
	for _, u := range j.Report.Unchecked {
		v.Unchecked = append(v.Unchecked, u.Check+": "+u.Why)
	}
}

func sideOf(s audit.Side, key string, m *marks) sideView {
	out := sideView{Text: s.Text, Trace: s.Trace, Where: m.add(key, s.Evidence), Source: s.Source}
	if s.Memory && s.Source != "" {
		out.Source += " – recalled, not looked up: check it"
	}
	return out
}

func (v *judgementPage) conclusions(j *judge.Judgement, m *marks) {
	c := j.Conclusions
	v.EnvelopeIntro = slices.DeleteFunc(slices.Concat([]string{c.Impossible}, c.Proof, []string{c.Remainder}), func(t string) bool { return t == "" })
	for _, k := range c.Classes {
		cv := classView{Name: k.Hazard.Title(ghs.English), Verdict: k.Verdict, Declared: "not stated"}
		if k.Declared {
			cv.Declared = "stated"
		}
		for _, r := range k.Why {
			cv.Why = append(cv.Why, judge.ReasonShown(r))
		}
		if k.For != "" {
			cv.Why = append(cv.Why, "has it, for example: "+k.For, "does not have it, for example: "+k.Against)
		}
		v.Classes = append(v.Classes, cv)
	}
	for i, ing := range j.Sheet.Composition.Ingredients {
		iv := ingredientView{Name: judge.IngredientShown(ing), Share: judge.ShareShown(ing), Where: m.add(fmt.Sprintf("ingredient-%d", i), ing.Name.Evidence)}
		iv.Classes, iv.From = judge.ChoicesShown(j.Report.Choices, i)
		v.Ingredients = append(v.Ingredients, iv)
	}
}

// sections lists the facts, the sections that matter first to a person opened.
func (v *judgementPage) sections(s *sheet.Sheet, m *marks) {
	facts := s.Facts()
	for _, n := range judge.SectionOrder() {
		sv := sectionView{Title: judge.SectionTitle(n), Found: n == 0 || s.Sections[n].Found, Open: n == 2 || n == 8 || n == 11}
		for _, f := range facts {
			if f.Section != n || f.State == sheet.NotStated {
				continue
			}
			sv.Facts = append(sv.Facts, factView{Label: f.Label, Value: judge.ListedShown(f), Where: m.add("fact-"+f.Path, f.Evidence)})
		}
		if n > 0 || len(sv.Facts) > 0 {
			v.Sections = append(v.Sections, sv)
		}
	}
}

// listPage is the list of sheets.
type listPage struct {
	Reading int // documents still being read
	Notices []notice
	Rows    []rowView
}

// notice tells what went wrong with one document.
type notice struct{ Name, What string }

type rowView struct {
	File, Product, Link, Supplier, RuleSet, Signal, Failed string
	Contradictions, Gaps, Doubts, Notes                    int
}

func listView(entries []*entry, notices []notice, reading int) listPage {
	v := listPage{Notices: notices, Reading: reading}
	for _, e := range entries {
		if e.judgement == nil {
			v.Rows = append(v.Rows, rowView{File: e.name, Product: "Not read", Failed: e.failure})
			continue
		}
		j := e.judgement
		v.Rows = append(v.Rows, rowView{
			File: e.name, Product: judge.Name(j.Sheet), Link: "/sheets/" + e.id, Supplier: judge.Shown(j.Sheet.Identification.Supplier),
			RuleSet: j.RuleSet.Name(), Signal: judge.SignalShown(j.Sheet.Hazards),
			Contradictions: j.Report.Count(audit.Contradiction), Gaps: j.Report.Count(audit.Gap),
			Doubts: j.Report.Count(audit.Doubt), Notes: j.Report.Count(audit.Note),
		})
	}
	return v
}
