package exposure

import (
	"context"
	"encoding/json"
	"testing"

	"sixteen/substance"
)

func exampleJob(t testing.TB) *Job {
	t.Helper()
	j, err := ParseJob(ExampleYAML())
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// The example job runs, and of every vapour nothing is lost: evaporated = in the air + exhausted, to a millionth.
func TestExampleKeepsItsMass(t *testing.T) {
	r, err := Run(context.Background(), exampleJob(t), substance.Embedded(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Vapours) < 5 {
		t.Fatalf("%d vapours", len(r.Vapours))
	}
	for _, v := range r.Vapours {
		if v.Balance.Relative > 1e-6 || v.Balance.BroughtMg <= 0 {
			t.Errorf("%s: %+v", v.Name, v.Balance)
		}
	}
	raw, err := json.Marshal(r)
	if err != nil || len(raw) < 1000 {
		t.Errorf("%d bytes of JSON, %v", len(raw), err)
	}
	for _, h := range r.Headline {
		t.Log(h)
	}
	for _, x := range r.Heat {
		t.Log(x.Where, x.PeakC, x.PeakMin, x.GelMin, x.SpreadOut)
	}
	for _, x := range r.Rooms {
		t.Log(x.Name, len(x.TimesMin), x.Flammable, x.OverLiquid, x.ReuseHours, x.Ventilation)
	}
}
