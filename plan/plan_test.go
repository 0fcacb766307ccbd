package plan_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/protect"
	"sixteen/sheet"
	"sixteen/substance"
)

// shelf stands in for files.
type shelf map[string]plan.Known

func (s shelf) Product(_ context.Context, file string, _ ghs.RuleSet) (plan.Known, error) {
	if k, ok := s[file]; ok {
		return k, nil
	}
	return plan.Known{}, errors.New("no such file")
}

func recipe(t *testing.T, name string, ingredients ...classify.Ingredient) plan.Known {
	t.Helper()
	m, _ := classify.Mixture{Name: name, Complete: true, Form: classify.Liquid, Ingredients: ingredients}.Fill(substance.Embedded(), ghs.EUCLP)
	k, err := plan.OfMixture(m, ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	k.DensityKgM3 = 1100
	return k
}

func resinKit(t *testing.T) shelf {
	return shelf{
		"resin.pdf": recipe(t, "Resin", classify.Ingredient{Name: "bisphenol A diglycidyl ether", CAS: "1675-54-3", Percent: sheet.Exactly(85)},
			classify.Ingredient{Name: "benzyl alcohol", CAS: "100-51-6", Percent: sheet.Exactly(15)}),
		"hardener.pdf": recipe(t, "Hardener", classify.Ingredient{Name: "isophorone diamine", CAS: "2855-13-2", Percent: sheet.Exactly(100)}),
	}
}

const kitJob = `
name: Pour a tray
jurisdiction: eu
products:
  - name: casting kit
    ratio: "100:25"
    parts: [{file: resin.pdf}, {file: hardener.pdf}]
    cure: {heat_j_g: 400, pot_life_min: 40, pot_life_mass_g: 100, pot_life_c: 25}
rooms:
  - {name: shop, volume_m3: 60, floor_m2: 24, air_changes_per_hour: [0.5, 2], near_field: {radius_m: 0.8}}
  - {name: home, volume_m3: 30, air_changes_per_hour: 0.5}
doors: [{between: [shop, home], air_m3_min: 0.5}]
tasks:
  - {name: pour, kind: pour, room: shop, start_min: 0, duration_min: 20, product: casting kit, surface: pool, amount_g: 800, area_m2: 0.4}
people:
  - {name: caster, stays: [{room: shop, near: true, from_min: 0, until_min: 30}]}
  - {name: child, age: child 6-11, stays: [{room: home, from_min: 0, until_min: 480}]}
`

func makePlan(t *testing.T, ctx context.Context, yaml string, src plan.Source, opt exposure.Options) *plan.Plan {
	t.Helper()
	job, err := exposure.ParseJob([]byte(yaml))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(ctx, job, substance.Embedded(), plan.Options{Source: src, Exposure: opt})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A kit is planned as its fresh mix at the mixing ratio, and acts with the hazards of both parts until it has cured.
func TestKitAtItsRatio(t *testing.T) {
	p := makePlan(t, context.Background(), kitJob, resinKit(t), exposure.Options{})
	shares := map[string]float64{}
	for _, i := range p.Job.Products[0].Ingredients {
		v, single := i.Percent.Single()
		if !single {
			t.Errorf("%s is %v, want one number for exact parts", i.Name, i.Percent)
		}
		shares[i.CAS] = v
	}
	// 100 g resin with 15 % and 25 g hardener: 15/125, 85/125 and 25/125.
	for cas, want := range map[string]float64{"100-51-6": 12, "1675-54-3": 68, "2855-13-2": 20} {
		if got := shares[cas]; got < want-1e-6 || got > want+1e-6 {
			t.Errorf("%s is %g %% of the mix, want %g", cas, got, want)
		}
	}
	acting := p.Products[0].Acting().String()
	for _, want := range []string{"Skin Sens. 1", "Skin Corr. 1"} {
		if !strings.Contains(acting, want) {
			t.Errorf("the kit acts with %q, want %s among it", acting, want)
		}
	}
	if len(p.Heat()) != 1 || p.Heat()[0].PeakC < 25 {
		t.Errorf("heat of cure: %+v, want one curve that warms", p.Heat())
	}
}

// What was not assessed stands in the headline; a child in the next room is told of apart and gets no mask.
func TestHeadlineAndBystanders(t *testing.T) {
	p := makePlan(t, context.Background(), strings.Replace(kitJob, "surface: pool", "surface: pool", 1), resinKit(t), exposure.Options{})
	if len(p.NotAssessed) == 0 {
		t.Fatal("nothing is told as not assessed, though isophorone diamine has no limit")
	}
	if all := strings.Join(p.Headline, "\n"); !strings.Contains(all, "isophorone diamine") {
		t.Errorf("headline does not tell of isophorone diamine:\n%s", all)
	}
	if len(p.Bystanders) != 1 || !p.Bystanders[0].Child || len(p.Bystanders[0].Says) == 0 {
		t.Errorf("bystanders %+v, want the child with something said", p.Bystanders)
	}
	for _, e := range plan.Exposures(p.Job, p.Exposure, substance.Embedded()) {
		worker := p.Exposure.People[0]
		for _, x := range worker.Exposures {
			if x.Vapour == e.Name && e.Mean.V != x.TWA8.Worst()*x.PPMFactor {
				t.Errorf("%s: %g ppm, want the caster's %g", e.Name, e.Mean.V, x.TWA8.Worst()*x.PPMFactor)
			}
		}
	}
}

// A plan that was stopped is partial and says so first.
func TestStoppedPlanIsPartial(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	p := makePlan(t, ctx, strings.Replace(kitJob, "air_changes_per_hour: 0.5", "air_changes_per_hour: [0.2, 1]", 1), resinKit(t), exposure.Options{Samples: 1_000_000, Workers: 1, Progress: func(int, int) { cancel() }})
	if !p.Partial || !strings.HasPrefix(p.Headline[0], "Partial answer") {
		t.Errorf("partial %v, headline %q", p.Partial, p.Headline[0])
	}
	if u := p.Exposure.Uncertainty; u == nil || u.Samples == 0 || u.Samples >= u.Asked {
		t.Errorf("uncertainty %+v, want some but not all draws", u)
	}
	var text, page bytes.Buffer
	if err := errors.Join(p.WriteText(&text), p.WriteHTML(&page)); err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]string{"text": text.String(), "page": page.String()} {
		if !strings.Contains(s, "Partial answer") {
			t.Errorf("the %s does not say that it is partial", name)
		}
	}
}

// The page holds a drawing of every kind; JSON reads back with the same headline; nothing is called safe.
func TestFormsAgree(t *testing.T) {
	p := makePlan(t, context.Background(), string(exposure.ExampleYAML()), nil, exposure.Options{Samples: 100, Seed: 1})
	kinds := map[string]int{}
	for _, c := range p.Charts() {
		kinds[c.Kind]++
		if !strings.HasPrefix(c.SVG, "<svg") || c.Says == "" {
			t.Errorf("chart %s of %s is %q", c.Kind, c.About, c.SVG[:min(40, len(c.SVG))])
		}
	}
	for _, want := range []string{"share", "air", "vapours", "heat"} {
		if kinds[want] == 0 {
			t.Errorf("no chart of kind %s", want)
		}
	}
	var text, page, raw bytes.Buffer
	if err := errors.Join(p.WriteText(&text), p.WriteHTML(&page), p.WriteJSON(&raw)); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(page.String(), "<svg"); got != len(p.Charts()) {
		t.Errorf("%d drawings on the page, want %d", got, len(p.Charts()))
	}
	var back struct {
		Headline []string `json:"headline"`
	}
	if err := json.Unmarshal(raw.Bytes(), &back); err != nil || strings.Join(back.Headline, "|") != strings.Join(p.Headline, "|") {
		t.Errorf("JSON headline %v, error %v", back.Headline, err)
	}
	for _, h := range p.Headline {
		if !strings.Contains(text.String(), h) {
			t.Errorf("the text leaves out %q", h)
		}
	}
	if strings.Contains(strings.ToLower(text.String()), " safe ") {
		t.Error("the text calls something safe")
	}
}

// A missing product file, a ratio that does not fit and an unknown hazard are questions with the product's field.
func TestQuestions(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"no file", "file: resin.pdf", "file: other.pdf", "no such file"},
		{"ratio", `"100:25"`, `"100:25:3"`, "3 numbers for 2 parts"},
		{"ratio unreadable", `"100:25"`, `"much"`, "ratio"},
		{"hazard", "cure:", "hazards: [H999]\n    cure:", "H999"},
	} {
		t.Run(c.name, func(t *testing.T) {
			job, err := exposure.ParseJob([]byte(strings.Replace(kitJob, c.old, c.new, 1)))
			if err != nil {
				t.Fatal(err)
			}
			_, err = plan.Make(context.Background(), job, substance.Embedded(), plan.Options{Source: resinKit(t)})
			var field *exposure.FieldError
			if !errors.As(err, &field) || !strings.HasPrefix(field.Field, "products[0]") || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want products[0] and %q", err, c.want)
			}
		})
	}
	job, _ := exposure.ParseJob([]byte(kitJob))
	if _, err := plan.Make(context.Background(), job, substance.Embedded(), plan.Options{}); err == nil || !strings.Contains(err.Error(), plan.ErrNoSource.Error()) {
		t.Errorf("without a reader of files: %v", err)
	}
}

