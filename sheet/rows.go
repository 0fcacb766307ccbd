package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"sixteen/ghs"
)

// more ends the path of a row that is added at the end of a list: "hazards.statements.+".
const more = ".+"

// List is a place of the sheet that a person may add a row to, because the reader missed one. Correct takes Path with ".+"
// at its end.
type List struct {
	Path    string          `json:"path"` // of the list; its rows are Path.0, Path.1 and so on
	Section int             `json:"section"`
	Label   string          `json:"label"` // what one row is
	Shape   json.RawMessage `json:"shape"` // an empty row in the form that Correct takes
}

// IngredientRow is an ingredient as a person adds it to section 3. Codes are the H codes that stand in its row.
type IngredientRow struct {
	Name    string     `json:"name"`
	CAS     string     `json:"cas"`
	EC      string     `json:"ec"`
	Percent Quantity   `json:"percent"`
	Codes   []ghs.Code `json:"codes"`
}

// Lists lists every place that takes a further row, in the order of the sections.
func (s *Sheet) Lists() []List {
	all := s.rowLists()
	out := make([]List, len(all))
	for i, l := range all {
		out[i] = l.List
	}
	return out
}

// rowList is a list with the way to add a row to it.
type rowList struct {
	List
	add func(value []byte, c Correction) error
}

// addRow adds a row that a person says the reader missed. It is a fact like others; that nothing was read stays with it.
func (s *Sheet) addRow(path string, value []byte, who, why string, when time.Time) error {
	for _, l := range s.rowLists() {
		if l.Path == path {
			return l.add(value, Correction{Who: who, When: when, Why: why, Added: true, Was: "null"})
		}
	}
	return fmt.Errorf("%w that takes a further row: %s; see the lists of the sheet", ErrNoFact, path)
}

// rowOf decodes a row and refuses one that says nothing.
func rowOf[T any](value []byte, check func(T) string) (T, error) {
	var v T
	if string(bytes.TrimSpace(value)) == "null" {
		return v, fmt.Errorf("%w: a row that says nothing; give what the sheet prints", ErrValue)
	}
	dec := json.NewDecoder(bytes.NewReader(value))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&v); err != nil {
		return v, fmt.Errorf("%w: %w", ErrValue, err)
	}
	if lack := check(v); lack != "" {
		return v, fmt.Errorf("%w: %s", ErrValue, lack)
	}
	return v, nil
}

// added is the fact of a row typed by a person.
func added[T any](v T, c Correction) Fact[T] {
	return Fact[T]{State: Stated, Value: v, Confidence: 1, Corrections: []Correction{c}}
}

// rows is the rowList of facts of one type. get and put reach the list; state, where there is one, says that the sheet gives
// such rows, once it was silent about them.
func rows[T any](path string, section int, label, shape string, list *[]Fact[T], state *State, check func(T) string) rowList {
	return rowList{List{path, section, label, json.RawMessage(shape)}, func(value []byte, c Correction) error {
		v, err := rowOf(value, check)
		if err != nil {
			return err
		}
		*list = append(*list, added(v, c))
		if state != nil && *state == NotStated {
			*state = Stated
		}
		return nil
	}}
}

const (
	statementShape = `{"code":"","phrase":""}`
	classShape     = `{"hazard":"","printed":"","organs":""}`
	rangeShape     = `"lo":0,"hi":0,"has_lo":false,"has_hi":false`
)

