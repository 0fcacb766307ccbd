package facts

import (
	"strings"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// How often each way of reading proved right on sheets with a hand-made record; a fact's Confidence starts from it.
const (
	sureLabel = 0.98 // a known label with a value that parses whole
	sureTable = 0.98 // a table column with a known head
	sureCode  = 0.99 // a code with its own check or fixed form in the section it belongs to
	likely    = 0.96 // a known pattern without label
	inferred  = 0.90 // concluded from other words
	uncertain = 0.80 // two readings were possible
)

// stretch is a piece of one (perhaps joined) line.
type stretch struct {
	line       *layout.Line
	start, end int
}

// text of the stretch, tabs between cells turned into blanks.
func (s stretch) text() string {
	if s.line == nil {
		return ""
	}
	t := s.line.Text[s.start:s.end]
	if strings.IndexByte(t, '\t') >= 0 {
		t = strings.ReplaceAll(t, "\t", " ")
	}
	return t
}

// sub is the stretch of bytes from..to of s.
func (s stretch) sub(from, to int) stretch { return stretch{s.line, s.start + from, s.start + to} }

// trim drops blanks, colons and the like at both ends.
func (s stretch) trim(cut string) stretch {
	if s.empty() {
		return s
	}
	t := s.line.Text[s.start:s.end]
	l := len(t) - len(strings.TrimLeft(t, cut))
	t = t[l:]
	return stretch{s.line, s.start + l, s.start + l + len(strings.TrimRight(t, cut))}
}

// afterLeader drops a leader, the dots or dashes between a label and its value in ledgers.
func (s stretch) afterLeader() stretch {
	if s.empty() {
		return s
	}
	t := s.line.Text[s.start:s.end]
	rest := strings.TrimLeft(t, ".·_…-")
	if len(t)-len(rest) < 3 || rest == "" && strings.Trim(t, "-") == "" {
		return s
	}
	return s.sub(len(t)-len(rest), len(t)).trim(" \t:")
}

// withComma is the stretch with the comma that stands behind it.
func (s stretch) withComma() stretch {
	if !s.empty() && s.end < len(s.line.Text) && s.line.Text[s.end] == ',' {
		s.end++
	}
	return s
}

func (s stretch) empty() bool { return s.line == nil || s.start >= s.end }

func (s stretch) evidence() []sheet.Evidence {
	if s.empty() {
		return nil
	}
	return s.line.Where(s.start, s.end)
}

// fact makes a stated fact of a value read from stretches.
func fact[T any](value T, confidence float64, from ...stretch) sheet.Fact[T] {
	f := sheet.Fact[T]{State: sheet.Stated, Value: value, Confidence: confidence}
	for _, s := range from {
		if s.empty() {
			continue
		}
		f.Evidence = append(f.Evidence, s.evidence()...)
		if s.line.Confidence > 0 {
			f.Confidence = min(f.Confidence, confidence*printed(s.line.Confidence))
		}
	}
	return f
}

// printed is how sure a line of print makes its facts, from the least confidence that recognition gives its words; 1 for a
// text layer. Recognition doubts itself more than it errs: on real scans and on generated ones a third of the doubt is left
// when facts are held against their records (docs/figures.md, confidence).
func printed(least float64) float64 {
	const doubt = 0.35
	return 1 - doubt*(1-least)
}

// repaired is a fact whose value was made of other characters, those that were recognised.
func repaired[T any](f sheet.Fact[T], recognised string) sheet.Fact[T] {
	for i := range f.Evidence {
		f.Evidence[i].Recognised = recognised
	}
	return f
}

// recognised is the evidence of a stretch; words that are no repair have "".
func (s stretch) recognised(as string) []sheet.Evidence {
	es := s.evidence()
	for i := range es {
		if as != "" {
			es[i].Recognised = as
		}
	}
	return es
}

// misreadCAS is what was recognised in place of a repaired CAS number, "" for one that was read as it is.
func misreadCAS(c number.Registry) string {
	if c.Repaired {
		return c.Printed
	}
	return ""
}

// said makes a fact without value: the sheet says that it has none.
func said[T any](state sheet.State, from stretch) sheet.Fact[T] {
	confidence := 0.01 // of a file that does not say which characters it shows
	if from.line.Confidence > 0 {
		confidence = printed(from.line.Confidence)
	}
	return sheet.Fact[T]{State: state, Confidence: sureLabel * confidence, Evidence: from.evidence()}
}
