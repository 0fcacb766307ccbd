package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/plan"
	"sixteen/protect"
	"sixteen/shelf"
	"sixteen/substance"
)

// jobsView is the list of planned jobs.
type jobsView struct {
	Rows   []jobRow
	Paging pagingView
}

type jobRow struct {
	ID, Name, Products, Headline, When string
	Stale                              bool
}

func showJobs(a *App, v *visit) error {
	all, err := a.shelf.Jobs(v.ctx(), "")
	if err != nil {
		return err
	}
	part := partOf(v.r)
	view := jobsView{Paging: pagingOf(v.r.URL, len(all), part.Offset)}
	for _, j := range all[min(part.Offset, len(all)):min(part.Offset+part.Limit, len(all))] {
		row := jobRow{ID: j.ID, Name: j.Name, When: dayShown(j.Computed)}
		var kept struct {
			Headline []string `json:"headline"`
		}
		if json.Unmarshal([]byte(j.Result), &kept) == nil && len(kept.Headline) > 0 {
			row.Headline = kept.Headline[0]
		}
		var names []string
		for _, id := range j.Products {
			p, err := a.shelf.Product(v.ctx(), id)
			if err != nil {
				continue // a product that is gone is not named
			}
			names = append(names, p.Name)
			row.Stale = row.Stale || p.Changed.After(j.Computed)
		}
		row.Products = strings.Join(names, ", ")
		view.Rows = append(view.Rows, row)
	}
	return a.show(v, http.StatusOK, screen{title: "Jobs", here: "jobs", name: "jobs", value: view})
}

// jobView is the planner: the form, and the answer below it.
type jobView struct {
	Title, Kept, Action string
	Version             int64
	F                   jobForm
	Products            []optionView
	Places, Kinds       []optionView
	Surfaces, Ages      []optionView
	Answer              planView
}

// planView is the answer for a job.
type planView struct {
	Plan      *plan.Plan
	Place     string // whose limits count
	Wrong     []string
	Questions []string
	Rooms     []roomAnswer
	Measures  []measureGroup
	Charts    []chartView
	People    []personAnswer
	Files     []linkView
}

type roomAnswer struct {
	Name, Reuse, Children, Air, Flammable, FlammableNote string
	Burns                                                bool
}

type measureGroup struct {
	Kind protect.Kind
	All  []protect.Measure
}

type chartView struct {
	Says    string
	Drawing template.HTML
}

type personAnswer struct {
	Name, About string
	Rows        []vapourAnswer
}

type vapourAnswer struct {
	Vapour, Peak, Mean string
	Limits             []limitAnswer
}

type limitAnswer struct {
	Text string
	Over bool
}

// keptJob is the job of an address: nil for a new one.
func (a *App) keptJob(v *visit) (*shelf.Job, *exposure.Job, error) {
	id := v.r.PathValue("id")
	if id == "" {
		return nil, nil, nil
	}
	j, err := a.shelf.Job(v.ctx(), id)
	if err != nil {
		return nil, nil, onShelf(err, "There is no such job on this shelf.")
	}
	job, err := exposure.ParseJob([]byte(j.Description))
	if err != nil {
		return &j, nil, fmt.Errorf("the kept job cannot be read: %w", err)
	}
	return &j, job, nil
}

func showJob(a *App, v *visit) error {
	kept, job, err := a.keptJob(v)
	if err != nil {
		return err
	}
	if kept == nil {
		form := newJob()
		if id := v.r.URL.Query().Get("product"); id != "" {
			p, err := a.shelf.Product(v.ctx(), id)
			if err != nil {
				return onShelf(err, "There is no such product on this shelf.")
			}
			form.Products = []jobProduct{{p.ID, p.Name}}
			form.Tasks[0].Product = p.Name
			form.Name = "Work with " + p.Name
		}
		return a.showJobForm(v, http.StatusOK, nil, form, planView{})
	}
	form := formOf(job, a.shelfIDs(v.ctx(), job))
	answer := a.answer(v.ctx(), job, 0.5)
	if answer.Plan != nil {
		answer.Files = []linkView{{"Plan as PDF", "/jobs/" + kept.ID + "/plan/pdf"}, {"Plan to edit", "/jobs/" + kept.ID + "/plan/docx"}}
	}
	return a.showJobForm(v, http.StatusOK, kept, form, answer)
}

