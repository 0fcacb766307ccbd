package classify

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"sixteen/ghs"
	"sixteen/sheet"
)

// ReadRecipe reads a mixture from a recipe file. format is "json", "csv" or "xlsx". Every mistake is told with the row
// and column (or field) it is in. docs/rules.md lists the columns.
func ReadRecipe(r io.Reader, format string) (Mixture, error) {
	switch strings.TrimPrefix(strings.ToLower(format), ".") {
	case "json":
		return readRecipeJSON(r)
	case "csv":
		rows, err := readCSV(r)
		if err != nil {
			return Mixture{}, err
		}
		return recipeFromRows(rows)
	case "xlsx":
		rows, err := readXLSX(r)
		if err != nil {
			return Mixture{}, err
		}
		return recipeFromRows(rows)
	}
	return Mixture{}, fmt.Errorf("a recipe of the kind %q cannot be read: give a .json, .csv or .xlsx file", format)
}

func readCSV(r io.Reader) ([][]string, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	first, _, _ := strings.Cut(text, "\n")
	c := csv.NewReader(strings.NewReader(text))
	c.FieldsPerRecord = -1
	if strings.Count(first, ";") > strings.Count(first, ",") {
		c.Comma = ';'
	}
	rows, err := c.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("the recipe is not a table: %w", err)
	}
	return rows, nil
}

func readXLSX(r io.Reader) ([][]string, error) {
	f, err := excelize.OpenReader(r)
	if err != nil {
		return nil, fmt.Errorf("the recipe is not a spreadsheet: %w", err)
	}
	defer f.Close()
	rows, err := f.GetRows(f.GetSheetName(0))
	if err != nil {
		return nil, fmt.Errorf("the first sheet cannot be read: %w", err)
	}
	return rows, nil
}

// recipeFromRows reads a table whose first row names the columns. A row whose first cell is "@name", "@form", "@ph" and
// the like says something of the mixture itself, in its second cell.
func recipeFromRows(rows [][]string) (Mixture, error) {
	m := Mixture{Complete: true}
	var columns []string
	for i, row := range rows {
		if blank(row) {
			continue
		}
		if key, ok := strings.CutPrefix(strings.TrimSpace(row[0]), "@"); ok {
			value := ""
			if len(row) > 1 {
				value = strings.TrimSpace(row[1])
			}
			if err := m.setRecipeField(strings.ToLower(key), value); err != nil {
				return m, fmt.Errorf("row %d, @%s: %w", i+1, key, err)
			}
			continue
		}
		if columns == nil {
			var err error
			if columns, err = recipeHead(row); err != nil {
				return m, fmt.Errorf("row %d: %w", i+1, err)
			}
			continue
		}
		in, err := recipeIngredient(columns, row)
		if err != nil {
			return m, fmt.Errorf("row %d, %w", i+1, err)
		}
		m.Ingredients = append(m.Ingredients, in)
	}
	if len(m.Ingredients) == 0 {
		return m, fmt.Errorf("the recipe has no ingredients: the first row names the columns (name, cas, percent, hazards …), each further row is one ingredient")
	}
	return m, m.Check()
}

func blank(row []string) bool {
	for _, c := range row {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// recipeColumns maps the names a column may have to the name it is read under.
var recipeColumns = map[string]string{
	"name": "name", "ingredient": "name", "substance": "name",
	"cas": "cas", "cas number": "cas", "cas no": "cas", "cas no.": "cas",
	"percent": "percent", "%": "percent", "share": "percent", "concentration": "percent", "percent by mass": "percent",
	"hazards": "hazards", "classification": "hazards", "hazard classes": "hazards",
	"statements": "statements", "limits": "limits", "specific limits": "limits",
	"m acute": "m acute", "m chronic": "m chronic",
	"ate oral": "ate oral", "ate dermal": "ate dermal", "ate gas": "ate inhalation_gas", "ate vapour": "ate inhalation_vapour", "ate vapor": "ate inhalation_vapour",
	"ate dust": "ate inhalation_dust", "ate mist": "ate inhalation_dust",
	"active oxygen": "active oxygen", "active oxygen %": "active oxygen", "molar mass": "molar mass", "properties": "properties",
}

func recipeHead(row []string) ([]string, error) {
	columns := make([]string, len(row))
	seen := map[string]bool{}
	for i, cell := range row {
		key := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(cell, "_", " ")), " "))
		if key == "" {
			continue
		}
		c, ok := recipeColumns[key]
		if !ok {
			return nil, fmt.Errorf("no column is called %q: use name, cas, percent, hazards, limits, m acute, m chronic, ate oral, ate dermal, ate gas, ate vapour, ate dust, statements, active oxygen, molar mass, properties", cell)
		}
		if seen[c] {
			return nil, fmt.Errorf("the column %q appears twice", cell)
		}
		columns[i], seen[c] = c, true
	}
	if !seen["name"] || !seen["percent"] {
		return nil, fmt.Errorf("the first row must name the columns, among them name and percent")
	}
	return columns, nil
}

