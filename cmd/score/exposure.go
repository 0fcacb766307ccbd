package main

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
)

// exposureCase is one worked example of exposure arithmetic.
type exposureCase struct {
	ID         string                    `json:"id"`
	Topic      string                    `json:"topic"`
	Source     exposureSource            `json:"source"`
	Inputs     map[string]exposureNumber `json:"inputs"`
	Expected   map[string]exposureNumber `json:"expected"`
	Tolerance  exposureTolerance         `json:"tolerance"`
	Kind       string                    `json:"measured_or_calculated"`
	Note       string                    `json:"note"`
	Recomputed json.RawMessage           `json:"recomputed"`
}

type exposureSource struct {
	Title   string          `json:"title"`
	Section string          `json:"section"`
	Year    json.RawMessage `json:"year"`
	URL     string          `json:"url"`
}

// exposureNumber is a value with its unit; a text value keeps its words and is no number.
type exposureNumber struct {
	Value json.RawMessage `json:"value"`
	Unit  string          `json:"unit"`
}

func (n exposureNumber) number() (float64, bool) {
	var v float64
	err := json.Unmarshal(n.Value, &v)
	return v, err == nil
}

type exposureTolerance struct {
	Relative *float64 `json:"relative"`
	Factor   *float64 `json:"factor"`
	Absolute *float64 `json:"absolute"`
	Unit     string   `json:"unit"`
}

// accepts tells whether got agrees with want, and says how in words. Relative 0 marks a qualitative figure: any model
// value is accepted as it is only printed beside it.
func (t exposureTolerance) accepts(got, want float64) (bool, string) {
	switch {
	case t.Relative != nil:
		return math.Abs(got-want) <= *t.Relative*math.Abs(want), fmt.Sprintf("within %g %%", 100**t.Relative)
	case t.Factor != nil:
		return got >= want / *t.Factor && got <= want**t.Factor, fmt.Sprintf("within a factor %g", *t.Factor)
	case t.Absolute != nil:
		return math.Abs(got-want) <= *t.Absolute, fmt.Sprintf("within %g %s", *t.Absolute, t.Unit)
	}
	return false, "no tolerance stated"
}

// run calculates the case and compares every expected number.
func (c exposureCase) run() (result, error) {
	r := result{ID: c.ID, RuleSet: c.Topic, Verdict: pass}
	if c.Source.Title == "memory" {
		r.RuleSet += ", example from memory"
	}
	calculate, ok := exposureTopics[c.Topic]
	if !ok {
		r.Verdict = notCovered
		r.Lines = []string{"no calculation for the topic " + c.Topic}
		if why, known := exposureElsewhere[c.Topic]; known {
			r.Lines = []string{why}
		}
		return r, nil
	}
	in := &exposureInputs{given: c.Inputs}
	out := calculate(in)
	if in.err != nil {
		return r, in.err
	}
	c.compare(&r, out)
	return r, nil
}

func (c exposureCase) compare(r *result, out map[string]float64) {
	names := make([]string, 0, len(c.Expected))
	for name := range c.Expected {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		want, isNumber := c.Expected[name].number()
		base, found := out[name]
		if !isNumber || !found {
			r.Verdict = notCovered
			r.Lines = append(r.Lines, name+": not calculated")
			continue
		}
		got, err := fromBase(base, c.Expected[name].Unit)
		if err != nil {
			r.Verdict = notCovered
			r.Lines = append(r.Lines, name+": "+err.Error())
			continue
		}
		agrees, how := c.Tolerance.accepts(got, want)
		word := "is"
		if !agrees {
			word, r.Verdict = "is NOT", differs
		}
		line := fmt.Sprintf("%s: %.6g against %g %s, %s %s", name, got, want, c.Expected[name].Unit, word, how)
		if c.Kind == "measured" && want != 0 {
			line += fmt.Sprintf("; model/measured %.2f", got/want)
		}
		r.Lines = append(r.Lines, line)
	}
}

