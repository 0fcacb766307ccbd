package web

import (
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"

	"sixteen/exposure"
	"sixteen/substance"
)

// jobForm is a job as the form shows it: every figure as it was typed, so that a wrong one comes back to be mended.
type jobForm struct {
	Name, Place, Shift, Fraction string
	Products                     []jobProduct
	Tasks                        []jobTask
	Rooms                        []jobRoom
	Doors                        []jobDoor
	Purges                       []jobPurge
	People                       []jobPerson
}

// jobProduct is a product of the job by its ID on the shelf, or by its name when the job describes it itself.
type jobProduct struct{ ID, Name string }

type jobTask struct {
	Number                                                                         int
	Name, Kind, Product, Room, Start, Lasts, Surface, Amount, Area, Covered, Lands string
}

type jobRoom struct {
	Number                                             int
	Name, Volume, Floor, Air, Temperature, Speed, Near string
}

type jobDoor struct {
	Number    int
	A, B, Air string
}

type jobPurge struct {
	Number                 int
	Room, From, Until, Air string
}

type jobPerson struct {
	Number           int
	Name, Age, Stays string
}

// newJob is a job to begin with: one step in one room. The figures are to be changed; none is a measurement.
func newJob() jobForm {
	f := jobForm{Name: "", Place: string(substance.EuropeanUnion), Shift: "8", Fraction: "0.5"}
	f.Tasks = []jobTask{{Name: "work", Kind: "brush", Room: "workroom", Start: "0", Lasts: "45", Surface: "film", Amount: "500", Area: "1"}}
	f.Rooms = []jobRoom{{Name: "workroom", Volume: "40", Floor: "16", Air: "0.3-1", Temperature: "18-24", Speed: "0.05-0.2", Near: "0.8"}}
	f.People = []jobPerson{{Name: "who works", Age: "adult", Stays: "workroom 0-45 near\nworkroom 45-105"}}
	f.numbered()
	return f
}

func (f *jobForm) numbered() {
	for i := range f.Tasks {
		f.Tasks[i].Number = i + 1
	}
	for i := range f.Rooms {
		f.Rooms[i].Number = i + 1
	}
	for i := range f.Doors {
		f.Doors[i].Number = i + 1
	}
	for i := range f.Purges {
		f.Purges[i].Number = i + 1
	}
	for i := range f.People {
		f.People[i].Number = i + 1
	}
}

// most bounds the rows of a form.
const most = 40

// parseJobForm reads the fields that a form sent.
func parseJobForm(q url.Values) jobForm {
	get := func(name string) string { return strings.TrimSpace(q.Get(name)) }
	f := jobForm{Name: get("name"), Place: get("place"), Shift: get("shift"), Fraction: get("fraction")}
	for i := range most {
		at := func(kind, name string) string { return get(fmt.Sprintf("%s.%d.%s", kind, i, name)) }
		has := func(kind, name string) bool { return q.Has(fmt.Sprintf("%s.%d.%s", kind, i, name)) }
		if has("product", "id") {
			f.Products = append(f.Products, jobProduct{at("product", "id"), at("product", "name")})
		}
		if has("task", "name") {
			f.Tasks = append(f.Tasks, jobTask{Name: at("task", "name"), Kind: at("task", "kind"), Product: at("task", "product"), Room: at("task", "room"), Start: at("task", "start"), Lasts: at("task", "lasts"),
				Surface: at("task", "surface"), Amount: at("task", "amount"), Area: at("task", "area"), Covered: at("task", "covered"), Lands: at("task", "lands")})
		}
		if has("room", "name") {
			f.Rooms = append(f.Rooms, jobRoom{Name: at("room", "name"), Volume: at("room", "volume"), Floor: at("room", "floor"), Air: at("room", "air"), Temperature: at("room", "temperature"), Speed: at("room", "speed"), Near: at("room", "near")})
		}
		if has("door", "air") {
			f.Doors = append(f.Doors, jobDoor{A: at("door", "a"), B: at("door", "b"), Air: at("door", "air")})
		}
		if has("purge", "air") {
			f.Purges = append(f.Purges, jobPurge{Room: at("purge", "room"), From: at("purge", "from"), Until: at("purge", "until"), Air: at("purge", "air")})
		}
		if has("person", "name") {
			f.People = append(f.People, jobPerson{Name: at("person", "name"), Age: at("person", "age"), Stays: get(fmt.Sprintf("person.%d.stays", i))})
		}
	}
	f.numbered()
	return f
}

// change adds or drops a row, as a button of the form asks ("add room", "drop task.2"). It tells whether it did anything.
func (f *jobForm) change(what string) bool {
	do, at, _ := strings.Cut(what, " ")
	kind, number, _ := strings.Cut(at, ".")
	i, _ := strconv.Atoi(number) // no number is 0
	switch {
	case do == "add":
		return f.addRow(kind)
	case do != "drop":
		return false
	case kind == "product":
		f.Products = without(f.Products, i)
	case kind == "task":
		f.Tasks = without(f.Tasks, i)
	case kind == "room":
		f.Rooms = without(f.Rooms, i)
	case kind == "door":
		f.Doors = without(f.Doors, i)
	case kind == "purge":
		f.Purges = without(f.Purges, i)
	case kind == "person":
		f.People = without(f.People, i)
	default:
		return false
	}
	f.numbered()
	return true
}

