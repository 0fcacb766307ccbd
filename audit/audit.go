// Package audit compares a sheet with itself, with the law, with the substance table, with its label, its claims and its
// kit, and says what cannot be true, what is missing, what may be true and what is worth knowing.
//
//	sheet.Sheet + ghs.RuleSet + substance.Table (+ Label, claims, Kit, previous revision)
//	    │
//	    ▼
//	   Case ─ BuildMixture ─► classify (Program, Envelope, Proof), once with what is firm, once with the stricter
//	    │
//	    ▼
//	   Run ─ every Check of the Catalogue ─► Report: findings by harm, choices made, checks that could not be made
//	    │
//	    ├─► LetterOf  the questions to the supplier, in four languages
//	    ├─► Plain     half a page for somebody who has never read a sheet
//	    └─► LabelVerdict, JudgeClaims
//
//	two revisions ─ Revise ─► what changed in meaning
//
// A finding is a contradiction only when it holds for every value that the sheet allows, by the sheet's own word or by law
// that binds under the rule set, and never when its words were read from a picture. What others state, or what was recalled, raises a doubt. A section that could not be read
// is noted as unchecked, never as absent.
//
// One check is one file (check_*.go) and one row of the catalogue (catalogue.go). docs/checks.md is written from the
// catalogue.
package audit

import (
	"fmt"

	"sixteen/sheet"
)

// Kind is what sort of finding it is.
type Kind uint8

// Kinds, gravest first.
const (
	Contradiction Kind = iota // cannot be true
	Gap                       // required and absent, or too vague to act on
	Doubt                     // true for some compositions that the sheet allows
	Note                      // worth knowing
)

// kinds and harms name the values in JSON and on paper.
func kinds() []string { return []string{"contradiction", "gap", "doubt", "note"} }

func harms() []string {
	return []string{"death", "lasting harm", "passing harm", "environment", "paper"}
}

// String is the kind as a word: contradiction, gap, doubt or note.
func (k Kind) String() string { return word(kinds(), int(k)) }

// MarshalText writes the kind as its word.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a kind from its word.
func (k *Kind) UnmarshalText(b []byte) error {
	i, err := index(kinds(), string(b))
	*k = Kind(i)
	return err
}

// String is the harm in one or two words.
func (h Harm) String() string { return word(harms(), int(h)) }

// MarshalText writes the harm as its words.
func (h Harm) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalText reads a harm from its words.
func (h *Harm) UnmarshalText(b []byte) error {
	i, err := index(harms(), string(b))
	*h = Harm(i)
	return err
}

func word(words []string, i int) string {
	if i < 0 || i >= len(words) {
		return fmt.Sprintf("unknown (%d)", i)
	}
	return words[i]
}

func index(words []string, s string) (int, error) {
	for i, w := range words {
		if w == s {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%q is none of %q", s, words)
}

// Harm orders findings by what could happen to somebody who trusts the sheet.
type Harm uint8

// Harms, worst first.
const (
	HarmDeath   Harm = iota // death, cancer, unborn child, fire or explosion
	HarmLasting             // allergy for life, blindness, burns, organ damage
	HarmPassing             // passing irritation, drowsiness
	HarmEnvironment
	HarmPaper // nobody is hurt directly; the paper cannot be relied on
)

// Finding is one thing a check noticed. ID is stable: the same fault in the same sheet has the same ID on every run.
type Finding struct {
	ID          string      `json:"id"`
	Check       string      `json:"check"`
	Kind        Kind        `json:"kind"`
	Harm        Harm        `json:"harm"`
	Section     int         `json:"section"`
	Title       string      `json:"title"`        // one line
	Says        []Side      `json:"says"`         // what the sheet (label, claim) says, with the evidence
	Follows     []Side      `json:"follows"`      // what follows from other facts, with the evidence or the arithmetic
	CouldHappen string      `json:"could_happen"` // to whom
	Clause      string      `json:"clause"`
	Do          string      `json:"do"`
	Ask         string      `json:"ask,omitempty"` // the sentence for the letter to the supplier, in English; Letter writes it in other languages
	Question    Question    `json:"question,omitzero"`
	Overruled   *Overruling `json:"overruled,omitempty"`
}

// Side is one side of a comparison: words, where they stand, and the arithmetic when they are concluded.
type Side struct {
	Text     string           `json:"text"`
	Section  int              `json:"section,omitempty"`
	Evidence []sheet.Evidence `json:"evidence,omitempty"`
	Trace    []string         `json:"trace,omitempty"`
	Source   string           `json:"source,omitempty"` // of a reference value
	Memory   bool             `json:"memory,omitempty"` // the reference value was recalled, not looked up
}

// Overruling records that a person decided a finding does not apply, and why.
type Overruling struct {
	Who  string `json:"who"`
	When string `json:"when"` // RFC 3339
	Why  string `json:"why"`
}
