package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// Question is a sentence for the letter to the supplier, kept as the name of a phrase and what is filled in, so that it
// can be written in every language carried. An argument that is the name of a term (see terms) is translated too; all
// others are codes, numbers, names and words of the sheet and stay as they are.
type Question struct {
	Phrase string   `json:"phrase,omitempty"`
	Args   []string `json:"args,omitempty"`
}

// ask makes a question from the name of its phrase and what is filled in.
func ask(phrase string, args ...string) Question { return Question{Phrase: phrase, Args: args} }

// In is the question in one language, "" when there is none. Languages that are not carried get English.
func (q Question) In(l ghs.Lang) string {
	if q.Phrase == "" {
		return ""
	}
	p, ok := phrases()[q.Phrase]
	if !ok {
		return ""
	}
	out := p.in(l)
	for i, a := range q.Args {
		if t, ok := terms()[a]; ok {
			a = t.in(l)
		}
		out = strings.ReplaceAll(out, fmt.Sprintf("{%d}", i+1), a)
	}
	return out
}

// tongues is one text in the languages carried.
type tongues struct{ en, fr, de, es string }

func (t tongues) in(l ghs.Lang) string {
	switch l {
	case ghs.French:
		return t.fr
	case ghs.German:
		return t.de
	case ghs.Spanish:
		return t.es
	}
	return t.en
}

