package main

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"time"

	"sixteen/exposure"
	"sixteen/substance"
)

// planJob is the job of the figures: 8 h, six volatile ingredients brushed on in a shed with near and far field, an office
// beside it. Ranges are those that sampling draws from; exact sets every range to its middle and the list to the whole.
func planJob(exact bool) *exposure.Job {
	between := exposure.Between
	if exact {
		between = func(lo, hi float64) exposure.Range { return exposure.Exactly((lo + hi) / 2) }
	}
	paint := exposure.Product{Name: "paint", Complete: exact}
	total := 0.0
	for _, i := range []struct {
		name, cas string
		lo, hi    float64
	}{{"acetone", "67-64-1", 2, 8}, {"toluene", "108-88-3", 3, 10}, {"n-butyl acetate", "123-86-4", 5, 15}, {"xylene", "1330-20-7", 5, 20}, {"ethylbenzene", "100-41-4", 1, 5}, {"styrene", "100-42-5", 1, 5}} {
		paint.Ingredients = append(paint.Ingredients, exposure.Ingredient{Name: i.name, CAS: i.cas, Percent: between(i.lo, i.hi)})
		total += (i.lo + i.hi) / 2
	}
	resin := exposure.Ingredient{Name: "resin", Percent: between(30, 60), NonVolatile: true, MolarMass: 700}
	if exact {
		resin.Percent = exposure.Exactly(100 - total)
	}
	paint.Ingredients = append(paint.Ingredients, resin)
	return &exposure.Job{Name: "figure", Jurisdiction: substance.UnitedStates, Correlation: "flat-plate", EndMin: 480, Products: []exposure.Product{paint},
		Rooms: []exposure.Room{
			{Name: "shed", VolumeM3: between(50, 70), FloorM2: 24, AirChanges: between(0.5, 3), TemperatureC: between(15, 25), AirSpeedMS: between(0.05, 0.2), NearField: &exposure.NearField{RadiusM: 0.8}},
			{Name: "office", VolumeM3: exposure.Exactly(30), AirChanges: exposure.Exactly(0.5), TemperatureC: exposure.Exactly(20), AirSpeedMS: exposure.Exactly(0.1)}},
		Doors:  []exposure.Door{{Between: []string{"shed", "office"}, AirM3Min: between(0.2, 1)}},
		Tasks:  []exposure.Task{{Name: "brush", Kind: "brush", Room: "shed", StartMin: 10, DurationMin: 60, Product: "paint", Surface: exposure.Film, AmountG: between(250, 350), AreaM2: between(1.8, 2.2)}},
		People: []exposure.Person{{Name: "near", Stays: []exposure.Stay{{Room: "shed", Near: true, UntilMin: 480}}}, {Name: "far", Stays: []exposure.Stay{{Room: "shed", UntilMin: 480}}}, {Name: "office", Stays: []exposure.Stay{{Room: "office", UntilMin: 480}}}},
	}
}

// films is planJob(true) written out as differential equations for a general method, from the job's values and nothing of the
// model's own code but the published transfer velocity. y holds, per ingredient, near, far and office in mg/m³, their three
// integrals over time, and the mg on the surface.
type films struct {
	molar, k, pull, brought  []float64
	inert                    float64 // mmol of resin in all
	volume                   [3]float64
	beta, out, outside, door float64
	start, fed, area         float64
}

const perIngredient = 7

func newFilms(j *exposure.Job, table *substance.Table) *films {
	middle := func(r exposure.Range) float64 { return (r.Lo + r.Hi) / 2 }
	shed, office, task := j.Rooms[0], j.Rooms[1], j.Tasks[0]
	f := &films{start: task.StartMin, fed: task.StartMin + task.DurationMin, area: middle(task.AreaM2), door: middle(j.Doors[0].AirM3Min)}
	speed, kelvin := middle(shed.AirSpeedMS), middle(shed.TemperatureC)+273.15
	beta, near := exposure.NearFieldHalfSphere(shed.NearField.RadiusM, 60*speed)
	f.beta, f.volume = beta, [3]float64{near, middle(shed.VolumeM3) - near, middle(office.VolumeM3)}
	f.out, f.outside = middle(shed.VolumeM3)*middle(shed.AirChanges)/60, middle(office.VolumeM3)*middle(office.AirChanges)/60
	for _, i := range j.Products[0].Ingredients {
		mg := 10 * middle(task.AmountG) * middle(i.Percent)
		if i.NonVolatile {
			f.inert += mg / i.MolarMass
			continue
		}
		s, _ := table.ByCAS(i.CAS)
		f.molar, f.brought = append(f.molar, s.MolarMassGMol.V), append(f.brought, mg)
		f.k = append(f.k, j.Correlation.TransferVelocity(s.MolarMassGMol.V, speed, math.Sqrt(f.area), kelvin))
		f.pull = append(f.pull, s.VapourPressure(kelvin-273.15).Pa*1000/(8.314462618*kelvin))
	}
	return f
}

