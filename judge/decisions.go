package judge

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/sheet"
)

// Decisions are what this user decided about documents, by the SHA-256 of the document in hexadecimal digits. A decision
// belongs to one file of one revision: another revision, and another copy that differs in a byte, is judged afresh.
type Decisions struct {
	Documents map[string]Decided `json:"documents"`
}

// Decided is what was decided about one document.
type Decided struct {
	Name        string                      `json:"name"` // of the file when it was last decided about
	Overrulings map[string]audit.Overruling `json:"overrulings,omitempty"`
	Corrections []Correction                `json:"corrections,omitempty"` // oldest first
}

// Correction is the value of a fact as a person states it. Path is that of sheet.Sheet.Facts, Value is JSON.
type Correction struct {
	Path  string          `json:"path"`
	Value json.RawMessage `json:"value"`
	Who   string          `json:"who"`
	Why   string          `json:"why"`
	When  time.Time       `json:"when"`
}

// ErrNotDecided is returned when there is no such decision to take back.
var ErrNotDecided = errors.New("nothing was decided about it, so there is nothing to take back")

// DecisionsFile is where this user's overrulings and corrections are kept, in the user's configuration folder.
func DecisionsFile() (string, error) {
	tables, err := TablesFile()
	if err != nil {
		return "", err
	}
	return filepath.Join(filepath.Dir(tables), "decisions.json"), nil
}

// ReadDecisions reads the decisions; a file that does not exist holds none.
func ReadDecisions(file string) (Decisions, error) {
	raw, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return Decisions{}, nil
	}
	if err != nil {
		return Decisions{}, err
	}
	var d Decisions
	if err := json.Unmarshal(raw, &d); err != nil {
		return Decisions{}, fmt.Errorf("the overrulings and corrections in %s cannot be read (%w): mend the file, or move it away to begin without any", file, err)
	}
	return d, nil
}

// WriteDecisions keeps the decisions. The file is replaced whole or not at all.
func WriteDecisions(file string, d Decisions) error {
	raw, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		return err
	}
	return replaceFile(file, append(raw, '\n'))
}

// Of is what was decided about the document with the given SHA-256.
func (d Decisions) Of(sha256 string) Decided { return d.Documents[sha256] }

// with returns the decisions with those about one document replaced; d is not changed.
func (d Decisions) with(sha256 string, about Decided) Decisions {
	docs := maps.Clone(d.Documents)
	if docs == nil {
		docs = map[string]Decided{}
	}
	docs[sha256] = about
	if len(about.Overrulings) == 0 && len(about.Corrections) == 0 {
		delete(docs, sha256)
	}
	return Decisions{Documents: docs}
}

// Overrule returns the decisions with finding id of the document overruled; d is not changed. It fails without a name or a
// reason.
func (d Decisions) Overrule(src sheet.Source, id, who, why string, when time.Time) (Decisions, error) {
	if strings.TrimSpace(who) == "" || strings.TrimSpace(why) == "" {
		return d, errors.New("say who overrules and why: both are kept and shown with the finding")
	}
	about := d.Of(src.SHA256)
	about.Name = src.Name
	about.Overrulings = maps.Clone(about.Overrulings)
	if about.Overrulings == nil {
		about.Overrulings = map[string]audit.Overruling{}
	}
	about.Overrulings[id] = audit.Overruling{Who: who, When: when.Format(time.RFC3339), Why: why}
	return d.with(src.SHA256, about), nil
}

// Reinstate returns the decisions without the overruling of finding id; d is not changed. It fails with ErrNotDecided.
func (d Decisions) Reinstate(src sheet.Source, id string) (Decisions, error) {
	about := d.Of(src.SHA256)
	if _, ok := about.Overrulings[id]; !ok {
		return d, fmt.Errorf("finding %s of %s: %w", id, src.Name, ErrNotDecided)
	}
	about.Overrulings = maps.Clone(about.Overrulings)
	delete(about.Overrulings, id)
	return d.with(src.SHA256, about), nil
}

// Correct returns the decisions with a correction of s added; neither d nor s is changed. It fails for what Correct of
// sheet.Sheet fails for.
func (d Decisions) Correct(s *sheet.Sheet, c Correction) (Decisions, error) {
	trial, err := copyOf(s)
	if err != nil {
		return d, err
	}
	if err := trial.Correct(c.Path, c.Value, c.Who, c.Why, c.When); err != nil {
		return d, err
	}
	about := d.Of(s.Source.SHA256)
	about.Name = s.Source.Name
	about.Corrections = append(slices.Clone(about.Corrections), c)
	return d.with(s.Source.SHA256, about), nil
}

// Uncorrect returns the decisions without the last correction of a path; d is not changed. It fails with ErrNotDecided.
func (d Decisions) Uncorrect(src sheet.Source, path string) (Decisions, error) {
	about := d.Of(src.SHA256)
	for i, c := range slices.Backward(about.Corrections) {
		if c.Path == path {
			about.Corrections = slices.Delete(slices.Clone(about.Corrections), i, i+1)
			return d.with(src.SHA256, about), nil
		}
	}
	return d, fmt.Errorf("%s of %s: %w", path, src.Name, ErrNotDecided)
}

// Apply makes the corrections in a sheet as it was read. A correction that does not fit it any more, because the reader
// finds other facts than it did, becomes a problem of the sheet.
func (a Decided) Apply(s *sheet.Sheet) {
	for _, c := range a.Corrections {
		if err := s.Correct(c.Path, c.Value, c.Who, c.Why, c.When); err != nil {
			s.Problems = append(s.Problems, sheet.ReadProblem{
				What: fmt.Sprintf("The correction of %s by %s (%s) does not fit the sheet as it is read now: %v.", c.Path, c.Who, c.When.Format(time.DateOnly), err),
				Do:   "Look at the fact and correct it again, or take the correction back.",
			})
		}
	}
}

// together are the overrulings kept for a document and those of one request, which come first.
func (a Decided) together(of map[string]audit.Overruling) map[string]audit.Overruling {
	if len(a.Overrulings) == 0 {
		return of
	}
	all := maps.Clone(a.Overrulings)
	maps.Copy(all, of)
	return all
}

// Overruled lists the IDs of the overruled findings in alphabetical order.
func (a Decided) Overruled() []string {
	return slices.SortedFunc(maps.Keys(a.Overrulings), func(x, y string) int { return cmp.Compare(x, y) })
}

func copyOf(s *sheet.Sheet) (*sheet.Sheet, error) {
	raw, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	var out sheet.Sheet
	return &out, json.Unmarshal(raw, &out)
}

// decided is what this user decided about a document; an account without a configuration folder has decided nothing.
func decided(sha256 string) (Decided, error) {
	file, err := DecisionsFile()
	if err != nil {
		return Decided{}, nil
	}
	d, err := ReadDecisions(file)
	return d.Of(sha256), err
}