// phrases are the sentences that checks ask with.
func phrases() map[string]tongues {
	return map[string]tongues{
		"state": {
			"Please state {1} in section {2}.",
			"Merci d'indiquer {1} à la section {2}.",
			"Bitte geben Sie in Abschnitt {2} an: {1}.",
			"Indiquen, por favor, {1} en la sección {2}."},
		"clash": {
			"Section {1} ({2}) and section {3} ({4}) contradict each other. Which is right, and when will the sheet be corrected?",
			"La section {1} ({2}) et la section {3} ({4}) se contredisent. Laquelle est exacte et quand la fiche sera-t-elle corrigée ?",
			"Abschnitt {1} ({2}) und Abschnitt {3} ({4}) widersprechen sich. Was stimmt, und wann wird das Blatt berichtigt?",
			"La sección {1} ({2}) y la sección {3} ({4}) se contradicen. ¿Cuál es correcta y cuándo se corregirá la ficha?"},
		"classify": {
			"With the shares given in section 3 the product is to be classified {1} ({2}). Please correct section 2, or tell us the test or rule by which it does not apply.",
			"Avec les teneurs de la section 3, le produit doit être classé {1} ({2}). Merci de corriger la section 2 ou de nous indiquer l'essai ou la règle qui l'exclut.",
			"Mit den Anteilen aus Abschnitt 3 ist das Produkt als {1} ({2}) einzustufen. Bitte berichtigen Sie Abschnitt 2 oder nennen Sie die Prüfung oder Regel, nach der das nicht gilt.",
			"Con los porcentajes de la sección 3, el producto debe clasificarse como {1} ({2}). Corrijan la sección 2 o indiquen el ensayo o la regla que lo excluye."},
		"possible": {
			"Within the shares given in section 3 the product may be {1} ({2}). Which actual share or which test result rules it out?",
			"Avec les teneurs de la section 3, le produit peut être {1} ({2}). Quelle teneur réelle ou quel résultat d'essai l'exclut ?",
			"Innerhalb der Anteile aus Abschnitt 3 kann das Produkt {1} ({2}) sein. Welcher tatsächliche Anteil oder welches Prüfergebnis schließt das aus?",
			"Dentro de los porcentajes de la sección 3, el producto puede ser {1} ({2}). ¿Qué porcentaje real o qué resultado de ensayo lo descarta?"},
		"basis": {
			"On which test or rule does the classification {1} in section 2 rest? The ingredients of section 3 do not lead to it.",
			"Sur quel essai ou quelle règle repose la classification {1} de la section 2 ? Les composants de la section 3 n'y conduisent pas.",
			"Auf welcher Prüfung oder Regel beruht die Einstufung {1} in Abschnitt 2? Die Bestandteile aus Abschnitt 3 führen nicht dazu.",
			"¿En qué ensayo o regla se basa la clasificación {1} de la sección 2? Los componentes de la sección 3 no conducen a ella."},
		"ingredient": {
			"{1} (CAS {2}) is elsewhere classified {3} ({4}); section 3 does not say so. On which data does your classification rest?",
			"{1} (CAS {2}) est classé ailleurs {3} ({4}) ; la section 3 ne le dit pas. Sur quelles données repose votre classification ?",
			"{1} (CAS {2}) ist anderswo als {3} ({4}) eingestuft; Abschnitt 3 sagt das nicht. Auf welchen Daten beruht Ihre Einstufung?",
			"{1} (CAS {2}) está clasificado en otro lugar como {3} ({4}); la sección 3 no lo indica. ¿En qué datos se basa su clasificación?"},
		"constituent": {
			"{1} (CAS {2}) is {3} unless note {4} exempts it. Please state in writing the content of the constituent that the note names.",
			"{1} (CAS {2}) est {3}, sauf si la note {4} l'exempte. Merci d'indiquer par écrit la teneur du constituant que la note nomme.",
			"{1} (CAS {2}) ist {3}, sofern nicht Anmerkung {4} davon ausnimmt. Bitte nennen Sie schriftlich den Gehalt des Bestandteils, den die Anmerkung nennt.",
			"{1} (CAS {2}) es {3} salvo que la nota {4} lo exima. Indiquen por escrito el contenido del constituyente que nombra la nota."},
		"print": {
			"Please print {1} in section 2 instead of “{2}”.",
			"Merci d'imprimer {1} à la section 2 au lieu de « {2} ».",
			"Bitte drucken Sie in Abschnitt 2 {1} statt „{2}“.",
			"Impriman, por favor, {1} en la sección 2 en lugar de «{2}»."},
		"remove": {
			"Please take {1} out of section {2}, or tell us what it rests on.",
			"Merci de retirer {1} de la section {2} ou de nous dire sur quoi cela repose.",
			"Bitte nehmen Sie {1} aus Abschnitt {2} heraus oder sagen Sie uns, worauf es beruht.",
			"Retiren, por favor, {1} de la sección {2} o indiquen en qué se basa."},
		"limit": {
			"Please give the exposure limit of {1} ({2}) in section 8.",
			"Merci d'indiquer la valeur limite d'exposition de {1} ({2}) à la section 8.",
			"Bitte geben Sie in Abschnitt 8 den Grenzwert für {1} ({2}) an.",
			"Indiquen, por favor, el valor límite de exposición de {1} ({2}) en la sección 8."},
		"newer": {
			"Our sheet is dated {1}. Please send the newest revision, or confirm that this one still holds.",
			"Notre fiche est datée du {1}. Merci d'envoyer la révision la plus récente ou de confirmer que celle-ci est toujours valable.",
			"Unser Blatt trägt das Datum {1}. Bitte senden Sie die neueste Fassung oder bestätigen Sie, dass diese noch gilt.",
			"Nuestra ficha lleva la fecha {1}. Envíen la revisión más reciente o confirmen que esta sigue vigente."},
		"market": {
			"Please send a sheet written for {1}.",
			"Merci d'envoyer une fiche rédigée pour {1}.",
			"Bitte senden Sie ein Blatt, das für {1} geschrieben ist.",
			"Envíen, por favor, una ficha redactada para {1}."},
		"remainder": {
			"Up to {1} % of the product is not disclosed. Please confirm in writing that this share holds nothing classified as {2}, or name it.",
			"Jusqu'à {1} % du produit ne sont pas divulgués. Merci de confirmer par écrit que cette part ne contient rien de classé {2}, ou de le nommer.",
			"Bis zu {1} % des Produkts sind nicht offengelegt. Bitte bestätigen Sie schriftlich, dass dieser Anteil nichts enthält, was als {2} eingestuft ist, oder nennen Sie es.",
			"Hasta un {1} % del producto no está declarado. Confirmen por escrito que esa parte no contiene nada clasificado como {2}, o nómbrenlo."},
		"number": {
			"The CAS number {1} of {2} cannot be right ({3}). Please give the right one.",
			"Le numéro CAS {1} de {2} ne peut pas être exact ({3}). Merci d'indiquer le bon.",
			"Die CAS-Nummer {1} von {2} kann nicht stimmen ({3}). Bitte nennen Sie die richtige.",
			"El número CAS {1} de {2} no puede ser correcto ({3}). Indiquen el correcto."},
		"range": {
			"Please give a narrower share of {1} than {2}.",
			"Merci d'indiquer pour {1} une teneur plus étroite que {2}.",
			"Bitte geben Sie für {1} einen engeren Anteil als {2} an.",
			"Indiquen para {1} un porcentaje más estrecho que {2}."},
		"claim": {
			"The product is advertised as “{1}”. Please send the test report or the standard on which this rests.",
			"Le produit est présenté comme « {1} ». Merci d'envoyer le rapport d'essai ou la norme sur lesquels cela repose.",
			"Das Produkt wird als „{1}“ beworben. Bitte senden Sie den Prüfbericht oder die Norm, worauf das beruht.",
			"El producto se anuncia como «{1}». Envíen el informe de ensayo o la norma en que se basa."},
		"label": {
			"The label differs from section 2 of the sheet: {1}. Which is right?",
			"L'étiquette diffère de la section 2 de la fiche : {1}. Laquelle est exacte ?",
			"Das Etikett weicht von Abschnitt 2 des Blatts ab: {1}. Was stimmt?",
			"La etiqueta difiere de la sección 2 de la ficha: {1}. ¿Cuál es correcta?"},
		"changed": {
			"The revision of {1} drops {2}, which the revision of {3} stated. What has changed in the product or in the data?",
			"La révision du {1} supprime {2}, que la révision du {3} indiquait. Qu'est-ce qui a changé dans le produit ou dans les données ?",
			"Die Fassung vom {1} lässt {2} weg, das die Fassung vom {3} nannte. Was hat sich am Produkt oder an den Daten geändert?",
			"La revisión del {1} suprime {2}, que la revisión del {3} indicaba. ¿Qué ha cambiado en el producto o en los datos?"},
	}
}

