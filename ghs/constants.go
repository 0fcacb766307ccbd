package ghs

// The hazards, in the order of the rows of hazards.csv; a test holds the two together.
const (
	NoHazard                  Hazard = iota
	UnstableExpl                     // Unst. Expl.
	Expl11                           // Expl. 1.1
	Expl12                           // Expl. 1.2
	Expl13                           // Expl. 1.3
	Expl14                           // Expl. 1.4
	Expl15                           // Expl. 1.5
	Expl16                           // Expl. 1.6
	Expl1                            // Expl. 1
	Expl2A                           // Expl. 2A
	Expl2B                           // Expl. 2B
	Expl2C                           // Expl. 2C
	FlamGas1                         // Flam. Gas 1
	FlamGas1A                        // Flam. Gas 1A
	FlamGas1APyrophoric              // Flam. Gas 1A pyrophoric
	FlamGas1AUnstableA               // Flam. Gas 1A unstable_a
	FlamGas1AUnstableB               // Flam. Gas 1A unstable_b
	FlamGas1B                        // Flam. Gas 1B
	FlamGas2                         // Flam. Gas 2
	PyrGas                           // Pyr. Gas 1
	Aerosol1                         // Aerosol 1
	Aerosol2                         // Aerosol 2
	Aerosol3                         // Aerosol 3
	ChemUnderPressure1               // Chem. Press. 1
	ChemUnderPressure2               // Chem. Press. 2
	ChemUnderPressure3               // Chem. Press. 3
	OxGas1                           // Ox. Gas 1
	PressGas                         // Press. Gas
	PressGasCompressed               // Press. Gas (Comp.)
	PressGasLiquefied                // Press. Gas (Liq.)
	PressGasRefrigerated             // Press. Gas (Ref. Liq.)
	PressGasDissolved                // Press. Gas (Diss.)
	FlamLiq1                         // Flam. Liq. 1
	FlamLiq2                         // Flam. Liq. 2
	FlamLiq3                         // Flam. Liq. 3
	FlamLiq4                         // Flam. Liq. 4
	FlamSol1                         // Flam. Sol. 1
	FlamSol2                         // Flam. Sol. 2
	SelfReactA                       // Self-react. A
	SelfReactB                       // Self-react. B
	SelfReactC                       // Self-react. C
	SelfReactD                       // Self-react. D
	SelfReactE                       // Self-react. E
	SelfReactF                       // Self-react. F
	SelfReactG                       // Self-react. G
	PyrLiq1                          // Pyr. Liq. 1
	PyrSol1                          // Pyr. Sol. 1
	SelfHeat1                        // Self-heat. 1
	SelfHeat2                        // Self-heat. 2
	WaterReact1                      // Water-react. 1
	WaterReact2                      // Water-react. 2
	WaterReact3                      // Water-react. 3
	OxLiq1                           // Ox. Liq. 1
	OxLiq2                           // Ox. Liq. 2
	OxLiq3                           // Ox. Liq. 3
	OxSol1                           // Ox. Sol. 1
	OxSol2                           // Ox. Sol. 2
	OxSol3                           // Ox. Sol. 3
	OrgPeroxA                        // Org. Perox. A
	OrgPeroxB                        // Org. Perox. B
	OrgPeroxC                        // Org. Perox. C
	OrgPeroxD                        // Org. Perox. D
	OrgPeroxE                        // Org. Perox. E
	OrgPeroxF                        // Org. Perox. F
	OrgPeroxG                        // Org. Perox. G
	MetCorr1                         // Met. Corr. 1
	DesenExpl1                       // Desen. Expl. 1
	DesenExpl2                       // Desen. Expl. 2
	DesenExpl3                       // Desen. Expl. 3
	DesenExpl4                       // Desen. Expl. 4
	CombustibleDust                  // Comb. Dust
	SimpleAsphyxiant                 // Simple Asphyx.
	PHNOC                            // PHNOC
	AcuteTox1Oral                    // Acute Tox. 1 oral
	AcuteTox2Oral                    // Acute Tox. 2 oral
	AcuteTox3Oral                    // Acute Tox. 3 oral
	AcuteTox4Oral                    // Acute Tox. 4 oral
	AcuteTox5Oral                    // Acute Tox. 5 oral
	AcuteTox1Dermal                  // Acute Tox. 1 dermal
	AcuteTox2Dermal                  // Acute Tox. 2 dermal
	AcuteTox3Dermal                  // Acute Tox. 3 dermal
	AcuteTox4Dermal                  // Acute Tox. 4 dermal
	AcuteTox5Dermal                  // Acute Tox. 5 dermal
	AcuteTox1InhalationGas           // Acute Tox. 1 inhalation_gas
	AcuteTox2InhalationGas           // Acute Tox. 2 inhalation_gas
	AcuteTox3InhalationGas           // Acute Tox. 3 inhalation_gas
	AcuteTox4InhalationGas           // Acute Tox. 4 inhalation_gas
	AcuteTox5InhalationGas           // Acute Tox. 5 inhalation_gas
	AcuteTox1InhalationVapour        // Acute Tox. 1 inhalation_vapour
	AcuteTox2InhalationVapour        // Acute Tox. 2 inhalation_vapour
	AcuteTox3InhalationVapour        // Acute Tox. 3 inhalation_vapour
	AcuteTox4InhalationVapour        // Acute Tox. 4 inhalation_vapour
	AcuteTox5InhalationVapour        // Acute Tox. 5 inhalation_vapour
	AcuteTox1InhalationDust          // Acute Tox. 1 inhalation_dust
	AcuteTox2InhalationDust          // Acute Tox. 2 inhalation_dust
	AcuteTox3InhalationDust          // Acute Tox. 3 inhalation_dust
	AcuteTox4InhalationDust          // Acute Tox. 4 inhalation_dust
	AcuteTox5InhalationDust          // Acute Tox. 5 inhalation_dust
	SkinCorr1                        // Skin Corr. 1
	SkinCorr1A                       // Skin Corr. 1A
	SkinCorr1B                       // Skin Corr. 1B
	SkinCorr1C                       // Skin Corr. 1C
	SkinIrrit2                       // Skin Irrit. 2
	SkinIrrit3                       // Skin Irrit. 3
	EyeDam1                          // Eye Dam. 1
	EyeIrrit2                        // Eye Irrit. 2
	EyeIrrit2A                       // Eye Irrit. 2A
	EyeIrrit2B                       // Eye Irrit. 2B
	RespSens1                        // Resp. Sens. 1
	RespSens1A                       // Resp. Sens. 1A
	RespSens1B                       // Resp. Sens. 1B
	SkinSens1                        // Skin Sens. 1
	SkinSens1A                       // Skin Sens. 1A
	SkinSens1B                       // Skin Sens. 1B
	Muta1                            // Muta. 1
	Muta1A                           // Muta. 1A
	Muta1B                           // Muta. 1B
	Muta2                            // Muta. 2
	Carc1                            // Carc. 1
	Carc1A                           // Carc. 1A
	Carc1B                           // Carc. 1B
	Carc2                            // Carc. 2
	Repr1                            // Repr. 1
	Repr1A                           // Repr. 1A
	Repr1B                           // Repr. 1B
	Repr2                            // Repr. 2
	Lact                             // Lact.
	STOTSE1                          // STOT SE 1
	STOTSE2                          // STOT SE 2
	STOTSE3                          // STOT SE 3
	STOTSE3Narcotic                  // STOT SE 3 narcotic
	STOTSE3Respiratory               // STOT SE 3 respiratory
	STOTRE1                          // STOT RE 1
	STOTRE2                          // STOT RE 2
	AspTox1                          // Asp. Tox. 1
	AspTox2                          // Asp. Tox. 2
	EDHH1                            // ED HH 1
	EDHH2                            // ED HH 2
	Biohazard1                       // Biohaz. Inf. 1
	HHNOC                            // HHNOC
	HNOC                             // HNOC
	AquaticAcute1                    // Aquatic Acute 1
	AquaticAcute2                    // Aquatic Acute 2
	AquaticAcute3                    // Aquatic Acute 3
	AquaticChronic1                  // Aquatic Chronic 1
	AquaticChronic2                  // Aquatic Chronic 2
	AquaticChronic3                  // Aquatic Chronic 3
	AquaticChronic4                  // Aquatic Chronic 4
	Ozone1                           // Ozone 1
	EDENV1                           // ED ENV 1
	EDENV2                           // ED ENV 2
	VPvB                             // vPvB
	PBT                              // PBT
	VPvM                             // vPvM
	PMT                              // PMT
)

// The hazard classes, in the order in which classes.csv first names them.
const (
	NoClass Class = iota
	Explosives
	FlammableGases
	PyrophoricGases
	Aerosols
	ChemicalsUnderPressure
	OxidisingGases
	GasesUnderPressure
	FlammableLiquids
	FlammableSolids
	SelfReactives
	PyrophoricLiquids
	PyrophoricSolids
	SelfHeating
	WaterReactives
	OxidisingLiquids
	OxidisingSolids
	OrganicPeroxides
	CorrosiveToMetals
	DesensitisedExplosives
	CombustibleDusts
	SimpleAsphyxiants
	PhysicalHazardNOC
	AcuteToxicity
	SkinCorrosion
	EyeDamage
	RespiratorySensitisation
	SkinSensitisation
	GermCellMutagenicity
	Carcinogenicity
	ReproductiveToxicity
	ReproductiveToxicityLactation
	STOTSingleExposure
	STOTRepeatedExposure
	AspirationHazard
	EndocrineDisruptionHealth
	BiohazardousInfectious
	HealthHazardNOC
	HazardNOC
	AquaticAcute
	AquaticChronic
	OzoneLayer
	EndocrineDisruptionEnvironment
	PersistentBioaccumulative
	PersistentMobile
)