func recipeIngredient(columns, row []string) (Ingredient, error) {
	in := Ingredient{Properties: map[string]float64{}}
	hasPercent := false
	for i, cell := range row {
		if i >= len(columns) || columns[i] == "" {
			continue
		}
		cell = strings.TrimSpace(cell)
		if columns[i] == "percent" {
			hasPercent = cell != ""
		}
		if cell == "" {
			continue
		}
		if err := in.setRecipeCell(columns[i], cell); err != nil {
			return in, fmt.Errorf("column %s: %w", columns[i], err)
		}
	}
	if in.Name == "" {
		return in, fmt.Errorf("column name: the ingredient has no name")
	}
	if !hasPercent {
		return in, fmt.Errorf("column percent: %s has no share; write 0 - 100 if it is not known", in.Name)
	}
	return in, nil
}

func (in *Ingredient) setRecipeCell(column, cell string) (err error) {
	if route, ok := strings.CutPrefix(column, "ate "); ok {
		return in.setRecipeATE(route, cell)
	}
	switch column {
	case "name":
		in.Name = cell
	case "cas":
		in.CAS = cell
		return checkCAS(cell)
	case "percent":
		in.Percent, err = parseShare(cell)
	case "hazards":
		in.Hazards, err = parseHazards(cell)
	case "statements":
		for _, s := range splitList(cell) {
			in.Statements = append(in.Statements, ghs.Code(strings.ToUpper(strings.ReplaceAll(s, " ", ""))))
		}
	case "limits":
		in.Limits, err = parseLimits(cell)
	case "m acute":
		in.MAcute, err = parseNumber(cell)
	case "m chronic":
		in.MChronic, err = parseNumber(cell)
	case "active oxygen":
		in.ActiveOxygenPct, err = parseNumber(cell)
	case "molar mass":
		in.MolarMassGMol, err = parseNumber(cell)
	case "properties":
		err = in.setRecipeProperties(cell)
	}
	return err
}

// setRecipeATE reads "500", "unknown", "not toxic" or "> 2000". A limit dose above every category is known and not
// toxic; one below is taken as the estimate itself, the stricter reading.
func (in *Ingredient) setRecipeATE(route, cell string) error {
	var q ghs.Qualifier
	if err := q.UnmarshalText([]byte(route)); err != nil {
		return err
	}
	switch strings.ToLower(cell) {
	case "unknown", "no data":
		in.ATE[q] = ATE{Status: ATEUnknown}
		return nil
	case "not toxic", "not_toxic", "none":
		in.ATE[q] = ATE{Status: ATENotToxic}
		return nil
	}
	above := strings.HasPrefix(cell, ">") || strings.HasPrefix(cell, "≥")
	v, err := parseNumber(strings.TrimLeft(cell, ">=≥ "))
	if err != nil {
		return fmt.Errorf("%q is no dose: write a number of %s, \"> 2000\", \"not toxic\" or \"unknown\"", cell, RouteUnit(q))
	}
	in.ATE[q] = ATE{Status: ATEValue, Value: v}
	if above && v >= highestDose[q] {
		in.ATE[q] = ATE{Status: ATENotToxic}
	}
	return nil
}

// highestDose is the upper end of category 4 by route.
var highestDose = [8]float64{ghs.Oral: 2000, ghs.Dermal: 2000, ghs.InhalationGas: 20000, ghs.InhalationVapour: 20, ghs.InhalationDust: 5}

func (in *Ingredient) setRecipeProperties(cell string) error {
	for _, s := range splitList(cell) {
		name, value, has := strings.Cut(s, "=")
		name = strings.TrimSpace(name)
		v := 1.0
		if has {
			var err error
			if v, err = parseNumber(value); err != nil {
				return err
			}
		}
		if !knownProperty(name) {
			return fmt.Errorf("no property is called %q: use %s", name, strings.Join(PropertyNames(), ", "))
		}
		in.Properties[name] = v
	}
	return nil
}

func knownProperty(name string) bool {
	for _, n := range PropertyNames() {
		if n == name {
			return true
		}
	}
	return false
}

func splitList(cell string) []string {
	var list []string
	for _, s := range strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == '\n' || r == '|' }) {
		if s = strings.TrimSpace(s); s != "" {
			list = append(list, s)
		}
	}
	if len(list) == 1 {
		return splitCommas(list[0])
	}
	return list
}

