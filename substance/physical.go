package substance

// Property is one physical property of a substance with its unit, for lists.
type Property struct {
	Key   string `json:"key"`  // as in data/physical.csv
	Name  string `json:"name"` // plain words
	Unit  string `json:"unit"`
	Value Value  `json:"value"`
}

// Properties lists every property in a fixed order, unknown ones too.
func (s *Substance) Properties() []Property {
	out := make([]Property, 0, len(propertyNames))
	for _, p := range propertyNames {
		p.Value = *s.property(p.Key)
		out = append(out, p)
	}
	return out
}

var propertyNames = []Property{
	{Key: "molar_mass_g_mol", Name: "molar mass", Unit: "g/mol"},
	{Key: "density_kg_m3", Name: "density at 20–25 °C", Unit: "kg/m³"},
	{Key: "melting_point_c", Name: "melting point", Unit: "°C"},
	{Key: "boiling_point_c", Name: "boiling point", Unit: "°C"},
	{Key: "vapour_pressure_pa", Name: "vapour pressure at 20 °C", Unit: "Pa"},
	{Key: "flash_point_c", Name: "flash point", Unit: "°C"},
	{Key: "lower_flammable_pct", Name: "lower flammable limit", Unit: "% by volume"},
	{Key: "upper_flammable_pct", Name: "upper flammable limit", Unit: "% by volume"},
	{Key: "auto_ignition_c", Name: "auto-ignition temperature", Unit: "°C"},
	{Key: "log_kow", Name: "log octanol-water partition coefficient", Unit: ""},
	{Key: "hansen_d", Name: "Hansen parameter, dispersion", Unit: "MPa^0.5"},
	{Key: "hansen_p", Name: "Hansen parameter, polar", Unit: "MPa^0.5"},
	{Key: "hansen_h", Name: "Hansen parameter, hydrogen bonding", Unit: "MPa^0.5"},
}

// property is the place of a property, nil when the key is unknown.
func (s *Substance) property(key string) *Value {
	switch key {
	case "molar_mass_g_mol":
		return &s.MolarMassGMol
	case "density_kg_m3":
		return &s.DensityKgM3
	case "boiling_point_c":
		return &s.BoilingPointC
	case "melting_point_c":
		return &s.MeltingPointC
	case "vapour_pressure_pa":
		return &s.VapourPressurePa
	case "flash_point_c":
		return &s.FlashPointC
	case "lower_flammable_pct":
		return &s.LowerFlammablePct
	case "upper_flammable_pct":
		return &s.UpperFlammablePct
	case "auto_ignition_c":
		return &s.AutoIgnitionC
	case "log_kow":
		return &s.LogKow
	case "hansen_d":
		return &s.HansenD
	case "hansen_p":
		return &s.HansenP
	case "hansen_h":
		return &s.HansenH
	}
	return nil
}
