package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/read/label"
	"sixteen/sheet"
)

// labelView is the form drawn as a label is, and how the label stands beside the sheet.
type labelView struct {
	Head       productHead
	Form       labelForm
	Pictograms []pictogramTick
	Signals    []optionView
	Read       []string // what to look at after a photograph was read
	Result     labelResult
}

// labelForm is what was typed.
type labelForm struct {
	Product, Signal, Capacity, Statements, Precautions, Supplier, Phone, Address, UFI, Ingredients, Text string
	Pictograms                                                                                           []ghs.Pictogram
	Complete                                                                                             bool
}

type pictogramTick struct {
	symbolView
	On bool
}

type labelResult struct {
	Asked    bool
	Wrong    string
	Verdict  string
	Findings []findingView
}

func showLabel(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	return a.showLabelForm(v, http.StatusOK, h, labelForm{Complete: true}, nil, labelResult{})
}

func (a *App) showLabelForm(v *visit, status int, h held, form labelForm, read []string, result labelResult) error {
	view := labelView{Head: h.head("/label"), Form: form, Read: read, Result: result,
		Signals: []optionView{{"", "none on the label"}, {"Danger", "Danger"}, {"Warning", "Warning"}}}
	if form.Signal != "" && form.Signal != "Danger" && form.Signal != "Warning" {
		view.Signals = append(view.Signals, optionView{form.Signal, form.Signal})
	}
	for _, p := range ghs.Pictograms() {
		tick := pictogramTick{symbolView: symbolOf(p)}
		for _, on := range form.Pictograms {
			tick.On = tick.On || on == p
		}
		view.Pictograms = append(view.Pictograms, tick)
	}
	return a.show(v, status, screen{title: h.product.Name + ": label", here: "shelf", name: "label", value: view})
}

// checkLabel compares a typed label with the sheet, or reads a photograph into the form.
func checkLabel(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	if err := v.r.ParseMultipartForm(maxPhotoBytes); err != nil && err != http.ErrNotMultipart {
		return tooLarge(err, maxPhotoBytes)
	}
	if file, _, err := v.r.FormFile("photo"); err == nil {
		defer file.Close()
		data, err := io.ReadAll(file)
		if err != nil {
			return tooLarge(err, maxPhotoBytes)
		}
		return a.readPhoto(v, h, data)
	}
	form, l, err := typedLabel(v)
	result := labelResult{Asked: true}
	if err != nil {
		result.Wrong = wordsOf(err)
	} else if result, err = a.compareLabel(v.ctx(), h, l); err != nil {
		return err
	}
	if v.part() {
		return a.showPart(v, "labelresult", result)
	}
	return a.showLabelForm(v, http.StatusOK, h, form, nil, result)
}

func (a *App) compareLabel(ctx context.Context, h held, l audit.Label) (labelResult, error) {
	j, err := a.shelf.Judge(ctx, h.sheet.ID, judge.Request{Label: &l})
	if err != nil {
		return labelResult{}, err
	}
	result := labelResult{Asked: true, Verdict: audit.LabelVerdict(j.Case(), j.Report)}
	groups := map[string]audit.Group{}
	for _, c := range audit.Catalogue() {
		groups[c.ID] = c.Group
	}
	m := newMarks()
	for _, f := range j.Report.Open() {
		if groups[f.Check] == audit.LabelSheet {
			fv := findingOf(f, m)
			for _, sides := range [][]sideView{fv.Says, fv.Follows} {
				for i := range sides {
					sides[i].Where = nil // no page stands beside the form
				}
			}
			result.Findings = append(result.Findings, fv)
		}
	}
	return result, nil
}

