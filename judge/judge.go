// Package judge is the main job in one call: a document in, the whole judgement out. The command line and the web pages
// use it alike.
//
//	bytes ─ read ─► sheet ─ rule set (asked for, or found in the sheet) ─ audit, classify ─► Judgement
package judge

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Request says how one document is to be judged. The zero Request finds the rule set in the sheet and judges as of today.
type Request struct {
	Rules       ghs.RuleSet
	Now         time.Time
	Overrulings map[string]audit.Overruling // by finding ID
	Label       *audit.Label                // compared with the sheet; may be nil
	Claims      []string                    // sales texts
	Previous    *sheet.Sheet                // the revision before; may be nil
}

// Judgement is a sheet with everything that follows from it.
type Judgement struct {
	Sheet       *sheet.Sheet `json:"sheet"`
	RuleSet     ghs.RuleSet  `json:"rule_set"`
	RuleSetWhy  string       `json:"rule_set_why"`
	AsOf        time.Time    `json:"as_of"`
	Report      audit.Report `json:"report"`
	Conclusions Conclusions  `json:"conclusions"`

	made *audit.Case
}

// Case is the case that the report was made of, for the other papers of package audit.
func (j *Judgement) Case() *audit.Case { return j.made }

// Conclusions is what follows from the disclosed ingredients and the measured data under the rule set.
type Conclusions struct {
	Classes    []Conclusion `json:"classes"`              // every class that is possible, certain or declared
	Proof      []string     `json:"proof"`                // whether the declared classification can be exactly right, in words
	Remainder  string       `json:"remainder"`            // the undisclosed share, in words
	Impossible string       `json:"impossible,omitempty"` // why no composition fits the stated ranges, "" when one does
}

// Conclusion is the verdict on one hazard beside what the sheet declares.
type Conclusion struct {
	Hazard   ghs.Hazard        `json:"hazard"`
	Verdict  string            `json:"verdict"` // certain, possible, ruled out, not judged
	Declared bool              `json:"declared"`
	Why      []classify.Reason `json:"why"`
	For      string            `json:"for,omitempty"`     // a composition that has it
	Against  string            `json:"against,omitempty"` // a composition that does not
}

// JudgeSheet judges a sheet that was read before. Overrulings and corrections are honoured.
func JudgeSheet(ctx context.Context, s *sheet.Sheet, table *substance.Table, req Request) (*Judgement, error) {
	if req.Now.IsZero() {
		req.Now = time.Now()
	}
	j := &Judgement{Sheet: s, AsOf: req.Now}
	j.RuleSet, j.RuleSetWhy = RuleSetFor(s, req.Rules)
	c := &audit.Case{Sheet: s, RuleSet: j.RuleSet, Substances: table, Today: req.Now, Overrulings: req.Overrulings,
		Label: req.Label, Claims: req.Claims, Previous: req.Previous}
	j.made = c
	var err error
	if j.Report, err = audit.Run(ctx, c); err != nil {
		return nil, err
	}
	j.Conclusions, err = conclude(ctx, c)
	return j, err
}

// RuleSetFor is the rule set asked for, or the one the sheet appears to be written for, with the reason in words.
func RuleSetFor(s *sheet.Sheet, asked ghs.RuleSet) (ghs.RuleSet, string) {
	switch found := s.Jurisdiction; {
	case asked != "" && found.Known() && found.Value != asked:
		return asked, fmt.Sprintf("as asked; the sheet itself appears to be written for %s", found.Value.Name())
	case asked != "":
		return asked, "as asked"
	case found.Known() && found.Where().Words != "":
		return found.Value, fmt.Sprintf("because the sheet says “%s” (page %d)", found.Where().Words, found.Where().Page)
	case found.Known():
		return found.Value, "as the sheet suggests"
	}
	return ghs.UNGHS, "the sheet does not show which law it is written for, so the UN model rules are used; name one with --rules"
}

// conclude works out the envelope and the proof for display. A mixture that no composition fits is a conclusion too.
func conclude(ctx context.Context, c *audit.Case) (Conclusions, error) {
	var out Conclusions
	m := c.Mixture()
	declared := c.Declared()
	p, err := classify.Compile(m, c.RuleSet)
	if err != nil {
		out.Impossible = err.Error()
		return out, nil
	}
	e, err := p.Envelope()
	if errors.Is(err, classify.ErrImpossibleComposition) {
		out.Impossible = err.Error()
		return out, nil
	}
	if err != nil {
		return out, err
	}
	out.Classes = conclusions(e, &m, declared)
	out.Remainder = remainderWords(e, len(m.Ingredients))
	if len(declared.All()) == 0 && c.Sheet.Hazards.Classified != sheet.NoneStated {
		return out, nil
	}
	proof, err := p.Prove(ctx, declared.All(), classify.ProofOptions{})
	if err != nil {
		return out, err
	}
	out.Proof = strings.Split(strings.ReplaceAll(proof.Words(&m), ". These ", ".\nThese "), "\n")
	return out, nil
}

// ConclusionsOf lists every class that the envelope holds certain or possible.
func ConclusionsOf(e *classify.Envelope, m *classify.Mixture) []Conclusion {
	return conclusions(e, m, ghs.HazardSet{})
}

func conclusions(e *classify.Envelope, m *classify.Mixture, declared ghs.HazardSet) []Conclusion {
	var out []Conclusion
	seen := ghs.HazardSet{}
	for _, a := range e.Answers {
		seen.Add(a.Hazard)
		if a.Verdict == classify.RuledOut && !declared.Has(a.Hazard) {
			continue
		}
		c := Conclusion{Hazard: a.Hazard, Verdict: a.Verdict.String(), Declared: declared.Has(a.Hazard), Why: e.Why(a.Hazard)}
		if a.Verdict == classify.Possible {
			c.For, c.Against = a.For.Words(m), a.Against.Words(m)
		}
		out = append(out, c)
	}
	for _, h := range declared.Minus(seen).All() {
		out = append(out, Conclusion{Hazard: h, Verdict: "not judged", Declared: true,
			Why: []classify.Reason{{Text: "Nothing that is disclosed or measured lets the rules decide this class."}}})
	}
	return out
}

func remainderWords(e *classify.Envelope, listed int) string {
	switch {
	case listed == 0:
		return "No ingredient was read, so nothing can be worked out from the composition."
	case e.MaxRemainder < 0.05:
		return "The disclosed ingredients make up the whole."
	case e.MaxRemainder-e.MinRemainder < 0.05:
		return fmt.Sprintf("%.4g %% of the product is not disclosed; what that part could add is not known.", e.MaxRemainder)
	}
	return fmt.Sprintf("Between %.4g and %.4g %% of the product is not disclosed; what that part could add is not known.", e.MinRemainder, e.MaxRemainder)
}

// WriteJSON writes the whole judgement, indented.
func (j *Judgement) WriteJSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(j)
}