// exposureInputs gives the inputs of a case in base units (m³, m², m, g, min, K, Pa, ppm, mg/m³, g/mol) and remembers the
// first that is missing.
type exposureInputs struct {
	given map[string]exposureNumber
	err   error
}

func (in *exposureInputs) get(name string) float64 {
	n, ok := in.given[name]
	if !ok {
		in.fail(fmt.Errorf("the input %s is missing", name))
		return math.NaN()
	}
	v, ok := n.number()
	if !ok {
		in.fail(fmt.Errorf("the input %s is not a number", name))
		return math.NaN()
	}
	base, err := toBase(v, n.Unit)
	if err != nil {
		in.fail(fmt.Errorf("the input %s: %w", name, err))
	}
	return base
}

func (in *exposureInputs) has(name string) bool { _, ok := in.given[name]; return ok }

func (in *exposureInputs) fail(err error) {
	if in.err == nil {
		in.err = err
	}
}

// list collects prefix1, prefix2, … as long as they are given.
func (in *exposureInputs) list(prefix string) []float64 {
	var out []float64
	for i := 1; in.has(fmt.Sprint(prefix, i)); i++ {
		out = append(out, in.get(fmt.Sprint(prefix, i)))
	}
	return out
}

// exposureUnits gives the factor to the base unit. Base units: m, m², m³, g, min, Pa, m/min, ppm, mg/m³ …
var exposureUnits = map[string]float64{
	"1": 1, "mol/mol": 1, "boolean": 1, "atoms": 1, "mass fraction": 1, "1/h": 1, "g/mol": 1, "g/eq": 1, "ppm": 1, "mg/m3": 1, "%": 1,
	"% by volume": 1, "ppm (volume)": 1, "ppm (mass of gas per mass of air)": 1, "1 (butyl acetate = 1)": 1, "J/mol": 1, "kJ/mol": 1,
	"J/g mixed": 1, "J/g/K": 1, "g per 100 g resin": 1, "share of time or mass emitted": 1, "ug/m3": 1e-3, "ng/m3": 1e-6,
	"lb/lbmol": 1, "lbmol": 453.59237, "g": 1, "lb": 453.59237,
	"m": 1, "in": 0.0254, "ft": 0.3048, "m3": 1, "ft3": ft3, "L": 1e-3, "gal": 3.785411784e-3, "g/mL": 1e6, "lb/gal": 453.59237 / 3.785411784e-3,
	"min": 1, "h": 60, "s": 1.0 / 60, "m3/min": 1, "ft3/min": ft3, "L/min": 1e-3, "cm3/min": 1e-6, "gal/h": 3.785411784e-3 / 60,
	"pint/min": 3.785411784e-3 / 8, "ft3/gal": ft3 / 3.785411784e-3, "ft/min": 0.3048, "m/min": 1, "cm/s": 0.6,
	"g/min": 1, "mg/min": 1e-3, "ng/min": 1e-9, "lb/min": 453.59237, "lb/ft2/min": 453.59237 / ft2, "g/m2/h": 1.0 / 60, "ft2/lb": ft2 / 453.59237,
	"Pa": 1, "atm": 101325, "mmHg": 133.322368,
}

const (
	ft2 = 0.09290304
	ft3 = 0.028316846592
)

// toBase turns a value into the base unit; temperatures into kelvin.
func toBase(v float64, unit string) (float64, error) {
	switch unit {
	case "K":
		return v, nil
	case "degC":
		return v + 273.15, nil
	case "degF":
		return (v + 459.67) / 1.8, nil
	case "degR":
		return v / 1.8, nil
	}
	f, ok := exposureUnits[unit]
	if !ok {
		return 0, fmt.Errorf("the unit %q is not known", unit)
	}
	return v * f, nil
}

// fromBase is the reverse of toBase.
func fromBase(v float64, unit string) (float64, error) {
	switch unit {
	case "K":
		return v, nil
	case "degC":
		return v - 273.15, nil
	}
	f, ok := exposureUnits[strings.TrimSpace(unit)]
	if !ok {
		return 0, fmt.Errorf("the unit %q is not known", unit)
	}
	return v / f, nil
}
