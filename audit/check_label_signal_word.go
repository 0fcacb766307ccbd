package audit

import (
	"fmt"

	"sixteen/ghs"
)

func checkLabelSignalWord() Check {
	return labelCheck(Check{
		ID: "label-signal-word", Title: "The signal word of the label differs from what section 2 asks for", Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "The signal word of the label with that which the classes of section 2 ask for.",
		Example:  "“Caution” on the tin, Danger in section 2.",
		Do:       "Act by the sterner word.",
	}, func(c *Case, l *Label, e *Emit) {
		want := c.elements().SignalWord
		have, ok := ghs.ParseSignalWord(l.SignalPrinted)
		if want.Value == have && (ok || l.SignalPrinted == "") || !l.Complete && l.SignalPrinted == "" {
			return
		}
		kind := Contradiction
		if have > want.Value {
			kind = Doubt
		}
		h := ghs.NoHazard
		if len(want.From) > 0 {
			h = gravest(want.From)
		}
		e.Report(Fault{
			Kind: kind, Hazard: h, Section: 2, Title: fmt.Sprintf("The label says %q, section 2 asks for %q", l.SignalPrinted, orNone(want.Value.String())),
			Says:    []Side{l.side("signal word " + orNone(l.SignalPrinted)), {Section: 2, Text: c.summary(), Evidence: c.declaredAt(h)}},
			Follows: []Side{follows(orNone(want.Value.String()), want.Why+" ("+want.Clause+")")}, Ask: ask("label", orNone(l.SignalPrinted)+" / "+orNone(want.Value.String())),
			Key: []string{l.SignalPrinted, want.Value.String()},
		})
	})
}
