package exposure

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Particles is the mist of a spraying task or the dust of a sanding task. The figures are rough: two published ends, no
// middle. Concentrations are of total particles where the person works, mg/m³, while the task lasts.
type Particles struct {
	Task     string    `json:"task"`
	Kind     string    `json:"kind"` // mist, dust
	Product  string    `json:"product,omitempty"`
	Known    bool      `json:"known"`
	LowMgM3  float64   `json:"low_mg_m3"`
	HighMgM3 float64   `json:"high_mg_m3"`
	Minutes  float64   `json:"minutes"`
	Holds    []Content `json:"holds,omitempty"` // what the particles consist of, by the ingredients that stay
	Named    []string  `json:"named,omitempty"` // what is worse than dust in itself: crystalline silica, isocyanate, uncured amine
	Basis    string    `json:"basis"`           // where the ends come from, or why there are none
}

// Content is one ingredient of the particles, as a share of them.
type Content struct {
	Name string  `json:"name"`
	CAS  string  `json:"cas,omitempty"`
	Low  float64 `json:"low_share"`
	High float64 `json:"high_share"`
}

//go:embed spray.csv
var sprayCSV string

type transfer struct {
	gun       string
	low, high float64
	source    string
}

var transfers = sync.OnceValue(func() []transfer {
	rows, err := csv.NewReader(strings.NewReader(sprayCSV)).ReadAll()
	if err != nil {
		panic("exposure: spray.csv: " + err.Error()) // embedded; a test reads every row
	}
	var out []transfer
	for _, r := range rows[1:] {
		low, err1 := strconv.ParseFloat(r[1], 64)
		high, err2 := strconv.ParseFloat(r[2], 64)
		if err1 != nil || err2 != nil {
			panic("exposure: spray.csv: " + r[0])
		}
		out = append(out, transfer{r[0], low, high, r[3]})
	}
	return out
})

// Guns lists the spray guns that a transfer efficiency is held for.
func Guns() []string {
	var out []string
	for _, t := range transfers() {
		out = append(out, t.gun)
	}
	return out
}

// TransferOf is the share of a spray that lands on the work, low and high, with its source. ok is false for guns not held.
func TransferOf(gun string) (low, high float64, source string, ok bool) {
	for _, t := range transfers() {
		if t.gun == gun {
			return t.low, t.high, t.source, true
		}
	}
	return 0, 0, "", false
}

// lands is the share of a spray task that gets on to the surface: as stated, or the low end of its gun.
func (t Task) lands() float64 {
	if t.TransferEfficiency > 0 {
		return t.TransferEfficiency
	}
	low, _, _, _ := TransferOf(t.Gun)
	return low
}

// Short-term total dust of sanding filler and paint on cars, and of sanding and grinding glass fibre with epoxy, mg/m³.
const (
	dustLow, dustHigh           = 2.0, 170.0
	dustDrawnLow, dustDrawnHigh = 0.22, 1.2
	dustSource                  = "short-term total dust of workers: 2 to 170 mg/m³ without and 0.22 to 1.2 mg/m³ with extraction at the sander (AIHA Journal 55 (1994) 756, abstract); 2.2 to 51 mg/m³ for glass fibre with epoxy (AIHA Journal 59 (1998) 689, abstract)"
	mistSource                  = "all overspray stays in the air at the high end; the low end is a third of what the better transfer leaves, the spread between a like model and measurements (Ann. Occup. Hyg. 46 (2002) 103, abstract); droplets that fall out are not counted"
)

// particleTasks estimates the particles of every task that sprays or sands.
func (p *plan) particleTasks(mid, high values) []Particles {
	var out []Particles
	for i, t := range p.job.Tasks {
		switch {
		case t.Kind == "sand":
			out = append(out, p.dust(t))
		case t.Surface == Spray || t.Kind == "spray":
			out = append(out, p.mist(i, mid, high))
		}
	}
	return out
}

func (p *plan) dust(t Task) Particles {
	d := Particles{Task: t.Name, Kind: "dust", Product: t.Product, Minutes: t.DurationMin, Known: true, LowMgM3: dustLow, HighMgM3: dustHigh, Basis: dustSource}
	switch {
	case t.Wet:
		d.Known, d.LowMgM3, d.HighMgM3, d.Basis = false, 0, 0, "no published figure for wet sanding of resin was found"
	case t.Extraction:
		d.LowMgM3, d.HighMgM3 = dustDrawnLow, dustDrawnHigh
	}
	p.contents(&d)
	return d
}

