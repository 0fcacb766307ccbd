package facts

// headingWords lists how the sixteen sections are called, per topic, in the languages carried; "|" separates wordings.
// The standard's own titles come first (UN GHS rev. 10, Annex 4, A4.2; Regulation (EU) 2020/878, Annex II, Part B, in its
// language versions; 29 CFR 1910.1200, Appendix D), then the titles of sheets written before GHS (OSHA form 174, ANSI
// Z400.1, Directive 91/155/EEC) and variants common in practice.
var headingWords = [17]string{
	1: `identification of the substance mixture and of the company undertaking|identification of the substance or mixture and of the supplier|identification|product and company identification|product identification|
chemical product and company identification|identification of the preparation and company|identification of the substance preparation and company|identification of the material and supplier|product identification and use|identity of material|
general information|product information|manufacturer information|company identification|product name and company identification|identification of substance and company|material identification|product and supplier identification|identification of the product and of the company undertaking|
identification de la substance du melange et de la societe de l entreprise|identification du produit et de l entreprise|identification de la preparation et de la societe entreprise|identification du produit et de la compagnie|identification du produit chimique et de la personne physique ou morale|identification de la substance et de la societe|renseignements sur le produit et le fabricant|identification du produit|
bezeichnung des stoffs beziehungsweise des gemischs und des unternehmens|bezeichnung des stoffes bzw des gemisches und des unternehmens|stoff zubereitungs und firmenbezeichnung|stoff gemisch und firmenbezeichnung|produkt und firmenbezeichnung|bezeichnung des stoffs der zubereitung und des unternehmens|
identificacion de la sustancia o la mezcla y de la sociedad o la empresa|identificacion del producto y de la empresa|identificacion de la sustancia preparado y de la sociedad empresa|identificacion del producto y de la compania|identificacion del producto|identificacion del producto quimico y de la empresa`,
	2: `hazards identification|hazard s identification|hazard identification|hazard identification of the product|identification of hazards|hazards|hazard information|hazard summary|health hazard identification|
identification des dangers|identification des risques|identification du danger|mogliche gefahren|gefahren|gefahrenidentifikation|gefahrenbezeichnung|
identificacion de los peligros|identificacion del peligro o peligros|identificacion de peligros|identificacion de riesgos|identificacion de los riesgos|identificacion del peligro`,
	3: `composition information on ingredients|composition and information on ingredients|composition|hazardous ingredients|hazardous components|hazardous ingredients identity information|ingredients|information on ingredients|composition ingredients|hazardous ingredients of material|composition data on components|composition information|ingredient information|hazardous components specific chemical identity|composition on ingredients|
composition informations sur les composants|composition information sur les ingredients|composition information sur les composants|information sur les composants|composition et information sur les ingredients|ingredients dangereux|
zusammensetzung angaben zu bestandteilen|zusammensetzung angaben zu den bestandteilen|zusammensetzung|
composicion informacion sobre los componentes|composicion informacion de los componentes|composicion|informacion sobre los componentes|composicion e informacion sobre los componentes|ingredientes peligrosos|composicion informacion sobre los ingredientes`,
	4: `first aid measures|first aid|first aid procedures|emergency first aid procedures|emergency and first aid procedures|premiers secours|premiers soins|mesures de premiers secours|mesures de premiers soins|description des premiers secours|
erste hilfe massnahmen|erste hilfe|primeros auxilios|medidas de primeros auxilios`,
	5: `fire fighting measures|firefighting measures|fire and explosion hazard data|fire and explosion data|fire and explosion hazards|fire hazard data|fire fighting|mesures de lutte contre l incendie|mesures en cas d incendie|lutte contre l incendie|mesures a prendre en cas d incendie|
massnahmen zur brandbekampfung|brandbekampfung|medidas de lucha contra incendios|medidas contra incendios|medidas para la lucha contra incendios|medidas de extincion de incendios`,
	6: `accidental release measures|spill or leak procedures|spill and leak procedures|release measures|accidental release|mesures a prendre en cas de dispersion accidentelle|mesures a prendre en cas de deversement accidentel|mesures en cas de rejet accidentel|mesures a prendre en cas de rejet accidentel|mesures a prendre en cas de deversements accidentels|mesures a prendre en cas de fuite accidentelle|
massnahmen bei unbeabsichtigter freisetzung|medidas en caso de vertido accidental|medidas en caso de liberacion accidental|medidas en caso de fuga accidental|medidas en caso de derrame accidental|medidas que deben tomarse en caso de vertido accidental|medidas que deben tomarse en caso de derrame accidental`,
	7: `handling and storage|storage and handling|precautions for safe handling and use|handling storage|handling and storage precautions|manipulation et stockage|manipulation et entreposage|manutention et stockage|manutention et entreposage|stockage et manipulation|
handhabung und lagerung|manipulacion y almacenamiento|manejo y almacenamiento|almacenamiento y manipulacion`,
	8: `exposure controls personal protection|exposure control personal protection|exposure controls and personal protection|exposure controls|personal protection|control measures|special protection information|preventive measures|exposure limits and personal protection|protective measures|personal protective equipment and exposure controls|
controles de l exposition protection individuelle|controle de l exposition protection individuelle|controle de l exposition et protection individuelle|mesures de protection individuelle et controle de l exposition|protection individuelle controle de l exposition|controle de l exposition protection personnelle|
begrenzung und uberwachung der exposition personliche schutzausrustungen|begrenzung und uberwachung der exposition personliche schutzausrustung|expositionsbegrenzung und personliche schutzausrustung|
controles de exposicion proteccion individual|control de exposicion proteccion individual|controles de exposicion proteccion personal|control de la exposicion proteccion individual|controles de la exposicion proteccion individual`,
	9: `physical and chemical properties|physical chemical properties|physical chemical data|physical data|physical and chemical characteristics|chemical and physical properties|physical chemical characteristics|physical and chemical data|proprietes physiques et chimiques|proprietes physico chimiques|caracteristiques physiques et chimiques|
physikalische und chemische eigenschaften|propiedades fisicas y quimicas|propiedades fisico quimicas`,
	10: `stability and reactivity|reactivity data|reactivity|stability and reactivity data|reactivity and stability|stabilite et reactivite|stabilitat und reaktivitat|estabilidad y reactividad`,
	11: `toxicological information|health hazard data|toxicology information|toxicological data|toxicity data|health hazard and toxicological data|health effects|health hazards|toxicological properties|informations toxicologiques|renseignements toxicologiques|donnees toxicologiques|proprietes toxicologiques|
toxikologische angaben|angaben zur toxikologie|informacion toxicologica|informaciones toxicologicas`,
	12: `ecological information|environmental information|ecological data|ecotoxicological information|environmental data|informations ecologiques|renseignements ecologiques|donnees ecologiques|donnees ecotoxicologiques|umweltbezogene angaben|angaben zur okologie|
informacion ecologica|informaciones ecologicas|informacion ecotoxicologica`,
	13: `disposal considerations|disposal|waste disposal|disposal information|waste disposal considerations|waste disposal methods|considerations relatives a l elimination|elimination des dechets|donnees sur l elimination|informations relatives a l elimination|considerations relatives a l elimination des dechets|elimination|
hinweise zur entsorgung|entsorgung|consideraciones relativas a la eliminacion|consideraciones sobre la eliminacion|consideraciones sobre la disposicion|eliminacion de los residuos|consideraciones de eliminacion|informacion relativa a la eliminacion de los productos`,
	14: `transport information|transportation information|shipping information|transport|transport data|transportation data|department of transportation information|dot information|informations relatives au transport|informations relatives aux transports|informations sur le transport|renseignements sur le transport|transports|
angaben zum transport|transportangaben|informacion relativa al transporte|informacion sobre el transporte|informacion de transporte|informaciones relativas al transporte|transporte`,
	15: `regulatory information|regulatory information classifications|regulations|regulatory data|other regulatory information|informations relatives a la reglementation|informations reglementaires|informations sur la reglementation|renseignements sur la reglementation|reglementation|
rechtsvorschriften|angaben zu rechtsvorschriften|vorschriften|informacion reglamentaria|informacion sobre la reglamentacion|informacion reguladora|informacion regulatoria|disposiciones reglamentarias|informaciones reglamentarias`,
	16: `other information|additional information|other|miscellaneous|other information including information on preparation and revision of the sds|further information|other data|autres informations|autres donnees|autres renseignements|informations complementaires|renseignements supplementaires|
sonstige angaben|sonstige informationen|weitere angaben|otra informacion|otras informaciones|otros datos|informacion adicional|informacion miscelanea`,
}

