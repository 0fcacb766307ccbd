package exposure

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

//go:embed example.yaml
var example []byte

// ExampleYAML is a commented job file that names every field.
func ExampleYAML() []byte { return bytes.Clone(example) }

// Range is a number or a range as a job file writes it: 20, [18, 24], "10-25", "<10", ">=5". The zero Range is not given.
type Range struct{ sheet.Interval }

// Exactly is the range of one number.
func Exactly(v float64) Range { return Range{sheet.Exactly(v)} }

// Between is the range from lo to hi.
func Between(lo, hi float64) Range { return Range{sheet.Between(lo, hi)} }

// Given tells whether the range has an end at all.
func (r Range) Given() bool { return r.HasLo || r.HasHi }

// within gives both ends, the missing ones replaced.
func (r Range) within(lo, hi float64) (float64, float64) {
	if r.HasLo {
		lo = r.Lo
	}
	if r.HasHi {
		hi = r.Hi
	}
	return lo, hi
}

// UnmarshalYAML reads the forms that the type describes.
func (r *Range) UnmarshalYAML(decode func(any) error) error {
	var v float64
	if decode(&v) == nil {
		*r = Exactly(v)
		return nil
	}
	var pair []float64
	if decode(&pair) == nil {
		if len(pair) != 2 || pair[0] > pair[1] {
			return fmt.Errorf("a range is written [low, high], not %v", pair)
		}
		*r = Between(pair[0], pair[1])
		return nil
	}
	var words string
	if err := decode(&words); err != nil {
		return err
	}
	parsed, err := ParseRange(words)
	*r = parsed
	return err
}

// ParseRange reads "5", "<10", "≥ 1" and "10 - 25" with "." as decimal sign. The error says what is accepted.
func ParseRange(words string) (Range, error) {
	text := strings.NewReplacer("%", "", "–", "-", "≤", "<=", "≥", ">=", " ", "").Replace(words)
	if lo, hi, ok := strings.Cut(text, "-"); ok && lo != "" {
		a, err1 := strconv.ParseFloat(strings.TrimLeft(lo, "<>="), 64)
		b, err2 := strconv.ParseFloat(strings.TrimLeft(hi, "<>="), 64)
		if err1 == nil && err2 == nil && a <= b {
			return Between(a, b), nil
		}
		return Range{}, fmt.Errorf("%q is not a range: write 10-25, <10, >=5 or a number", words)
	}
	digits := strings.TrimLeft(text, "<>=")
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return Range{}, fmt.Errorf("%q is not a range: write 10-25, <10, >=5 or a number", words)
	}
	switch op := text[:len(text)-len(digits)]; op {
	case "", "=":
		return Exactly(v), nil
	case "<", "<=":
		return Range{sheet.Interval{Hi: v, HasHi: true, HiOpen: op == "<"}}, nil
	case ">", ">=":
		return Range{sheet.Interval{Lo: v, HasLo: true, LoOpen: op == ">"}}, nil
	}
	return Range{}, fmt.Errorf("%q is not a range: write 10-25, <10, >=5 or a number", words)
}

// Job is the description of work: products, rooms, tasks and people on one clock, in minutes from the start.
type Job struct {
	Name         string                 `yaml:"name" json:"name"`
	Jurisdiction substance.Jurisdiction `yaml:"jurisdiction" json:"jurisdiction"`
	Rules        ghs.RuleSet            `yaml:"rules" json:"rules,omitempty"`             // whose law classifies the products; not given: package plan takes that of the jurisdiction
	Respirators  string                 `yaml:"respirators" json:"respirators,omitempty"` // US or EN: whose respirators and filters; not given: by jurisdiction
	HumidityPct  float64                `yaml:"humidity_percent" json:"humidity_percent,omitempty"`
	ShiftHours   float64                `yaml:"shift_hours" json:"shift_hours"`
	EndMin       float64                `yaml:"end_min" json:"end_min"` // end of the clock; not given: after the last task and stay
	Correlation  Correlation            `yaml:"correlation" json:"correlation"`
	Products     []Product              `yaml:"products" json:"products"`
	Rooms        []Room                 `yaml:"rooms" json:"rooms"`
	Doors        []Door                 `yaml:"doors" json:"doors,omitempty"`
	Purges       []Purge                `yaml:"purges" json:"purges,omitempty"`
	Tasks        []Task                 `yaml:"tasks" json:"tasks"`
	People       []Person               `yaml:"people" json:"people"`
}

