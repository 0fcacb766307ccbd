package web

import (
	"bytes"
	"context"
	"net/http"
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/paper"
	"sixteen/shelf"
)

// productQuestionsView is what is asked about one product: the letter, and what was asked before.
type productQuestionsView struct {
	Head   productHead
	Open   []questionView
	Letter string
	Lang   ghs.Lang
	Langs  []optionView
	Files  []linkView
}

type linkView struct{ Title, Href string }

type questionView struct {
	ID, Product, ProductName, Text, Sent, Answer, Answered, Closed, Age string
}

// languages are the languages of letters and papers.
func languages() []optionView {
	var out []optionView
	for _, l := range ghs.Langs() {
		out = append(out, optionView{string(l), languageName(l)})
	}
	return out
}

func languageName(l ghs.Lang) string {
	names := map[ghs.Lang]string{ghs.English: "English", "fr": "French", "de": "German", "es": "Spanish"}
	if n, ok := names[l]; ok {
		return n
	}
	return string(l)
}

// askedLang is the language a query names, else that of the sheet, else English.
func askedLang(name string, h held) ghs.Lang {
	for _, l := range ghs.Langs() {
		if string(l) == name {
			return l
		}
	}
	for _, l := range ghs.Langs() {
		if h.judged != nil && h.judged.Sheet.Language.Value == l {
			return l
		}
	}
	return ghs.English
}

func showProductQuestions(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	view := productQuestionsView{Head: h.head("/questions"), Langs: languages()}
	page, err := a.shelf.Questions(v.ctx(), shelf.QuestionFilter{Product: h.product.ID, Paging: shelf.Paging{Limit: 100}})
	if err != nil {
		return err
	}
	for _, q := range page.Items {
		view.Open = append(view.Open, a.questionOf(q, h.product.Name))
	}
	if h.judged != nil {
		view.Lang = askedLang(v.r.URL.Query().Get("lang"), h)
		if letter, ok := audit.LetterOf(h.judged.Sheet, h.judged.Report, view.Lang); ok {
			view.Letter = letter.Text()
			base := "/products/" + h.product.ID + "/letter."
			for _, f := range []optionView{{"pdf", "Letter as PDF"}, {"docx", "Letter to edit"}} {
				view.Files = append(view.Files, linkView{f.Title, base + f.Value + "?lang=" + string(view.Lang)})
			}
		}
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": questions", here: "questions", name: "productquestions", value: view})
}

func (a *App) questionOf(q shelf.Question, product string) questionView {
	v := questionView{ID: q.ID, Product: q.Product, ProductName: product, Text: q.Text, Sent: q.Sent, Answer: q.Answer, Answered: q.Answered, Closed: q.Closed}
	if sent, err := time.Parse(time.DateOnly, q.Sent); err == nil {
		v.Age = plural(int(a.now().Sub(sent).Hours()/24), "day", "days")
	}
	return v
}

// keepQuestions keeps the questions of the letter, each once.
func keepQuestions(a *App, v *visit) error {
	kept, err := a.Ask(v.ctx(), v.by(), v.r.PathValue("id"), v.form("lang"))
	if err != nil {
		return err
	}
	return v.see("/products/"+v.r.PathValue("id")+"/questions", plural(len(kept), "question was", "questions were")+" kept as asked today.")
}

// Ask keeps the questions of the letter about a product's sheet as asked today, each once, and returns those that are new.
// lang is the language of the letter, "" that of the sheet.
func (a *App) Ask(ctx context.Context, by, product, lang string) ([]shelf.Question, error) {
	h, letter, err := a.letter(ctx, product, lang)
	if err != nil {
		return nil, err
	}
	have, err := a.shelf.Questions(ctx, shelf.QuestionFilter{Product: h.product.ID, Open: true, Paging: shelf.Paging{Limit: 1000}})
	if err != nil {
		return nil, err
	}
	asked := map[string]bool{}
	for _, q := range have.Items {
		asked[q.Text] = true
	}
	kept := []shelf.Question{}
	for _, q := range letter.Questions {
		if asked[q.Text] {
			continue
		}
		one, err := a.shelf.AddQuestion(ctx, by, shelf.Question{Product: h.product.ID, Sheet: h.sheet.ID, Supplier: h.product.Supplier, Findings: q.Findings,
			Language: letter.Lang, Text: q.Text, Sent: a.now().Format(time.DateOnly)})
		if err != nil {
			return kept, err
		}
		kept = append(kept, one)
	}
	return kept, nil
}

// Letter is the letter to the supplier about a product's sheet. lang is its language, "" that of the sheet.
func (a *App) Letter(ctx context.Context, product, lang string) (audit.Letter, error) {
	_, letter, err := a.letter(ctx, product, lang)
	return letter, err
}

func (a *App) letter(ctx context.Context, product, lang string) (held, audit.Letter, error) {
	h, err := a.read(ctx, product)
	if err != nil {
		return h, audit.Letter{}, err
	}
	letter, ok := audit.LetterOf(h.judged.Sheet, h.judged.Report, askedLang(lang, h))
	if !ok {
		return h, letter, refused("There is nothing to ask about this sheet any more.")
	}
	return h, letter, nil
}

