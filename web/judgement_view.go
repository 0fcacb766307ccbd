package web

import (
	"fmt"
	"html/template"
	"slices"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// judgementView is one judgement as the templates of judgement.html show it, on the product's page and in one file alike.
type judgementView struct {
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
	CanDo         []lineView
	Wear          []lineView
	PutBack       []lineView
	NotKnown      []lineView
	Tally         []tallyView
	Findings      []findingView
	Aside         []findingView // overruled
	Unchecked     []string
	EnvelopeIntro []string
	Classes       []classView
	Ingredients   []ingredientView
	Strip         []cellView
	Sections      []sectionView
}

type pair struct{ Name, Value string }

type problemView struct{ What, Do string }

type symbolView struct {
	Drawing    template.HTML
	Code, Name string
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
	Overruled             *audit.Overruling
	When                  string // of the overruling
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

// cellView is one of the sixteen sections in the strip.
type cellView struct {
	Number      int
	Title       string
	State       string // has, some, missing or "": see Words
	Words       string
	Current     bool
	Href        string
	Contradicts int
}

type sectionView struct {
	Number int
	Title  string
	Found  bool
	Open   bool
	Facts  []factView
}

type factView struct {
	Path, Label, Value string
	State              string
	Sure               string // how sure the reading is, where that is low
	Where              []whereView
	History            []correctionView
}

// correctionView is one correction of a fact.
type correctionView struct {
	Who, When, Why, Was string
	Added               bool // the row was added by the person
}

// viewOf makes the view of a judgement. c is its case, with which the half page is written.
func viewOf(j *judge.Judgement, c *audit.Case, m *marks) judgementView {
	s := j.Sheet
	v := judgementView{Product: judge.Name(s), PageCount: len(s.Source.Pages), Head: headOf(j)}
	for _, p := range s.Problems {
		v.Problems = append(v.Problems, problemView{What: p.What, Do: p.Do})
	}
	v.hazards(s, m)
	half := audit.Plain(c, j.Report)
	v.CanDo, v.Wear = sentencesOf(half.CanDo, "can", m), sentencesOf(half.Wear, "wear", m)
	v.PutBack, v.NotKnown = sentencesOf(half.PutBack, "put", m), sentencesOf(half.NotKnown, "unknown", m)
	v.findings(j, m)
	v.conclusions(j, m)
	v.sections(s, m)
	v.Strip = stripOf(j, "#section-%d")
	return v
}

func sentencesOf(all []audit.Sentence, key string, m *marks) []lineView {
	var out []lineView
	for i, s := range all {
		var evidence []sheet.Evidence
		for _, from := range s.From {
			evidence = append(evidence, from.Evidence...)
		}
		out = append(out, lineView{Text: s.Text, Where: m.add(fmt.Sprintf("%s-%d", key, i), evidence)})
	}
	return out
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

func symbolOf(p ghs.Pictogram) symbolView {
	return symbolView{Drawing: template.HTML(ghs.PictogramSVG(p)), Code: p.String(), Name: p.Name(ghs.English)}
}

func (v *judgementView) hazards(s *sheet.Sheet, m *marks) {
	h := s.Hazards
	for _, p := range h.Pictograms {
		if p.Known() && p.Value != ghs.NoPictogram {
			v.Symbols = append(v.Symbols, symbolOf(p.Value))
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

// kindWords says what each kind of finding means.
func kindWords(k audit.Kind) string {
	return [...]string{"cannot be true", "missing or too vague", "true for some compositions only", "worth knowing"}[k]
}

func (v *judgementView) findings(j *judge.Judgement, m *marks) {
	for _, k := range []audit.Kind{audit.Contradiction, audit.Gap, audit.Doubt, audit.Note} {
		v.Tally = append(v.Tally, tallyView{Kind: k.String(), Words: kindWords(k), Count: j.Report.Count(k)})
	}
	for _, f := range j.Report.Findings {
		fv := findingOf(f, m)
		if f.Overruled != nil {
			v.Aside = append(v.Aside, fv)
			continue
		}
		v.Findings = append(v.Findings, fv)
	}
	for _, u := range j.Report.Unchecked {
		v.Unchecked = append(v.Unchecked, checkTitle(u.Check)+": "+u.Why)
	}
}

// checkTitle is the title of a check of the catalogue.
func checkTitle(id string) string {
	for _, c := range audit.Catalogue() {
		if c.ID == id {
			return c.Title
		}
	}
	return id
}

func findingOf(f audit.Finding, m *marks) findingView {
	key := "finding-" + f.ID
	fv := findingView{ID: f.ID, Kind: f.Kind.String(), Harm: f.Harm.String(), Title: f.Title, Could: f.CouldHappen, Do: f.Do, Clause: f.Clause, Overruled: f.Overruled}
	for _, s := range f.Says {
		fv.Says = append(fv.Says, sideOf(s, key, m))
	}
	for _, s := range f.Follows {
		fv.Follows = append(fv.Follows, sideOf(s, key, m))
	}
	if f.Overruled != nil && len(f.Overruled.When) >= 10 {
		fv.When = f.Overruled.When[:10]
	}
	return fv
}

func sideOf(s audit.Side, key string, m *marks) sideView {
	out := sideView{Text: s.Text, Trace: s.Trace, Where: m.add(key, s.Evidence), Source: s.Source}
	if s.Memory && s.Source != "" {
		out.Source += " – recalled, not looked up: check it"
	}
	return out
}

func (v *judgementView) conclusions(j *judge.Judgement, m *marks) {
	c := j.Conclusions
	v.EnvelopeIntro = slices.DeleteFunc(slices.Concat([]string{c.Impossible}, c.Proof, []string{c.Remainder}), func(t string) bool { return t == "" })
	v.Classes = classesOf(c.Classes)
	for i, ing := range j.Sheet.Composition.Ingredients {
		iv := ingredientView{Name: judge.IngredientShown(ing), Share: judge.ShareShown(ing), Where: m.add(fmt.Sprintf("ingredient-%d", i), ing.Name.Evidence)}
		iv.Classes, iv.From = judge.ChoicesShown(j.Report.Choices, i)
		v.Ingredients = append(v.Ingredients, iv)
	}
}

func classesOf(all []judge.Conclusion) []classView {
	var out []classView
	for _, k := range all {
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
		out = append(out, cv)
	}
	return out
}

// sections lists the facts, the sections that matter first to a person opened.
func (v *judgementView) sections(s *sheet.Sheet, m *marks) {
	facts := s.Facts()
	for _, n := range judge.SectionOrder() {
		sv := sectionView{Number: n, Title: judge.SectionTitle(n), Found: n == 0 || s.Sections[n].Found, Open: n == 2 || n == 8 || n == 11}
		for _, f := range facts {
			if f.Section == n && (f.State != sheet.NotStated || len(f.Corrections) > 0) {
				sv.Facts = append(sv.Facts, factOf(f, m))
				sv.Open = sv.Open || len(f.Corrections) > 0
			}
		}
		if n > 0 || len(sv.Facts) > 0 {
			v.Sections = append(v.Sections, sv)
		}
	}
}

func factOf(f sheet.Listed, m *marks) factView {
	fv := factView{Path: f.Path, Label: f.Label, Value: f.Text, Where: m.add("fact-"+f.Path, f.Evidence)}
	if f.State != sheet.Stated {
		fv.Value, fv.State = "", judge.StateShown(f.State)
	}
	if f.Confidence > 0 && f.Confidence < sheet.AskBelow {
		fv.Sure = "read with doubt: look at the page"
	}
	for _, e := range f.Evidence {
		if e.Recognised == "" {
			continue
		}
		if fv.Sure != "" {
			fv.Sure += "; "
		}
		fv.Sure += "repaired, recognised was “" + e.Recognised + "”"
		break
	}
	for i, c := range f.Corrections {
		was := f.Was[i]
		if c.WasState != sheet.Stated {
			was = judge.StateShown(c.WasState)
		}
		fv.History = append(fv.History, correctionView{Who: c.Who, When: c.When.Format("2006-01-02"), Why: c.Why, Was: was, Added: c.Added})
	}
	return fv
}

// stripOf is the sixteen sections in their order, each with what the findings say of it. href has the section's number.
func stripOf(j *judge.Judgement, href string) []cellView {
	var open, contradicts [17]int
	for _, f := range j.Report.Open() {
		if f.Section > 0 && f.Section <= 16 {
			open[f.Section]++
			if f.Kind == audit.Contradiction {
				contradicts[f.Section]++
			}
		}
	}
	var out []cellView
	for n := 1; n <= 16; n++ {
		c := cellView{Number: n, Title: judge.SectionTitle(n), Href: fmt.Sprintf(href, n), Words: "nothing found to ask about", Contradicts: contradicts[n]}
		switch {
		case !j.Sheet.Sections[n].Found:
			c.State, c.Words = "missing", "not found in the sheet"
		case contradicts[n] > 0:
			c.State, c.Words = "has", plural(contradicts[n], "contradiction", "contradictions")
		case open[n] > 0:
			c.State, c.Words = "some", plural(open[n], "finding", "findings")
		}
		out = append(out, c)
	}
	return out
}