func (a *App) showJobForm(v *visit, status int, kept *shelf.Job, form jobForm, answer planView) error {
	view := jobView{Title: "Plan a job", Action: "/jobs/new", F: form, Answer: answer}
	if kept != nil {
		view.Title, view.Action, view.Version = kept.Name, "/jobs/"+kept.ID, kept.Version
		view.Kept = "Kept on the shelf; last changed " + dayShown(kept.Changed) + "."
	}
	view.choices()
	var err error
	if view.Products, err = a.jobProducts(v.ctx(), form); err != nil {
		return err
	}
	return a.show(v, status, screen{title: view.Title, here: "jobs", name: "job", value: view})
}

func (view *jobView) choices() {
	for _, p := range substance.Jurisdictions() {
		if n := placeWords(p); n != "" {
			view.Places = append(view.Places, optionView{string(p), n})
		}
	}
	for _, k := range []string{"mix", "pour", "brush", "spray", "wait", "cure", "sand", "clean"} {
		view.Kinds = append(view.Kinds, optionView{k, k})
	}
	view.Surfaces = []optionView{{"", "not at all"}, {"film", "film, brushed or rolled"}, {"pool", "pool, poured"}, {"cup", "open pot"}, {"spray", "sprayed"}}
	for _, age := range exposure.Ages() {
		view.Ages = append(view.Ages, optionView{string(age), string(age)})
	}
}

// placeWords is a place whose limits are held; "" for others.
func placeWords(p substance.Jurisdiction) string {
	return map[substance.Jurisdiction]string{substance.UnitedStates: "the United States", substance.California: "California", substance.Ontario: "Ontario",
		substance.EuropeanUnion: "the European Union", substance.UnitedKingdom: "the United Kingdom", substance.Germany: "Germany"}[p]
}

// few is how many products a list offers at most before it asks for words.
const few = 80

// jobProducts are the products that a step may use: those of the job, and all of a shelf that is small.
func (a *App) jobProducts(ctx context.Context, f jobForm) ([]optionView, error) {
	out := []optionView{{"", "none"}}
	for _, p := range f.Products {
		out = append(out, optionView{p.Name, p.Name})
	}
	page, err := a.shelf.Products(ctx, shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: few}})
	if err != nil || page.Total > few {
		return out, err
	}
	for _, p := range page.Items {
		if !slices.ContainsFunc(out, func(o optionView) bool { return o.Value == p.Name }) && (p.InForce != nil || len(p.Parts) > 0) {
			out = append(out, optionView{p.Name, p.Name})
		}
	}
	return out, nil
}

// planJob answers the form: with figures, with another row, or by keeping the job.
func planJob(a *App, v *visit) error {
	if err := v.parseForm(); err != nil {
		return err
	}
	kept, base, err := a.keptJob(v)
	if err != nil {
		return err
	}
	form := parseJobForm(v.r.Form)
	if err := a.addFound(v.ctx(), &form, v.form("find")); err != nil {
		return err
	}
	change := v.form("change")
	if !v.part() && form.change(change) {
		return a.showJobForm(v, http.StatusOK, kept, form, planView{})
	}
	products, ids, err := a.productsOf(v.ctx(), &form, base)
	if err != nil {
		return err
	}
	job, wrong := form.job(products, base)
	answer := planView{Wrong: wrong}
	if len(wrong) == 0 {
		share, err := strconv.ParseFloat(strings.ReplaceAll(form.Fraction, ",", "."), 64)
		if err != nil || share <= 0 || share > 1 {
			share = 0.5
		}
		answer = a.answer(v.ctx(), job, share)
	}
	switch {
	case v.part():
		answer.Questions = append(answer.Wrong, answer.Questions...)
		return a.showPart(v, "plan", answer)
	case change == "keep" && v.who.Role < Work:
		return mayNot(Work)
	case change == "keep" && len(wrong) == 0:
		return a.keepJob(v, kept, job, ids, answer.Plan)
	}
	return a.showJobForm(v, http.StatusOK, kept, form, answer)
}

