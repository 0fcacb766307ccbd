package exposure

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"
)

//go:embed bodies.csv
var bodiesCSV string

// Body is what an age group breathes and weighs, with the source of both.
type Body struct {
	Age          Age
	BreathingM3H float64
	BodyMassKg   float64
	Child        bool
	Source       string
	Memory       bool
}

// bodies are the rows of bodies.csv, read once.
var bodies = sync.OnceValue(func() []Body {
	rows, err := csv.NewReader(strings.NewReader(bodiesCSV)).ReadAll()
	if err != nil {
		panic("bodies.csv: " + err.Error())
	}
	var out []Body
	for _, r := range rows[1:] {
		rate, err1 := strconv.ParseFloat(r[1], 64)
		mass, err2 := strconv.ParseFloat(r[2], 64)
		if err1 != nil || err2 != nil {
			panic("bodies.csv: row " + r[0])
		}
		out = append(out, Body{Age: Age(r[0]), BreathingM3H: rate, BodyMassKg: mass, Child: r[3] == "yes", Source: r[4], Memory: r[5] == "yes"})
	}
	return out
})

// Bodies lists the age groups.
func Bodies() []Body { return append([]Body(nil), bodies()...) }

// Ages lists the names of the age groups.
func Ages() []Age {
	var out []Age
	for _, b := range bodies() {
		out = append(out, b.Age)
	}
	return out
}

// bodyOf is the body of a person: the age group's ("" is a worker), with the person's own figures over it.
func bodyOf(p Person) (Body, bool) {
	age := p.Age
	if age == "" {
		age = "worker"
	}
	for _, b := range bodies() {
		if b.Age == age {
			if p.BreathingM3H > 0 {
				b.BreathingM3H = p.BreathingM3H
			}
			if p.BodyMassKg > 0 {
				b.BodyMassKg = p.BodyMassKg
			}
			return b, true
		}
	}
	return Body{}, false
}
