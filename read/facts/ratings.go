package facts

import (
	"strings"

	"sixteen/read/layout"
	"sixteen/sheet"
)

type rateKey uint8

const (
	rateNone rateKey = iota
	rateHealth
	rateFire
	rateReact
	rateProtection
	rateSpecial
)

// rateLabels are the axes of 0–4 ratings.
var rateLabels = func() *phrases[rateKey] {
	p := &phrases[rateKey]{}
	p.add(rateHealth, `health|health hazard|sante|gesundheit|salud|h|health hazards|peligro para la salud|danger pour la sante|riesgos para la salud`)
	p.add(rateFire, `flammability|fire|fire hazard|inflammabilite|feu|incendie|entzundbarkeit|brandgefahr|inflamabilidad|incendio|f|flammability hazard|fuego|flammable`)
	p.add(rateReact, `reactivity|instability|physical hazard|physical hazards|physical|reactivite|instabilite|reaktivitat|reactividad|inestabilidad|peligro fisico|r|i|physical instability|stability|danger physique|peligros fisicos|physical reactivity|reactivity hazard|ph|p`)
	p.add(rateProtection, `personal protection|protection|ppe|ppi|personal protective equipment|protection personnelle|protection individuelle|proteccion personal|protective equipment|pp|personal protection index`)
	p.add(rateSpecial, `special|special hazards|specific hazard|special hazard|special notice|other|special notice key|unusual|speciaux|especial`)
	return p
}()

// systems are the names of rating systems as the trade uses them.
var systems = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("NFPA", `nfpa|nfpa 704|nfpa rating|nfpa hazard rating`)
	p.add("HMIS", `hmis|hmis iii|hmis rating|hmis r|hmis hazard rating|simd|wmis`)
	return p
}()

// readRatings finds 0–4 ratings anywhere in the sheet.
func (r *reader) readRatings() {
	all := r.all()
	var found []ratingDraft
	for k, i := range all {
		l := &r.lines[i]
		ts := tokenize(l.Text)
		sys, at, n := systems.find(ts)
		if n > 0 {
			d := r.ratingFrom(all, k, sys, ts[at].start, ts)
			if d.count() >= 2 {
				found = append(found, d)
			}
			continue
		}
		low := fold(l.Text)
		if strings.Contains(low, "hazard rating") || strings.Contains(low, "ratings") && len(low) < 60 {
			d := r.ratingBelow(all, k, "", 4)
			if d.count() >= 3 && !r.systemNear(all, k) {
				found = append(found, d)
			}
		}
	}
	for _, d := range found {
		if d.value.System == "" && len(found) > 1 {
			continue
		}
		if same := r.ratingOf(d.value.System); same != nil {
			continue
		}
		r.sheet.Ratings = append(r.sheet.Ratings, fact(d.value, sureTable, d.from...))
	}
}

func (r *reader) ratingOf(system string) *sheet.Fact[sheet.Rating] {
	for i := range r.sheet.Ratings {
		if r.sheet.Ratings[i].Value.System == system {
			return &r.sheet.Ratings[i]
		}
	}
	return nil
}

// systemNear tells whether a system is named within the next lines: then that line is read.
func (r *reader) systemNear(all []int, k int) bool {
	for _, j := range all[k:min(len(all), k+6)] {
		if _, _, n := systems.find(tokenize(r.lines[j].Text)); n > 0 {
			return true
		}
	}
	return false
}

type ratingDraft struct {
	value sheet.Rating
	from  []stretch
}

func newRating(system string) ratingDraft {
	return ratingDraft{value: sheet.Rating{System: system, Health: -1, Flammability: -1, Instability: -1}}
}

func (d *ratingDraft) count() int {
	n := 0
	for _, v := range []int{d.value.Health, d.value.Flammability, d.value.Instability} {
		if v >= 0 {
			n++
		}
	}
	return n
}

// set stores one axis; the first value counts.
func (d *ratingDraft) set(key rateKey, v int, chronic bool, where stretch) {
	var target *int
	switch key {
	case rateHealth:
		target = &d.value.Health
	case rateFire:
		target = &d.value.Flammability
	case rateReact:
		target = &d.value.Instability
	default:
		return
	}
	if *target >= 0 {
		return
	}
	*target = v
	if key == rateHealth && chronic {
		d.value.Chronic = true
	}
	d.from = append(d.from, where)
}