// headingStops are words that do not help to tell topics apart.
var headingStops = map[string]bool{
	"of": true, "the": true, "and": true, "or": true, "on": true, "s": true, "to": true, "for": true, "de": true, "la": true, "du": true,
	"et": true, "l": true, "d": true, "le": true, "les": true, "des": true, "ou": true, "sur": true, "en": true, "a": true, "aux": true, "au": true,
	"und": true, "der": true, "die": true, "das": true, "zu": true, "zum": true, "zur": true, "den": true, "dem": true, "bei": true, "in": true,
	"y": true, "o": true, "los": true, "las": true, "del": true, "el": true, "e": true, "sobre": true, "al": true, "un": true, "une": true,
	"continued": true, "suite": true, "fortsetzung": true, "continuacion": true, "cont": true, "data": true, "this": true,
}

// headingPhrase is one wording as its telling words.
type headingPhrase struct {
	topic int
	words []string
}

// headingIndex finds wordings by any of their words.
type headingIndex struct {
	phrases []headingPhrase
	byWord  map[string][]int
}

var headingTable = buildHeadings()

func buildHeadings() headingIndex {
	idx := headingIndex{byWord: map[string][]int{}}
	for topic, text := range headingWords {
		p := phrases[int]{}
		p.add(topic, text)
		for _, list := range p.byFirst {
			for _, ph := range list {
				words := telling(ph.tokens)
				if len(words) == 0 {
					words = ph.tokens
				}
				n := len(idx.phrases)
				idx.phrases = append(idx.phrases, headingPhrase{topic, words})
				for _, w := range words {
					idx.byWord[w] = append(idx.byWord[w], n)
				}
			}
		}
	}
	return idx
}