// Spraying asks for protection against mist and sanding for protection against dust, isocyanates in them by name.
func TestSprayAndSandReachTheProtection(t *testing.T) {
	p := makePlan(t, context.Background(), `
name: Spray and flatten
jurisdiction: us
products:
  - name: two-pack
    ingredients:
      - {name: xylene, cas: 1330-20-7, percent: "20-30"}
      - {name: HDI oligomers, cas: 28182-81-2, percent: "40-60"}
      - {name: hexamethylene diisocyanate, cas: 822-06-0, percent: "0.1-0.3"}
rooms: [{name: bay, volume_m3: 200, floor_m2: 60, air_changes_per_hour: 6, near_field: {radius_m: 0.8}}]
tasks:
  - {name: coat, kind: spray, room: bay, start_min: 0, duration_min: 30, product: two-pack, surface: spray, gun: air, amount_g: 500, area_m2: 3}
  - {name: flatten, kind: sand, room: bay, start_min: 300, duration_min: 30, product: two-pack}
people: [{name: Tomasz, stays: [{room: bay, near: true, from_min: 0, until_min: 40}, {room: bay, near: true, from_min: 300, until_min: 330}]}]
`, nil, exposure.Options{})
	kinds := map[protect.Task]int{}
	isocyanate := false
	for _, e := range plan.Exposures(p.Job, p.Exposure, substance.Embedded()) {
		kinds[e.Task]++
		isocyanate = isocyanate || e.CAS == "28182-81-2" && e.Task == protect.MistTask
	}
	if kinds[protect.MistTask] == 0 || kinds[protect.DustTask] == 0 || !isocyanate {
		t.Errorf("exposures by task %v, isocyanate in the mist: %v", kinds, isocyanate)
	}
	var text bytes.Buffer
	if err := p.WriteText(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"coat: mist, rough", "flatten: dust, rough", "brush, roll or dip instead of spraying", "sand wet, or with a tool whose dust is drawn off", "people with asthma"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the plan lacks %q", want)
		}
	}
	for _, m := range p.Protection.Measures {
		if m.Kind == protect.Breathing && strings.Contains(m.What, "filter ") && strings.Contains(m.What, "assigned factor") {
			t.Errorf("a filter mask is advised against isocyanate spray: %q", m.What)
		}
	}
}

