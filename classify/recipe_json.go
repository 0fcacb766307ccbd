package classify

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
)

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