// slope is dy/dt.
func (f *films) slope(t float64, y, dy []float64) {
	moles := f.inert * math.Min(1, math.Max(0, (t-f.start)/(f.fed-f.start)))
	for i := range f.molar {
		moles += math.Max(0, y[i*perIngredient+6]) / f.molar[i]
	}
	area := f.area * math.Min(1, math.Max(0, (t-f.start)/(f.fed-f.start)))
	for i := range f.molar {
		c, d := y[i*perIngredient:(i+1)*perIngredient], dy[i*perIngredient:(i+1)*perIngredient]
		flux, feed := 0.0, 0.0
		if t > f.start && moles > 0 {
			flux = area * f.k[i] * (f.pull[i]*c[6]/moles - c[0])
		}
		if t >= f.start && t < f.fed {
			feed = f.brought[i] / (f.fed - f.start)
		}
		d[0] = (flux + f.beta*(c[1]-c[0])) / f.volume[0]
		d[1] = (f.beta*(c[0]-c[1]) + f.door*(c[2]-c[1]) - f.out*c[1]) / f.volume[1]
		d[2] = (f.door*(c[1]-c[2]) - f.outside*c[2]) / f.volume[2]
		d[3], d[4], d[5], d[6] = c[0], c[1], c[2], feed-flux
	}
}

// dormandPrince integrates dy/dt from t to until by the pair of orders 5 and 4 (J. Comput. Appl. Math. 6 (1980) 19) with the
// relative tolerance given, and gives the number of steps.
func dormandPrince(slope func(t float64, y, dy []float64), y []float64, t, until, tolerance float64) (steps int) {
	node := [7]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	a := [7][6]float64{{}, {1. / 5}, {3. / 40, 9. / 40}, {44. / 45, -56. / 15, 32. / 9}, {19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656}, {35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}}
	off := [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
	var k [7][]float64
	for i := range k {
		k[i] = make([]float64, len(y))
	}
	w, scale, h := make([]float64, len(y)), make([]float64, len(y)), 0.01
	for t < until-1e-9 {
		h = math.Min(h, until-t)
		for s := range 7 {
			for i := range y {
				w[i] = y[i]
				for q := range s {
					w[i] += h * a[s][q] * k[q][i]
				}
			}
			slope(t+node[s]*h, w, k[s])
		}
		worst := 0.0
		for i := range y {
			e := 0.0
			for s := range 7 {
				e += h * off[s] * k[s][i]
			}
			worst = math.Max(worst, math.Abs(e)/(tolerance*math.Max(scale[i], math.Abs(w[i]))+1e-9))
		}
		if worst <= 1 {
			t += h
			copy(y, w)
			steps++
			for i := range y {
				scale[i] = math.Max(scale[i], 0.01*math.Abs(y[i]))
			}
		}
		h *= math.Min(5, math.Max(0.2, 0.9*math.Pow(worst+1e-12, -0.2)))
	}
	return steps
}

// integrate runs over the three pieces between which the equations are smooth.
func (f *films) integrate(tolerance float64) (y []float64, steps int) {
	y = make([]float64, perIngredient*len(f.molar))
	for _, piece := range [][2]float64{{0, f.start}, {f.start, f.fed}, {f.fed, 480}} {
		steps += dormandPrince(f.slope, y, piece[0], piece[1], tolerance)
	}
	return y, steps
}

// planning prints speed and numerical error of the air model beside a general-purpose method in the same run.
func planning(ctx context.Context) error {
	table := substance.Embedded()
	exact, err := exposure.Run(ctx, planJob(true), table, exposure.Options{})
	if err != nil {
		return err
	}
	f := newFilms(planJob(true), table)
	fine, _ := f.integrate(1e-9)
	coarse, steps := f.integrate(1e-4)
	own, reference, balance := 0.0, 0.0, 0.0
	for i := range f.molar {
		for z, person := range exact.People {
			whole := fine[i*perIngredient+3+z]
			own = math.Max(own, math.Abs(person.Exposures[i].TWA8.Middle*480/whole-1))
			reference = math.Max(reference, math.Abs(coarse[i*perIngredient+3+z]/whole-1))
		}
		balance = math.Max(balance, exact.Vapours[i].Balance.Relative)
	}
	const samples = 10000
	bare, _, err := timedRun(ctx, table, 0)
	if err != nil {
		return err
	}
	cpu, wall, err := timedRun(ctx, table, samples)
	if err != nil {
		return err
	}
	cpu -= bare
	began, n := ownCPU(), 200
	for range n {
		f.integrate(1e-4)
	}
	one := (ownCPU() - began) / time.Duration(n)
	fmt.Printf("Air model, 8 h, 6 volatile ingredients, near and far field and one more room, %d processors\n\n", runtime.NumCPU())
	fmt.Printf("| figure | own | reference |\n| --- | --- | --- |\n")
	fmt.Printf("| %d samples, processor time of all threads | %.2f s | |\n", samples, cpu.Seconds())
	fmt.Printf("| the same over two processors, if nothing else runs | %.2f s | |\n", cpu.Seconds()/2)
	fmt.Printf("| the same, by the clock in this run | %.2f s | |\n", wall.Seconds())
	fmt.Printf("| one integration, processor time | %.3f ms | %.3f ms (Dormand–Prince 5(4), relative tolerance 1e-4, %d steps) |\n", cpu.Seconds()*1000/samples, one.Seconds()*1000, steps)
	fmt.Printf("| reference/own | %.1f | |\n", one.Seconds()*samples/cpu.Seconds())
	fmt.Printf("| largest difference of a whole exposure from the reference at 1e-9 | %.3f %% | %.3f %% |\n", 100*own, 100*reference)
	fmt.Printf("| mass not accounted for, largest of all vapours | %.1e | |\n", balance)
	return nil
}

// timedRun works out the job with samples and gives processor and clock time.
func timedRun(ctx context.Context, table *substance.Table, samples int) (cpu, wall time.Duration, err error) {
	began, start := ownCPU(), time.Now()
	_, err = exposure.Run(ctx, planJob(false), table, exposure.Options{Samples: samples, Workers: 2, Seed: 1})
	return ownCPU() - began, time.Since(start), err
}
