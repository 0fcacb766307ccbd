package classify

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// ClassAnswer is the envelope of one class, by route or effect where the standard keeps those apart.
type ClassAnswer struct {
	Class     ghs.Class
	Qualifier ghs.Qualifier
	// AtLeast is the severest category that every composition has or exceeds, 0 when some composition has none.
	AtLeast ghs.Hazard
	// Possible lists the categories that some composition has, the severest first.
	Possible []ghs.Hazard
}

// Classes lists the classes of which some category is possible, in the order of the standard.
func (e *Envelope) Classes() []ClassAnswer {
	var out []ClassAnswer
	place := map[group]int{}
	for _, a := range e.Answers {
		g := groupOf(a.Hazard)
		if a.Verdict == RuledOut && a.OrSeverer != Certain {
			continue
		}
		k, seen := place[g]
		if !seen {
			k = len(out)
			place[g] = k
			out = append(out, ClassAnswer{Class: g.class, Qualifier: g.qualifier})
		}
		if a.OrSeverer == Certain && out[k].AtLeast == 0 {
			out[k].AtLeast = a.Hazard
		}
		if a.Verdict != RuledOut {
			out[k].Possible = append(out[k].Possible, a.Hazard)
		}
	}
	return out
}

// String is the answer in words: "at least Eye Irrit. 2 is certain: Eye Dam. 1 or Eye Irrit. 2", "Skin Sens. 1 is
// certain", "Carc. 1B or Carc. 2 is possible, and so is none".
func (c ClassAnswer) String() string {
	names := make([]string, len(c.Possible))
	for i, h := range c.Possible {
		names[i] = h.String()
	}
	choice := strings.Join(names, " or ")
	switch {
	case c.AtLeast == 0:
		return choice + " is possible, and so is none"
	case len(c.Possible) == 1:
		return choice + " is certain"
	}
	return fmt.Sprintf("at least %v is certain: %s", c.AtLeast, choice)
}
