package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

// kitView is a product in parts: each part, the fresh mix, and what holds when it is cured and sanded.
type kitView struct {
	ID, Name, Ratio, Rule, Rules string
	Parts                        []kitPartView
	Wrong                        []string
	Done                         bool
	ActOn, Perhaps               []string
	Mix                          []classView
	Notes, Cured                 []string

	result *classify.KitClassification // nil when it could not be worked out
}

type kitPartView struct {
	ID, Name, Role, Share, Signal, State, Doubt string
	Symbols                                     []symbolView
	Classes                                     []string
}

func showKit(a *App, v *visit) error {
	k, err := a.shelf.Product(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return onShelf(err, "There is no such kit on this shelf.")
	}
	if len(k.Parts) == 0 {
		return v.see("/products/"+k.ID, "")
	}
	view, err := a.kitOf(v.ctx(), k)
	if err != nil {
		return err
	}
	return a.show(v, http.StatusOK, screen{title: k.Name, here: "shelf", name: "kit", value: view})
}

// kitOf works out a kit. A part without a sheet leaves the mix not known, and says so.
func (a *App) kitOf(ctx context.Context, k shelf.Product) (kitView, error) {
	view := kitView{ID: k.ID, Name: k.Name, Ratio: ratioOf(k)}
	basis := classify.ByMass
	if k.PartsBy == "volume" {
		basis = classify.ByVolume
	}
	kit := classify.Kit{Name: k.Name, Basis: basis}
	rules := k.RuleSet
	complete := true
	for _, p := range k.Parts {
		h, err := a.held(ctx, p.Product)
		if err != nil {
			return view, err
		}
		pv := kitPartView{ID: h.product.ID, Name: h.product.Name, Role: p.Role}
		if h.judged == nil {
			complete = false
			what, _ := h.without()
			pv.State, pv.Signal = what+": its hazards are not known.", "not known"
			view.Parts = append(view.Parts, pv)
			continue
		}
		if rules == "" {
			rules = h.judged.RuleSet
		}
		pv.Signal = judge.SignalShown(h.judged.Sheet.Hazards)
		if n := h.sheet.Contradictions; n > 0 {
			pv.Doubt = "Its sheet holds " + plural(n, "contradiction", "contradictions")
		}
		for _, g := range h.judged.Sheet.Hazards.Pictograms {
			if g.Known() && g.Value != ghs.NoPictogram {
				pv.Symbols = append(pv.Symbols, symbolOf(g.Value))
			}
		}
		view.Parts = append(view.Parts, pv)
		kit.Parts = append(kit.Parts, a.kitPart(h, p))
	}
	if !complete {
		view.Wrong = append(view.Wrong, "The fresh mix is not worked out: a part has no sheet that was read. Until then act on the worst that is known of any part, and on more.")
		return view, nil
	}
	result, err := kit.Classify(rules)
	if err != nil {
		view.Wrong = append(view.Wrong, sentence(err.Error()))
		return view, nil
	}
	view.fill(result, rules)
	view.result = result
	return view, nil
}

// Kit works out the fresh mix of a kit. It fails with what to do when a part has no sheet that was read.
func (a *App) Kit(ctx context.Context, id string) (*classify.KitClassification, error) {
	k, err := a.shelf.Product(ctx, id)
	if err != nil {
		return nil, onShelf(err, "There is no such kit on this shelf.")
	}
	if len(k.Parts) == 0 {
		return nil, refused("This product has no parts: it is used as it is bought.")
	}
	view, err := a.kitOf(ctx, k)
	if err == nil && view.result == nil {
		err = refused(strings.Join(view.Wrong, " "))
	}
	return view.result, err
}

func ratioOf(k shelf.Product) string {
	var parts []string
	for _, p := range k.Parts {
		parts = append(parts, strconv.FormatFloat(p.Parts, 'f', -1, 64))
	}
	return strings.Join(parts, " : ") + " by " + k.PartsBy
}

func (a *App) kitPart(h held, p shelf.Part) classify.Part {
	m, _ := audit.BuildMixture(h.judged.Sheet, a.desk.Substances(), h.judged.RuleSet)
	part := classify.Part{Name: h.product.Name, Mixture: m, Amount: sheet.Exactly(p.Parts)}
	if d := h.judged.Sheet.Physical.Quantities[sheet.Density]; len(d) > 0 && d[0].Known() && d[0].Value.HasLo && d[0].Value.HasHi {
		v := d[0].Value.Interval
		v.Lo, v.Hi = v.Lo/1000, v.Hi/1000
		part.DensityGML = v
	}
	return part
}

// fill takes over what was worked out.
func (v *kitView) fill(r *classify.KitClassification, rules ghs.RuleSet) {
	v.Done, v.Rule, v.Rules, v.Notes = true, r.Rule.Text, rules.Name(), r.Notes
	for i := range r.Kit.Parts {
		v.Parts[i].Share = shareShown(r.Fractions[i])
		for _, k := range judge.ConclusionsOf(r.Parts[i], &r.Kit.Parts[i].Mixture) {
			v.Parts[i].Classes = append(v.Parts[i].Classes, k.Hazard.Title(ghs.English)+" ("+k.Verdict+")")
		}
	}
	for _, h := range r.Rule.Certain.All() {
		v.ActOn = append(v.ActOn, h.Title(ghs.English)+". "+audit.CouldHappen(h))
	}
	for _, h := range r.Rule.Possible.Minus(r.Rule.Certain).All() {
		v.Perhaps = append(v.Perhaps, h.Title(ghs.English))
	}
	v.Mix = classesOf(judge.ConclusionsOf(r.Mix, &r.Program.Mixture))
	v.Cured = curedWords(r)
}

// shareShown is a share in percent with four digits, outwards.
func shareShown(v sheet.Interval) string {
	if v.Lo == v.Hi {
		return fmt.Sprintf("%.4g %%", v.Lo)
	}
	return fmt.Sprintf("%.4g to %.4g %%", v.Lo, v.Hi)
}

// curedWords is what holds once the mix is hard: common practice, since no rule of classification speaks of it.
func curedWords(r *classify.KitClassification) []string {
	out := []string{"Hard is not yet cured. Until the time that the maker states for full cure, treat the surface and its dust as the fresh mix (common practice).",
		"Sanding makes dust that reaches the lungs whatever it is made of, and dust of a part that was mixed or cured badly still holds what sensitises. Suck it off at the tool, keep others away, and wear what a plan of the job calls for (common practice)."}
	for _, h := range r.Rule.Certain.Union(r.Rule.Possible).All() {
		if h.Class() == ghs.SkinSensitisation || h.Class() == ghs.RespiratorySensitisation {
			return append(out, "This mix holds what can make people allergic for life. Somebody who has become allergic may react to traces in dust of the cured mix.")
		}
	}
	return out
}
