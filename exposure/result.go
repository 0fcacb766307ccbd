package exposure

import (
	"sixteen/substance"
)

// Estimate is one figure for the middle of all ranges, for the ends that raise exposure together, and where sampling was
// done the median and the 95th percentile.
type Estimate struct {
	Middle float64  `json:"middle"`
	High   float64  `json:"high"`
	P50    *float64 `json:"p50,omitempty"`
	P95    *float64 `json:"p95,omitempty"`
	// P50Error and P95Error are standard errors of P50 and P95, in the same unit, from the batches of the draws.
	P50Error *float64 `json:"p50_standard_error,omitempty"`
	P95Error *float64 `json:"p95_standard_error,omitempty"`
}

// Worst is the highest of the high case and the 95th percentile.
func (e Estimate) Worst() float64 {
	if e.P95 != nil && *e.P95 > e.High {
		return *e.P95
	}
	return e.High
}

// Result is what a job does to the air and to the people. Figures are estimates.
type Result struct {
	Job          string                 `json:"job"`
	Jurisdiction substance.Jurisdiction `json:"jurisdiction"`
	ShiftHours   float64                `json:"shift_hours"`
	Headline     []string               `json:"headline"`
	NotAssessed  []NotAssessed          `json:"not_assessed,omitempty"`
	Vapours      []VapourResult         `json:"vapours"`
	People       []PersonResult         `json:"people"`
	Rooms        []RoomResult           `json:"rooms"`
	Heat         []HeatCurve            `json:"heat,omitempty"`
	Particles    []Particles            `json:"particles,omitempty"` // mist and dust, rough
	Uncertainty  *Uncertainty           `json:"uncertainty,omitempty"`
	Assumptions  []string               `json:"assumptions,omitempty"`
	Partial      bool                   `json:"partial,omitempty"` // stopped before everything was worked out
}

// VapourResult is what is known of one vapour and where it went.
type VapourResult struct {
	Name           string            `json:"name"`
	CAS            string            `json:"cas,omitempty"`
	PressurePa20   float64           `json:"vapour_pressure_pa_20c"`
	PressureMethod string            `json:"pressure_method"`
	PressureMemory bool              `json:"pressure_memory,omitempty"`
	Limits         []substance.Limit `json:"limits,omitempty"`
	Band           *Band             `json:"band,omitempty"` // where no limit is on record
	HazardRatio    float64           `json:"vapour_hazard_ratio,omitempty"`
	Balance        Balance           `json:"balance"`
}

// PersonResult is one person's exposure.
type PersonResult struct {
	Name      string     `json:"name"`
	Age       Age        `json:"age"`
	Child     bool       `json:"child,omitempty"`
	HoursIn   float64    `json:"hours_in"`
	Exposures []Exposure `json:"exposures"`
	Indices   []Index    `json:"indices"`
	BodyNote  string     `json:"body_note"`
}

// Exposure is one person's exposure to one vapour. Concentrations in mg/m³.
type Exposure struct {
	Vapour    string          `json:"vapour"`
	CAS       string          `json:"cas,omitempty"`
	Peak15    Estimate        `json:"peak_15_min"`
	Highest   Estimate        `json:"highest"`
	TWA8      Estimate        `json:"twa_8h"`
	Day       Estimate        `json:"mean_24h"`
	DoseMgKg  Estimate        `json:"inhaled_mg_per_kg"`
	PPMFactor float64         `json:"ppm_per_mg_m3"` // at 25 °C
	Tasks     []TaskMean      `json:"tasks,omitempty"`
	Limits    []LimitFraction `json:"limits,omitempty"`
}

// TaskMean is the mean over a task, mg/m³, while the person is in one of the rooms.
type TaskMean struct {
	Task string   `json:"task"`
	Mean Estimate `json:"mean"`
}

// LimitFraction is exposure over one limit; above 1 it is exceeded. Reduction is the factor for a long shift, already in it.
type LimitFraction struct {
	Limit     substance.Limit `json:"limit"`
	MgM3      float64         `json:"mg_m3"`
	Reduction float64         `json:"reduction"`
	Fraction  Estimate        `json:"fraction"`
	Exceeding *float64        `json:"chance_of_exceeding,omitempty"`
}

// Index is the additive index of vapours with one effect, by shift limits: 29 CFR 1910.1000(d)(2).
type Index struct {
	Effect  string   `json:"effect"`
	Vapours []string `json:"vapours"`
	Without []string `json:"without,omitempty"` // same effect, but no shift limit: not in the sum
	Value   Estimate `json:"value"`
}

// RoomResult is the air of one room.
type RoomResult struct {
	Name          string    `json:"name"`
	TimesMin      []float64 `json:"times_min"`
	Far           []Series  `json:"far"`
	Near          []Series  `json:"near,omitempty"`
	Flammable     Estimate  `json:"fraction_of_lower_flammable_limit"` // highest, near the work where there is a near field
	OverLiquid    float64   `json:"fraction_of_lower_flammable_limit_over_liquid"`
	WithoutLower  []string  `json:"without_lower_limit,omitempty"`
	ReuseHours    *float64  `json:"reuse_hours,omitempty"`       // after the last task, high case; nil: not within 7 days or no limit known
	ReuseChildren *float64  `json:"reuse_hours_child,omitempty"` // estimate by equal dose per body mass
	// The same two by the middle of the ranges.
	ReuseMiddle         *float64 `json:"reuse_hours_middle,omitempty"`
	ReuseChildrenMiddle *float64 `json:"reuse_hours_child_middle,omitempty"`

	ReuseNote   string         `json:"reuse_note"`
	Ventilation *VentilationBy `json:"ventilation,omitempty"`
}

// Series is one vapour's concentration in mg/m³ over RoomResult.TimesMin, middle case.
type Series struct {
	Vapour string    `json:"vapour"`
	MgM3   []float64 `json:"mg_m3"`
}

// VentilationBy is the clean air that keeps everybody at Fraction of every limit, in the high case.
type VentilationBy struct {
	Fraction   float64 `json:"fraction"`
	Reached    bool    `json:"reached"`
	AirChanges float64 `json:"air_changes_per_hour"`
	AirM3Min   float64 `json:"air_m3_min"`
	Note       string  `json:"note"`
}
