package facts

import (
	"strings"

	"sixteen/read/facts/number"
	"sixteen/sheet"
)

type controlKey uint8

const (
	ctlOther controlKey = iota
	ctlEngineering
	ctlEyes
	ctlHands
	ctlSkin
	ctlRespiratory
)

var controlLabels = func() *phrases[controlKey] {
	p := &phrases[controlKey]{}
	p.add(ctlEngineering, `engineering controls|appropriate engineering controls|engineering measures|ventilation|engineering control|engineering controls and work practices|ventilation and engineering controls|appropriate technical measures|controles techniques|controles techniques appropries|mesures d ordre technique|controles techniques appropriees|mesures techniques|technische schutzmassnahmen|geeignete technische steuerungseinrichtungen|technische massnahmen|controles tecnicos|controles tecnicos apropiados|medidas tecnicas|controles de ingenieria|controles d ingenierie appropries|controles d ingenierie|mesures d ingenierie`)
	p.add(ctlEyes, `eye protection|eye face protection|eyes|eye and face protection|eyes face|eye face|protection of the eyes|protection des yeux|protection des yeux du visage|protection oculaire|yeux|augenschutz|augen gesichtsschutz|augen und gesichtsschutz|proteccion ocular|proteccion de los ojos|proteccion de los ojos la cara|proteccion ocular y de la cara|proteccion de los ojos cara`)
	p.add(ctlHands, `hand protection|hands|gloves|glove recommendations|protection of hands|protection des mains|gants|mains|handschutz|schutzhandschuhe|proteccion de las manos|guantes|manos|clothing gloves`)
	p.add(ctlSkin, `skin protection|skin and body protection|body protection|other skin and body protection|skin|other skin protection|protection de la peau|protection de la peau et du corps|peau et corps|protection du corps|hautschutz|korperschutz|haut und korperschutz|proteccion de la piel|proteccion cutanea|proteccion corporal|proteccion de la piel y del cuerpo|other protective equipment|protective clothing`)
	p.add(ctlRespiratory, `respiratory protection|respiratory|respirator|respirators|breathing equipment|respiratory equipment|protection respiratoire|equipement de protection respiratoire|atemschutz|proteccion respiratoria|proteccion de las vias respiratorias`)
	p.add(ctlOther, `hygiene measures|general hygiene considerations|hygienic practices|environmental exposure controls|thermal hazards|personal protective equipment|other information|mesures d hygiene|hygienemassnahmen|medidas higienicas|exposure scenarios|work hygienic practices|general|hygiene|consumer exposure controls|storage conditions|legend|general protective measures|control parameters|exposure limits|precautionary|appareillage|controles de exposicion medioambiental|begrenzung und uberwachung der umweltexposition`)
	return p
}()

// readControl reads section 8.
func (r *reader) readControl() {
	r.readLimits()
	c := &r.sheet.Control
	text := func(target *sheet.Fact[string], f field[controlKey]) {
		if target.State == sheet.NotStated {
			if v := f.text(r.lines, 8); !v.empty() {
				*target = textFact(v)
			}
		}
	}
	for _, f := range fieldsIn(r.lines, r.part.body(8), controlLabels, 12) {
		switch f.key {
		case ctlEngineering:
			text(&c.Engineering, f)
		case ctlEyes:
			text(&c.Eyes, f)
		case ctlSkin:
			text(&c.Skin, f)
		case ctlHands:
			if v := f.text(r.lines, 12); !v.empty() && c.Hands.State == sheet.NotStated {
				c.Hands = r.glovesFact(v)
			}
		case ctlRespiratory:
			if v := f.text(r.lines, 12); !v.empty() && c.Respiratory.State == sheet.NotStated {
				c.Respiratory = respiratorFact(v)
			}
		}
	}
}

