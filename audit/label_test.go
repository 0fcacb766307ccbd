package audit

import (
	"context"
	"slices"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// tin is the label that belongs to a clean sheet.
func tin(c *Case) {
	l := &Label{Complete: true, Product: c.Sheet.Identification.ProductName.Value, Supplier: "Quay Nine Supply", Address: "9 Ropewalk, Port Anders", Phone: "+00 123 456", CapacityML: 1000}
	e := classify.Label(c.declares(), c.RuleSet, classify.LabelOptions{})
	l.Pictograms, l.SignalPrinted = e.PrintedPictograms(), e.SignalWord.Value.String()
	for _, s := range e.PrintedStatements() {
		l.Statements = append(l.Statements, sheet.Statement{Code: s, Phrase: phraseOf(s, ghs.English)})
	}
	for _, s := range e.Short {
		l.Precautions = append(l.Precautions, sheet.Statement{Code: s})
	}
	for _, i := range c.Sheet.Composition.Ingredients {
		l.Ingredients = append(l.Ingredients, i.Name.Value)
	}
	c.Label = l
}

func onTin(f func(*Label)) func(*Case) {
	return func(c *Case) {
		tin(c)
		f(c.Label)
	}
}

func labelTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	without := func(code ghs.Code) func(*Label) {
		return func(l *Label) {
			l.Statements = slices.DeleteFunc(l.Statements, func(s sheet.Statement) bool { return s.Code == code })
		}
	}
	symbol := func(p ghs.Pictogram) func(*Label) {
		return func(l *Label) {
			l.Pictograms = slices.DeleteFunc(l.Pictograms, func(q ghs.Pictogram) bool { return q == p })
		}
	}
	return []trial{
		finds("label-pictogram-missing", Contradiction, "burns without GHS05 on the tin", eu, hardener, onTin(symbol(ghs.Corrosion))),
		finds("label-pictogram-missing", Doubt, "the same where the label was not entered in full", eu, hardener, onTin(func(l *Label) {
			l.Complete = false
			symbol(ghs.Corrosion)(l)
		})),
		passes("label-pictogram-missing", "GHS09 is not owed in the United States", us, resin, onTin(symbol(ghs.Environment))),
		passes("label-pictogram-missing", "everything is on the tin", eu, hardener, tin),
		finds("label-pictogram-extra", Doubt, "the health hazard sign without a reason", eu, resin, onTin(func(l *Label) { l.Pictograms = append(l.Pictograms, ghs.HealthHazard) })),
		passes("label-pictogram-extra", "everything has a reason", eu, thinner, tin),
		finds("label-signal-word", Contradiction, "Warning on the tin, burns in section 2", eu, hardener, onTin(func(l *Label) { l.SignalPrinted = "Warning" })),
		finds("label-signal-word", Contradiction, "Caution is no signal word", us, resin, onTin(func(l *Label) { l.SignalPrinted = "CAUTION" })),
		finds("label-signal-word", Doubt, "a sterner word than needed", eu, resin, onTin(func(l *Label) { l.SignalPrinted = "Danger" })),
		passes("label-signal-word", "the German word", eu, hardener, onTin(func(l *Label) { l.SignalPrinted = "GEFAHR!" })),
		finds("label-statement-missing", Contradiction, "no word of allergy on the tin", eu, resin, onTin(without("H317"))),
		passes("label-statement-missing", "printed as a phrase without its code", eu, resin, onTin(func(l *Label) {
			without("H317")(l)
			l.Statements = append(l.Statements, sheet.Statement{Phrase: "May cause an allergic skin reaction."})
		})),
		passes("label-statement-missing", "EU: 100 ml may leave off the statement on irritation", eu, resin, onTin(func(l *Label) {
			l.CapacityML = 100
			without("H315")(l)
		})),
		finds("label-statement-extra", Contradiction, "asthma on the tin, not on the sheet", eu, resin, onTin(func(l *Label) { l.Statements = append(l.Statements, sheet.Statement{Code: "H334"}) })),
		passes("label-statement-extra", "a supplemental statement", eu, resin, onTin(func(l *Label) { l.Statements = append(l.Statements, sheet.Statement{Code: "EUH205"}) })),
		finds("label-precautions", Gap, "nothing to do about it", eu, resin, onTin(func(l *Label) { l.Precautions = nil })),
		passes("label-precautions", "six precautions", eu, resin, tin),
		finds("label-product", Contradiction, "another name", eu, resin, onTin(func(l *Label) { l.Product = "Slipway Fast A" })),
		passes("label-product", "the name without the part", eu, resin, onTin(func(l *Label) { l.Product = "SLIPWAY CLEAR" })),
		finds("label-supplier", Gap, "no telephone", us, resin, onTin(func(l *Label) { l.Phone = "" })),
		passes("label-supplier", "US: up to 100 ml no address", us, resin, onTin(func(l *Label) { l.Address, l.CapacityML = "", 60 })),
		finds("label-ingredients", Gap, "EU: no substance named beside H317", eu, resin, onTin(func(l *Label) { l.Ingredients = nil })),
		passes("label-ingredients", "not asked for in the United States", us, resin, onTin(func(l *Label) { l.Ingredients = nil })),
	}
}

func TestLabelVerdict(t *testing.T) {
	for _, x := range []struct {
		says   string
		change func(*Label)
	}{
		{"The label says what the sheet says.", func(*Label) {}},
		{"The label does not say what the sheet says: one difference.", func(l *Label) { l.SignalPrinted = "Warning" }},
		{"The label agrees with the sheet on the hazards; one point is open.", func(l *Label) { l.Phone = "" }},
		{"What was entered of the label agrees with the sheet; the rest of the label was not compared.", func(l *Label) { l.Complete = false }},
	} {
		c := caseOf(hardener(ghs.EUCLP), ghs.EUCLP)
		onTin(x.change)(c)
		r, err := Run(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		if got := LabelVerdict(c, r); got != x.says {
			t.Errorf("got %q, want %q", got, x.says)
		}
	}
}

// What is missing on a label that was read from a picture is a doubt; it is never called agreement.
func TestLabelVerdictOfAPictureIsNoAgreement(t *testing.T) {
	c := caseOf(hardener(ghs.EUCLP), ghs.EUCLP)
	onTin(func(*Label) {})(c)
	r := Report{Findings: []Finding{{ID: "1", Check: "label-statement-missing", Kind: Doubt}, {ID: "2", Check: "label-phone", Kind: Gap}}}
	if got := LabelVerdict(c, r); !strings.Contains(got, "may not say") || strings.Contains(got, "agrees") {
		t.Errorf("got %q", got)
	}
}