// Product is a liquid by its ingredients in percent by mass. Complete states that the list is the whole product; else
// what is missing to 100 % is of unknown make. A product may stand in a file of its own (sheet or recipe) or be a kit of
// parts mixed at a ratio; package plan reads files and mixes parts, so that Run finds ingredients in every product.
type Product struct {
	Name        string       `yaml:"name" json:"name"`
	File        string       `yaml:"file" json:"file,omitempty"`                 // sheet (PDF, text) or recipe (.json, .csv, .xlsx)
	Parts       []Part       `yaml:"parts" json:"parts,omitempty"`               // of a kit, in the order of the ratio
	Ratio       string       `yaml:"ratio" json:"ratio,omitempty"`               // "100:32", "2:1 by volume"
	Inert       bool         `yaml:"inert" json:"inert,omitempty"`               // the parts do not react with each other
	Hazards     []string     `yaml:"hazards" json:"hazards,omitempty"`           // of the product: "H317" or "Skin Sens. 1"
	PricePerKg  float64      `yaml:"price_per_kg" json:"price_per_kg,omitempty"` // in any one currency, for the cost of a job
	DensityKgM3 float64      `yaml:"density_kg_m3" json:"density_kg_m3,omitempty"`
	Complete    bool         `yaml:"complete" json:"complete"`
	Ingredients []Ingredient `yaml:"ingredients" json:"ingredients"`
	FlashPointC *float64     `yaml:"flash_point_c" json:"flash_point_c,omitempty"`
	Cure        *Cure        `yaml:"cure" json:"cure,omitempty"`
}

// Part is one part of a kit: a file, or ingredients given here.
type Part struct {
	Name        string       `yaml:"name" json:"name,omitempty"`
	File        string       `yaml:"file" json:"file,omitempty"`
	DensityKgM3 float64      `yaml:"density_kg_m3" json:"density_kg_m3,omitempty"`
	Complete    bool         `yaml:"complete" json:"complete,omitempty"`
	Ingredients []Ingredient `yaml:"ingredients" json:"ingredients,omitempty"`
	Hazards     []string     `yaml:"hazards" json:"hazards,omitempty"`
	FlashPointC *float64     `yaml:"flash_point_c" json:"flash_point_c,omitempty"`
	PricePerKg  float64      `yaml:"price_per_kg" json:"price_per_kg,omitempty"`
}

// Ingredient is one substance of a product. What is not given is taken from the substance table by its CAS number.
type Ingredient struct {
	Name             string   `yaml:"name" json:"name"`
	CAS              string   `yaml:"cas" json:"cas,omitempty"`
	Percent          Range    `yaml:"percent" json:"percent"`
	Solid            bool     `yaml:"solid" json:"solid,omitempty"`               // filler, pigment: no vapour, takes no part in the liquid
	NonVolatile      bool     `yaml:"non_volatile" json:"non_volatile,omitempty"` // dissolved resin
	MolarMass        float64  `yaml:"molar_mass_g_mol" json:"molar_mass_g_mol,omitempty"`
	VapourPressurePa float64  `yaml:"vapour_pressure_pa_20c" json:"vapour_pressure_pa_20c,omitempty"`
	LowerFlammable   float64  `yaml:"lower_flammable_pct" json:"lower_flammable_pct,omitempty"`
	Activity         float64  `yaml:"activity_coefficient" json:"activity_coefficient,omitempty"` // 1 when not given
	Hazards          []string `yaml:"hazards" json:"hazards,omitempty"`                           // statements of the sheet ("H317"), for banding
}

// Room is a space of well mixed air, with a near field around the work when NearField is given. Air either by AirChanges
// (as much in as out) or by SupplyM3Min and ExhaustM3Min; a difference leaks through the building's fabric.
type Room struct {
	Name         string     `yaml:"name" json:"name"`
	VolumeM3     Range      `yaml:"volume_m3" json:"volume_m3"`
	FloorM2      float64    `yaml:"floor_m2" json:"floor_m2,omitempty"`
	AirChanges   Range      `yaml:"air_changes_per_hour" json:"air_changes_per_hour"`
	SupplyM3Min  Range      `yaml:"supply_m3_min" json:"supply_m3_min"`
	ExhaustM3Min Range      `yaml:"exhaust_m3_min" json:"exhaust_m3_min"`
	TemperatureC Range      `yaml:"temperature_c" json:"temperature_c"`
	AirSpeedMS   Range      `yaml:"air_speed_m_s" json:"air_speed_m_s"`
	NearField    *NearField `yaml:"near_field" json:"near_field,omitempty"`
}