// telling drops stop words and brings the rest to a stem.
func telling(tokens []string) []string {
	var out []string
	for _, t := range tokens {
		if !headingStops[t] {
			out = append(out, stem(t))
		}
	}
	return out
}

// stem drops the endings of number and gender, so that "measure" is "measures" and "informations" is "information".
func stem(w string) string {
	if len(w) > 4 {
		for _, e := range []string{"es", "s", "e", "n"} {
			if len(w)-len(e) >= 4 && w[len(w)-len(e):] == e {
				return w[:len(w)-len(e)]
			}
		}
	}
	return w
}

// topicOf finds the topic whose wording shares most words with the tokens: score is twice the shared words over all words
// of both (Dice's coefficient), 1 for the same words.
func topicOf(tokens []token) (topic int, score float64) {
	if len(tokens) == 0 || len(tokens) > 24 {
		return 0, 0
	}
	var texts [24]string
	n := 0
	for _, t := range tokens {
		texts[n] = t.text
		n++
	}
	words := telling(texts[:n])
	if len(words) == 0 || len(words) > 14 {
		return 0, 0
	}
	for _, w := range words {
		for _, p := range headingTable.byWord[w] {
			ph := headingTable.phrases[p]
			if s := dice(words, ph.words); s > score || s == score && ph.topic < topic {
				topic, score = ph.topic, s
			}
		}
	}
	return topic, score
}

func dice(a, b []string) float64 {
	shared := 0
	for i, w := range a {
		repeated := false
		for _, v := range a[:i] {
			repeated = repeated || v == w
		}
		if repeated {
			continue
		}
		for _, v := range b {
			if v == w {
				shared++
				break
			}
		}
	}
	return 2 * float64(shared) / float64(len(a)+len(b))
}