// "H336" stands for the narcotic effect alone: no second, undivided entry stands beside it.
func TestStatementOfOneEffect(t *testing.T) {
	p := makePlan(t, context.Background(), strings.Replace(kitJob, "cure:", "hazards: [H336, H317]\n    cure:", 1), resinKit(t), exposure.Options{})
	if got := p.Products[0].Acting().String(); !strings.Contains(got, "STOT SE 3 narcotic") || strings.Contains(got, "STOT SE 3;") {
		t.Errorf("acting on %q", got)
	}
}

// The plan in short says nothing that the measures and figures do not hold.
func TestBriefComesFromThePlan(t *testing.T) {
	p := makePlan(t, t.Context(), kitJob, resinKit(t), exposure.Options{})
	var said []string
	for _, l := range p.Brief() {
		if l.About == "" || len(l.Says) == 0 {
			t.Errorf("an empty line about %q", l.About)
		}
		said = append(said, l.Says...)
	}
	for _, m := range p.Protection.Measures {
		if k := m.Kind; m.Code == "" && (k == protect.Eyes || k == protect.Ventilate || k == protect.KeepAway || k == protect.FirstAid) && !slices.Contains(said, m.What) {
			t.Errorf("%q is not in the short plan", m.What)
		}
		if m.Code != "" && slices.Contains(said, m.What) {
			t.Errorf("%q stands among our own measures", m.What)
		}
	}
	for _, r := range p.Exposure.Rooms {
		if !slices.ContainsFunc(said, func(s string) bool { return strings.HasPrefix(s, r.Name+", before it is used again") }) {
			t.Errorf("nothing is said about using %s again", r.Name)
		}
	}
	for _, g := range p.Protection.Gloves.Ask {
		if slices.Contains(p.Protection.Gloves.Splash, g) {
			t.Errorf("%s is asked for and refused", g)
		}
	}
	l := p.Protection.Listing()
	n := 0
	for _, g := range l.Groups {
		n += len(g.Own) + len(g.Words)
		for _, m := range g.Own {
			if l.Sources[m.Number-1] != m.Source {
				t.Errorf("%q has source %d, which is another", m.What, m.Number)
			}
		}
	}
	if n != len(p.Protection.Measures) {
		t.Errorf("%d of %d measures are listed", n, len(p.Protection.Measures))
	}
}
