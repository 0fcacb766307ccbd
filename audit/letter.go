package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Letter is a letter to the supplier in one language: what is asked, numbered, gravest first. It accuses nobody; it asks.
type Letter struct {
	Lang      ghs.Lang `json:"lang"`
	To        string   `json:"to"` // the supplier as the sheet names it, with address and e-mail where stated
	Subject   string   `json:"subject"`
	Opening   []string `json:"opening"`
	Questions []Asked  `json:"questions"`
	Closing   []string `json:"closing"`
}

// Asked is one question with the findings it comes from.
type Asked struct {
	Text     string   `json:"text"`
	Findings []string `json:"findings"` // IDs
}

// letterFrame are the fixed parts of the letter. {1} is the product, {2} the date of the sheet.
func letterFrame() map[string]tongues {
	return map[string]tongues{
		"subject": {"Questions about the safety data sheet of {1} ({2})", "Questions sur la fiche de données de sécurité de {1} ({2})",
			"Fragen zum Sicherheitsdatenblatt von {1} ({2})", "Preguntas sobre la ficha de datos de seguridad de {1} ({2})"},
		"undated":  {"undated", "sans date", "ohne Datum", "sin fecha"},
		"greeting": {"Dear Sir or Madam,", "Madame, Monsieur,", "Sehr geehrte Damen und Herren,", "Estimados señores:"},
		"opening": {"we use {1} in our workshop. On reading its safety data sheet ({2}) we found points that we cannot resolve ourselves. So that we can protect the people who work with it, please answer the following questions.",
			"nous utilisons {1} dans notre atelier. En lisant sa fiche de données de sécurité ({2}), nous avons relevé des points que nous ne pouvons pas résoudre nous-mêmes. Afin de protéger les personnes qui travaillent avec ce produit, merci de répondre aux questions suivantes.",
			"wir verwenden {1} in unserer Werkstatt. Beim Lesen des Sicherheitsdatenblatts ({2}) sind uns Punkte aufgefallen, die wir nicht selbst klären können. Damit wir die Menschen schützen können, die damit arbeiten, bitten wir um Antwort auf die folgenden Fragen.",
			"utilizamos {1} en nuestro taller. Al leer su ficha de datos de seguridad ({2}) encontramos puntos que no podemos resolver por nuestra cuenta. Para proteger a las personas que trabajan con el producto, les pedimos que respondan a las siguientes preguntas."},
		"closing": {"Until we have your answer we act on the stricter reading of each point.", "D'ici votre réponse, nous appliquons la lecture la plus stricte de chaque point.",
			"Bis zu Ihrer Antwort handeln wir in jedem Punkt nach der strengeren Lesart.", "Hasta recibir su respuesta, actuamos según la lectura más estricta de cada punto."},
		"send": {"Please send us the corrected sheet as soon as it is ready.", "Merci de nous envoyer la fiche corrigée dès qu'elle est prête.",
			"Bitte senden Sie uns das berichtigte Blatt, sobald es vorliegt.", "Envíennos, por favor, la ficha corregida en cuanto esté lista."},
		"regards": {"Yours faithfully,", "Veuillez agréer, Madame, Monsieur, nos salutations distinguées.", "Mit freundlichen Grüßen", "Atentamente,"},
	}
}

// LetterOf writes the letter to the supplier of a sheet from the questions of its findings. Overruled findings and notes
// ask nothing; a question that several findings share is asked once. ok is false when there is nothing to ask.
func LetterOf(s *sheet.Sheet, r Report, l ghs.Lang) (letter Letter, ok bool) {
	frame := letterFrame()
	id := s.Identification
	product := cmp.Or(id.ProductName.Value, s.Source.Name, "?")
	date := cmp.Or(id.RevisionDate.Value, id.IssueDate.Value, frame["undated"].in(l))
	fill := func(key string) string {
		return strings.NewReplacer("{1}", product, "{2}", date).Replace(frame[key].in(l))
	}
	letter = Letter{
		Lang: l, To: addressee(id), Subject: fill("subject"), Opening: []string{fill("greeting"), fill("opening")},
		Closing: []string{fill("closing"), fill("send"), fill("regards")},
	}
	for _, f := range r.Open() {
		text := f.Question.In(l)
		if text == "" || f.Kind == Note {
			continue
		}
		i := slices.IndexFunc(letter.Questions, func(a Asked) bool { return a.Text == text })
		if i < 0 {
			letter.Questions = append(letter.Questions, Asked{Text: text})
			i = len(letter.Questions) - 1
		}
		letter.Questions[i].Findings = append(letter.Questions[i].Findings, f.ID)
	}
	return letter, len(letter.Questions) > 0
}

func addressee(id sheet.Identification) string {
	var parts []string
	for _, f := range []sheet.Fact[string]{id.Supplier, id.SupplierAddress, id.SupplierEmail} {
		if f.Known() {
			parts = append(parts, f.Value)
		}
	}
	return strings.Join(parts, "\n")
}

// Text is the letter as plain text.
func (l Letter) Text() string {
	var b strings.Builder
	if l.To != "" {
		b.WriteString(l.To + "\n\n")
	}
	b.WriteString(l.Subject + "\n\n" + strings.Join(l.Opening, "\n\n") + "\n\n")
	for i, q := range l.Questions {
		fmt.Fprintf(&b, "%d. %s\n", i+1, q.Text)
	}
	b.WriteString("\n" + strings.Join(l.Closing, "\n\n") + "\n")
	return b.String()
}
