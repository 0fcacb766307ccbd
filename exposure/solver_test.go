package exposure

import (
	"context"
	"math"
	"testing"
)

// still is one closed period of flows with nothing else.
func still(n int, until float64) period {
	p := period{until: until, out: make([]float64, n)}
	for range n {
		p.flow = append(p.flow, make([]float64, n))
	}
	return p
}

// A constant release follows the closed form of the well mixed room: C = G/Q·(1 − e^(−Qt/V)).
func TestConstantReleaseFollowsClosedForm(t *testing.T) {
	p := still(1, 120)
	p.out[0] = 2
	m := &airModel{volume: []float64{50}, molar: []float64{100}, accuracy: 1e-3, periods: []period{p},
		sources: []source{{from: 0, fed: 120, covered: math.Inf(1), ingredients: []int{0}, mass: []float64{0}, airMass: []float64{120 * 30}, k: []float64{0}, pull: [][]float64{{0}}}}}
	var tr airTrace
	if err := m.solve(context.Background(), &tr); err != nil {
		t.Fatal(err)
	}
	room := WellMixed{VolumeM3: 50, AirM3Min: 2, Generation: 30}
	for k, at := range tr.times {
		if want := room.At(0, at); math.Abs(tr.at(k, 0, 0)-want) > 1e-3*want+1e-6 {
			t.Errorf("%g min: %g, want %g", at, tr.at(k, 0, 0), want)
		}
	}
	if b := tr.balance(m, 0); b.Relative > 1e-9 {
		t.Errorf("balance %+v", b)
	}
}

// A pure liquid in a sealed room stops at saturation: C = p°·M/(R·T).
func TestSealedRoomSaturates(t *testing.T) {
	pull := 3000 * 1000 / (gasConstant * 293.15) // mmol/m³
	m := &airModel{volume: []float64{1}, molar: []float64{92}, accuracy: 1e-3, periods: []period{still(1, 2000)},
		sources: []source{{covered: math.Inf(1), area: 0.5, ingredients: []int{0}, mass: []float64{1e6}, airMass: []float64{0}, k: []float64{0.1}, pull: [][]float64{{pull}}}}}
	var tr airTrace
	if err := m.solve(context.Background(), &tr); err != nil {
		t.Fatal(err)
	}
	for k, at := range tr.times { // closed form: 1 − e^(−A·k·t/V)
		want := pull * 92 * -math.Expm1(-0.05*at)
		if math.Abs(tr.at(k, 0, 0)-want) > 2e-3*want+1 {
			t.Errorf("%g min: %g, want %g", at, tr.at(k, 0, 0), want)
		}
	}
}

// A pure liquid in strong ventilation dries at a constant rate, M·k·A·p/(R·T), until nothing is left.
func TestPureLiquidDriesOut(t *testing.T) {
	p := still(1, 240)
	p.out[0] = 1e4
	pull := 3000 * 1000 / (gasConstant * 293.15)
	m := &airModel{volume: []float64{100}, molar: []float64{92}, accuracy: 1e-3, periods: []period{p},
		sources: []source{{covered: math.Inf(1), area: 1, ingredients: []int{0}, mass: []float64{1e6}, airMass: []float64{0}, k: []float64{0.1}, pull: [][]float64{{pull}}}}}
	var tr airTrace
	if err := m.solve(context.Background(), &tr); err != nil {
		t.Fatal(err)
	}
	rate := 0.1 * pull * 92 // mg/min
	dry := 1e6 / rate
	half := tr.gone[0]
	if b := tr.balance(m, 0); b.LeftMg > 1e-3*1e6 || b.Relative > 1e-6 {
		t.Errorf("after %g min, dry at %g: %+v", 240.0, dry, b)
	}
	if math.Abs(half-1e6) > 1e3 {
		t.Errorf("exhausted %g mg", half)
	}
	for k, at := range tr.times {
		if at > 1 && at < 0.95*dry {
			if want := rate / (1e4 + 0.1); math.Abs(tr.at(k, 0, 0)-want) > 5e-3*want {
				t.Errorf("%g min: %g mg/m³, want %g", at, tr.at(k, 0, 0), want)
			}
		}
	}
	t.Logf("%d steps", len(tr.times))
}

// Near and far field reach G/Q and G/Q + G/β (Ann. Work Expo. Health 68 (2024) 78).
func TestTwoZonesReachSteadyState(t *testing.T) {
	p := still(2, 1000)
	p.out[0] = 20
	p.flow[0][1], p.flow[1][0] = 5, 5
	m := &airModel{volume: []float64{92, 8}, molar: []float64{100}, accuracy: 1e-3, periods: []period{p},
		sources: []source{{zone: 1, fed: 1000, covered: math.Inf(1), ingredients: []int{0}, mass: []float64{0}, airMass: []float64{100000}, k: []float64{0}, pull: [][]float64{{0}}}}}
	var tr airTrace
	if err := m.solve(context.Background(), &tr); err != nil {
		t.Fatal(err)
	}
	far, near := TwoZoneSteady(100, 20, 5, 1)
	last := len(tr.times) - 1
	if math.Abs(tr.at(last, 0, 0)-far) > 1e-3*far || math.Abs(tr.at(last, 0, 1)-near) > 1e-3*near {
		t.Errorf("far %g near %g, want %g %g", tr.at(last, 0, 0), tr.at(last, 0, 1), far, near)
	}
}

// Liquids in one zone and the same liquids counted as lying in several zones give the same answer: the short way of solving
// the equations changes nothing. A second liquid that gives nothing, in another zone, forces the long way.
func TestShortWayIsTheLongWay(t *testing.T) {
	build := func(second bool) *airModel {
		p := still(3, 300)
		p.out[0], p.out[2] = 1.5, 0.3
		p.flow[0][1], p.flow[1][0], p.flow[0][2], p.flow[2][0] = 6, 6, 0.5, 0.4
		m := &airModel{volume: []float64{58, 1.1, 30}, molar: []float64{92, 106}, accuracy: 1e-3, periods: []period{p},
			sources: []source{{zone: 1, from: 5, fed: 45, covered: math.Inf(1), area: 2, capture: 0.2, ingredients: []int{0, 1}, mass: []float64{3e4, 5e4}, airMass: []float64{1e3, 0}, inert: 150,
				k: []float64{0.2, 0.18}, pull: [][]float64{{1200}, {360}}}}}
		if second {
			m.sources = append(m.sources, source{zone: 2, covered: math.Inf(1), area: 1, ingredients: []int{0}, mass: []float64{0}, airMass: []float64{0}, k: []float64{0}, pull: [][]float64{{0}}})
		}
		return m
	}
	var short, long airTrace
	a, b := build(false), build(true)
	if err := a.solve(context.Background(), &short); err != nil {
		t.Fatal(err)
	}
	if err := b.solve(context.Background(), &long); err != nil {
		t.Fatal(err)
	}
	if len(short.times) != len(long.times) {
		t.Fatalf("%d and %d steps", len(short.times), len(long.times))
	}
	for k := range short.times {
		for v := range 2 {
			for z := range 3 {
				if x, y := short.at(k, v, z), long.at(k, v, z); math.Abs(x-y) > 1e-8*(math.Abs(y)+1) {
					t.Fatalf("%g min, vapour %d, zone %d: %g and %g", short.times[k], v, z, x, y)
				}
			}
		}
	}
	for v := range 2 {
		if x := short.balance(a, v); x.Relative > 1e-9 {
			t.Errorf("balance %+v", x)
		}
	}
}