func splitCommas(s string) []string {
	var list []string
	for _, p := range strings.Split(s, ",") {
		if p = strings.TrimSpace(p); p != "" {
			list = append(list, p)
		}
	}
	return list
}

func parseHazards(cell string) (ghs.HazardSet, error) {
	var set ghs.HazardSet
	for _, s := range splitList(cell) {
		h, ok := ghs.ParseHazard(s)
		if !ok {
			return set, fmt.Errorf("no hazard class is called %q: write as in \"Skin Irrit. 2; Acute Tox. 4 oral\"", s)
		}
		set.Add(h)
	}
	return set, nil
}

// parseLimits reads "Skin Corr. 1B >= 5; Skin Irrit. 2 0.5 - < 2".
func parseLimits(cell string) ([]SpecificLimit, error) {
	var limits []SpecificLimit
	for _, s := range splitList(cell) {
		l, err := parseLimit(s)
		if err != nil {
			return nil, err
		}
		limits = append(limits, l)
	}
	return limits, nil
}

func parseLimit(s string) (SpecificLimit, error) {
	for i := 1; i < len(s); i++ {
		if s[i-1] != ' ' && s[i-1] != ':' {
			continue
		}
		h, ok := ghs.ParseHazard(strings.Trim(s[:i], " :"))
		if !ok {
			continue
		}
		if iv, err := parseShare(s[i:]); err == nil && strings.ContainsAny(s[i:], "<>≤≥-–") {
			return SpecificLimit{Hazard: h, Percent: iv}, nil
		}
	}
	return SpecificLimit{}, fmt.Errorf("%q is no specific limit: write as in \"Skin Irrit. 2 >= 5\" or \"Eye Irrit. 2 1 - < 3\"", s)
}

func parseNumber(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return v, nil
}

// parseShare reads a share in percent: "5", "< 10", "≥ 1", "10 - 30", ">= 10 - < 25". Ends are closed unless < or > says
// otherwise.
func parseShare(cell string) (sheet.Interval, error) {
	words := strings.NewReplacer("%", "", "–", "-", "≤", "<=", "≥", ">=", " to ", "-").Replace(cell)
	if lo, hi, ok := strings.Cut(words, "-"); ok && strings.TrimSpace(lo) != "" {
		from, err1 := parseEnd(lo)
		to, err2 := parseEnd(hi)
		if err1 != nil || err2 != nil || from.upper || to.lower {
			return sheet.Interval{}, fmt.Errorf("%q is no range: write as in \"10 - 30\" or \"≥ 10 - < 25\"", cell)
		}
		if from.value > to.value {
			return sheet.Interval{}, fmt.Errorf("the range %q runs backwards", cell)
		}
		return sheet.Interval{Lo: from.value, HasLo: true, LoOpen: from.open, Hi: to.value, HasHi: true, HiOpen: to.open}, nil
	}
	e, err := parseEnd(words)
	if err != nil {
		return sheet.Interval{}, fmt.Errorf("%q is no share: write a percentage such as 5, < 10 or 10 - 30", cell)
	}
	switch {
	case e.lower:
		return sheet.Interval{Lo: e.value, HasLo: true, LoOpen: e.open}, nil
	case e.upper:
		return sheet.Interval{Hi: e.value, HasHi: true, HiOpen: e.open}, nil
	}
	return sheet.Exactly(e.value), nil
}

// end is one end of a range: "≥ 10" is a closed lower end.
type end struct {
	value        float64
	lower, upper bool
	open         bool
}

func parseEnd(s string) (end, error) {
	s = strings.TrimSpace(s)
	digits := strings.TrimLeft(s, "<>= ")
	v, err := parseNumber(digits)
	op := strings.TrimSpace(s[:len(s)-len(digits)])
	return end{value: v, lower: strings.HasPrefix(op, ">"), upper: strings.HasPrefix(op, "<"), open: op == "<" || op == ">"}, err
}

// checkCAS verifies the check digit of a CAS number.
func checkCAS(s string) error {
	digits := strings.ReplaceAll(s, "-", "")
	sum := 0
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return fmt.Errorf("%q is no CAS number: write it as in 64-17-5", s)
		}
		if i < len(digits)-1 {
			sum += (len(digits) - 1 - i) * int(digits[i]-'0')
		}
	}
	if len(digits) < 5 || len(digits) > 10 || sum%10 != int(digits[len(digits)-1]-'0') {
		return fmt.Errorf("the check digit of the CAS number %q is wrong: look it up again", s)
	}
	return nil
}

