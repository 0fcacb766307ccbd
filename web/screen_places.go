package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"sixteen/shelf"
)

// placesView is what stands where, against the limits, and what must not stand together.
type placesView struct {
	Warnings []string
	Rows     []placeRow
	New      placeForm
	Sorts    []string
	Around   []optionView
	Classes  []pair
	Example  string
	Source   string
	Paging   pagingView
}

type placeRow struct {
	placeForm
	About      string
	Totals     []totalView
	Neighbours []neighbourView
	More       int // pairs of neighbours that are not shown
	Amounts    int // how many amounts stand there
}

// placeForm is a place as its form shows it.
type placeForm struct {
	ID, Name, Sort, Within, Limits, Note string
	Version                              int64
}

type totalView struct {
	Class, Held, Limit, Note string
	Percent                  int
	Over                     bool
}

type neighbourView struct{ A, B, Why, Source string }

type stockView struct{ ID, Product, Name, Place, PlaceName, Amount, Container, Expires, Note string }

func showPlaces(a *App, v *visit) error {
	held, err := a.stored(v.ctx())
	if err != nil {
		return err
	}
	view := placesView{New: placeForm{Sort: string(shelf.Room)}, Example: "flammable liquids, categories 1 to 3; 50; l; letter of the insurer",
		Source: "Classes of flammable liquids as in 29 CFR 1910.106; what is kept apart, by the table of HSE HSG71 (from memory) and what is said beside each row. Limits are those that you set: which hold for you stands in your law and your insurer's letter."}
	for _, s := range shelf.PlaceSorts() {
		view.Sorts = append(view.Sorts, string(s))
	}
	for _, c := range shelf.StorageClasses() {
		view.Classes = append(view.Classes, pair{string(c), "write it so in a limit"})
	}
	within := map[string]string{}
	for _, t := range held {
		within[t.Place.ID] = t.Place.Name
		view.Around = append(view.Around, optionView{t.Place.ID, t.Place.Name})
	}
	from := min(partOf(v.r).Offset/perPage*placesPerPage, len(held))
	view.Paging = pagingBy(v.r.URL, len(held), from, placesPerPage)
	for i, t := range held {
		for _, h := range t.Held {
			if h.Over {
				total := totalOf(h)
				view.Warnings = append(view.Warnings, fmt.Sprintf("%s: more %s than the limit that was set. Held: %s. Limit: %s.", t.Place.Name, total.Class, total.Held, total.Limit))
			}
		}
		if i < from || i >= from+placesPerPage {
			continue
		}
		view.Rows = append(view.Rows, placeOf(t, within))
	}
	if more := len(view.Warnings) - mostWarnings; more > 0 {
		view.Warnings = append(view.Warnings[:mostWarnings], plural(more, "other limit is", "other limits are")+" exceeded: see each place.")
	}
	return a.show(v, http.StatusOK, screen{title: "Places", here: "places", name: "places", value: view})
}

// Bounds of the page of places, so that its weight does not grow with the workshop.
const (
	placesPerPage = 15
	mostWarnings  = 30
)

// placesAt is the address of a place on its page of the places.
func (a *App) placesAt(ctx context.Context, id string) (string, error) {
	held, err := a.stored(ctx)
	if err != nil {
		return "", err
	}
	i := slices.IndexFunc(held, func(t shelf.PlaceTotals) bool { return t.Place.ID == id })
	if i < placesPerPage {
		return "/places#p-" + id, nil
	}
	return fmt.Sprintf("/places?page=%d#p-%s", i/placesPerPage+1, id), nil
}

// stored is the totals of every place.
func (a *App) stored(ctx context.Context) ([]shelf.PlaceTotals, error) {
	seq, err := a.shelf.Seq(ctx)
	if err != nil {
		return nil, err
	}
	return a.storage.of(seq, "", func() ([]shelf.PlaceTotals, error) { return a.shelf.Storage(ctx) })
}

// mostNeighbours is how many pairs are shown of one place.
const mostNeighbours = 12

func amountWords(s shelf.Stock) string {
	if s.Amount == nil {
		return "an unknown amount"
	}
	return strconv.FormatFloat(*s.Amount, 'f', -1, 64) + " " + s.Unit
}