func (s *Sheet) rowLists() []rowList {
	h, c, k := &s.Hazards, &s.Composition, &s.Control
	out := []rowList{
		rows("hazards.classification", 2, "Classification", classShape, &h.Classification, &h.Classified, classLacks),
		rows("hazards.statements", 2, "Hazard statement", statementShape, &h.Statements, &h.Classified, statementLacks(ghs.HazardStatement)),
		rows("hazards.precautions", 2, "Precautionary statement", statementShape, &h.Precautions, nil, statementLacks(ghs.PrecautionaryStatement)),
		rows("hazards.risk_phrases", 2, "Risk phrase", statementShape, &h.RiskPhrases, nil, func(v Statement) string {
			return lacks(v.Code != "" || strings.TrimSpace(v.Phrase) != "", "give the code or the words of the phrase")
		}),
		rows("hazards.pictograms", 2, "Pictogram", `""`, &h.Pictograms, &h.PictogramState, func(p ghs.Pictogram) string {
			return lacks(p != ghs.NoPictogram, "name a pictogram, GHS01 to GHS09")
		}),
		{List{"composition.ingredients", 3, "Ingredient", json.RawMessage(`{"name":"","cas":"","ec":"","percent":{` + rangeShape + `,"unit":"%"},"codes":[]}`)}, c.addIngredient},
	}
	for i := range c.Ingredients {
		out = append(out, c.Ingredients[i].lists(fmt.Sprintf("composition.ingredients.%d.", i))...)
	}
	out = append(out, rows("control.limits", 8, "Exposure limit", `{"substance":"","cas":"","authority":"","kind":"TWA","value":0,"unit":"mg/m3","skin":false,"printed":""}`, &k.Limits, &k.LimitsState, limitLacks))
	out = append(out, s.Physical.lists()...)
	out = append(out, rows("toxicology.values", 11, "Acute toxicity", `{"ingredient":"","cas":"","measure":"LD50","route":"oral","species":"","quantity":{`+rangeShape+`,"unit":"mg/kg"},"hours":0}`, &s.Toxicology.Values, nil, toxLacks))
	out = append(out, s.Toxicology.endpointLists()...)
	out = append(out,
		rows("toxicology.carcinogens", 11, "Cancer listing", `{"ingredient":"","cas":"","agency":"IARC","group":""}`, &s.Toxicology.Carcinogens, nil, func(v CancerListing) string {
			return lacks(v.Agency != "" && v.Group != "", "name the agency and its group")
		}),
		rows("ecology.values", 12, "Aquatic toxicity", `{"ingredient":"","cas":"","measure":"LC50","group":"fish","species":"","quantity":{`+rangeShape+`,"unit":"mg/l"},"hours":0}`, &s.Ecology.Values, nil, func(v EcoValue) string {
			return lacks(v.Measure != "" && v.Quantity.known() && v.Quantity.Unit != "", "give the measure, such as LC50, and its value with a unit")
		}),
		rows("transport", 14, "Transport", `{"mode":"","regulated":true,"un":"","proper_name":"","class":"","packing_group":"","marine_pollutant":"not_stated"}`, &s.Transport, nil, func(v Transport) string {
			return lacks(!v.Regulated || v.UN != "", "give the UN number, or say that it is not regulated")
		}),
		rows("ratings", 0, "0–4 rating", `{"system":"","health":-1,"flammability":-1,"instability":-1}`, &s.Ratings, nil, func(v Rating) string {
			digit := func(n int) bool { return n >= -1 && n <= 4 }
			return lacks(digit(v.Health) && digit(v.Flammability) && digit(v.Instability) && v.Health+v.Flammability+v.Instability > -3, "each rating is 0 to 4, and -1 where none is printed")
		}))
	for i, p := range s.Parts {
		for _, l := range p.rowLists() {
			l.Path, l.Label = fmt.Sprintf("parts.%d.%s", i, l.Path), fmt.Sprintf("%s (part %d)", l.Label, i+2)
			out = append(out, l)
		}
	}
	return out
}

// addIngredient adds a row of section 3; every cell that is filled becomes a fact.
func (c *Composition) addIngredient(value []byte, by Correction) error {
	v, err := rowOf(value, func(v IngredientRow) string {
		if v.Name == "" && v.CAS == "" && v.EC == "" {
			return "give the name or a number of the ingredient"
		}
		for _, code := range v.Codes {
			if lack := statementLacks(ghs.HazardStatement)(Statement{Code: code}); lack != "" {
				return lack
			}
		}
		return lacks(!v.Percent.known() || v.Percent.Lo >= 0 && (!v.Percent.HasHi || v.Percent.Hi <= 100), "a share lies between 0 and 100 %")
	})
	if err != nil {
		return err
	}
	var in Ingredient
	for _, cell := range []struct {
		to *Fact[string]
		is string
	}{{&in.Name, v.Name}, {&in.CAS, v.CAS}, {&in.EC, v.EC}} {
		if cell.is != "" {
			*cell.to = added(cell.is, by)
		}
	}
	if v.Percent.known() {
		in.Percent = added(v.Percent, by)
	}
	for _, code := range v.Codes {
		in.Statements = append(in.Statements, added(Statement{Code: code}, by))
	}
	c.Ingredients = append(c.Ingredients, in)
	if c.State == NotStated {
		c.State = Stated
	}
	return nil
}

