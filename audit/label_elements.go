package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// elements are what the declared classification puts on a label of the given size.
func (c *Case) elements() classify.LabelElements {
	return classify.Label(c.declares(), c.RuleSet, classify.LabelOptions{Millilitres: c.Label.CapacityML})
}

// side is what the label says.
func (l *Label) side(text string) Side { return Side{Text: "Label: " + text, Evidence: l.Evidence} }

// codesOn are the single codes of statements on the label; a phrase without a code is matched to its code. The second
// answer tells whether every statement was understood.
func codesOn(statements []sheet.Statement) (codes []ghs.Code, understood bool) {
	understood = true
	for _, s := range statements {
		if s.Code != "" {
			codes = append(codes, split(s.Code)...)
			continue
		}
		found := ghs.FindPhrase(s.Phrase, "")
		understood = understood && len(found) > 0
		for _, m := range found {
			codes = append(codes, split(m.Code)...)
		}
	}
	return codes, understood
}

// statementOn tells whether a label carries a code, or one that says at least as much of the same question.
func (c *Case) statementOn(codes []ghs.Code, want ghs.Code) bool {
	h := mildest(want.Base(), c.RuleSet)
	return slices.ContainsFunc(codes, func(have ghs.Code) bool {
		if have == want.Base() {
			return true
		}
		m := mildest(have, c.RuleSet)
		return h != ghs.NoHazard && m != ghs.NoHazard && covers(m, h)
	})
}

// labelCheck is the row of a check that compares the label with the sheet. It does nothing without a label.
func labelCheck(row Check, run func(*Case, *Label, *Emit)) Check {
	row.Group = LabelSheet
	if row.Clauses == nil {
		row.Clauses = labelClauses()
	}
	row.Run = func(c *Case, e *Emit) {
		if c.Label == nil {
			return
		}
		run(c, c.Label, e)
	}
	return row
}

func labelClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200(f)(1), (f)(12) and App. C", ghs.USHCS2012: "29 CFR 1910.1200(f)(1) and App. C",
		ghs.EUCLP: "CLP Articles 17 to 33 and Annex I 1.5.2 (from memory)", ghs.GBCLP: "GB CLP Articles 17 to 33 (from memory)",
		ghs.CAHPR: "Hazardous Products Regulations s. 3(1) and 3.6", ghs.AUWHS: "model WHS Regulations schedule 9 (from memory)", ghs.UNGHS: "UN GHS 1.4.10",
	}
}

// LabelVerdict says in one sentence how the label stands to the sheet. It is about agreement of two papers and says
// nothing of the product.
func LabelVerdict(c *Case, r Report) string {
	if c.Label == nil {
		return "No label was compared."
	}
	differs, unsure, open := 0, 0, 0
	for _, f := range r.Open() {
		if !strings.HasPrefix(f.Check, "label-") {
			continue
		}
		switch f.Kind {
		case Contradiction:
			differs++
		case Doubt:
			unsure++
		default:
			open++
		}
	}
	switch {
	case differs > 0:
		if differs == 1 {
			return "The label does not say what the sheet says: one difference."
		}
		return fmt.Sprintf("The label does not say what the sheet says: %d differences.", differs)
	case unsure == 1:
		return "The label may not say what the sheet says: one point seems to differ; look at the tin itself."
	case unsure > 0:
		return fmt.Sprintf("The label may not say what the sheet says: %d points seem to differ; look at the tin itself.", unsure)
	case open == 1:
		return "The label agrees with the sheet on the hazards; one point is open."
	case open > 0:
		return fmt.Sprintf("The label agrees with the sheet on the hazards; %d points are open.", open)
	case !c.Label.Complete:
		return "What was entered of the label agrees with the sheet; the rest of the label was not compared."
	}
	return "The label says what the sheet says."
}