// ratingFrom reads the rating of a system named in the k-th line: in the same line, as a row under axis heads, or below.
func (r *reader) ratingFrom(all []int, k int, sys string, at int, ts []token) ratingDraft {
	l := &r.lines[all[k]]
	d := newRating(sys)
	r.axesIn(&d, l, at, nextSystem(ts, at, sys, len(l.Text)))
	if d.count() >= 2 {
		if d.count() < 3 || d.value.Protection == "" {
			r.axesBelow(&d, all, k, 3)
		}
		return d
	}
	if k > 0 { // heads above: "Health  Fire  Reactivity  PPI"
		if row := r.rowUnderHeads(all, k, sys); row.count() >= 2 {
			return row
		}
	}
	if drawn := r.drawnDigits(all, k, sys); drawn.count() == 3 {
		return drawn
	}
	own := d
	below := r.ratingBelow(all, k, sys, 8)
	if below.count() < 2 && own.count()+below.count() < 2 {
		return own
	}
	for _, axis := range []struct {
		key rateKey
		v   int
	}{{rateHealth, own.value.Health}, {rateFire, own.value.Flammability}, {rateReact, own.value.Instability}} {
		if axis.v >= 0 { // "NFPA health hazard: 2" and the others on lines below
			below.replace(axis.key, axis.v, own)
		}
	}
	return below
}

// replace puts the value that own read for an axis in the place of another.
func (d *ratingDraft) replace(key rateKey, v int, own ratingDraft) {
	switch key {
	case rateHealth:
		d.value.Health, d.value.Chronic = v, own.value.Chronic
	case rateFire:
		d.value.Flammability = v
	case rateReact:
		d.value.Instability = v
	}
	d.from = append(d.from, own.from...)
}

// drawnDigits reads the fields of a drawn diamond: lines below the name that hold nothing but single digits. The topmost
// is flammability, the leftmost health, the rightmost instability (NFPA 704, 2022, figure 4.3).
func (r *reader) drawnDigits(all []int, k int, sys string) ratingDraft {
	d := newRating(sys)
	type digit struct {
		v     int
		x, y  float64
		where stretch
	}
	var ds []digit
	for _, j := range all[min(k+1, len(all)):min(len(all), k+6)] {
		l := &r.lines[j]
		ts := tokenize(l.Text)
		plain := len(ts) > 0 && len(l.Text) < 16
		for _, t := range ts {
			if v, ok := rateDigit(t.text); ok {
				b := l.BoxOf(t.start, t.end)
				ds = append(ds, digit{v, (b.X0 + b.X1) / 2, (b.Y0 + b.Y1) / 2, stretch{l, t.start, t.end}})
			} else if len(t.text) > 3 {
				plain = false
			}
		}
		if !plain {
			for len(ds) > 0 && ds[len(ds)-1].where.line == l {
				ds = ds[:len(ds)-1]
			}
			break
		}
	}
	if len(ds) != 3 {
		return d
	}
	top, left, right := 0, 0, 0
	for i, x := range ds {
		if x.y < ds[top].y-1 {
			top = i
		}
		if x.x < ds[left].x {
			left = i
		}
		if x.x > ds[right].x {
			right = i
		}
	}
	if top == left || top == right || left == right {
		return d
	}
	d.set(rateHealth, ds[left].v, false, ds[left].where)
	d.set(rateFire, ds[top].v, false, ds[top].where)
	d.set(rateReact, ds[right].v, false, ds[right].where)
	return d
}

// nextSystem is where another system is named behind byte at, or the end.
func nextSystem(ts []token, at int, sys string, end int) int {
	for i := range ts {
		if ts[i].start <= at {
			continue
		}
		if s, n := systems.at(ts, i); n > 0 && s != sys {
			return ts[i].start
		}
	}
	return end
}

// axesIn reads "Health 2* Flammability 3 Physical hazard 0", "Health: 2", "2 - Health" in a stretch of a line.
func (r *reader) axesIn(d *ratingDraft, l *layout.Line, from, to int) {
	text := l.Text[from:to]
	ts := tokenize(text)
	for i := 0; i < len(ts); i++ {
		key, n := rateLabels.at(ts, i)
		if n == 0 || len(ts[i].text) == 1 && n == 1 && !strings.HasPrefix(strings.TrimLeft(text[ts[i].end:], " "), ":") && !strings.HasPrefix(strings.TrimLeft(text[ts[i].end:], " "), "=") && !nextDigit(text, ts[i].end) {
			continue
		}
		j := i + n
		i = j - 1
		if key == rateProtection {
			if j < len(ts) && d.value.Protection == "" && len(ts[j].text) == 1 {
				d.value.Protection = strings.ToUpper(ts[j].text)
			}
			continue
		}
		for skip := 0; j < len(ts) && skip < 3; skip++ {
			if v, ok := rateDigit(ts[j].text); ok {
				star := strings.HasPrefix(strings.TrimLeft(text[ts[j].end:], " "), "*") || strings.HasSuffix(strings.TrimRight(text[:ts[j].start], " "), "*")
				d.set(key, v, star, stretch{l, from + ts[j].start, from + ts[j].end})
				i = j
				break
			}
			if _, m := rateLabels.at(ts, j); m > 0 {
				break
			}
			j++
		}
	}
}