func (f *jobForm) addRow(kind string) bool {
	first := "workroom"
	if len(f.Rooms) > 0 {
		first = f.Rooms[0].Name
	}
	switch kind {
	case "task":
		last := jobTask{Kind: "brush", Surface: "film", Room: first, Start: "0", Lasts: "30"}
		if n := len(f.Tasks); n > 0 {
			last.Product = f.Tasks[n-1].Product
		}
		f.Tasks = append(f.Tasks, last)
	case "room":
		f.Rooms = append(f.Rooms, jobRoom{Name: fmt.Sprintf("room %d", len(f.Rooms)+1), Volume: "30", Air: "0.3-1"})
	case "product": // found by its words before
	case "door":
		f.Doors = append(f.Doors, jobDoor{A: first, Air: "0.2-1"})
	case "purge":
		f.Purges = append(f.Purges, jobPurge{Room: first, From: "60", Until: "120", Air: "5-10"})
	case "person":
		f.People = append(f.People, jobPerson{Name: fmt.Sprintf("person %d", len(f.People)+1), Age: "adult", Stays: first + " 0-60"})
	default:
		return false
	}
	f.numbered()
	return true
}

func without[T any](list []T, i int) []T {
	if i < 0 || i >= len(list) {
		return list
	}
	return slices.Delete(list, i, i+1)
}

// formOf is a kept job as the form shows it. ids are the products of the shelf by the names that the job uses.
func formOf(j *exposure.Job, ids map[string]string) jobForm {
	f := jobForm{Name: j.Name, Place: string(j.Jurisdiction), Shift: figure(j.ShiftHours), Fraction: "0.5"}
	for _, p := range j.Products {
		f.Products = append(f.Products, jobProduct{ID: ids[p.Name], Name: p.Name})
	}
	for _, t := range j.Tasks {
		f.Tasks = append(f.Tasks, jobTask{Name: t.Name, Kind: t.Kind, Product: t.Product, Room: t.Room, Start: figureOrZero(t.StartMin), Lasts: figureOrZero(t.DurationMin), Surface: string(t.Surface),
			Amount: typedRange(t.AmountG), Area: typedRange(t.AreaM2), Covered: figure(t.CoveredAtMin), Lands: figure(t.TransferEfficiency)})
	}
	for _, r := range j.Rooms {
		row := jobRoom{Name: r.Name, Volume: typedRange(r.VolumeM3), Floor: figure(r.FloorM2), Air: typedRange(r.AirChanges), Temperature: typedRange(r.TemperatureC), Speed: typedRange(r.AirSpeedMS)}
		if r.NearField != nil {
			row.Near = figure(r.NearField.RadiusM)
		}
		f.Rooms = append(f.Rooms, row)
	}
	for _, d := range j.Doors {
		if len(d.Between) == 2 {
			f.Doors = append(f.Doors, jobDoor{A: d.Between[0], B: d.Between[1], Air: typedRange(d.AirM3Min)})
		}
	}
	for _, p := range j.Purges {
		f.Purges = append(f.Purges, jobPurge{Room: p.Room, From: figureOrZero(p.FromMin), Until: figureOrZero(p.UntilMin), Air: typedRange(p.AirChanges)})
	}
	for _, p := range j.People {
		row := jobPerson{Name: p.Name, Age: string(p.Age)}
		var stays []string
		for _, s := range p.Stays {
			line := fmt.Sprintf("%s %s-%s", s.Room, figureOrZero(s.FromMin), figureOrZero(s.UntilMin))
			if s.Near {
				line += " near"
			}
			stays = append(stays, line)
		}
		row.Stays = strings.Join(stays, "\n")
		f.People = append(f.People, row)
	}
	f.numbered()
	return f
}

