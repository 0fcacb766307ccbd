package classify_test

import (
	"fmt"

	"sixteen/classify"
	"sixteen/ghs"
)

func ExampleLabel() {
	l := classify.Label(ghs.SetOf(ghs.AcuteTox3Oral, ghs.SkinIrrit2), ghs.EUCLP, classify.LabelOptions{})
	fmt.Println(l.SignalWord.Value, l.PrintedPictograms(), l.PrintedStatements())
	for _, p := range l.Pictograms {
		fmt.Println(p.Value, p.Need, p.Why)
	}
	// Output:
	// Danger [GHS06] [H301 H315]
	// GHS06 required given by the hazard
	// GHS07 omitted the skull and crossbones is shown
}