// terms are the things that a supplier is asked to state.
func terms() map[string]tongues {
	return map[string]tongues{
		"@name":                        {"the product name as on the label", "le nom du produit tel que sur l'étiquette", "der Produktname wie auf dem Etikett", "el nombre del producto tal como figura en la etiqueta"},
		"@uses":                        {"the intended uses and the uses advised against", "les utilisations prévues et déconseillées", "die vorgesehenen Verwendungen und die, von denen abgeraten wird", "los usos previstos y los desaconsejados"},
		"@supplier":                    {"the supplier's name", "le nom du fournisseur", "der Name des Lieferanten", "el nombre del proveedor"},
		"@address":                     {"the supplier's full address in the country of supply", "l'adresse complète du fournisseur dans le pays de livraison", "die vollständige Anschrift des Lieferanten im Lieferland", "la dirección completa del proveedor en el país de suministro"},
		"@phone":                       {"the supplier's telephone number", "le numéro de téléphone du fournisseur", "die Telefonnummer des Lieferanten", "el teléfono del proveedor"},
		"@emergency":                   {"an emergency telephone number", "un numéro de téléphone d'urgence", "eine Notrufnummer", "un teléfono de emergencia"},
		"@email":                       {"the e-mail address of the person competent for the sheet", "l'adresse électronique de la personne compétente pour la fiche", "die E-Mail-Adresse der für das Blatt zuständigen Person", "el correo electrónico de la persona responsable de la ficha"},
		"@date":                        {"the date of the last revision", "la date de la dernière révision", "das Datum der letzten Überarbeitung", "la fecha de la última revisión"},
		"@ufi":                         {"the unique formula identifier", "l'identifiant unique de formulation", "der eindeutige Rezepturidentifikator", "el identificador único de la fórmula"},
		"@reach":                       {"the registration number", "le numéro d'enregistrement", "die Registrierungsnummer", "el número de registro"},
		"@section":                     {"the missing section with its content", "la section manquante avec son contenu", "der fehlende Abschnitt mit Inhalt", "la sección que falta con su contenido"},
		"@content":                     {"the required information, or that there is none", "les informations requises, ou qu'il n'y en a pas", "die geforderten Angaben, oder dass es keine gibt", "la información exigida, o que no la hay"},
		"@class":                       {"the classification, or that the product is not classified", "la classification, ou que le produit n'est pas classé", "die Einstufung, oder dass das Produkt nicht eingestuft ist", "la clasificación, o que el producto no está clasificado"},
		"@signal":                      {"the signal word", "la mention d'avertissement", "das Signalwort", "la palabra de advertencia"},
		"@pictograms":                  {"the pictograms", "les pictogrammes", "die Piktogramme", "los pictogramas"},
		"@hstatements":                 {"the hazard statements", "les mentions de danger", "die Gefahrenhinweise", "las indicaciones de peligro"},
		"@pstatements":                 {"the precautionary statements", "les conseils de prudence", "die Sicherheitshinweise", "los consejos de prudencia"},
		"@organs":                      {"which organs are harmed", "quels organes sont atteints", "welche Organe geschädigt werden", "qué órganos resultan dañados"},
		"@effect":                      {"whether fertility, the unborn child or both are at risk", "si la fertilité, le fœtus ou les deux sont menacés", "ob die Fruchtbarkeit, das ungeborene Kind oder beide gefährdet sind", "si corre riesgo la fertilidad, el feto o ambos"},
		"@unknown":                     {"the share of ingredients of unknown acute toxicity, by route", "la part des composants de toxicité aiguë inconnue, par voie", "der Anteil der Bestandteile mit unbekannter akuter Toxizität, je Aufnahmeweg", "el porcentaje de componentes de toxicidad aguda desconocida, por vía"},
		"@ingredients":                 {"the hazardous ingredients with CAS number and share", "les composants dangereux avec numéro CAS et teneur", "die gefährlichen Bestandteile mit CAS-Nummer und Anteil", "los componentes peligrosos con número CAS y porcentaje"},
		"@percent":                     {"the share of every listed ingredient", "la teneur de chaque composant cité", "der Anteil jedes genannten Bestandteils", "el porcentaje de cada componente citado"},
		"@identity":                    {"the CAS number of every listed ingredient, or that it is a trade secret", "le numéro CAS de chaque composant cité, ou qu'il s'agit d'un secret commercial", "die CAS-Nummer jedes genannten Bestandteils, oder dass sie Geschäftsgeheimnis ist", "el número CAS de cada componente citado, o que es secreto comercial"},
		"@ingrclass":                   {"the classification of every listed ingredient", "la classification de chaque composant cité", "die Einstufung jedes genannten Bestandteils", "la clasificación de cada componente citado"},
		"@mfactor":                     {"the M-factor of the ingredients that are very toxic to aquatic life", "le facteur M des composants très toxiques pour les organismes aquatiques", "der M-Faktor der sehr giftigen Bestandteile für Wasserorganismen", "el factor M de los componentes muy tóxicos para los organismos acuáticos"},
		"@gloves":                      {"glove material, thickness and breakthrough time", "la matière des gants, leur épaisseur et le temps de passage", "Handschuhmaterial, Dicke und Durchbruchszeit", "el material de los guantes, su espesor y el tiempo de penetración"},
		"@filter":                      {"the type of respirator and filter, and when it is needed", "le type d'appareil respiratoire et de filtre, et quand il est nécessaire", "die Art des Atemschutzes und des Filters, und wann er nötig ist", "el tipo de protección respiratoria y de filtro, y cuándo es necesaria"},
		"@eyes":                        {"the type of eye or face protection", "le type de protection des yeux ou du visage", "die Art des Augen- oder Gesichtsschutzes", "el tipo de protección ocular o facial"},
		"@ventilation":                 {"the engineering controls, such as the ventilation needed", "les contrôles techniques, comme la ventilation nécessaire", "die technischen Maßnahmen, etwa die nötige Lüftung", "los controles técnicos, como la ventilación necesaria"},
		"@flash":                       {"the flash point with its method", "le point d'éclair et sa méthode", "der Flammpunkt mit Verfahren", "el punto de inflamación con su método"},
		"@boiling":                     {"the initial boiling point", "le point initial d'ébullition", "der Siedebeginn", "el punto inicial de ebullición"},
		"@viscosity":                   {"the kinematic viscosity at 40 °C", "la viscosité cinématique à 40 °C", "die kinematische Viskosität bei 40 °C", "la viscosidad cinemática a 40 °C"},
		"@ph":                          {"the pH and, where it is extreme, the acid or alkaline reserve", "le pH et, s'il est extrême, la réserve acide ou alcaline", "der pH-Wert und, wenn er extrem ist, die saure oder alkalische Reserve", "el pH y, si es extremo, la reserva ácida o alcalina"},
		"@basis":                       {"what the VOC figure is based on, and at which mixing", "la base du chiffre COV et le mélange concerné", "worauf der VOC-Wert beruht und für welche Mischung er gilt", "en qué se basa la cifra de COV y para qué mezcla"},
		"@toxicity":                    {"the acute toxicity values or estimates by route", "les valeurs ou estimations de toxicité aiguë par voie", "die Werte oder Schätzwerte der akuten Toxizität je Aufnahmeweg", "los valores o estimaciones de toxicidad aguda por vía"},
		"@ecotoxicity":                 {"the ecotoxicity data", "les données d'écotoxicité", "die Daten zur Ökotoxizität", "los datos de ecotoxicidad"},
		"@carcinogen":                  {"whether an ingredient is listed as a carcinogen, and in which group", "si un composant est répertorié comme cancérogène, et dans quel groupe", "ob ein Bestandteil als krebserzeugend gelistet ist, und in welcher Gruppe", "si algún componente figura como carcinógeno, y en qué grupo"},
		"@transport":                   {"UN number, class and packing group, or why the product is not regulated", "numéro ONU, classe et groupe d'emballage, ou pourquoi le produit n'est pas réglementé", "UN-Nummer, Klasse und Verpackungsgruppe, oder warum das Produkt kein Gefahrgut ist", "número ONU, clase y grupo de embalaje, o por qué el producto no está regulado"},
		"@supplementary":               {"the supplemental statement", "la mention supplémentaire", "der ergänzende Hinweis", "la indicación suplementaria"},
		"none":                         {"none", "aucun", "keines", "ninguno"},
		"no flammable liquid category": {"no flammable liquid category", "aucune catégorie de liquide inflammable", "keine Kategorie entzündbarer Flüssigkeiten", "ninguna categoría de líquido inflamable"},
		"not classified":               {"not classified", "non classé", "nicht eingestuft", "no clasificado"},
		"no classification":            {"no classification", "aucune classification", "keine Einstufung", "sin clasificación"},
		"check digit":                  {"the check digit does not fit", "la clé de contrôle ne convient pas", "die Prüfziffer passt nicht", "el dígito de control no concuerda"},
		"harmonised":                   {"the harmonised classification", "la classification harmonisée", "die harmonisierte Einstufung", "la clasificación armonizada"},
		"notified":                     {"most notifiers", "la plupart des notifiants", "die meisten Anmelder", "la mayoría de los notificantes"},
		"supplier":                     {"other suppliers", "d'autres fournisseurs", "andere Lieferanten", "otros proveedores"},
		"derived":                      {"a derived entry", "une entrée dérivée", "ein abgeleiteter Eintrag", "una entrada derivada"},
		"imported":                     {"our copy of the official table", "notre copie du tableau officiel", "unsere Kopie der amtlichen Tabelle", "nuestra copia de la tabla oficial"},
		"not regulated":                {"not regulated", "non réglementé", "kein Gefahrgut", "no regulado"},
		"@labelsupplier":               {"the supplier's name, address and telephone are not complete on the label", "le nom, l'adresse et le téléphone du fournisseur ne sont pas complets sur l'étiquette", "Name, Anschrift und Telefonnummer des Lieferanten stehen nicht vollständig auf dem Etikett", "el nombre, la dirección y el teléfono del proveedor no están completos en la etiqueta"},
		"@labelcontains":               {"the label does not name the hazardous ingredients", "l'étiquette ne nomme pas les composants dangereux", "das Etikett nennt die gefährlichen Bestandteile nicht", "la etiqueta no nombra los componentes peligrosos"},
		"@labelprecautions":            {"the label gives no precautionary statements", "l'étiquette ne donne aucun conseil de prudence", "das Etikett nennt keine Sicherheitshinweise", "la etiqueta no da consejos de prudencia"},
		"@language":                    {"the whole sheet in the language of the country of supply", "toute la fiche dans la langue du pays de livraison", "das ganze Blatt in der Sprache des Lieferlands", "toda la ficha en el idioma del país de suministro"},
	}
}