func placeOf(t shelf.PlaceTotals, names map[string]string) placeRow {
	row := placeRow{placeForm: formOfPlace(t.Place), About: string(t.Place.Sort), Amounts: t.Amounts}
	if t.Place.Within != "" {
		row.About += " in " + names[t.Place.Within]
	}
	if t.NoSheet > 0 {
		row.About += "; " + plural(t.NoSheet, "product has", "products have") + " no sheet, so what it is made of is not counted"
	}
	for _, h := range t.Held {
		row.Totals = append(row.Totals, totalOf(h))
	}
	row.More = max(0, len(t.Neighbours)-mostNeighbours) + t.MoreNeighbours
	for _, n := range t.Neighbours[:min(len(t.Neighbours), mostNeighbours)] {
		source := n.Source
		if n.Recalled {
			source += " (from memory)"
		}
		why := n.Why
		if means := shelf.OutcomeMeans(n.Outcome); means != "" {
			why += ". " + n.Outcome + ": " + means + "."
		}
		row.Neighbours = append(row.Neighbours, neighbourView{n.NameA, n.NameB, why, source})
	}
	return row
}

func totalOf(h shelf.Held) totalView {
	v := totalView{Class: string(h.Class), Held: number(h.Amount) + " " + h.Unit + " of " + plural(h.Products, "product", "products")}
	var notes []string
	if h.Unknown > 0 {
		notes = append(notes, plural(h.Unknown, "amount is", "amounts are")+" not known")
	}
	if h.Unconverted > 0 {
		notes = append(notes, plural(h.Unconverted, "amount", "amounts")+" could not be converted: the sheet gives no density")
	}
	if len(notes) > 0 {
		v.Note = "at least; " + strings.Join(notes, "; ")
	}
	if h.Limit == nil {
		return v
	}
	v.Limit, v.Over = number(h.Limit.Most)+" "+h.Limit.Unit, h.Over
	if h.Limit.Source != "" {
		v.Limit += ", " + h.Limit.Source
	}
	if h.Limit.Most > 0 {
		v.Percent = int(100*h.Amount/h.Limit.Most + 0.5)
	}
	if h.MayBeOver {
		v.Note += "; may be over the limit"
	}
	return v
}

func formOfPlace(p shelf.Place) placeForm {
	f := placeForm{ID: p.ID, Name: p.Name, Sort: string(p.Sort), Within: p.Within, Note: p.Note, Version: p.Version}
	var lines []string
	for _, l := range p.Limits {
		lines = append(lines, strings.TrimRight(fmt.Sprintf("%s; %s; %s; %s", l.Class, strconv.FormatFloat(l.Most, 'f', -1, 64), l.Unit, l.Source), "; "))
	}
	f.Limits = strings.Join(lines, "\n")
	return f
}

// keepPlace keeps a new or a changed place.
func keepPlace(a *App, v *visit) error {
	p := shelf.Place{}
	id := v.r.PathValue("id")
	if id != "" {
		var err error
		if p, err = a.shelf.Place(v.ctx(), id); err != nil {
			return err
		}
		p.Version, _ = strconv.ParseInt(v.form("version"), 10, 64) // no number is version 0, a conflict
	}
	p.Name, p.Sort, p.Within, p.Note = v.form("name"), shelf.PlaceSort(v.form("sort")), v.form("within"), v.form("note")
	var err error
	if p.Limits, err = limitsOf(v.form("limits")); err != nil {
		return err
	}
	if id == "" {
		p, err = a.shelf.AddPlace(v.ctx(), v.by(), p)
	} else {
		p, err = a.shelf.EditPlace(v.ctx(), v.by(), p)
	}
	if err != nil {
		return err
	}
	at, err := a.placesAt(v.ctx(), p.ID)
	if err != nil {
		return err
	}
	return v.see(at, p.Name+" is kept.")
}

// limitsOf reads limits, one per line: class; most; unit; source.
func limitsOf(text string) ([]shelf.Limit, error) {
	var out []shelf.Limit
	for _, line := range linesOf(text) {
		parts := strings.SplitN(line, ";", 4)
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		if len(parts) < 3 || !slices.Contains(shelf.StorageClasses(), shelf.StorageClass(parts[0])) {
			return nil, refused(fmt.Sprintf("“%s” is no limit. Write class; most; unit; source, with a class of the list below, such as flammable liquids; 50; l; letter of the insurer.", line))
		}
		n, err := strconv.ParseFloat(strings.ReplaceAll(parts[1], ",", "."), 64)
		if err != nil {
			return nil, refused(fmt.Sprintf("“%s” in “%s” is no number.", parts[1], line))
		}
		l := shelf.Limit{Class: shelf.StorageClass(parts[0]), Most: n, Unit: parts[2]}
		if len(parts) == 4 {
			l.Source = parts[3]
		}
		out = append(out, l)
	}
	return out, nil
}