// mist is the near-field concentration of overspray that stays: G/Q + G/β, with G/Q never above what has been released into
// the room.
func (p *plan) mist(task int, mid, high values) Particles {
	t := p.job.Tasks[task]
	m := Particles{Task: t.Name, Kind: "mist", Product: t.Product, Minutes: t.DurationMin, Known: true, Basis: mistSource}
	product, ok := p.job.product(t.Product)
	if !ok {
		m.Known, m.Basis = false, "which product is sprayed is not stated"
		return m
	}
	low, top := t.TransferEfficiency, t.TransferEfficiency
	if low == 0 {
		source := ""
		low, top, source, _ = TransferOf(t.Gun)
		m.Basis = source + "; " + m.Basis
	}
	stays := func(v values) float64 {
		sum := 0.0
		for i, share := range v.share[product] {
			if p.blends[product].vapour[i] < 0 {
				sum += share
			}
		}
		return sum
	}
	m.LowMgM3 = p.overspray(task, mid, (1-top)*stays(mid)) / 3
	m.HighMgM3 = p.overspray(task, high, (1-low)*math.Max(stays(high), stays(mid)))
	p.contents(&m)
	return m
}

// overspray is the concentration at the work at the end of a task of which share stays in the air as particles, mg/m³.
func (p *plan) overspray(task int, v values, share float64) float64 {
	t := p.job.Tasks[task]
	room := p.roomOf(t)
	rate := 1000 * v.amount[task] * share / t.DurationMin
	far := rate * t.DurationMin / v.volume[room]
	if air := math.Max(v.supply[room], v.exhaust[room]); air > 0 {
		far = math.Min(far, rate/air)
	}
	nf := p.job.Rooms[room].NearField
	if nf == nil {
		return far
	}
	beta := v.beta[room]
	if beta == 0 {
		beta, _ = NearFieldHalfSphere(nf.RadiusM, 60*v.speed[room])
	}
	return (1 - nf.CaptureShare) * (far + rate/beta)
}

// contents fills what the particles consist of: each ingredient that gives no vapour, as a share of all that stay.
func (p *plan) contents(d *Particles) {
	product, ok := p.job.product(d.Product)
	if !ok {
		d.Named = append(d.Named, "what is in it is not known: no product is named")
		return
	}
	b, least := &p.blends[product], 0.0
	for i := range b.lo {
		if b.vapour[i] < 0 {
			least += b.lo[i]
		}
	}
	for i, ing := range p.job.Products[product].Ingredients {
		if word := worseThanDust(ing, d.Kind, p.family(ing.CAS)); word != "" {
			d.Named = append(d.Named, word)
		}
		if b.vapour[i] >= 0 && d.Kind == "dust" {
			continue // gone as vapour, or bound by the cure
		}
		c := Content{Name: p.nameOf(ing), CAS: ing.CAS, Low: b.lo[i], High: 1}
		if least > 0 {
			c.High = math.Min(1, b.hi[i]/least)
		}
		d.Holds = append(d.Holds, c)
	}
}

func (p *plan) nameOf(ing Ingredient) string { return nameOf(ing, p.table) }

func (p *plan) family(cas string) string {
	if s, ok := p.table.ByCAS(cas); ok {
		return s.Family
	}
	return ""
}

// crystalline are the CAS numbers of quartz, cristobalite and tridymite.
func crystalline() []string { return []string{"14808-60-7", "14464-46-1", "15468-32-3"} }

// worseThanDust names an ingredient that makes mist or dust worse than its mass tells, "" for others.
func worseThanDust(ing Ingredient, kind, family string) string {
	name := strings.ToLower(ing.Name)
	switch {
	case slices.Contains(crystalline(), ing.CAS) || strings.Contains(name, "quartz") || strings.Contains(name, "cristobalite") || strings.Contains(name, "crystalline silica"):
		return "crystalline silica: " + ing.Name
	case strings.Contains(name, "silica") && ing.CAS == "":
		return ing.Name + ": whether it is crystalline is not stated"
	case family == "isocyanate" && kind == "dust":
		return "isocyanate that has not cured: " + ing.Name
	case family == "isocyanate":
		return "isocyanate: " + ing.Name
	case family == "amine hardener":
		return "amine hardener that has not cured: " + ing.Name
	}
	return ""
}

// Says is the estimate in words.
func (d Particles) Says() string {
	s := fmt.Sprintf("%s: %s is not assessed (%s)", d.Task, d.Kind, d.Basis)
	if d.Known {
		s = fmt.Sprintf("%s: %s, rough: %s to %s mg/m³ in all where the work is done", d.Task, d.Kind, Amount(d.LowMgM3), Amount(d.HighMgM3))
	}
	if len(d.Named) > 0 {
		s += "; in it: " + strings.Join(d.Named, "; ")
	}
	return s
}