func figure(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func figureOrZero(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// typedRange is a range as a person types it.
func typedRange(r exposure.Range) string {
	switch {
	case !r.Given():
		return ""
	case !r.HasLo:
		return "<" + figureOrZero(r.Hi)
	case !r.HasHi:
		return ">=" + figureOrZero(r.Lo)
	case r.Lo == r.Hi:
		return figureOrZero(r.Lo)
	}
	return figureOrZero(r.Lo) + "-" + figureOrZero(r.Hi)
}

// reading turns what was typed into a job and collects what cannot be read, in words that name the field.
type formReading struct{ wrong []string }

func (q *formReading) number(label, text string) float64 {
	text = strings.ReplaceAll(text, ",", ".")
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		q.wrong = append(q.wrong, fmt.Sprintf("%s: “%s” is no number. Write it with digits, such as 12.5.", label, text))
	}
	return v
}

func (q *formReading) within(label, text string) exposure.Range {
	if text == "" {
		return exposure.Range{}
	}
	r, err := exposure.ParseRange(strings.ReplaceAll(text, ",", "."))
	if err != nil {
		q.wrong = append(q.wrong, fmt.Sprintf("%s: “%s” is no number or range: %v.", label, text, err))
	}
	return r
}

// stayLine is one stay: room, from, until, and near.
var stayLine = regexp.MustCompile(`^(.*?)[ \t]+([0-9.]+)[ \t]*[-–][ \t]*([0-9.]+)(?:[ \t]+(near))?$`)

func (q *formReading) stays(person, text string) []exposure.Stay {
	var out []exposure.Stay
	for _, line := range linesOf(text) {
		m := stayLine.FindStringSubmatch(line)
		if m == nil {
			q.wrong = append(q.wrong, fmt.Sprintf("%s: “%s” is no stay. Write room, from minute and until minute, and near when at the work: workroom 0-60 near.", person, line))
			continue
		}
		out = append(out, exposure.Stay{Room: m[1], FromMin: q.number(person, m[2]), UntilMin: q.number(person, m[3]), Near: m[4] != ""})
	}
	return out
}

// job is the job that the form describes, and what cannot be read of it. products are those of the form by their names;
// what the form does not show (heat of cure, exhaust, humidity) is taken over from base, which may be nil.
func (f jobForm) job(products []exposure.Product, base *exposure.Job) (*exposure.Job, []string) {
	q := &formReading{}
	j := &exposure.Job{}
	if base != nil {
		kept := *base
		j = &kept
		j.Products, j.Rooms, j.Doors, j.Purges, j.Tasks, j.People = nil, nil, nil, nil, nil, nil
	}
	j.Name, j.Jurisdiction, j.ShiftHours, j.EndMin = f.Name, substance.Jurisdiction(f.Place), q.number("Shift", f.Shift), 0
	j.Products = products
	for _, r := range f.Rooms {
		j.Rooms = append(j.Rooms, f.room(q, r, base))
	}
	for _, d := range f.Doors {
		j.Doors = append(j.Doors, exposure.Door{Between: []string{d.A, d.B}, AirM3Min: q.within(fmt.Sprintf("Door %d, air", d.Number), d.Air)})
	}
	for _, p := range f.Purges {
		label := fmt.Sprintf("Airing %d", p.Number)
		j.Purges = append(j.Purges, exposure.Purge{Room: p.Room, FromMin: q.number(label+", from", p.From), UntilMin: q.number(label+", until", p.Until), AirChanges: q.within(label+", fresh air", p.Air)})
	}
	for _, t := range f.Tasks {
		j.Tasks = append(j.Tasks, f.task(q, t))
	}
	for _, p := range f.People {
		person := exposure.Person{Name: p.Name, Age: exposure.Age(p.Age), Stays: q.stays(p.Name, p.Stays)}
		if base != nil {
			for _, old := range base.People {
				if old.Name == p.Name {
					person.BreathingM3H, person.BodyMassKg = old.BreathingM3H, old.BodyMassKg
				}
			}
		}
		j.People = append(j.People, person)
	}
	return j, q.wrong
}

func (f jobForm) room(q *formReading, r jobRoom, base *exposure.Job) exposure.Room {
	label := "Room " + r.Name
	out := exposure.Room{}
	if base != nil {
		for _, old := range base.Rooms {
			if old.Name == r.Name {
				out = old
			}
		}
	}
	out.Name, out.VolumeM3, out.FloorM2, out.AirChanges = r.Name, q.within(label+", volume", r.Volume), q.number(label+", floor", r.Floor), q.within(label+", fresh air", r.Air)
	out.TemperatureC, out.AirSpeedMS = q.within(label+", temperature", r.Temperature), q.within(label+", air speed", r.Speed)
	near := q.number(label+", air around the work", r.Near)
	switch {
	case near == 0:
		out.NearField = nil
	case out.NearField == nil:
		out.NearField = &exposure.NearField{RadiusM: near}
	default:
		kept := *out.NearField
		kept.RadiusM = near
		out.NearField = &kept
	}
	return out
}

func (f jobForm) task(q *formReading, t jobTask) exposure.Task {
	label := fmt.Sprintf("Step %d", t.Number)
	out := exposure.Task{Name: t.Name, Kind: t.Kind, Room: t.Room, StartMin: q.number(label+", begins", t.Start), DurationMin: q.number(label+", lasts", t.Lasts)}
	if t.Product == "" {
		return out
	}
	out.Product, out.Surface = t.Product, exposure.Surface(t.Surface)
	out.AmountG, out.AreaM2 = q.within(label+", amount", t.Amount), q.within(label+", wet area", t.Area)
	out.CoveredAtMin, out.TransferEfficiency = q.number(label+", covered", t.Covered), q.number(label+", share that lands", t.Lands)
	return out
}

// jobText is a job as its file: what exposure.ParseJob reads.
func jobText(j *exposure.Job) (string, error) {
	raw, err := yaml.MarshalWithOptions(j, yaml.CustomMarshaler(func(r exposure.Range) ([]byte, error) {
		if !r.Given() {
			return []byte("null"), nil
		}
		return []byte(strconv.Quote(typedRange(r))), nil
	}))
	return string(raw), err
}
