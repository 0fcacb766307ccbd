package judge

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"sixteen/audit"
	"sixteen/sheet"
)

// Decided is what people decided about one document. A decision belongs to one file of one revision: another revision, and
// another copy that differs in a byte, is judged afresh. Whoever keeps the decisions hands them to the desk
// (Options.Decided); package shelf does.
type Decided struct {
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

// Together are the overrulings kept for a document and those of one request, which come first.
func (a Decided) Together(of map[string]audit.Overruling) map[string]audit.Overruling {
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
