package compare

import (
	"fmt"
	"strings"
)

// Verdict is how one product stands to another on one axis.
type Verdict string

// Verdicts. Seems is better or worse as far as known, while something that is not known could turn it.
const (
	Better      Verdict = "better"
	Worse       Verdict = "worse"
	Same        Verdict = "same"
	NotWorse    Verdict = "same or better"
	NotBetter   Verdict = "same or worse"
	SeemsBetter Verdict = "seems better"
	SeemsWorse  Verdict = "seems worse"
	Unclear     Verdict = "cannot be told"
)

// Weigh holds score a against score b. Better needs a's worst below b's best; a score that is open is never better.
func Weigh(a, b Score) Verdict {
	switch {
	case a.worst() < b.Lo:
		return Better
	case b.worst() < a.Lo:
		return Worse
	case a.worst() <= b.Lo && b.worst() <= a.Lo:
		return Same
	case noWorse(a, b):
		return NotWorse
	case noWorse(b, a):
		return NotBetter
	case a.Hi < b.Lo:
		return SeemsBetter
	case b.Hi < a.Lo:
		return SeemsWorse
	}
	return Unclear
}

// noWorse tells whether a is surely not worse than b.
func noWorse(a, b Score) bool { return a.worst() <= b.Lo }

// Dominates tells whether a product with scores a is surely nowhere worse than one with scores b, and surely better
// somewhere. Scores stand in the order of Axes.
func Dominates(a, b []Score) bool {
	strictly := false
	for i := range a {
		if !noWorse(a[i], b[i]) {
			return false
		}
		strictly = strictly || a[i].worst() < b[i].Lo
	}
	return strictly
}

// Pair is two products beside each other. Verdicts are those of First, in the order of Axes.
type Pair struct {
	First     string    `json:"first"`
	Second    string    `json:"second"`
	Verdicts  []Verdict `json:"verdicts"`
	Dominates string    `json:"dominates,omitempty"` // the name of the dominating one
	TradeOff  string    `json:"trade_off"`
}

func pairOf(a, b Product) Pair {
	p := Pair{First: a.Name, Second: b.Name}
	by := map[Verdict][]string{}
	for i, axis := range Axes() {
		v := Weigh(a.Scores[i], b.Scores[i])
		p.Verdicts = append(p.Verdicts, v)
		by[v] = append(by[v], axis.Title())
	}
	switch {
	case Dominates(a.Scores, b.Scores):
		p.Dominates = a.Name
	case Dominates(b.Scores, a.Scores):
		p.Dominates = b.Name
	}
	p.TradeOff = tradeOff(a, b, by, p.Dominates)
	return p
}

// tradeOff says in words what choosing one over the other gives and takes.
func tradeOff(a, b Product, by map[Verdict][]string, dominates string) string {
	var parts []string
	say := func(format string, axes []string) {
		if len(axes) > 0 {
			parts = append(parts, fmt.Sprintf(format, strings.Join(axes, "; ")))
		}
	}
	if dominates != "" {
		other := a.Name
		if dominates == a.Name {
			other = b.Name
		}
		parts = append(parts, fmt.Sprintf("%s is nowhere worse than %s and somewhere better", dominates, other))
	}
	say("Against "+b.Name+", "+a.Name+" is better on: %s", by[Better])
	say("Against "+a.Name+", "+b.Name+" is better on: %s", by[Worse])
	say("At least as good is "+a.Name+" on: %s", by[NotWorse])
	say("At least as good is "+b.Name+" on: %s", by[NotBetter])
	say("As far as known "+a.Name+" is better on: %s", by[SeemsBetter])
	say("As far as known "+b.Name+" is better on: %s", by[SeemsWorse])
	say("Alike on: %s", by[Same])
	say("Cannot be told: %s", by[Unclear])
	if a.Cost != nil && b.Cost != nil && *a.Cost != *b.Cost {
		cheap, dear := a, b
		if *b.Cost < *a.Cost {
			cheap, dear = b, a
		}
		parts = append(parts, fmt.Sprintf("The job costs %.2f with %s and %.2f with %s (material alone)", *cheap.Cost, cheap.Name, *dear.Cost, dear.Name))
	}
	return strings.Join(parts, ". ") + "."
}

// conclude fills pairs, what is not dominated, and the headline.
func (c *Comparison) conclude() {
	dominated := map[string]bool{}
	for i, a := range c.Products {
		for _, b := range c.Products[i+1:] {
			p := pairOf(a, b)
			c.Pairs = append(c.Pairs, p)
			switch p.Dominates {
			case a.Name:
				dominated[b.Name] = true
			case b.Name:
				dominated[a.Name] = true
			}
		}
	}
	for _, p := range c.Products {
		if !dominated[p.Name] {
			c.Leading = append(c.Leading, p.Name)
		}
		if p.Failed != "" {
			c.Headline = append(c.Headline, p.Name+": "+p.Failed)
		}
		if p.Plan != nil && !p.Plan.Protection.Adequate {
			c.Headline = append(c.Headline, p.Name+": nothing held protects adequately; do not do the job this way with it")
		}
	}
	if c.Partial {
		c.Headline = append([]string{"Partial answer: the comparison was stopped before its end"}, c.Headline...)
	}
	for _, p := range c.Pairs {
		c.Headline = append(c.Headline, p.TradeOff)
	}
	c.Notes = []string{
		"axes are kept apart and never added up; which one matters most is for the people who do the work to say",
		"better needs the worst of one below the best of the other; what is not known never counts as good",
		"hazards are ordered within an axis by a ladder of our own; the standard does not rank them",
	}
	if c.Job == "" {
		c.Notes = append(c.Notes, "without a job nothing can be said of the air, the protection burden and the cost")
	} else {
		c.Notes = append(c.Notes, "the same grams are used on the same surface with every product; where one covers more, change its amount in a job of its own")
	}
}