// setRecipeField takes up one thing said of the mixture itself.
func (m *Mixture) setRecipeField(key, value string) (err error) {
	number := func(into **float64) error {
		v, err := parseNumber(value)
		*into = &v
		return err
	}
	yes, isBool := map[string]bool{"yes": true, "true": true, "no": false, "false": false}[strings.ToLower(value)]
	boolean := func(into *bool) error {
		if !isBool {
			return fmt.Errorf("%q is neither yes nor no", value)
		}
		*into = yes
		return nil
	}
	switch strings.ReplaceAll(key, "_", " ") {
	case "name":
		m.Name = value
	case "form":
		m.Form, err = ParseForm(strings.ToLower(value))
	case "complete":
		err = boolean(&m.Complete)
	case "for public", "public":
		err = boolean(&m.ForPublic)
	case "use":
		m.Use = append(m.Use, Use(strings.ToLower(value)))
	case "flash point", "flash point c":
		err = number(&m.Tested.FlashPointC)
	case "boiling point", "boiling point c":
		err = number(&m.Tested.BoilingPointC)
	case "ph":
		err = number(&m.Tested.PH)
	case "viscosity", "viscosity 40":
		err = number(&m.Tested.Viscosity40MM2S)
	case "sustains combustion":
		m.Tested.Sustains = new(bool)
		err = boolean(m.Tested.Sustains)
	case "tested":
		m.Tested.Hazards, err = parseHazards(value)
	case "tested not":
		m.Tested.NotHazards, err = parseHazards(value)
	default:
		if route, ok := strings.CutPrefix(key, "tested ate "); ok {
			return m.setTestedATE(route, value)
		}
		return fmt.Errorf("nothing of a mixture is called so: use name, form, complete, public, use, flash point, boiling point, ph, viscosity, sustains combustion, tested, tested not, tested ate oral (dermal, gas, vapour, dust)")
	}
	return err
}

func (m *Mixture) setTestedATE(route, value string) error {
	column, ok := recipeColumns["ate "+route]
	if !ok {
		return fmt.Errorf("no route is called %q: use oral, dermal, gas, vapour or dust", route)
	}
	var q ghs.Qualifier
	if err := q.UnmarshalText([]byte(strings.TrimPrefix(column, "ate "))); err != nil {
		return err
	}
	v, err := parseNumber(value)
	m.Tested.ATE[q] = &v
	return err
}

// readRecipeJSON reads {"form": "liquid", "ingredients": [{"name": …, "percent": "10 - 30", "hazards": […]}]}: the same
// names as the columns and "@" rows of a table.
func readRecipeJSON(r io.Reader) (Mixture, error) {
	var top map[string]json.RawMessage
	if err := json.NewDecoder(r).Decode(&top); err != nil {
		return Mixture{}, fmt.Errorf("the recipe is not JSON: %w", err)
	}
	m := Mixture{Complete: true}
	for key, raw := range top {
		if key == "ingredients" {
			continue
		}
		words, err := jsonWords(raw)
		if err == nil {
			err = m.setRecipeField(strings.ToLower(key), words)
		}
		if err != nil {
			return m, fmt.Errorf("field %q: %w", key, err)
		}
	}
	var list []map[string]json.RawMessage
	if err := json.Unmarshal(top["ingredients"], &list); err != nil || len(list) == 0 {
		return m, fmt.Errorf("the recipe has no list named \"ingredients\"")
	}
	for i, fields := range list {
		in, err := jsonIngredient(fields)
		if err != nil {
			return m, fmt.Errorf("ingredient %d, %w", i+1, err)
		}
		m.Ingredients = append(m.Ingredients, in)
	}
	return m, m.Check()
}

func jsonIngredient(fields map[string]json.RawMessage) (Ingredient, error) {
	var head, row []string
	for key, raw := range fields {
		words, err := jsonWords(raw)
		if err != nil {
			return Ingredient{}, fmt.Errorf("field %q: %w", key, err)
		}
		head, row = append(head, key), append(row, words)
	}
	columns, err := recipeHead(head)
	if err != nil {
		return Ingredient{}, err
	}
	return recipeIngredient(columns, row)
}

// jsonWords is a JSON value as it would stand in a cell: a list becomes items separated by ";".
func jsonWords(raw json.RawMessage) (string, error) {
	var list []string
	if json.Unmarshal(raw, &list) == nil {
		return strings.Join(list, "; "), nil
	}
	var v any
	if err := json.Unmarshal(raw, &v); err != nil {
		return "", err
	}
	switch v := v.(type) {
	case nil:
		return "", nil
	case string:
		return v, nil
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64), nil
	case bool:
		return strconv.FormatBool(v), nil
	}
	return "", fmt.Errorf("it is neither a number, words, yes or no, nor a list of words")
}