// addFound adds the product that fits words best, for shelves too large to list.
func (a *App) addFound(ctx context.Context, f *jobForm, words string) error {
	if words == "" {
		return nil
	}
	page, err := a.shelf.Products(ctx, shelf.ProductFilter{Text: words, Paging: shelf.Paging{Limit: 5}})
	if err != nil {
		return err
	}
	for _, p := range page.Items {
		if !slices.ContainsFunc(f.Products, func(have jobProduct) bool { return have.ID == p.ID }) {
			f.Products = append(f.Products, jobProduct{p.ID, p.Name})
		}
	}
	return nil
}

// productsOf makes the products that the steps name: from the shelf by ID or name, or as the kept job describes them.
func (a *App) productsOf(ctx context.Context, f *jobForm, base *exposure.Job) ([]exposure.Product, []string, error) {
	var out []exposure.Product
	var ids []string
	for _, t := range f.Tasks {
		if t.Product == "" || slices.ContainsFunc(out, func(p exposure.Product) bool { return p.Name == t.Product }) {
			continue
		}
		id := ""
		for _, p := range f.Products {
			if p.Name == t.Product {
				id = p.ID
			}
		}
		var before *exposure.Product
		if base != nil {
			if i := slices.IndexFunc(base.Products, func(p exposure.Product) bool { return p.Name == t.Product }); i >= 0 {
				before = &base.Products[i]
			}
		}
		if id == "" && before != nil {
			out = append(out, *before)
			continue
		}
		p, err := a.jobProduct(ctx, id, t.Product)
		if err != nil {
			return nil, nil, err
		}
		product := productFile(p)
		if before != nil {
			product.Cure, product.PricePerKg = before.Cure, before.PricePerKg
		}
		out, ids = append(out, product), append(ids, p.ID)
		if !slices.ContainsFunc(f.Products, func(have jobProduct) bool { return have.ID == p.ID }) {
			f.Products = append(f.Products, jobProduct{p.ID, p.Name})
		}
	}
	return out, ids, nil
}

func (a *App) jobProduct(ctx context.Context, id, name string) (shelf.Product, error) {
	if id != "" {
		return a.shelf.Product(ctx, id)
	}
	page, err := a.shelf.Products(ctx, shelf.ProductFilter{Text: name, Paging: shelf.Paging{Limit: 20}})
	if err != nil {
		return shelf.Product{}, err
	}
	for _, p := range page.Items {
		if p.Name == name {
			return p.Product, nil
		}
	}
	return shelf.Product{}, refused(fmt.Sprintf("“%s” is not on the shelf. Choose another product.", name))
}

// productFile is a product of the shelf in a job: by its place on the shelf, a kit by those of its parts.
func productFile(p shelf.Product) exposure.Product {
	out := exposure.Product{Name: p.Name}
	if len(p.Parts) == 0 {
		out.File = plan.ShelfFile + p.ID
		return out
	}
	var ratio []string
	for _, part := range p.Parts {
		out.Parts = append(out.Parts, exposure.Part{File: plan.ShelfFile + part.Product})
		ratio = append(ratio, strconv.FormatFloat(part.Parts, 'f', -1, 64))
	}
	out.Ratio = strings.Join(ratio, ":")
	if p.PartsBy == "volume" {
		out.Ratio += " by volume"
	}
	return out
}

// shelfIDs are the products of the shelf that a job uses, by the names it gives them.
func (a *App) shelfIDs(ctx context.Context, j *exposure.Job) map[string]string {
	out := map[string]string{}
	for _, p := range j.Products {
		if id, ok := strings.CutPrefix(p.File, plan.ShelfFile); ok {
			out[p.Name] = id
		}
		if len(p.Parts) == 0 {
			continue
		}
		id, ok := strings.CutPrefix(p.Parts[0].File, plan.ShelfFile)
		if !ok {
			continue
		}
		kits, err := a.shelf.KitsWith(ctx, id)
		if err != nil {
			a.log.Error("kits cannot be listed", "error", err)
			continue
		}
		for _, k := range kits {
			if k.Name == p.Name {
				out[p.Name] = k.ID
			}
		}
	}
	return out
}

