package audit

import (
	"slices"

	"sixteen/ghs"
)

// ClaimCatalogue lists the claims that are looked for.
func ClaimCatalogue() []Claim {
	return slices.Concat(healthClaims(), airClaims(), contentClaims(), otherClaims())
}

type tongue = map[ghs.Lang]string

func healthClaims() []Claim {
	return []Claim{
		{"non-toxic", tongue{ghs.English: `non[- ]?toxic|not toxic|toxin[- ]free`, ghs.French: `non[- ]toxique`, ghs.German: `ungiftig|nicht giftig`, ghs.Spanish: `no tóxic[oa]`},
			"It harms nobody who swallows it, breathes it or gets it on the skin, once or for years.",
			"A classification without any health hazard, with data for every route and every lasting effect.", judgeHealth(anyHealth)},
		{"safe", tongue{ghs.English: `completely safe|totally safe|100 ?% safe|perfectly safe|safe to use|safe for (you|everyone|humans|people)|harmless`, ghs.French: `sans danger|inoffensif`, ghs.German: `unbedenklich|ungefährlich|harmlos`, ghs.Spanish: `inofensiv[oa]|sin peligro`},
			"It can do no harm. The word measures nothing.", "Nothing could: safety depends on the use.", judgeHealth(anyHazard)},
		{"child-safe", tongue{ghs.English: `(child|kid|kids|pet|pets|family|baby)[- ]?(safe|friendly)|safe (for|around) (children|kids|pets|babies|the family)`, ghs.German: `kinderfreundlich|für kinder geeignet`, ghs.French: `sans danger pour les enfants`, ghs.Spanish: `seguro para niños`},
			"Children and animals may be near it, touch it and breathe it.", "Tests of what the cured product gives off (for toys EN 71-3 and EN 71-9), and a sheet without health hazards for the uncured one.", judgeHealth(anyHealth)},
		{"hypoallergenic", tongue{ghs.English: `hypo[- ]?allergenic|non[- ]?allergenic|allergy[- ]?(free|safe)|non[- ]?sensiti[sz]ing`, ghs.French: `hypoallergénique`, ghs.German: `hypoallergen|allergikerfreundlich`, ghs.Spanish: `hipoalergénic[oa]`},
			"It brings on no allergy.", "Negative sensitisation tests (OECD 406, 429 or 442) of every ingredient.", judgeHealth(sensitiser)},
		{"gentle", tongue{ghs.English: `non[- ]?irritating|non[- ]?irritant|skin[- ](safe|friendly)|gentle|mildly irritating|only (mildly|slightly) irritating`, ghs.French: `non irritant`, ghs.German: `hautfreundlich|nicht reizend`, ghs.Spanish: `no irritante`},
			"Skin and eyes take no harm.", "Negative tests of skin and eye irritation (OECD 439, 492) of the product.", judgeHealth(skinAndEyes)},
		{"no-carcinogens", tongue{ghs.English: `(no|free of|zero) carcinogens?|carcinogen[- ]free|non[- ]?carcinogenic`, ghs.French: `sans cancérogènes?`, ghs.German: `krebsfrei|nicht krebserregend`, ghs.Spanish: `no cancerígen[oa]|sin cancerígenos`},
			"No ingredient causes or is suspected to cause cancer.", "Every ingredient named, none classified Carc. and none listed by IARC in 1, 2A or 2B.", judgeCarcinogen},
		{"no-gloves", tongue{ghs.English: `no (special )?gloves (are )?(needed|required|necessary)|without gloves|glove[- ]free`, ghs.German: `ohne handschuhe|keine handschuhe nötig`, ghs.French: `sans gants`, ghs.Spanish: `sin guantes`},
			"Bare hands may touch it.", "A sheet without skin hazards.", judgeGloves},
		{"no-respirator", tongue{ghs.English: `no (respirator|mask|breathing protection) (is )?(needed|required|necessary)|without (a )?(respirator|mask)`, ghs.German: `kein atemschutz (nötig|erforderlich)|ohne atemschutz`, ghs.French: `sans masque`, ghs.Spanish: `sin mascarilla`},
			"Its vapour, mist and dust may be breathed.", "A sheet that asks for no breathing protection, and a calculation for the room.", judgeRespirator},
		{"no-ventilation", tongue{ghs.English: `no (special )?ventilation (is )?(needed|required|necessary)|without ventilation|stay in the room|safe indoors|indoor[- ]safe`, ghs.German: `ohne lüften`, ghs.French: `sans ventilation`, ghs.Spanish: `sin ventilación`},
			"It may be used in a closed room.", "Emission tests, and a calculation for the room.", judgeVentilation},
		{"not-hazardous", tongue{ghs.English: `non[- ]?hazardous|not hazardous|no hazardous ingredients|chemical[- ]free`, ghs.French: `non dangereux`, ghs.German: `kein gefahrstoff|kein gefahrgut`, ghs.Spanish: `no peligros[oa]`},
			"It is not classified for anything.", "A sheet whose section 2 says not classified, with data behind it.", judgeHealth(anyHazard)},
	}
}

