package web

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/sheet"
)

// fieldView is one field of a form.
type fieldView struct {
	Name, Label, Hint, Value string
	Long                     bool
	Options                  []optionView
}

type optionView struct{ Value, Title string }

// member is one key of a fact's value with its JSON, in the order of the value.
type member struct {
	key string
	raw json.RawMessage
}

// factForm is the value of a fact taken apart into fields that a person can fill in. A value of one word is one field; a
// value of several is one field each, with the two ends of a range as one.
type factForm struct {
	scalar  json.RawMessage // nil when the value has members
	members []member
}

func parseFact(raw []byte) (factForm, error) {
	raw = bytes.TrimSpace(raw)
	if len(raw) == 0 || raw[0] != '{' {
		return factForm{scalar: raw}, nil
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	if _, err := dec.Token(); err != nil {
		return factForm{}, err
	}
	var f factForm
	for dec.More() {
		t, err := dec.Token()
		if err != nil {
			return f, err
		}
		var v json.RawMessage
		if err := dec.Decode(&v); err != nil {
			return f, err
		}
		f.members = append(f.members, member{fmt.Sprint(t), v})
	}
	return f, nil
}

// rangeKeys are the members of an interval, which are shown as one field.
func rangeKeys() []string {
	return []string{"lo", "hi", "has_lo", "has_hi", "lo_open", "hi_open", "approx"}
}

// memberWords are the labels of members; what is not among them is shown by its key.
func memberWords(key string) (label, hint string) {
	words := map[string][2]string{
		"code": {"Code", "such as H317"}, "phrase": {"Words", "as printed"}, "detail": {"Filled in", "organs or names in the statement"},
		"hazard": {"Class and category", "such as Skin Sens. 1A"}, "printed": {"As printed", ""}, "organs": {"Organs", ""}, "unit": {"Unit", ""},
		"method": {"Test method", ""}, "cup": {"Cup", "closed, open or empty"}, "at_c": {"At", "°C"}, "text": {"Words", ""},
		"materials": {"Materials", "with commas between"}, "thickness_mm": {"Thickness", "mm"}, "breakthrough_min": {"Breakthrough time", "min"},
		"standard": {"Standard", ""}, "filters": {"Filters", "with commas between, such as A2, P3"}, "supplied_air": {"Supplied air", ""},
		"substance": {"Substance", ""}, "cas": {"CAS number", ""}, "authority": {"Whose limit", ""}, "kind": {"Kind", "TWA, STEL or ceiling"}, "value": {"Value", ""},
		"skin": {"Taken up by the skin", ""}, "ingredient": {"Ingredient", "empty for the product"}, "measure": {"Measure", "such as LD50"}, "route": {"Route", ""},
		"species": {"Species", ""}, "quantity": {"Value", ""}, "hours": {"Hours", "of exposure; 0 when not stated"}, "percent": {"Share", "%, such as 5, 10-25, <1"}, "name": {"Name", ""}, "ec": {"EC number", ""}, "codes": {"H codes", "those of its row, with commas between, such as H315, H317"}, "mode": {"Mode", "ADR, IMDG, IATA, DOT or empty"},
		"regulated": {"Regulated", ""}, "un": {"UN number", "four digits"}, "proper_name": {"Proper shipping name", ""}, "class": {"Class", ""},
		"packing_group": {"Packing group", "I, II or III"}, "marine_pollutant": {"Marine pollutant", ""}, "system": {"System", ""}, "health": {"Health", "0 to 4"},
		"flammability": {"Flammability", "0 to 4"}, "instability": {"Instability", "0 to 4"}, "group": {"Group", ""}, "agency": {"Agency", ""},
	}
	w, ok := words[key]
	if !ok {
		return strings.ReplaceAll(key, "_", " "), ""
	}
	return w[0], w[1]
}

// fields are the fields of the form, filled with the value.
func (f factForm) fields() []fieldView {
	if f.scalar != nil {
		return []fieldView{fieldOf("value", "What the page says", "", f.scalar)}
	}
	var out []fieldView
	ranged := false
	for _, m := range f.members {
		if slices.Contains(rangeKeys(), m.key) {
			if !ranged {
				ranged = true
				out = append(out, fieldView{Name: "v.range", Label: "Value or range", Hint: "5, 10-25, <1 or >=3", Value: f.interval().String()})
			}
			continue
		}
		label, hint := memberWords(m.key)
		field := fieldOf("v."+m.key, label, hint, m.raw)
		field.offer(choicesOf(m.key))
		out = append(out, field)
		if unit, ok := unitOf(m.raw); ok && unit != "%" {
			field := fieldView{Name: "v." + m.key + ".unit", Label: "Unit", Value: unit}
			field.offer(choicesOf(m.key + ".unit"))
			out = append(out, field)
		}
	}
	return out
}

// choicesOf are the values that a member takes, nil when it takes any.
func choicesOf(key string) []optionView {
	switch key {
	case "route":
		return []optionView{{"oral", "swallowed"}, {"dermal", "on the skin"}, {"inhalation_vapour", "breathed in, vapour"}, {"inhalation_dust", "breathed in, dust or mist"}, {"inhalation_gas", "breathed in, gas"}}
	case "kind":
		return []optionView{{"TWA", "TWA: mean of a shift of eight hours"}, {"STEL", "STEL: mean of a short time, mostly 15 minutes"}, {"ceiling", "ceiling: never above"}}
	case "cup":
		return []optionView{{"", "not stated"}, {"closed", "closed"}, {"open", "open"}}
	case "measure":
		return []optionView{{"LD50", "LD50: dose that killed half of the animals"}, {"LC50", "LC50: concentration that killed half"}, {"ATE", "ATE: acute toxicity estimate"}, {"EC50", "EC50: concentration with an effect on half"}, {"NOEC", "NOEC: highest without an effect"}}
	case "quantity.unit":
		return []optionView{{"mg/kg", "mg/kg"}, {"mg/l", "mg/l"}, {"ppm", "ppm"}}
	case "packing_group":
		return []optionView{{"", "not stated"}, {"I", "I"}, {"II", "II"}, {"III", "III"}}
	case "marine_pollutant":
		return []optionView{{"not_stated", "not stated"}, {"stated", "yes"}, {"none_stated", "no"}}
	}
	return nil
}

// offer makes the field a choice; a value that is none of them stays one.
func (f *fieldView) offer(choices []optionView) {
	if choices == nil {
		return
	}
	if !slices.ContainsFunc(choices, func(o optionView) bool { return o.Value == f.Value }) {
		choices = append([]optionView{{f.Value, cmp.Or(f.Value, "not stated")}}, choices...)
	}
	f.Options = choices
}

// unitOf is the unit of a member that is a quantity.
func unitOf(raw json.RawMessage) (string, bool) {
	var q struct{ Unit *string }
	if json.Unmarshal(raw, &q) != nil || q.Unit == nil {
		return "", false
	}
	return *q.Unit, true
}

// withUnit is a quantity with another unit.
func withUnit(raw json.RawMessage, unit string) (json.RawMessage, error) {
	f, err := parseFact(raw)
	if err != nil {
		return nil, err
	}
	for i := range f.members {
		if f.members[i].key == "unit" {
			if f.members[i].raw, err = json.Marshal(unit); err != nil {
				return nil, err
			}
		}
	}
	return f.encode(), nil
}

// interval is the range among the members.
func (f factForm) interval() sheet.Interval {
	var v sheet.Interval
	_ = json.Unmarshal(f.encode(), &v) // a value without range members leaves it empty
	return v
}

func fieldOf(name, label, hint string, raw json.RawMessage) fieldView {
	v := fieldView{Name: name, Label: label, Hint: hint}
	var text string
	var truth bool
	var list []string
	var within sheet.Interval
	switch {
	case json.Unmarshal(raw, &truth) == nil && string(raw) != "null":
		v.Value = fmt.Sprint(truth)
		v.Options = []optionView{{"true", "yes"}, {"false", "no"}}
	case json.Unmarshal(raw, &text) == nil:
		v.Value, v.Long = text, len(text) > 60
	case json.Unmarshal(raw, &list) == nil:
		v.Value = strings.Join(list, ", ")
	case strings.Contains(string(raw), `"has_lo"`) && json.Unmarshal(raw, &within) == nil:
		v.Value, v.Hint = within.String(), strings.TrimSpace(v.Hint+" a number or a range")
	default:
		v.Value = strings.TrimSpace(string(raw))
		if v.Value == "null" {
			v.Value = ""
		}
	}
	return v
}

// encode is the value as JSON.
func (f factForm) encode() []byte {
	if f.scalar != nil {
		return f.scalar
	}
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range f.members {
		if i > 0 {
			b.WriteByte(',')
		}
		key, _ := json.Marshal(m.key) // a string always encodes
		b.Write(key)
		b.WriteByte(':')
		b.Write(m.raw)
	}
	b.WriteByte('}')
	return b.Bytes()
}

// filled is the value with what a person put into the fields. Fields that are not in the form stay.
func (f factForm) filled(form url.Values) ([]byte, error) {
	if f.scalar != nil {
		raw, err := typed(f.scalar, strings.TrimSpace(form.Get("value")), "the value")
		return raw, err
	}
	out := factForm{}
	for _, m := range f.members {
		name := "v." + m.key
		if slices.Contains(rangeKeys(), m.key) || !form.Has(name) {
			out.members = append(out.members, m)
			continue
		}
		label, _ := memberWords(m.key)
		text := strings.TrimSpace(form.Get(name))
		if m.key == "code" || m.key == "codes" {
			text = codesTyped(text)
		}
		raw, err := typed(m.raw, text, label)
		if err == nil && form.Has(name+".unit") {
			raw, err = withUnit(raw, strings.TrimSpace(form.Get(name+".unit")))
		}
		if err != nil {
			return nil, err
		}
		out.members = append(out.members, member{m.key, raw})
	}
	if form.Has("v.range") {
		r, err := exposure.ParseRange(strings.ReplaceAll(strings.TrimSpace(form.Get("v.range")), ",", "."))
		if err != nil {
			return nil, refused("The value or range cannot be read: " + err.Error())
		}
		out.setRange(r.Interval)
	}
	return out.encode(), nil
}

// codesTyped writes codes as the standard does, whatever case and blanks a person typed.
func codesTyped(text string) string {
	parts := strings.Split(text, ",")
	for i, p := range parts {
		if code, ok := ghs.NormaliseCode(strings.TrimSpace(p)); ok {
			parts[i] = string(code)
		}
	}
	return strings.Join(parts, ",")
}

func (f *factForm) setRange(v sheet.Interval) {
	raw, err := json.Marshal(v)
	if err != nil {
		return // an interval of numbers always encodes
	}
	ranged, err := parseFact(raw)
	if err != nil {
		return // as above
	}
	f.members = slices.DeleteFunc(f.members, func(m member) bool { return slices.Contains(rangeKeys(), m.key) })
	f.members = append(ranged.members, f.members...)
}

// typed is a text in the type that the value had before.
func typed(was json.RawMessage, text, label string) (json.RawMessage, error) {
	var anything any
	if err := json.Unmarshal(was, &anything); err != nil {
		return nil, err
	}
	switch anything.(type) {
	case bool:
		return json.Marshal(text == "true")
	case float64:
		return number64(text, label)
	case []any:
		list := []string{}
		for _, part := range strings.Split(text, ",") {
			if part = strings.TrimSpace(part); part != "" {
				list = append(list, part)
			}
		}
		return json.Marshal(list)
	case map[string]any:
		return structured(was, text, label)
	case nil:
		if text == "" {
			return json.RawMessage("null"), nil
		}
		if raw, err := number64(text, label); err == nil {
			return raw, nil
		}
	}
	return json.Marshal(text)
}

func number64(text, label string) (json.RawMessage, error) {
	text = strings.ReplaceAll(text, ",", ".")
	if text == "" {
		return json.RawMessage("0"), nil
	}
	var n float64
	if err := json.Unmarshal([]byte(text), &n); err != nil {
		return nil, refused(fmt.Sprintf("%s: “%s” is no number. Write it with digits, such as 12.5.", label, text))
	}
	return json.Marshal(n)
}

// structured is a member that has members itself: a range, or a quantity with its range and unit.
func structured(was json.RawMessage, text, label string) (json.RawMessage, error) {
	f, err := parseFact(was)
	if err != nil {
		return nil, err
	}
	if text == strings.TrimSpace(string(was)) {
		return was, nil
	}
	if text == "" {
		f.setRange(sheet.Interval{})
		return f.encode(), nil
	}
	r, err := exposure.ParseRange(strings.ReplaceAll(text, ",", "."))
	if err != nil {
		return nil, refused(fmt.Sprintf("%s: “%s” is no number or range: %v", label, text, err))
	}
	f.setRange(r.Interval)
	return f.encode(), nil
}
