package protect

import (
	"fmt"
	"slices"
	"strings"
)

// Resistance is one row held of a glove material against a substance. Minutes are given only where a test was read, and
// then only beside the standard of that test.
type Resistance struct {
	CAS, Chemical, Material string
	Poor                    bool
	Text                    string // what may be shown, with its caveat
	Source                  Source
}

// Resistances lists what is held against a substance by CAS number.
func Resistances(cas string) []Resistance {
	var out []Resistance
	for _, g := range embedded().gloves {
		if cas != "" && g.CAS == cas {
			out = append(out, Resistance{CAS: g.CAS, Chemical: g.Chemical, Material: g.Material, Poor: g.poor(), Text: g.text(), Source: g.Source})
		}
	}
	return out
}

// poor tells whether the row speaks against the material: a fair or poor rating, or breakthrough within an hour.
func (g gloveRow) poor() bool {
	return slices.Contains([]string{"P", "F", "poor"}, g.Rating) || g.MinMinutes > 0 && g.MinMinutes < 60
}

const glovesCaveat = "other makers and thicknesses differ up to tenfold"

// text is what may be shown of a row.
func (g gloveRow) text() string {
	if g.Source.Memory {
		words := map[string]string{"VG": "rated very good", "G": "rated good", "F": "rated fair", "P": "rated poor", "R": "recommended for long contact"}
		return fmt.Sprintf("%s: %s, from memory, check the maker's chart", g.Material, words[g.Rating])
	}
	if g.MinMinutes == 0 && g.MaxMinutes == 0 {
		return fmt.Sprintf("%s: %s (%s)", g.Material, g.Rating, g.Test)
	}
	thickness := "thickness not stated"
	if g.ThicknessMM != "" {
		thickness = g.ThicknessMM + " mm"
	}
	minutes := fmt.Sprintf("%g minutes or more", g.MinMinutes)
	if g.MaxMinutes > 0 {
		minutes = fmt.Sprintf("%g to %g minutes", g.MinMinutes, g.MaxMinutes)
	}
	return fmt.Sprintf("%s: %s in one test (%s, %s, maker not stated; %s)", g.Material, minutes, g.Test, thickness, glovesCaveat)
}

// Level is the performance level of EN ISO 374-1 for a breakthrough time in minutes: 1 above 10 minutes … 6 above 480; 0 for
// less.
func Level(minutes float64) int {
	n := 0
	for _, l := range embedded().levels {
		if strings.HasPrefix(l.Level, "level ") && minutes > l.Value {
			n++
		}
	}
	return n
}

// gloves are the measures for hands. The stricter part of a kit counts: a material is named only when no row held speaks
// against it for any ingredient of any part.
func gloves(j Job) []Measure {
	if !touchable(j) {
		return nil
	}
	good, bad, unknown := materials(j)
	var out []Measure
	for _, m := range good {
		out = append(out, Measure{Kind: Hands, What: "glove material to ask the maker for: " + m.material + "; " + strings.Join(m.texts, "; "),
			Why: m.why(), Source: m.source})
	}
	for _, m := range bad {
		out = append(out, Measure{Kind: Hands, What: "not for more than a splash: " + m.material, Why: strings.Join(m.texts, "; "), Source: m.source})
	}
	if len(unknown) > 0 {
		out = append(out, Measure{Kind: Hands, What: "ask the maker of the gloves for breakthrough times (EN 16523-1 or ASTM F739) against " + strings.Join(unknown, ", "),
			Why: "no resistance test of these is held: until then change gloves at once after a splash", Source: commonPractice("gloves by tested breakthrough time")})
	}
	return append(out, gloveRules(j)...)
}

// Gloves are the materials of a plan in short. The measures of kind Hands hold why and from where.
type Gloves struct {
	Ask     []string `json:"ask,omitempty"`     // to ask the maker for: nothing held speaks against them
	Splash  []string `json:"splash,omitempty"`  // something held speaks against more than a splash
	Unknown []string `json:"unknown,omitempty"` // ingredients nothing is held for
	Memory  bool     `json:"memory,omitempty"`  // a row behind Ask or Splash is from memory
}