func nextDigit(s string, i int) bool {
	t := strings.TrimLeft(s[i:], " \t-")
	return t != "" && t[0] >= '0' && t[0] <= '4' && (len(t) == 1 || !isDigit(t[1]))
}

func rateDigit(s string) (int, bool) {
	if len(s) == 1 && s[0] >= '0' && s[0] <= '4' {
		return int(s[0] - '0'), true
	}
	return 0, false
}

// axesBelow reads axes from lines below that begin with one ("Flammability : 3 Serious Hazard").
func (r *reader) axesBelow(d *ratingDraft, all []int, k, most int) {
	for _, j := range all[min(k+1, len(all)):min(len(all), k+1+most)] {
		l := &r.lines[j]
		ts := tokenize(l.Text)
		if _, _, n := systems.find(ts); n > 0 {
			return
		}
		if len(ts) == 0 {
			continue
		}
		r.axesIn(d, l, 0, len(l.Text))
	}
}

// ratingBelow reads a rating from the lines below a name.
func (r *reader) ratingBelow(all []int, k int, sys string, most int) ratingDraft {
	d := newRating(sys)
	for n, j := range all[min(k+1, len(all)):min(len(all), k+1+most)] {
		l := &r.lines[j]
		ts := tokenize(l.Text)
		if s, _, m := systems.find(ts); m > 0 && s != sys {
			break
		}
		before := d.count()
		r.axesIn(&d, l, 0, len(l.Text))
		if d.count() == before && n > 3 && before == 0 {
			break
		}
		if d.count() == 3 && d.value.Protection != "" {
			break
		}
	}
	if d.count() == 0 { // heads below with a row of digits under them
		for n := k + 1; n < min(len(all)-1, k+4); n++ {
			if row := r.rowUnderHeads(all, n+1, sys); row.count() >= 2 {
				return row
			}
		}
	}
	return d
}

// rowUnderHeads reads a row of digits under a row of axis names, for example "NFPA 1 3 0" under "Health Fire Reactivity".
func (r *reader) rowUnderHeads(all []int, k int, sys string) ratingDraft {
	d := newRating(sys)
	l := &r.lines[all[k]]
	for back := 1; back <= 3 && k-back >= 0; back++ {
		h := &r.lines[all[k-back]]
		type axis struct {
			key rateKey
			x   float64
		}
		var axes []axis
		ts := tokenize(h.Text)
		for i := 0; i < len(ts); i++ {
			if key, n := rateLabels.at(ts, i); n > 0 && len(ts[i].text) > 1 {
				b := h.BoxOf(ts[i].start, ts[i+n-1].end)
				axes = append(axes, axis{key, (b.X0 + b.X1) / 2})
				i += n - 1
			}
		}
		if len(axes) < 2 {
			continue
		}
		for _, t := range tokenize(l.Text) {
			v, ok := rateDigit(t.text)
			letter := len(t.text) == 1 && !ok && t.text[0] >= 'a' && t.text[0] <= 'z'
			if !ok && !letter {
				continue
			}
			b := l.BoxOf(t.start, t.end)
			x := (b.X0 + b.X1) / 2
			best, near := -1, 60.0
			for i, a := range axes {
				if dist := abs(a.x - x); dist < near {
					best, near = i, dist
				}
			}
			if best < 0 {
				continue
			}
			if letter {
				if axes[best].key == rateProtection {
					d.value.Protection = strings.ToUpper(t.text)
				}
				continue
			}
			star := t.end < len(l.Text) && l.Text[t.end] == '*' || t.start > 0 && l.Text[t.start-1] == '*'
			d.set(axes[best].key, v, star, stretch{l, t.start, t.end})
		}
		if d.count() >= 2 {
			return d
		}
	}
	return d
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