func airClaims() []Claim {
	return []Claim{
		{"no-voc", tongue{ghs.English: `(no|zero|0|without) vocs?|voc[- ]?free`, ghs.French: `(sans|zéro) cov`, ghs.German: `voc[- ]?frei|ohne voc`, ghs.Spanish: `sin cov`},
			"Nothing organic evaporates from it.", "A VOC content by a named method (ISO 11890, ASTM D2369, EPA method 24), of the mixed product.", judgeNoVOC},
		{"low-voc", tongue{ghs.English: `low[- ]vocs?`, ghs.French: `faible teneur en cov`, ghs.German: `voc[- ]arm`, ghs.Spanish: `bajo en cov`},
			"Less evaporates than some limit allows; the limit must be named.", "The VOC content with its method, and the rule whose limit is meant (Directive 2004/42/EC, a state's coating rule).", judgeLowVOC},
		{"no-fumes", tongue{ghs.English: `no (toxic |harmful )?fumes|fume[- ]free|fumeless|without fumes`, ghs.French: `sans (vapeurs|émanations)`, ghs.German: `ohne dämpfe|dampffrei`, ghs.Spanish: `sin vapores`},
			"Nothing gets into the air, neither in the pot, nor as it cures, nor when it is sanded.", "Emission tests while it cures, cup heat included.", judgeFumes},
		{"odourless", tongue{ghs.English: `odou?r[- ]?less|odou?r[- ]?free|no (odou?r|smell)`, ghs.French: `inodore|sans odeur`, ghs.German: `geruchlos|geruchsfrei|geruchsneutral`, ghs.Spanish: `inodor[oa]|sin olor`},
			"It has no smell. That says nothing of harm: isocyanates harm below the smell.", "The odour stated in section 9, a panel test (EN 13725).", judgeOdour},
		{"low-odour", tongue{ghs.English: `low[- ]odou?r`, ghs.French: `faible odeur`, ghs.German: `geruchsarm`, ghs.Spanish: `bajo olor`},
			"It smells little. That says nothing of harm.", "A panel test (EN 13725).", func(c *Case) Judgement { return Judgement{ClaimNeedsTest, odourSides(c)} }},
		{"solids-100", tongue{ghs.English: `100 ?% solids?`, ghs.German: `100 ?% festkörper`, ghs.French: `100 ?% (d'extrait sec|solides?)`, ghs.Spanish: `100 ?% sólidos`},
			"All of it stays; nothing evaporates.", "Non-volatile matter by ISO 3251 or ASTM D2369.", judgeSolids},
		{"solvent-free", tongue{ghs.English: `solvent[- ]?free|no solvents?|solventless|without solvents?`, ghs.French: `sans solvants?`, ghs.German: `lösemittelfrei|lösungsmittelfrei`, ghs.Spanish: `sin disolventes?`},
			"No solvent is in it. Reactive thinners and benzyl alcohol are often not counted.", "Every ingredient named, none a solvent.", judgeSolvent},
		{"non-flammable", tongue{ghs.English: `non[- ]?flammable|not flammable|non[- ]?combustible`, ghs.French: `ininflammable|non inflammable`, ghs.German: `nicht brennbar|nicht entzündbar|unbrennbar`, ghs.Spanish: `no inflamable|ininflamable`},
			"It cannot be set alight as it is supplied.", "A closed-cup flash point above 93 °C, or none up to boiling.", judgeFlammable},
	}
}

