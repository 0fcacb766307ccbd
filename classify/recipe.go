package classify

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"sixteen/ghs"
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
