package main

import (
	"math"

	"sixteen/exposure"
	"sixteen/substance"
)

// exposureElsewhere names topics that another package answers.
var exposureElsewhere = map[string]string{
	"measured_vs_modelled":   "a finding in words about other models: no inputs to calculate from",
	"measured_task_exposure": "the source gives neither amount nor room: nothing to calculate from without invented inputs",
}

type numbers = map[string]float64

// exposureTopics holds the calculation of every topic. Values are in base units, see exposureInputs.
var exposureTopics = map[string]func(*exposureInputs) numbers{
	"cartridge_service_life_model":    serviceLifeTopic,
	"cartridge_service_life_measured": serviceLifeMeasuredTopic,
	"dilution_ventilation":            dilutionTopic,
	"dilution_ventilation_mixture":    dilutionMixtureTopic,
	"local_exhaust": func(in *exposureInputs) numbers {
		return numbers{"flow": exposure.HoodFlow(in.get("height")*in.get("width"), in.get("face_velocity"))}
	},
	"well_mixed_build_up":          roomTopic,
	"well_mixed_decay":             decayTopic,
	"well_mixed_decay_with_source": roomTopic,
	"full_evaporation":             spillTopic,
	"lel_dilution":                 lelDilutionTopic,
	"lel_percentage": func(in *exposureInputs) numbers {
		return numbers{"concentration": in.get("LEL") * in.get("fraction")}
	},
	"mixture_lel_le_chatelier": func(in *exposureInputs) numbers {
		if in.has("LFL_1") {
			return numbers{"LFL_mixture": exposure.LeChatelier(in.list("fraction_"), in.list("LFL_"))}
		}
		return numbers{"UFL_mixture": exposure.LeChatelier(in.list("fraction_"), in.list("UFL_"))}
	},
	"mixture_lel_with_inerts": func(in *exposureInputs) numbers {
		return numbers{"LFL_mixture": exposure.LeChatelierInert([]float64{in.get("H2"), in.get("CH4")}, []float64{in.get("LFL_H2"), in.get("LFL_CH4")},
			[]exposure.Inert{{Share: in.get("CO2"), NitrogenEquivalence: 1.5}, {Share: in.get("N2"), NitrogenEquivalence: 1}, {Share: in.get("O2"), NitrogenEquivalence: 1}})}
	},
	"lel_estimate": lelEstimateTopic,
	"twa_8h": func(in *exposureInputs) numbers {
		hours := in.list("t")
		for i := range hours {
			hours[i] /= 60
		}
		e := exposure.EightHourMean(in.list("c"), hours)
		return numbers{"E": e, "acceptable": yes(e <= in.get("limit"))}
	},
	"additive_mixture": additiveTopic,
	"liquid_mixture_limit": func(in *exposureInputs) numbers {
		f := in.list("f")
		l := exposure.LiquidMixtureLimit(f, in.list("L"))
		return numbers{"mixture_limit": l, "part1": f[0] * l, "part2": f[1] * l, "part3": f[2] * l}
	},
	"saturated_vapour_raoult": func(in *exposureInputs) numbers {
		p := in.get("total_pressure")
		c1, c2 := exposure.SaturatedPPM(in.get("x1"), in.get("p1"), 1, p), exposure.SaturatedPPM(in.get("x2"), in.get("p2"), 1, p)
		return numbers{"C1": c1, "C2": c2, "mixture_limit": exposure.VapourMixtureLimit([]float64{c1, c2}, in.list("L"))}
	},
	"evaporation_mass_transfer": massTransferTopic,
	"well_mixed_steady_state": func(in *exposureInputs) numbers {
		q := exposure.VapourVolumeRate(in.get("evaporation"), in.get("molar_mass"), in.get("temperature"), in.get("pressure"))
		c := exposure.WellMixed{AirM3Min: in.get("ventilation"), Generation: q * 1e6}.Steady()
		return numbers{"kC": c, "C_at_k_0_5": c / 0.5, "C_at_k_0_1": c / 0.1}
	},
	"evaporation_epa_pool": epaPoolTopic,
	"evaporation_correlation": func(in *exposureInputs) numbers {
		return numbers{"rate": exposure.StillPoolFlux(in.get("vapour_pressure"), in.get("molar_mass")) / 60}
	},
	"relative_evaporation_rate": func(in *exposureInputs) numbers {
		return numbers{"relative_rate": exposure.RelativeEvaporation(in.get("vapour_pressure"), in.get("molar_mass"),
			in.get("butyl_acetate_vapour_pressure"), in.get("butyl_acetate_molar_mass"))}
	},
	"ppm_mg_m3": ppmTopic,
	"maximum_use_concentration": func(in *exposureInputs) numbers {
		return numbers{"max_use": exposure.MaxUseConcentration(in.get("apf"), in.get("limit"), in.get("idlh"))}
	},
	"long_shift_brief_scala": func(in *exposureInputs) numbers {
		return numbers{"factor": exposure.BriefScala(in.get("shift") / 60)}
	},
	"long_shift_regulatory": func(in *exposureInputs) numbers {
		return numbers{"limit": exposure.LeadLimit(in.get("shift")/60) / 1000}
	},
	"mixture_flash_point": flashTopic,
	"measured_ventilation_effect": func(in *exposureInputs) numbers {
		return numbers{"reduction": 100 * (1 - in.get("benzene_fan_on")/in.get("benzene_fan_off"))}
	},
	"vapour_hazard_ratio": func(in *exposureInputs) numbers {
		s := exposure.SaturatedPPM(1, in.get("vapour_pressure"), 1, in.get("total_pressure"))
		return numbers{"saturated": s, "vapour_hazard_ratio": exposure.VapourHazardRatio(s, in.get("limit"))}
	},
	"two_zone": func(in *exposureInputs) numbers {
		on := 1.0
		if in.has("gamma") {
			on = in.get("gamma")
		}
		far, near := exposure.TwoZoneSteady(in.get("generation")*1000, in.get("room_air"), in.get("interzonal_air_beta"), on)
		return numbers{"far_field": far, "near_field": near}
	},
	"two_zone_beta": func(in *exposureInputs) numbers {
		beta, volume := exposure.NearFieldHalfSphere(in.get("radius"), in.get("random_air_speed"))
		return numbers{"beta": beta, "near_field_volume": volume}
	},
	"epoxy_equivalent_weight": func(in *exposureInputs) numbers {
		return numbers{"EEW_mixture": exposure.BlendEquivalentWeight([]float64{in.get("resin1"), in.get("diluent")}, []float64{in.get("EEW1"), in.get("EEW2")}, in.get("filler"))}
	},
	"epoxy_phr":      phrTopic,
	"epoxy_exotherm": exothermTopic,
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

const (
	waterDensity = 1e6    // g/m³ at 4 °C; the pint of 1.04 lb of ventilation tables
	standardAir  = 294.26 // K, 70 °F
	oneAtm       = 101325.0
)

func dilutionTopic(in *exposureInputs) numbers {
	switch {
	case in.has("generation"):
		return numbers{"air_flow": exposure.DilutionAirMass(in.get("generation")*1000, in.get("limit"), in.get("inlet_concentration"), 1)}
	case in.has("emission"):
		q := exposure.VapourVolumeRate(in.get("emission"), in.get("molar_mass_as_printed"), in.get("temperature"), in.get("pressure"))
		return numbers{"vapour_rate": q, "air_no_factor": exposure.DilutionAir(q, in.get("limit"), 1), "air_with_factor": exposure.DilutionAir(q, in.get("limit"), in.get("safety_factor"))}
	case in.has("adhesive_rate"):
		m := in.get("adhesive_rate") * in.get("toluene_volume_fraction") * in.get("specific_gravity") * in.get("water_density")
		q := exposure.VapourVolumeRate(m, in.get("molar_mass"), in.get("temperature"), in.get("pressure"))
		return numbers{"mass_rate": m, "vapour_rate": q, "dilution_air": exposure.DilutionAir(q, in.get("limit"), in.get("mixing_factor_K"))}
	}
	q := vapourFromPints(in.get("evaporation"), in.get("specific_gravity"), in.get("molar_mass"))
	return numbers{"effective_air": exposure.DilutionAir(q, in.get("limit"), 1), "actual_air": exposure.DilutionAir(q, in.get("limit"), in.get("K"))}
}

// vapourFromPints is the vapour in m³/min at 70 °F of a liquid that evaporates at liquidM3Min.
func vapourFromPints(liquidM3Min, gravity, molarMass float64) float64 {
	return exposure.VapourVolumeRate(liquidM3Min*gravity*waterDensity, molarMass, standardAir, oneAtm)
}

func dilutionMixtureTopic(in *exposureInputs) numbers {
	one := func(name string) float64 {
		q := vapourFromPints(in.get("evaporation_each"), in.get(name+"_SG"), in.get(name+"_MW"))
		return exposure.DilutionAir(q, in.get(name+"_limit"), in.get("K"))
	}
	a, b := one("ketone"), one("toluene")
	return numbers{"air_ketone": a, "air_toluene": b, "air_total": a + b}
}

func roomTopic(in *exposureInputs) numbers {
	room := exposure.WellMixed{VolumeM3: in.get("volume")}
	if in.has("air_flow") {
		room.AirM3Min, room.Supply, room.Generation = in.get("air_flow"), in.get("c_supply"), in.get("generation")*1000
		t, _ := room.TimeTo(in.get("c_start"), in.get("c_target"))
		return numbers{"time": t}
	}
	room.AirM3Min, room.Generation = in.get("effective_air"), in.get("generation")*1e6
	if in.has("target") {
		t, _ := room.TimeTo(0, in.get("target"))
		return numbers{"time": t}
	}
	return numbers{"concentration": room.At(0, in.get("time"))}
}

func decayTopic(in *exposureInputs) numbers {
	if in.has("air_changes") {
		return numbers{"time": exposure.PurgeMinutes(in.get("air_changes"), in.get("removal"))}
	}
	room := exposure.WellMixed{VolumeM3: in.get("volume"), AirM3Min: in.get("effective_air")}
	t, _ := room.TimeTo(in.get("c_start"), in.get("c_end"))
	return numbers{"time": t}
}

func spillTopic(in *exposureInputs) numbers {
	if in.has("gas") {
		m := in.get("gas") * in.get("molar_mass")
		mg, t := exposure.SpilledMgM3(m, in.get("room")), in.get("temperature")
		air := exposure.MgM3FromPPM(1e6, in.get("air_molar_mass"), t, oneAtm)
		return numbers{"concentration_by_mass": 1e6 * mg / air, "concentration_by_volume": exposure.PPMFromMgM3(mg, in.get("molar_mass"), t, oneAtm)}
	}
	mg := exposure.SpilledMgM3(in.get("liquid_volume")*in.get("density"), in.get("room"))
	return numbers{"mass_concentration": mg, "volume_concentration": exposure.PPMFromMgM3(mg, in.get("molar_mass"), in.get("temperature"), in.get("pressure"))}
}

func lelDilutionTopic(in *exposureInputs) numbers {
	if in.has("vapour_per_gallon") {
		return numbers{"dilution_air_per_gallon": exposure.QuarterLELAir(in.get("vapour_per_gallon"), in.get("LEL"))}
	}
	q := vapourFromPints(in.get("evaporation"), in.get("specific_gravity"), in.get("molar_mass"))
	air := exposure.FlammableDilutionAir(q, in.get("LEL"), in.get("safety_factor_C"), in.get("B"))
	return numbers{"air_standard": air, "air_at_oven_temperature": air * in.get("oven_temperature") / standardAir}
}

func lelEstimateTopic(in *exposureInputs) numbers {
	if in.has("heat_of_combustion") {
		l := 100 * exposure.CombustionFlammability(in.get("heat_of_combustion"))
		return numbers{"LFL_measured": l, "LFL_model": l}
	}
	lower, upper := exposure.StoichiometricFlammability(in.get("carbon"), in.get("hydrogen"), in.get("oxygen"))
	return numbers{"LFL": lower, "UFL": upper}
}

func additiveTopic(in *exposureInputs) numbers {
	if in.has("c_B") {
		em := exposure.AdditiveIndex([]float64{in.get("c_B"), in.get("c_C"), in.get("c_D")}, []float64{in.get("L_B"), in.get("L_C"), in.get("L_D")})
		return numbers{"Em": em, "acceptable": yes(em <= 1)}
	}
	c, l := in.list("c"), in.list("L")
	total, sum := 0.0, exposure.AdditiveIndex(c, l)
	for _, v := range c {
		total += v
	}
	return numbers{"hazard_sum": sum, "mixture_limit": exposure.VapourMixtureLimit(c, l), "total": total, "exceeded": yes(sum > 1)}
}

func massTransferTopic(in *exposureInputs) numbers {
	t := in.get("temperature")
	flux := func(m, p float64) float64 {
		return exposure.EvaporationFlux(exposure.TransferFromWater(m), m, p, t)
	}
	if in.has("diameter") {
		m, r := in.get("molar_mass"), in.get("diameter")/2
		rate := flux(m, in.get("vapour_pressure")) * math.Pi * r * r
		q := exposure.VapourVolumeRate(rate, m, t, oneAtm)
		return numbers{"evaporation": rate, "kC": exposure.WellMixed{AirM3Min: in.get("ventilation"), Generation: q * 1e6}.Steady()}
	}
	f1, f2 := flux(in.get("M1"), in.get("x1")*in.get("p1")), flux(in.get("M2"), in.get("x2")*in.get("p2"))
	return numbers{"flux1": f1, "flux2": f2, "flux_total": f1 + f2}
}

func epaPoolTopic(in *exposureInputs) numbers {
	if in.has("molar_mass") {
		return numbers{"liquid_factor_ambient": exposure.LiquidFactor(in.get("molar_mass"), in.get("vapour_pressure"), in.get("temperature"))}
	}
	// The guidance works with a pool of area quantity · density factor.
	area := in.get("quantity") * in.get("density_factor")
	return numbers{"release_rate": in.get("wind_factor") * in.get("liquid_factor_ambient") * 453.59237 * area / ft2}
}

func ppmTopic(in *exposureInputs) numbers {
	t, p := 298.15, oneAtm
	if in.has("temperature") {
		t, p = in.get("temperature"), in.get("pressure")
	}
	c, m := in.get("concentration"), in.get("molar_mass")
	if in.given["concentration"].Unit == "mg/m3" {
		return numbers{"volume": exposure.PPMFromMgM3(c, m, t, p)}
	}
	return numbers{"mass": exposure.MgM3FromPPM(c, m, t, p)}
}

// flashTopic takes ethanol's flash point and pressures from the substance table and the activity by van Laar.
func flashTopic(in *exposureInputs) numbers {
	ethanol, ok := substance.Embedded().ByCAS("64-17-5")
	if !ok {
		return numbers{}
	}
	a, b := exposure.EthanolWater()
	x := in.get("ethanol_mole_fraction")
	gamma, _ := exposure.VanLaar(a, b, x)
	t, err := exposure.MixtureFlashPoint([]exposure.FuelInLiquid{{X: x, Gamma: gamma, FlashC: ethanol.FlashPointC.V,
		Pressure: func(c float64) (float64, bool) { p := ethanol.VapourPressure(c); return p.Pa, p.Known }}})
	if err != nil {
		in.fail(err)
	}
	return numbers{"flash_point": t + 273.15}
}

func phrTopic(in *exposureInputs) numbers {
	eew := "EEW"
	if in.has("EEW_assumed") {
		eew = "EEW_assumed"
	}
	if in.has("AHEW") {
		return numbers{"phr": exposure.HardenerPHR(in.get("AHEW"), in.get(eew))}
	}
	ahew := exposure.AmineHydrogenWeight(in.get("molar_mass"), in.get("active_hydrogens"))
	return numbers{"AHEW": ahew, "phr": exposure.HardenerPHR(ahew, in.get(eew))}
}

func exothermTopic(in *exposureInputs) numbers {
	heat := func(name string) float64 { return exposure.CureHeat(in.get(name), in.get("EEW"), in.get("phr")) }
	if in.has("heat_per_epoxide") {
		h := heat("heat_per_epoxide")
		return numbers{"heat": h, "adiabatic_rise": exposure.AdiabaticRise(h, in.get("heat_capacity"))}
	}
	return numbers{"heat_low": heat("heat_per_epoxide_low"), "heat_high": heat("heat_per_epoxide_high")}
}