func contentClaims() []Claim {
	return []Claim{
		{"bpa-free", tongue{ghs.English: `bpa[- ]?free|no bpa|bisphenol[- ]?(a[- ]?)?free`, ghs.French: `sans bpa|sans bisphénol`, ghs.German: `bpa[- ]?frei|ohne bpa`, ghs.Spanish: `(sin|libre de) bpa`},
			"No bisphenol A is in it and none comes out. Most epoxy resins are made from it.", "A residual content and migration test for bisphenol A.", judgeBisphenol},
		freeOf("isocyanate-free", `isocyanate[- ]?free|no isocyanates?|nco[- ]free`, `sans isocyanates?`, `isocyanatfrei`, `sin isocianatos?`, "isocyanate", "isocyanat"),
		freeOf("styrene-free", `styrene[- ]?free|no styrene`, `sans styrène`, `styrolfrei`, `sin estireno`, "styrene", "100-42-5"),
		freeOf("formaldehyde-free", `formaldehyde[- ]?free|no (added )?formaldehyde`, `sans formaldéhyde`, `formaldehydfrei`, `sin formaldehído`, "formaldehyde", "50-00-0", "paraformaldehyde"),
		freeOf("lead-free", `lead[- ]?free|no lead`, `sans plomb`, `bleifrei`, `sin plomo`, "lead", "lead chrom", "lead oxide", "lead octo"),
		freeOf("phthalate-free", `phthalate[- ]?free|no phthalates?`, `sans phtalates?`, `phthalatfrei`, `sin ftalatos?`, "phthalate", "phthalate"),
		freeOf("nonylphenol-free", `nonylphenol[- ]?free|no nonylphenol`, `sans nonylphénol`, `nonylphenolfrei`, `sin nonilfenol`, "nonylphenol", "nonylphenol"),
		{"natural", tongue{ghs.English: `all[- ]natural|100 ?% natural|natural resin|plant[- ]based|bio[- ]?based|bio[- ]resin|organic resin`, ghs.French: `100 ?% naturel|biosourcé`, ghs.German: `naturharz|biobasiert|rein natürlich`, ghs.Spanish: `100 ?% natural|origen vegetal`},
			"Its carbon comes from plants. That says nothing of harm.", "A bio-based carbon content by EN 16640 or ASTM D6866.", func(c *Case) Judgement { return Judgement{ClaimNeedsTest, nil} }},
		{"water-based", tongue{ghs.English: `water[- ]?based|waterborne`, ghs.French: `à base d'eau|à l'eau`, ghs.German: `wasserbasiert|auf wasserbasis`, ghs.Spanish: `base agua|al agua`},
			"Water carries it. Solvents and sensitisers may be in it all the same.", "Water among the ingredients or in section 9.", judgeWater},
	}
}

func otherClaims() []Claim {
	return []Claim{
		{"food-safe", tongue{ghs.English: `food[- ]?(safe|grade|contact)|fda[- ](approved|compliant)|safe for food`, ghs.French: `contact alimentaire|alimentaire`, ghs.German: `lebensmittelecht|lebensmittelsicher|lebensmittelgeeignet`, ghs.Spanish: `apt[oa] para alimentos|uso alimentario`},
			"Once fully cured it may touch food.", "A migration test of the cured product at its mixing ratio and cure (Regulation (EU) 10/2011, 21 CFR 175.300), by a laboratory.", judgeFood},
		{"authority-approved", tongue{ghs.English: `osha[- ](approved|certified)|epa[- ]approved|government[- ]approved`},
			"An authority has approved the product.", "Nothing could: OSHA approves no products (common practice).", func(c *Case) Judgement {
				return Judgement{ClaimContradicted, []Side{follows("OSHA approves no products")}}
			}},
		{"eco-friendly", tongue{ghs.English: `eco[- ]?friendly|environment(ally)?[- ]friendly|earth[- ]friendly|green (product|resin|choice)|ocean[- ](safe|friendly)`, ghs.French: `écologique|respectueux de l'environnement`, ghs.German: `umweltfreundlich|ökologisch`, ghs.Spanish: `ecológic[oa]|respetuos[oa] con el medio ambiente`},
			"It does no harm to the environment. The word measures nothing.", "A claim of one measured property after ISO 14021, or an award of a named label after ISO 14024.", judgeHealth(environment)},
		{"biodegradable", tongue{ghs.English: `bio[- ]?degradable`, ghs.French: `biodégradable`, ghs.German: `biologisch abbaubar`, ghs.Spanish: `biodegradable`},
			"Micro-organisms break it down.", "A test of ready biodegradability (OECD 301) of the product, or of each ingredient.", judgeBiodegradable},
		{"drain-safe", tongue{ghs.English: `drain[- ]safe|pour (it )?down the (drain|sink)|septic[- ]safe`},
			"It may go down the drain.", "A permit of the sewage works; no aquatic class.", judgeHealth(environment)},
	}
}
