package main

import (
	"strings"
	"testing"
)

// A right answer passes in its own unit, a wrong one differs, an unknown topic is not covered, a missing input is an error.
func TestExposureCases(t *testing.T) {
	one := func(topic, expected, inputs string) string {
		return `{"cases": [{"id": "x", "topic": "` + topic + `", "source": {"title": "t"}, "inputs": {` + inputs + `}, "expected": {` + expected + `},
			"tolerance": {"relative": 0.002}, "measured_or_calculated": "calculated"}]}`
	}
	hood := `"height": {"value": 30, "unit": "in"}, "width": {"value": 25, "unit": "in"}, "face_velocity": {"value": 100, "unit": "ft/min"}`
	for _, c := range []struct {
		raw  string
		want verdict
	}{
		{one("local_exhaust", `"flow": {"value": 521, "unit": "ft3/min"}`, hood), pass},
		{one("local_exhaust", `"flow": {"value": 14.75, "unit": "m3/min"}`, hood), pass},
		{one("local_exhaust", `"flow": {"value": 530, "unit": "ft3/min"}`, hood), differs},
		{one("local_exhaust", `"speed": {"value": 530, "unit": "ft3/min"}`, hood), notCovered},
		{one("tides", `"flow": {"value": 530, "unit": "ft3/min"}`, hood), notCovered},
	} {
		rep, err := runCases([]byte(c.raw), "")
		if err != nil {
			t.Fatal(err)
		}
		if got := rep.Results[0]; got.Verdict != c.want {
			t.Errorf("%s: %s, want %s %v", c.raw, got.Verdict, c.want, got.Lines)
		}
	}
	_, err := runCases([]byte(one("local_exhaust", `"flow": {"value": 1, "unit": "ft3/min"}`, `"height": {"value": 30, "unit": "in"}`)), "")
	if err == nil || !strings.Contains(err.Error(), "width") && !strings.Contains(err.Error(), "face_velocity") {
		t.Errorf("a missing input gives %v", err)
	}
}