// NearField is the air around the work: half a sphere, with the air that passes between it and the room. CaptureShare is
// the part of what evaporates that a local exhaust takes at the source.
type NearField struct {
	RadiusM      float64 `yaml:"radius_m" json:"radius_m"`
	ExchangeM3M  Range   `yaml:"exchange_m3_min" json:"exchange_m3_min"` // β; not given: half the free surface times the air speed
	CaptureShare float64 `yaml:"capture_share" json:"capture_share,omitempty"`
}

// Door joins two rooms: AirM3Min each way.
type Door struct {
	Between  []string `yaml:"between" json:"between"`
	AirM3Min Range    `yaml:"air_m3_min" json:"air_m3_min"`
}

// Purge changes the ventilation of a room for a time (window opened, fan on).
type Purge struct {
	Room       string  `yaml:"room" json:"room"`
	FromMin    float64 `yaml:"from_min" json:"from_min"`
	UntilMin   float64 `yaml:"until_min" json:"until_min"`
	AirChanges Range   `yaml:"air_changes_per_hour" json:"air_changes_per_hour"`
}

// Surface tells how a liquid lies open.
type Surface string

// Surfaces. A film grows over its area during the task; pool and cup are there at once; spray is a film of which
// the overspray loses its volatile ingredients in the air.
const (
	Film  Surface = "film"
	Pool  Surface = "pool"
	Cup   Surface = "cup"
	Spray Surface = "spray"
)

// Task is a piece of work. With Product it opens a liquid, except sanding, which wears what the product became; without, it
// only names a time (wait, cure).
type Task struct {
	Name               string  `yaml:"name" json:"name"`
	Kind               string  `yaml:"kind" json:"kind"` // mix, pour, brush, spray, wait, cure, sand, clean
	Room               string  `yaml:"room" json:"room"`
	StartMin           float64 `yaml:"start_min" json:"start_min"`
	DurationMin        float64 `yaml:"duration_min" json:"duration_min"`
	Product            string  `yaml:"product" json:"product,omitempty"`
	Surface            Surface `yaml:"surface" json:"surface,omitempty"`
	AmountG            Range   `yaml:"amount_g" json:"amount_g"`
	AmountML           Range   `yaml:"amount_ml" json:"amount_ml"`
	AreaM2             Range   `yaml:"area_m2" json:"area_m2"`
	CoveredAtMin       float64 `yaml:"covered_at_min" json:"covered_at_min,omitempty"`           // lid closed or taken away; 0: never
	TransferEfficiency float64 `yaml:"transfer_efficiency" json:"transfer_efficiency,omitempty"` // share of the spray that lands on the work
	Gun                string  `yaml:"gun" json:"gun,omitempty"`                                 // in place of it: air, airless, hvlp, electrostatic
	Extraction         bool    `yaml:"extraction" json:"extraction,omitempty"`                   // sanding: dust is drawn off at the tool
	Wet                bool    `yaml:"wet" json:"wet,omitempty"`                                 // sanding: wet
}

// Opens tells whether the task opens a liquid.
func (t Task) Opens() bool { return t.Product != "" && t.Kind != "sand" }

// Age is a group of people in breathing and body mass.
type Age string

// Person is somebody in the rooms. BreathingM3H and BodyMassKg replace the figures of the age group.
type Person struct {
	Name         string  `yaml:"name" json:"name"`
	Age          Age     `yaml:"age" json:"age"`
	BreathingM3H float64 `yaml:"breathing_m3_h" json:"breathing_m3_h,omitempty"`
	BodyMassKg   float64 `yaml:"body_mass_kg" json:"body_mass_kg,omitempty"`
	Stays        []Stay  `yaml:"stays" json:"stays"`
}

// Stay is a time in a room, at the work (Near) or elsewhere in it.
type Stay struct {
	Room     string  `yaml:"room" json:"room"`
	Near     bool    `yaml:"near" json:"near"`
	FromMin  float64 `yaml:"from_min" json:"from_min"`
	UntilMin float64 `yaml:"until_min" json:"until_min"`
}

// ParseJob reads a job file in YAML. Unknown fields are refused, with the line and the name that was likely meant. The job is not yet checked: see Check.
func ParseJob(raw []byte) (*Job, error) {
	var j Job
	if err := yaml.NewDecoder(bytes.NewReader(raw), yaml.Strict()).Decode(&j); err != nil {
		return nil, fmt.Errorf("the job file cannot be read: %w", withSuggestion(err))
	}
	return &j, nil
}

// MarshalJSON writes a range as its two ends, or null when it is not given.
func (r Range) MarshalJSON() ([]byte, error) {
	if !r.Given() {
		return []byte("null"), nil
	}
	return json.Marshal(r.Interval)
}