// typedLabel is the form as it was sent, and the label it describes.
func typedLabel(v *visit) (labelForm, audit.Label, error) {
	f := labelForm{Product: v.form("product"), Signal: v.form("signal"), Capacity: v.form("capacity"), Statements: v.form("statements"), Precautions: v.form("precautions"),
		Supplier: v.form("supplier"), Phone: v.form("phone"), Address: v.form("address"), UFI: v.form("ufi"), Ingredients: v.form("ingredients"), Text: v.form("text"), Complete: v.form("complete") != ""}
	for _, code := range v.r.Form["pictogram"] {
		if p, ok := ghs.ParsePictogram(code); ok {
			f.Pictograms = append(f.Pictograms, p)
		}
	}
	l := audit.Label{Complete: f.Complete, Product: f.Product, UFI: f.UFI, Supplier: f.Supplier, Address: f.Address, Phone: f.Phone, Pictograms: f.Pictograms,
		SignalPrinted: f.Signal, Statements: statementsOf(f.Statements), Precautions: statementsOf(f.Precautions), Ingredients: linesOf(f.Ingredients), Text: f.Text}
	if f.Capacity != "" {
		n, err := strconv.ParseFloat(strings.ReplaceAll(f.Capacity, ",", "."), 64)
		if err != nil || n <= 0 {
			return f, l, refused(fmt.Sprintf("The size “%s” is no number of millilitres. Write it with digits, such as 500, or leave it out.", f.Capacity))
		}
		l.CapacityML = n
	}
	return f, l, nil
}

func linesOf(text string) []string {
	var out []string
	for _, l := range strings.Split(text, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// statementsOf reads statements by code or by phrase, one per line; several codes may stand on one line.
func statementsOf(text string) []sheet.Statement {
	var out []sheet.Statement
	for _, line := range linesOf(text) {
		hits := ghs.ParseCodes(line)
		switch {
		case len(hits) == 1:
			phrase := strings.TrimLeft(line[hits[0].End:], " :–-\t")
			out = append(out, sheet.Statement{Code: hits[0].Code, Phrase: phrase})
		case len(hits) > 1:
			for _, h := range hits {
				out = append(out, sheet.Statement{Code: h.Code})
			}
		default:
			st := sheet.Statement{Phrase: line}
			best := 0.0
			for _, lang := range ghs.Langs() {
				if m := ghs.FindPhrase(line, lang); len(m) > 0 && m[0].Score > best {
					st.Code, st.FromPhrase, best = m[0].Code, true, m[0].Score
				}
			}
			out = append(out, st)
		}
	}
	return out
}

// readPhoto fills the form from a photograph.
func (a *App) readPhoto(v *visit, h held, data []byte) error {
	l, err := a.desk.ReadLabel(v.ctx(), data)
	if err != nil {
		if v.ctx().Err() != nil {
			return v.ctx().Err()
		}
		return a.showLabelForm(v, http.StatusUnprocessableEntity, h, labelForm{Complete: true}, nil, labelResult{Asked: true, Wrong: sentence(err.Error())})
	}
	form, read := photoForm(l)
	return a.showLabelForm(v, http.StatusOK, h, form, read, labelResult{})
}

func photoForm(l *label.Label) (labelForm, []string) {
	f := labelForm{Product: l.Product.Value, Signal: l.SignalPrinted.Value, Supplier: l.Supplier.Value, Phone: l.Phone.Value, UFI: l.UFI.Value, Complete: false}
	if w, ok := ghs.ParseSignalWord(f.Signal); ok {
		f.Signal = w.String()
	}
	read := []string{"Read from the photograph; look at it again before you compare. What is small, curved or in shadow is often missed, so the label is not taken as complete."}
	unsure := 0
	for _, p := range l.Pictograms {
		if p.Known() {
			f.Pictograms = append(f.Pictograms, p.Value)
		}
		if p.Known() && p.Confidence < sheet.AskBelow {
			unsure++
		}
	}
	lines := func(all []sheet.Fact[sheet.Statement]) string {
		var out []string
		for _, s := range all {
			if !s.Known() {
				continue
			}
			out = append(out, strings.TrimSpace(string(s.Value.Code)+" "+s.Value.Phrase))
			if s.Confidence < sheet.AskBelow {
				unsure++
			}
		}
		return strings.Join(out, "\n")
	}
	f.Statements, f.Precautions = lines(l.Statements), lines(l.Precautions)
	if unsure > 0 {
		read = append(read, plural(unsure, "symbol or statement was", "symbols or statements were")+" read with doubt.")
	}
	for _, p := range l.Problems {
		read = append(read, sentence(p.What)+" "+sentence(p.Do))
	}
	return f, read
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	s = strings.ToUpper(string(r[:1])) + string(r[1:])
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