// editQuestion changes a question that is on the shelf and goes back to its product.
func (a *App) editQuestion(v *visit, said string, change func(*shelf.Question)) error {
	q, err := a.shelf.Question(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	change(&q)
	if _, err := a.shelf.EditQuestion(v.ctx(), v.by(), q); err != nil {
		return err
	}
	return v.see("/products/"+q.Product+"/questions", said)
}

func questionSent(a *App, v *visit) error {
	return a.editQuestion(v, "Marked as sent today.", func(q *shelf.Question) { q.Sent = a.now().Format(time.DateOnly) })
}

func questionAnswered(a *App, v *visit) error {
	return a.editQuestion(v, "The answer is kept.", func(q *shelf.Question) {
		q.Answer, q.Answered = v.form("answer"), a.now().Format(time.DateOnly)
		if v.form("close") != "" {
			q.Closed = q.Answered
		}
	})
}

// questionsView is everything that is open, by supplier.
type questionsView struct {
	Groups []questionGroup
	Worth  []worthView
}

type questionGroup struct {
	Supplier, Contact string
	Rows              []questionView
}

type worthView struct{ ID, Name, Why string }

func showQuestions(a *App, v *visit) error {
	page, err := a.shelf.Questions(v.ctx(), shelf.QuestionFilter{Open: true, Paging: shelf.Paging{Limit: 200}})
	if err != nil {
		return err
	}
	view := questionsView{}
	groups := map[string]int{}
	for _, q := range page.Items {
		p, err := a.shelf.Product(v.ctx(), q.Product)
		if err != nil {
			return err
		}
		g, err := a.supplierGroup(v.ctx(), q, p)
		if err != nil {
			return err
		}
		at, ok := groups[g.Supplier]
		if !ok {
			at = len(view.Groups)
			groups[g.Supplier] = at
			view.Groups = append(view.Groups, g)
		}
		view.Groups[at].Rows = append(view.Groups[at].Rows, a.questionOf(q, p.Name))
	}
	worst, err := a.shelf.Products(v.ctx(), shelf.ProductFilter{Contradictory: true, Order: shelf.ByWorst, Paging: shelf.Paging{Limit: 25}})
	if err != nil {
		return err
	}
	for _, p := range worst.Items {
		if p.OpenQuestions == 0 && p.InForce != nil {
			view.Worth = append(view.Worth, worthView{p.ID, p.Name, plural(p.InForce.Contradictions, "contradiction", "contradictions")})
		}
	}
	return a.show(v, http.StatusOK, screen{title: "Questions to suppliers", here: "questions", name: "questions", value: view})
}

// supplierGroup is the supplier of a question: the one on the shelf, else as the sheet prints it.
func (a *App) supplierGroup(ctx context.Context, q shelf.Question, p shelf.Product) (questionGroup, error) {
	id := q.Supplier
	if id == "" {
		id = p.Supplier
	}
	if id == "" {
		g := questionGroup{Supplier: "Supplier not known"}
		if p.Sheet == "" {
			return g, nil
		}
		s, err := a.shelf.Sheet(ctx, p.Sheet)
		if s.Supplier != "" {
			g.Supplier = s.Supplier
		}
		return g, err
	}
	s, err := a.shelf.Supplier(ctx, id)
	if err != nil {
		return questionGroup{}, err
	}
	g := questionGroup{Supplier: s.Name}
	for _, c := range []string{s.Contact, s.Email, s.Phone, s.Address} {
		if c != "" {
			if g.Contact != "" {
				g.Contact += ", "
			}
			g.Contact += c
		}
	}
	return g, nil
}

// showLetter is the letter to the supplier as a file.
func showLetter(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	letter, ok := audit.LetterOf(h.judged.Sheet, h.judged.Report, askedLang(v.r.URL.Query().Get("lang"), h))
	if !ok {
		return missing("There is nothing to ask about this sheet.")
	}
	settings, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	d := paper.SupplierLetter(letter, h.judged.Report, paper.LetterOptions{From: strings.TrimSpace(settings.Workshop + "\n" + settings.Address), Date: a.now(), Page: paper.A4})
	return sendDocument(v, d, "Letter "+h.product.Name, v.r.PathValue("kind"))
}

// sendDocument sends a paper in one of its forms.
func sendDocument(v *visit, d paper.Document, name, kind string) error {
	var b bytes.Buffer
	var err error
	media := "application/pdf"
	switch kind {
	case "pdf":
		err = d.WritePDF(&b)
	case "docx":
		media = "application/vnd.openxmlformats-officedocument.wordprocessingml.document"
		err = d.WriteDOCX(&b)
	default:
		return missing("This paper is made as PDF and DOCX.")
	}
	if err != nil {
		return err
	}
	sendFile(v, name+"."+kind, media, b.Bytes())
	return nil
}
