package classify

import (
	"fmt"
	"strconv"
	"strings"
)

// Names of the properties that rules ask ingredients for (Ingredient.Properties). Yes-or-no properties are 1 for yes.
const (
	PropPH                = "ph"                          // pH of the ingredient as it is added: acid ≤ 2, base ≥ 11.5
	PropNonAdditive       = "non_additive"                // corrosive or irritant to which adding up does not apply (aldehyde, phenol, surfactant …)
	PropAverageMolarMass  = "average_molar_mass"          // g/mol
	PropAerodynamicUM     = "aerodynamic_diameter_um_max" // particles of at most this aerodynamic diameter, µm
	PropParticleSizeUM    = "particle_size_um_max"        // particles of at most this size, µm
	PropIsocyanate        = "isocyanate"                  // is an isocyanate, monomeric or not
	PropEpoxy             = "epoxy"                       // is an epoxy constituent
	PropHydrogenPeroxide  = "hydrogen_peroxide"           // is hydrogen peroxide
	PropTitaniumDioxide   = "titanium_dioxide"            // is titanium dioxide
	PropLeadPct           = "lead_pct"                    // lead in the ingredient, %
	PropCadmiumPct        = "cadmium_pct"                 // cadmium in the ingredient, %
	PropChromium6Pct      = "soluble_chromium_vi_pct"     // soluble chromium(VI) in the ingredient, %
	PropActiveChlorinePct = "active_chlorine_pct"         // active chlorine in the ingredient, %
	PropHalogenated       = "halogenated_hydrocarbon"     // is a halogenated hydrocarbon
	PropWorkplaceLimit    = "workplace_limit"             // has a workplace exposure limit of the Union
	PropHeatKJG           = "heat_of_combustion_kj_g"     // kJ/g
	PropFlammableTc       = "flammable_tc_pct"            // flammable gas: Tc of ISO 10156, %
	PropNitrogenK         = "nitrogen_equivalence_k"      // inert gas: K of ISO 10156
	PropOxygenC           = "oxygen_equivalence_c"        // oxidising gas: C of ISO 10156
	PropEC50              = "ec50_mg_l"                   // lowest acute L(E)C50 of fish, crustacea, algae, mg/l
	PropNOEC              = "noec_mg_l"                   // lowest chronic NOEC or ECx, mg/l
	PropRapidlyDegradable = "rapidly_degradable"          // 1 yes, 0 no
)

// PropertyNames lists the properties that rules ask for.
func PropertyNames() []string {
	return []string{PropPH, PropNonAdditive, PropAverageMolarMass, PropAerodynamicUM, PropParticleSizeUM, PropIsocyanate, PropEpoxy, PropHydrogenPeroxide,
		PropTitaniumDioxide, PropLeadPct, PropCadmiumPct, PropChromium6Pct, PropActiveChlorinePct, PropHalogenated, PropWorkplaceLimit,
		PropHeatKJG, PropFlammableTc, PropNitrogenK, PropOxygenC, PropEC50, PropNOEC, PropRapidlyDegradable}
}

// property is a property of the ingredient, given or evident from its name or number.
func (in *Ingredient) property(name string) (float64, bool) {
	if v, ok := in.Properties[name]; ok {
		return v, true
	}
	switch name {
	case "molar_mass":
		if in.MolarMassGMol > 0 {
			return in.MolarMassGMol, true
		}
		v, ok := in.Properties[PropAverageMolarMass]
		return v, ok
	case PropIsocyanate:
		return evident(in.nameHas("isocyanat", "isocianat"))
	case PropEpoxy:
		return evident(in.nameHas("epoxy", "epoxid", "diglycidyl ether", "glycidyl ether", "glycidyléther", "glycidylether", "glycidyl-ether", "diglycidyl", "diglycidique", "glycidylique", "diglicid", "glicidíl", "glicidil", "époxy", "époxid", "epoxi", "epichlorohydrin", "oxiran"))
	case PropHydrogenPeroxide:
		return evident(in.CAS == "7722-84-1")
	case PropRapidlyDegradable:
		return 0, true // not known to degrade rapidly: taken as not, the stricter reading
	case PropTitaniumDioxide:
		return evident(in.CAS == "13463-67-7")
	}
	return 0, false
}

func evident(b bool) (float64, bool) {
	if b {
		return 1, true
	}
	return 0, false
}

func (in *Ingredient) nameHas(parts ...string) bool {
	name := strings.ToLower(in.Name)
	for _, p := range parts {
		if strings.Contains(name, p) {
			return true
		}
	}
	return false
}

// is tells whether the ingredient fulfils a row's condition on ingredients, such as "ph <= 2", "isocyanate",
// "epoxy; molar_mass <= 700" or "aerodynamic_diameter_um_max absent". What is not known does not fulfil it.
func (in *Ingredient) is(which string) bool {
	if which == "" {
		return true
	}
	for _, c := range strings.Split(which, ";") {
		f := strings.Fields(c)
		v, known := in.property(f[0])
		switch {
		case len(f) == 2 && f[1] == "absent":
			if known {
				return false
			}
		case len(f) == 1:
			if !known || v == 0 {
				return false
			}
		default:
			if !known || !compareWords(v, f[1], f[2]) {
				return false
			}
		}
	}
	return true
}

func compareWords(v float64, op, bound string) bool {
	b, err := strconv.ParseFloat(bound, 64)
	if err != nil {
		panic(fmt.Sprintf("classify: %q in a rule row is not a number", bound))
	}
	if op == "=" {
		return v == b
	}
	c := Condition{Cmp: compareOf(op), Bound: b}
	return c.compare(v, 0)
}

// additive tells whether the skin and eye hazards of the ingredient may be added to those of others. They may not for
// strong acids and bases and for what is marked non-additive.
func (in *Ingredient) additive() bool {
	return !in.is(PropNonAdditive) && !in.is("ph <= 2") && !in.is("ph >= 11.5")
}