// lists are the lists within one ingredient.
func (in *Ingredient) lists(path string) []rowList {
	name := in.Name.Value
	if name == "" {
		name = in.CAS.Value
	}
	return []rowList{
		rows(path+"statements", 3, "Hazard statement of "+name, statementShape, &in.Statements, nil, statementLacks(ghs.HazardStatement)),
		rows(path+"hazards", 3, "Classification of "+name, classShape, &in.Hazards, nil, classLacks),
		rows(path+"limits", 3, "Specific concentration limit of "+name, `{"hazard":"","percent":{`+rangeShape+`},"printed":""}`, &in.Limits, nil, func(v SpecificLimit) string {
			return lacks(v.Hazard != ghs.NoHazard && (v.Percent.HasLo || v.Percent.HasHi), "give the class with its category and the share from which it counts")
		}),
		rows(path+"ate", 3, "Acute toxicity estimate of "+name, `{"ingredient":"","cas":"","measure":"ATE","route":"oral","species":"","quantity":{`+rangeShape+`,"unit":"mg/kg"},"hours":0}`, &in.ATE, nil, toxLacks),
	}
}

// lists are one per property, so that a value that was not read can be added whether or not another was.
func (p *Physical) lists() []rowList {
	var out []rowList
	for _, name := range Properties() {
		shape := fmt.Sprintf(`{%s,"unit":%q,"printed":"","method":""`, rangeShape, name.Unit())
		if name == FlashPoint {
			shape += `,"cup":""`
		}
		if name == VapourPressure || name == DynamicViscosity || name == KinematicViscosity || name == Density {
			shape += `,"at_c":null`
		}
		out = append(out, rowList{List{"physical.quantities." + string(name), 9, name.Title(), json.RawMessage(shape + "}")}, func(value []byte, c Correction) error {
			v, err := rowOf(value, func(v Quantity) string { return lacks(v.known(), "give a number or a range") })
			if err != nil {
				return err
			}
			if p.Quantities == nil {
				p.Quantities = map[Property][]Fact[Quantity]{}
			}
			p.Quantities[name] = append(p.Quantities[name], added(v, c))
			return nil
		}})
	}
	return out
}

// endpointLists are the effects of section 11 of which nothing was read; each takes one text.
func (t *Toxicology) endpointLists() []rowList {
	var out []rowList
	for _, name := range []string{"skin", "eye", "skin_sens", "resp_sens", "muta", "carc", "repr", "stot_se", "stot_re", "asp"} {
		if _, ok := t.Endpoints[name]; ok {
			continue
		}
		out = append(out, rowList{List{"toxicology.endpoints." + name, 11, endpointLabel(name), json.RawMessage(`""`)}, func(value []byte, c Correction) error {
			v, err := rowOf(value, func(v string) string { return lacks(strings.TrimSpace(v) != "", "give the words of the sheet") })
			if err != nil {
				return err
			}
			if t.Endpoints == nil {
				t.Endpoints = map[string]Fact[string]{}
			}
			t.Endpoints[name] = added(v, c)
			return nil
		}})
	}
	return out
}

// lacks is what a row lacks unless ok.
func lacks(ok bool, what string) string {
	if ok {
		return ""
	}
	return what
}

func (v Interval) known() bool { return v.HasLo || v.HasHi }

func classLacks(v ClassStatement) string {
	return lacks(v.Hazard != ghs.NoHazard, "give class and category, such as “Skin Sens. 1”")
}

// statementLacks refuses a code of another kind and one that the standard does not have: a slip of the finger in a code would
// be a missed hazard.
func statementLacks(kind ghs.StatementKind) func(Statement) string {
	return func(v Statement) string {
		switch {
		case v.Code == "" && strings.TrimSpace(v.Phrase) == "":
			return "give the code or the words of the statement"
		case v.Code == "":
			return ""
		case !v.Code.Known():
			return fmt.Sprintf("no statement has the code “%s”; write it as in “%s”", v.Code, map[bool]string{true: "H317", false: "P280"}[kind == ghs.HazardStatement])
		case kind == ghs.PrecautionaryStatement && v.Code.Kind() != kind, kind == ghs.HazardStatement && v.Code.Kind() == ghs.PrecautionaryStatement:
			return fmt.Sprintf("“%s” is a statement of the other kind: H codes tell hazards, P codes what to do", v.Code)
		}
		return ""
	}
}

func limitLacks(v ExposureLimit) string {
	switch {
	case v.Substance == "" && v.CAS == "":
		return "name the substance or its CAS number"
	case v.Value <= 0:
		return "give the value of the limit"
	case v.Unit == "":
		return "give its unit, ppm or mg/m3"
	}
	return lacks(v.Kind == TWA || v.Kind == STEL || v.Kind == Ceiling, "its kind is TWA (a shift), STEL (a short time) or ceiling (never above)")
}

func toxLacks(v ToxValue) string {
	return lacks(v.Measure != "" && v.Quantity.known() && v.Quantity.Unit != "", "give the measure, such as LD50, and its value with a unit")
}
