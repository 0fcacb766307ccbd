package facts

import (
	"strings"

	"sixteen/sheet"
)

// stateWords are the wordings by which sheets say that there is no value, and which kind of "no" it is.
var stateWords = func() *phrases[sheet.State] {
	p := &phrases[sheet.State]{}
	p.add(sheet.NoData, `no data available|no data|no data is available|data not available|not available|not determined|not established|no information available|no information|no additional information available|
		no further information available|no further relevant information available|information not available|not known|unknown|undetermined|not measured|not tested|no test data available|n d|nd|n e|n av|no relevant or available data|none established|
		no relevant data|no relevant information|no established limit|not evaluated|not reported|no reliable data|no specific data|data lacking|not yet determined|to be determined|no value|no values available|insufficient data|no established|none known`)
	p.add(sheet.NoData, `non disponible|non determine|non determinee|pas de donnees disponibles|pas de donnees|aucune donnee disponible|aucune donnee|aucune information|aucune information disponible|pas d information|pas d information disponible|pas etabli|non etabli|non connu|inconnu|donnees non disponibles|
		pas disponible|p d|non mesure|indetermine|sans donnees disponibles|pas d informations disponibles|aucune donnee n est disponible|donnee non disponible|pas determine`)
	p.add(sheet.NoData, `keine daten verfugbar|keine daten vorhanden|keine daten|nicht bestimmt|nicht verfugbar|keine angaben|keine angabe|nicht ermittelt|keine informationen verfugbar|nicht bekannt|unbekannt|keine information verfugbar|keine zuverlassigen daten verfugbar|
		es liegen keine daten vor|es liegen keine informationen vor|nicht festgelegt|keine weiteren informationen verfugbar|es liegen keine angaben vor|nicht gepruft|nicht gemessen`)
	p.add(sheet.NoData, `no hay datos disponibles|no hay datos|sin datos disponibles|sin datos|no disponible|no determinado|no determinada|no hay informacion disponible|no hay informacion|sin informacion|no se dispone de datos|desconocido|desconocida|no establecido|no se conoce|
		datos no disponibles|no especificado|informacion no disponible|no existen datos disponibles|no se ha determinado`)
	p.add(sheet.NotApplicable, `not applicable|does not apply|n a|na|not relevant|not required|none required|non applicable|sans objet|s o|ne s applique pas|non pertinent|pas applicable|nicht anwendbar|nicht zutreffend|entfallt|nicht relevant|trifft nicht zu|
		no aplicable|no aplica|no es aplicable|no procede|no relevante|no corresponde|no pertinente`)
	p.add(sheet.NoneStated, `none|not classified|not regulated|not listed|not hazardous|non hazardous|no pictogram|no signal word|not dangerous goods|non classe|non classee|neant|aucun|aucune|non reglemente|non repertorie|pas de mention d avertissement|pas regle|keine|keiner|kein|nicht eingestuft|kein gefahrgut|
		kein signalwort|keine einstufung|nicht kennzeichnungspflichtig|ninguno|ninguna|no clasificado|no clasificada|no regulado|no esta regulado|no esta clasificado|not subject|not required to be listed|not restricted|nil|pas de pictogramme|sin palabra de advertencia|not a dangerous good|unregulated|not considered hazardous|no hazard statement`)
	return p
}()

// stateOf tells which kind of "no value" a text begins with. ok is false when it says something else.
func stateOf(text string) (state sheet.State, ok bool) {
	t := strings.TrimLeft(text, " \t:-–.*[(")
	if t == "" {
		if strings.Trim(text, " \t:.") != "" { // "-", "—", "---"
			return sheet.NoData, true
		}
		return sheet.NotStated, false
	}
	if len(t) > 60 {
		t = t[:60]
	}
	ts := tokenize(t)
	if len(ts) == 0 {
		return sheet.NotStated, false
	}
	v, n := stateWords.at(ts, 0)
	return v, n > 0
}

// stateAlone tells whether the whole text only says that there is no value.
func stateAlone(text string) (sheet.State, bool) {
	t := strings.Trim(text, " \t:.*[]()")
	if t == "" || strings.Trim(t, "-–—_/") == "" {
		if t == "" {
			return sheet.NotStated, false
		}
		return sheet.NoData, true
	}
	ts := tokenize(t)
	if len(ts) == 0 || len(ts) > 14 {
		return sheet.NotStated, false
	}
	v, n := stateWords.at(ts, 0)
	return v, n > 0 && len(ts)-n <= 1
}
