package sheet

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// Listed is one fact of a sheet as a line of a list.
type Listed struct {
	Path        string       `json:"path"`    // its place in the JSON form, members of lists by index from 0
	Section     int          `json:"section"` // 1 … 16; 0 when it belongs to none
	Label       string       `json:"label"`
	Text        string       `json:"text"` // the value for a person, "" when the sheet gives none
	State       State        `json:"state"`
	Evidence    []Evidence   `json:"evidence,omitempty"`
	Confidence  float64      `json:"confidence,omitempty"`
	Corrections []Correction `json:"corrections,omitempty"`
	Was         []string     `json:"was,omitempty"` // for each correction, the value before it for a person
}

// Facts lists every fact of the sheet and its parts in the order of the sections, also those the sheet is silent about.
func (s *Sheet) Facts() []Listed {
	hs := s.handles()
	out := make([]Listed, len(hs))
	for i, h := range hs {
		out[i] = Listed{Path: h.path, Section: h.section, Label: h.label, Text: h.text(), State: *h.state,
			Evidence: *h.evidence, Confidence: *h.confidence, Corrections: *h.corrections}
		for _, c := range *h.corrections {
			out[i].Was = append(out[i].Was, h.was(c))
		}
	}
	return out
}

// ErrNoFact is returned by Correct for a path that names no fact.
var ErrNoFact = errors.New("the sheet has no such fact")

// ErrValue is returned by Correct for a value of the wrong form, and for a row that says too little.
var ErrValue = errors.New("this cannot be taken")

// Correct lets a person state the value of a fact, given as JSON; null says that the sheet is silent about it. The state
// and value as read are kept in the fact's Corrections, the words it was read from stay its evidence, and its confidence
// becomes 1. Paths are those of Facts, or of Lists with ".+" for a row that the reader missed. Errors: ErrNoFact, ErrValue; a missing name or
// reason.
func (s *Sheet) Correct(path string, value []byte, who, why string, when time.Time) error {
	if who == "" || why == "" {
		return errors.New("say who corrects and why: both are kept with the fact")
	}
	if list, ok := strings.CutSuffix(path, more); ok {
		return s.addRow(list, value, who, why, when)
	}
	for _, h := range s.handles() {
		if h.path == path {
			return h.correct(value, who, why, when)
		}
	}
	return fmt.Errorf("%w: %s; see the list of facts for the paths there are", ErrNoFact, path)
}

// Value is the value of a fact as JSON, in the form that Correct takes. It fails with ErrNoFact.
func (s *Sheet) Value(path string) ([]byte, error) {
	for _, h := range s.handles() {
		if h.path == path {
			return h.get()
		}
	}
	return nil, fmt.Errorf("%w: %s; see the list of facts for the paths there are", ErrNoFact, path)
}

func (h handle) correct(value []byte, who, why string, when time.Time) error {
	was, err := h.get()
	if err != nil {
		return err
	}
	c := Correction{Who: who, When: when, Why: why, WasState: *h.state, Was: string(was)}
	state := Stated
	if string(value) == "null" {
		state = NotStated
	} else if err := h.set(value); err != nil {
		return err
	}
	*h.state, *h.confidence = state, 1
	*h.corrections = append(*h.corrections, c)
	if h.store != nil {
		h.store()
	}
	return nil
}
