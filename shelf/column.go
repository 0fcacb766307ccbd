package shelf

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// stamp is the form of moments in the store: UTC, fixed width, so that their text sorts as they do.
const stamp = "2006-01-02T15:04:05.000000Z"

// column is one column of a record: its name, and where its value is read from and scanned into.
type column struct {
	name  string
	value cell
}

// cell moves one value between a field and the store.
type cell interface {
	driver.Valuer
	Scan(any) error
}

// text is a string; what the engines cannot keep (NUL, broken UTF-8) is left out.
type text struct{ p *string }

func (c text) Value() (driver.Value, error) { return storable(*c.p), nil }
func (c text) Scan(v any) error             { return scanText(v, c.p) }

// words is a named string type.
type words[T ~string] struct{ p *T }

func (c words[T]) Value() (driver.Value, error) { return storable(string(*c.p)), nil }
func (c words[T]) Scan(v any) error {
	var s string
	err := scanText(v, &s)
	*c.p = T(s)
	return err
}

// ref is the ID of another record; "" is none and is kept as NULL, so that foreign keys hold.
type ref struct{ p *string }

func (c ref) Value() (driver.Value, error) {
	if *c.p == "" {
		return nil, nil
	}
	return *c.p, nil
}
func (c ref) Scan(v any) error { return scanText(v, c.p) }

// whole is an integer.
type whole[T ~int | ~int64] struct{ p *T }

func (c whole[T]) Value() (driver.Value, error) { return int64(*c.p), nil }
func (c whole[T]) Scan(v any) error {
	n, ok := v.(int64)
	if !ok {
		return fmt.Errorf("a whole number was expected, the store holds %T", v)
	}
	*c.p = T(n)
	return nil
}

// number is a number that may be unknown.
type number struct{ p **float64 }

func (c number) Value() (driver.Value, error) {
	if *c.p == nil {
		return nil, nil
	}
	return **c.p, nil
}
func (c number) Scan(v any) error {
	switch n := v.(type) {
	case nil:
		*c.p = nil
	case float64:
		*c.p = &n
	case int64:
		f := float64(n)
		*c.p = &f
	default:
		return fmt.Errorf("a number was expected, the store holds %T", v)
	}
	return nil
}

// moment is a time; the zero time is "".
type moment struct{ p *time.Time }

func (c moment) Value() (driver.Value, error) { return stamped(*c.p), nil }
func (c moment) Scan(v any) error {
	var s string
	if err := scanText(v, &s); err != nil || s == "" {
		*c.p = time.Time{}
		return err
	}
	t, err := time.Parse(stamp, s)
	*c.p = t
	return err
}

// asJSON keeps a value as JSON text.
type asJSON[T any] struct{ p *T }

func (c asJSON[T]) Value() (driver.Value, error) {
	raw, err := json.Marshal(*c.p)
	return string(raw), err
}
func (c asJSON[T]) Scan(v any) error {
	var s string
	if err := scanText(v, &s); err != nil {
		return err
	}
	var zero T
	*c.p = zero
	if s == "" {
		return nil
	}
	return json.Unmarshal([]byte(s), c.p)
}

// list keeps words that hold no "|", with one before, between and after them, so that a word is found with its bars.
type list[T ~string] struct{ p *[]T }

func (c list[T]) Value() (driver.Value, error) {
	if len(*c.p) == 0 {
		return "", nil
	}
	var b strings.Builder
	b.WriteByte('|')
	for _, w := range *c.p {
		b.WriteString(strings.ReplaceAll(storable(string(w)), "|", "/") + "|")
	}
	return b.String(), nil
}
func (c list[T]) Scan(v any) error {
	var s string
	err := scanText(v, &s)
	*c.p = nil
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == '|' }) {
		*c.p = append(*c.p, T(w))
	}
	return err
}

func scanText(v any, p *string) error {
	switch s := v.(type) {
	case nil:
		*p = ""
	case string:
		*p = s
	case []byte:
		*p = string(s)
	default:
		return fmt.Errorf("a text was expected, the store holds %T", v)
	}
	return nil
}

func storable(s string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\x00", "")
}

func stamped(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(stamp)
}

// coded is a value that has a text form.
type coded[T interface{ String() string }] struct {
	p     *T
	parse func(string) (T, bool)
}

func (c coded[T]) Value() (driver.Value, error) { return (*c.p).String(), nil }
func (c coded[T]) Scan(v any) error {
	var s string
	if err := scanText(v, &s); err != nil {
		return err
	}
	var zero T
	*c.p = zero
	if s == "" || s == zero.String() {
		return nil
	}
	t, ok := c.parse(s)
	if !ok {
		return fmt.Errorf("the store holds %q, which this program does not know", s)
	}
	*c.p = t
	return nil
}

// codedList is a list of values whose text forms hold no "|".
type codedList[T interface{ String() string }] struct {
	p     *[]T
	parse func(string) (T, bool)
}

func (c codedList[T]) Value() (driver.Value, error) {
	if len(*c.p) == 0 {
		return "", nil
	}
	var b strings.Builder
	b.WriteByte('|')
	for _, v := range *c.p {
		b.WriteString(v.String() + "|")
	}
	return b.String(), nil
}
func (c codedList[T]) Scan(v any) error {
	var s string
	if err := scanText(v, &s); err != nil {
		return err
	}
	*c.p = nil
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == '|' }) {
		t, ok := c.parse(w)
		if !ok {
			return fmt.Errorf("the store holds %q, which this program does not know", w)
		}
		*c.p = append(*c.p, t)
	}
	return nil
}