// shelfSource gives package plan what is known of the products on the shelf.
type shelfSource struct{ app *App }

// Product is what the sheet in force says of a product, and what follows.
func (s shelfSource) Product(ctx context.Context, file string, rules ghs.RuleSet) (plan.Known, error) {
	id, ok := strings.CutPrefix(file, plan.ShelfFile)
	if !ok {
		return plan.Known{}, fmt.Errorf("the job names the file %s, which is not on the shelf: choose the product from the shelf", file)
	}
	p, err := s.app.shelf.Product(ctx, id)
	if err != nil {
		return plan.Known{}, err
	}
	if p.Sheet == "" {
		return plan.Known{}, fmt.Errorf("%s has no sheet that was read, so nothing can be worked out: put its sheet on the shelf first", p.Name)
	}
	j, err := s.app.shelf.Judge(ctx, p.Sheet, judge.Request{Rules: rules})
	if err != nil {
		return plan.Known{}, err
	}
	k := plan.OfJudgement(j)
	k.Name = p.Name
	return k, nil
}

// workOut works a job out.
func (a *App) workOut(ctx context.Context, job *exposure.Job, share float64) planView {
	p, err := plan.Make(ctx, job, a.desk.Substances(), plan.Options{Exposure: exposure.Options{Fraction: share}, Source: shelfSource{a}})
	if err != nil {
		return planView{Questions: questionsOf(err)}
	}
	view := planView{Plan: p, Place: placeWords(job.Jurisdiction)}
	for _, m := range p.Protection.Measures {
		if n := len(view.Measures); n == 0 || view.Measures[n-1].Kind != m.Kind {
			view.Measures = append(view.Measures, measureGroup{Kind: m.Kind})
		}
		last := &view.Measures[len(view.Measures)-1]
		last.All = append(last.All, m)
	}
	for _, c := range p.Charts() {
		view.Charts = append(view.Charts, chartView{Says: c.Says, Drawing: drawing([]byte(c.SVG))})
	}
	for _, r := range p.Exposure.Rooms {
		view.Rooms = append(view.Rooms, roomOf(r))
	}
	for _, person := range p.Exposure.People {
		view.People = append(view.People, personOf(person))
	}
	return view
}

// questionsOf are the questions of an error, each with the field it is about in words.
func questionsOf(err error) []string {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var out []string
		for _, e := range joined.Unwrap() {
			out = append(out, questionsOf(e)...)
		}
		return out
	}
	var field *exposure.FieldError
	if errors.As(err, &field) {
		return []string{fieldWords(field.Field) + ": " + sentence(strings.ReplaceAll(field.Question, "near_field", "air around the work"))}
	}
	return []string{sentence(err.Error())}
}

// fieldWords is the name of a field for a person: "rooms[0].volume_m3" is "room 1, volume".
func fieldWords(field string) string {
	words := strings.NewReplacer("rooms[", "room [", "tasks[", "step [", "people[", "person [", "doors[", "door [", "purges[", "airing [", "products[", "product [", "stays[", "stay [", "ingredients[", "ingredient [", "parts[", "part [",
		"volume_m3", "volume", "air_changes_per_hour", "fresh air", "amount_g", "amount", "area_m2", "wet area", "duration_min", "lasts", "start_min", "begins", "temperature_c", "temperature", "air_m3_min", "air",
		"floor_m2", "floor", "air_speed_m_s", "air speed", "jurisdiction", "whose limits count", "shift_hours", "shift", "from_min", "from", "until_min", "until", "near_field", "air around the work", "radius_m", "radius",
		"transfer_efficiency", "share that lands", "covered_at_min", "covered after").Replace(field)
	var b strings.Builder
	for i := 0; i < len(words); i++ {
		if words[i] != '[' {
			b.WriteByte(words[i])
			continue
		}
		end := strings.IndexByte(words[i:], ']')
		if end < 0 {
			b.WriteString(words[i:])
			break
		}
		if n, err := strconv.Atoi(words[i+1 : i+end]); err == nil {
			b.WriteString(strconv.Itoa(n + 1))
		}
		i += end
	}
	out := strings.ReplaceAll(strings.ReplaceAll(b.String(), ".", ", "), "_", " ")
	if out == "" {
		return "The job"
	}
	return strings.ToUpper(out[:1]) + out[1:]
}

