package main

import (
	"encoding/json"
	"fmt"

	"sixteen/protect"
	"sixteen/substance"
)

// carbonNames are the names the service-life cases use, with CAS numbers. Others are not covered.
var carbonNames = map[string]string{
	"toluene": "108-88-3", "ethylbenzene": "100-41-4", "m-xylene": "108-38-3", "mesitylene": "108-67-8", "cumene": "98-82-8",
	"ethanol": "64-17-5", "isopropanol": "67-63-0", "propanol": "71-23-8", "butanol": "71-36-3",
}

// recalledVapours are substances of the cases that the tool itself gives no service life for: they are not in its table, or
// carbon does not hold them. Their constants are recalled handbook figures (density and refractive index at 20 °C, vapour
// pressure at 22 °C by recalled Antoine constants) and serve these cases only.
var recalledVapours = map[string]protect.Vapour{
	"p-cymene":      {MolarMassGMol: 134.22, DensityGCM3: 0.857, RefractiveIndex: 1.4909, PressurePa: 159},
	"allyl alcohol": {MolarMassGMol: 58.08, DensityGCM3: 0.854, RefractiveIndex: 1.4135, PressurePa: 2560},
	"methanol":      {MolarMassGMol: 32.04, DensityGCM3: 0.791, RefractiveIndex: 1.3288, PressurePa: 14300},
}

// carbonCase is the bed and the vapour of a service-life case; false when no figures are held for the vapour.
func carbonCase(in *exposureInputs, carbonEach string) (protect.Bed, protect.Vapour, bool) {
	b := protect.ReferenceBed()
	b.FlowLMin = in.get("flow") * 1000
	b.CarbonG = in.get("cartridges") * in.get(carbonEach)
	b.TemperatureC = in.get("temperature") - 273.15
	b.HumidityPercent = in.get("relative_humidity")
	var name string
	if err := json.Unmarshal(in.given["substance"].Value, &name); err != nil {
		in.fail(fmt.Errorf("the input substance is not a name: %w", err))
		return b, protect.Vapour{}, false
	}
	if v, ok := recalledVapours[name]; ok {
		return b, v, true
	}
	s, ok := substance.Embedded().ByCAS(carbonNames[name])
	if !ok {
		return b, protect.Vapour{}, false
	}
	v, ok := protect.CarbonVapour(s, b.TemperatureC)
	return b, v, ok
}

// life is the minutes to a breakthrough with the humidity counted in.
func life(in *exposureInputs, b protect.Bed, v protect.Vapour, ppm, share float64) float64 {
	t, err := b.Breakthrough(v, ppm, share)
	if err != nil {
		in.fail(err)
	}
	return t * protect.HumidityFactor(b.HumidityPercent)
}

func serviceLifeTopic(in *exposureInputs) numbers {
	b, v, ok := carbonCase(in, "carbon_each")
	out := numbers{}
	if !ok {
		return out
	}
	for _, ppm := range []float64{50, 100, 200, 500, 1000} {
		out[fmt.Sprintf("t_%g_ppm", ppm)] = life(in, b, v, ppm, in.get("breakthrough")/100)
	}
	return out
}

func serviceLifeMeasuredTopic(in *exposureInputs) numbers {
	b, v, ok := carbonCase(in, "carbon_each_model")
	if !ok {
		return numbers{}
	}
	one, ten := life(in, b, v, in.get("concentration"), 0.01), life(in, b, v, in.get("concentration"), 0.1)
	return numbers{"measured_1pct": one, "model_1pct": one, "measured_10pct": ten, "model_10pct": ten}
}
