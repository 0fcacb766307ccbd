package sheet

import (
	"encoding/json"
	"fmt"
)

// handle is one fact of a sheet reached without knowing the type of its value.
type handle struct {
	path        string
	section     int
	label       string
	state       *State
	evidence    *[]Evidence
	confidence  *float64
	corrections *[]Correction
	text        func() string
	was         func(Correction) string
	get         func() ([]byte, error)
	set         func([]byte) error
	store       func() // puts a copy back where it came from, nil when the handle is no copy
}

// handleOf makes the handle of f; text prints its value for a person.
func handleOf[T any](path string, section int, label string, f *Fact[T], text func(T) string) handle {
	return handle{
		path: path, section: section, label: label,
		state: &f.State, evidence: &f.Evidence, confidence: &f.Confidence, corrections: &f.Corrections,
		text: func() string {
			if f.State != Stated {
				return ""
			}
			return text(f.Value)
		},
		was: func(c Correction) string {
			var v T
			if c.WasState != Stated || json.Unmarshal([]byte(c.Was), &v) != nil {
				return ""
			}
			return text(v)
		},
		get: func() ([]byte, error) { return json.Marshal(f.Value) },
		set: func(b []byte) error {
			var v T
			if err := json.Unmarshal(b, &v); err != nil {
				return fmt.Errorf("%w: %s does not take %s: %w", ErrValue, path, b, err)
			}
			f.Value = v
			return nil
		},
	}
}

// ForgetBoxes empties the places of all facts and lines, for documents that have no pages of their own.
func (s *Sheet) ForgetBoxes() {
	for _, h := range s.handles() {
		for i := range *h.evidence {
			(*h.evidence)[i].Box = Rect{}
		}
	}
	for i := range s.Sections {
		s.Sections[i].Heading.Box = Rect{}
		for k := range s.Sections[i].Text {
			s.Sections[i].Text[k].Box = Rect{}
		}
	}
	for i := range s.Hazards.ClassifiedAt {
		s.Hazards.ClassifiedAt[i].Box = Rect{}
	}
}