// gloveMaterials are materials of gloves (EN ISO 374-1, and trade terms).
var gloveMaterials = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("nitrile", `nitrile|nitrile rubber|nbr|nitrilkautschuk|nitril|nitrilo|caoutchouc nitrile|caucho nitrilo|nitrile butadiene rubber`)
	p.add("butyl", `butyl|butyl rubber|butylkautschuk|iir|butilo|caoutchouc butyle|butyle|caucho butilo`)
	p.add("neoprene", `neoprene|chloroprene|cr|polychloroprene|neopren|neopreno|chloroprenkautschuk`)
	p.add("natural rubber", `latex|natural rubber|naturkautschuk|caoutchouc naturel|caucho natural|naturlatex`)
	p.add("PVC", `pvc|polyvinyl chloride|polyvinylchlorid|vinyl`)
	p.add("PVA", `pva|polyvinyl alcohol|polyvinylalkohol|alcool polyvinylique|alcohol polivinilico`)
	p.add("fluororubber", `viton|fluororubber|fkm|fluorkautschuk|fluoroelastomer|fluorocarbon rubber|fluoroelastomere|caucho fluorado`)
	p.add("laminate", `laminate|laminated film|silver shield|4h|pe evoh|multilayer|multi layer laminate|polyethylene ethylene vinyl alcohol|laminat|evoh|eval`)
	p.add("polyethylene", `polyethylene|polyethylen|polietileno`)
	p.add("leather", `leather|leder|cuir|cuero`)
	return p
}()

func (r *reader) glovesFact(v stretch) sheet.Fact[sheet.Gloves] {
	text := strings.TrimSpace(v.text())
	if state, ok := stateAlone(text); ok {
		return said[sheet.Gloves](state, v)
	}
	g := sheet.Gloves{Text: text}
	ts := tokenize(text)
	seen := map[string]bool{}
	for i := range ts {
		if m, n := gloveMaterials.at(ts, i); n > 0 && !seen[m] {
			seen[m] = true
			g.Materials = append(g.Materials, m)
		}
	}
	for _, f := range number.Scan(text, r.style) {
		switch f.Unit.Dim {
		case number.Length:
			if iv := f.Unit.Convert(f.Interval); g.ThicknessMM == (sheet.Interval{}) && within(iv, 0.02, 5) {
				g.ThicknessMM = iv
			}
		case number.Time:
			if iv := scaled(f.Unit.Convert(f.Interval), 60); g.BreakthroughMin == (sheet.Interval{}) && within(iv, 0.5, 3000) {
				g.BreakthroughMin = iv
			}
		}
	}
	for _, std := range []string{"EN ISO 374", "EN 374", "EN374", "ISO 374", "EN 388", "ASTM F739", "F739"} {
		if i := strings.Index(text, std); i >= 0 {
			end := i + len(std)
			for end < len(text) && (isDigit(text[end]) || text[end] == '-' && end+1 < len(text) && isDigit(text[end+1])) {
				end++
			}
			g.Standard = text[i:end]
			break
		}
	}
	return fact(g, likely, v)
}

// filterWords are filter types (EN 14387, EN 143) and cartridge types (42 CFR 84).
var filterWords = func() *phrases[string] {
	p := &phrases[string]{}
	for _, f := range strings.Fields("A1 A2 A3 AX AX1 B1 B2 E1 E2 K1 K2 ABE ABEK ABEK1 ABEK2 AB A2B2 ABE1 P1 P2 P3 FFP1 FFP2 FFP3 N95 P100 P95 R95 N100 AXBEK SX A1P2 A2P2 A2P3 AP2 B2P3 ABEKP3 A1B1E1K1 A2B2E2K2 A2B2E2K2P3") {
		p.add(f, f)
	}
	p.add("A", `filter a|type a|typ a|filtre a|filtro a|gas filter a|filter type a`)
	p.add("OV", `organic vapor cartridge|organic vapor cartridges|organic vapor|organic vapour cartridge|organic vapour|ov`)
	return p
}()

func respiratorFact(v stretch) sheet.Fact[sheet.Respirator] {
	text := strings.TrimSpace(v.text())
	if state, ok := stateAlone(text); ok {
		return said[sheet.Respirator](state, v)
	}
	out := sheet.Respirator{Text: text}
	ts := tokenize(text)
	seen := map[string]bool{}
	for i := range ts {
		if f, n := filterWords.at(ts, i); n > 0 && !seen[f] {
			seen[f] = true
			out.Filters = append(out.Filters, f)
		}
	}
	low := fold(text)
	for _, w := range []string{"supplied air", "air supplied", "self contained", "scba", "airline", "umluftunabhangig", "autonome", "isolierger", "autonomo", "adduction d air", "positive pressure"} {
		out.SuppliedAir = out.SuppliedAir || strings.Contains(low, w)
	}
	return fact(out, likely, v)
}