func roomOf(r exposure.RoomResult) roomAnswer {
	v := roomAnswer{Name: r.Name, Reuse: exposure.Reentry(r.ReuseMiddle, r.ReuseHours), Children: exposure.Reentry(r.ReuseChildrenMiddle, r.ReuseChildren), Air: "not worked out"}
	v.Flammable = percentWords(r.Flammable)
	v.Burns = r.Flammable.High >= 0.1
	v.FlammableNote = "over the liquid itself " + exposure.Amount(100*r.OverLiquid) + " %"
	if len(r.WithoutLower) > 0 {
		v.FlammableNote += "; no limit held for " + strings.Join(r.WithoutLower, ", ")
	}
	if w := r.Ventilation; w != nil {
		v.Air = w.Note
		if w.Reached {
			v.Air = fmt.Sprintf("%s changes an hour, %s m³/min", exposure.Amount(w.AirChanges), exposure.Amount(w.AirM3Min))
		}
	}
	return v
}

func percentWords(e exposure.Estimate) string {
	return exposure.Spread(100*e.Middle, 100*e.High) + " %"
}

func estimateWords(e exposure.Estimate, factor float64) string {
	return exposure.Spread(factor*e.Middle, factor*e.High)
}

func personOf(p exposure.PersonResult) personAnswer {
	v := personAnswer{Name: p.Name, About: fmt.Sprintf("%s, %s in the rooms", p.Age, exposure.Duration(60*p.HoursIn))}
	for _, e := range p.Exposures {
		row := vapourAnswer{Vapour: e.Vapour, Peak: estimateWords(e.Peak15, e.PPMFactor) + " ppm", Mean: estimateWords(e.TWA8, e.PPMFactor) + " ppm"}
		for _, l := range e.Limits {
			over := l.Fraction.High > 1
			text := estimateWords(l.Fraction, 1) + " × " + l.Limit.Who() + " " + string(l.Limit.Kind)
			if over {
				text = "above: " + text
			}
			if l.Limit.Source.Memory {
				text += " (limit from memory)"
			}
			row.Limits = append(row.Limits, limitAnswer{text, over})
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// keepJob keeps a job with its answer.
func (a *App) keepJob(v *visit, kept *shelf.Job, job *exposure.Job, ids []string, p *plan.Plan) error {
	text, err := jobText(job)
	if err != nil {
		return err
	}
	if _, err := exposure.ParseJob([]byte(text)); err != nil {
		return fmt.Errorf("the job would not be read again: %w", err)
	}
	record := shelf.Job{}
	if kept != nil {
		record = *kept
		record.Version, _ = strconv.ParseInt(v.form("version"), 10, 64) // no number is version 0, a conflict
	}
	record.Name, record.Products, record.Description, record.Result = job.Name, ids, text, ""
	if p != nil {
		var b strings.Builder
		if err := p.WriteJSON(&b); err != nil {
			return err
		}
		record.Result, record.Computed = b.String(), a.now().UTC()
	}
	if kept == nil {
		record, err = a.shelf.AddJob(v.ctx(), v.by(), record)
	} else {
		record, err = a.shelf.EditJob(v.ctx(), v.by(), record)
	}
	if err != nil {
		return err
	}
	return v.see("/jobs/"+record.ID, "The job is kept.")
}

// showPlanFile is the plan of a kept job as a file.
func showPlanFile(a *App, v *visit) error {
	kept, job, err := a.keptJob(v)
	if err != nil {
		return err
	}
	answer := a.answer(v.ctx(), job, 0.5)
	if answer.Plan == nil {
		return refused("The job cannot be worked out yet. " + strings.Join(answer.Questions, " "))
	}
	d, err := paper.JobPlan(answer.Plan, paper.PaperOptions{Date: a.now(), Page: paper.A4})
	if err != nil {
		return err
	}
	return sendDocument(v, d, "Plan "+kept.Name, v.r.PathValue("kind"))
}