func glovesFor(j Job) Gloves {
	if !touchable(j) {
		return Gloves{}
	}
	good, bad, unknown := materials(j)
	g := Gloves{Unknown: unknown}
	for _, m := range good {
		g.Ask, g.Memory = append(g.Ask, m.material), g.Memory || m.source.Memory
	}
	for _, m := range bad {
		g.Splash, g.Memory = append(g.Splash, m.material), g.Memory || m.source.Memory
	}
	return g
}

// touchable tells whether the skin needs gloves at all: any health hazard, or ingredients with unknown hazards.
func touchable(j Job) bool { return !j.Hazards.Empty() || len(j.Ingredients) > 0 }

type materialView struct {
	material string
	texts    []string
	without  []string // ingredients with no row for this material
	poor     bool
	source   Source
}

// why tells what stands behind a material, and for which ingredients nothing does.
func (m materialView) why() string {
	if len(m.without) == 0 {
		return "nothing held speaks against it for any ingredient"
	}
	return "nothing held speaks against it; nothing at all is held for " + strings.Join(m.without, ", ")
}

// materials sorts the materials held into those nothing speaks against and those something does, and lists the ingredients
// no row is held for.
func materials(j Job) (good, bad []materialView, unknown []string) {
	var views []*materialView
	view := func(name string) *materialView {
		for _, v := range views {
			if v.material == name {
				return v
			}
		}
		views = append(views, &materialView{material: name})
		return views[len(views)-1]
	}
	for _, i := range j.Ingredients {
		rows := Resistances(i.CAS)
		if len(rows) == 0 {
			unknown = appendNew(unknown, i.name())
		}
		for _, r := range rows {
			v := view(r.Material)
			v.texts = append(v.texts, i.name()+", "+r.Text)
			v.poor = v.poor || r.Poor
			v.source.Memory = v.source.Memory || r.Source.Memory
			v.source.Text = strings.Join(appendNew(strings.Split(v.source.Text, "; "), r.Source.Text), "; ")
			v.source.Text = strings.TrimPrefix(v.source.Text, "; ")
		}
	}
	for _, v := range views {
		for _, i := range j.Ingredients {
			if !slices.ContainsFunc(Resistances(i.CAS), func(r Resistance) bool { return r.Material == v.material }) {
				v.without = appendNew(v.without, i.name())
			}
		}
		if v.poor {
			bad = append(bad, *v)
		} else if v.material != "chemical protective gloves (three types)" && len(v.without) < len(j.Ingredients) {
			good = append(good, *v)
		}
	}
	slices.SortStableFunc(good, func(a, b materialView) int { return len(a.without) - len(b.without) })
	return good[:min(len(good), 3)], bad, unknown
}

// gloveRules hold for every glove.
func gloveRules(j Job) []Measure {
	out := []Measure{
		{Kind: Hands, What: "disposable gloves are for splashes only: off and replaced at the first splash, never for dipping or wiping",
			Why: "thin gloves let many substances through within minutes", Source: commonPractice("disposable gloves")},
		{Kind: Hands, What: "change by the maker's breakthrough time for this very glove, divided by three, counted from first contact",
			Why: "moving hands shorten breakthrough, by up to a third on average and more", Source: Source{Text: "Chemical resistance of disposable nitrile gloves exposed to simulated movement, J. Occup. Environ. Hyg. 2012, and NIOSHTIC 20044027 (use at least a factor 3)"}},
		{Kind: Hands, What: "buy gloves marked EN ISO 374-1 type A or B, or with ASTM F739 data, and note maker, model and thickness",
			Why: "gloves of one material but other makers differed tenfold in one study", Source: Source{Text: "public summaries of EN ISO 374-1:2016; study of generic nitrile and neoprene gloves by maker (abstract)"}},
	}
	parts := []string{}
	for _, i := range j.Ingredients {
		if i.Part != "" {
			parts = appendNew(parts, i.Part)
		}
	}
	if len(parts) > 1 {
		out = append(out, Measure{Kind: Hands, What: "one glove for the whole kit: it must stand " + strings.Join(parts, " and "),
			Why: "while mixing, the hands meet every part; the stricter one counts", Source: commonPractice("two-part systems")})
	}
	return out
}
