package classify

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// kindTitles are the kinds of rows in the order of docs/rules.md, with what they mean.
var kindTitles = []struct{ kind, title, text string }{
	{"specific", "Specific limits", "Whether a specific concentration limit of an ingredient replaces the generic one, or counts only when it is lower."},
	{"acute-test", "Acute toxicity: tests first", "A dose measured on the mixture decides its route."},
	{"acute-sum", "Acute toxicity: the sum", "ATEmix = 100 / Σ(C / ATE), route by route."},
	{"acute-unknown", "Acute toxicity: unknown share", "Above this share of relevant ingredients of unknown toxicity the formula is ATEmix = (100 − unknown) / Σ(C / ATE)."},
	{"unknown-statement", "Acute toxicity: statement of what is unknown", "Share of one ingredient from which label and sheet must say so."},
	{"acute-cutoff", "Acute toxicity: relevant ingredients", "Share from which an ingredient counts, by its category; `*` is every other."},
	{"acute-counted", "Acute toxicity: what enters the sum", "An ingredient with a greater estimate is known and left out."},
	{"acute-point", "Acute toxicity: point estimates", "What an ingredient counts as of which only the category is known."},
	{"acute-bound", "Acute toxicity: categories", "The mixture is in the category when its estimate is at most the limit."},
	{"skin-cascade", "Skin corrosion", "Sum of corrosive ingredients, and how subcategories follow: cascade, pure, none."},
	{"eye-irritant", "Eye irritation", "Weighted sum of corrosive, eye-damaging and eye-irritant ingredients, and the names of the categories."},
	{"sum", "Weighted sums", "The mixture has the result when the weighted sum of ingredients reaches the limit. An ingredient counts once, with its greatest weight; `*` stands for every category of the class, `|` for or, `[name]` for a property of the ingredient in proportion to its share."},
	{"each", "Single ingredients", "The mixture has the result when one ingredient reaches the limit; ingredients do not add up. `which` is a condition on the ingredient."},
	{"label-optional", "Classes that need not stand on the label", "When every ingredient that gives the class is below the limit."},
	{"fact", "Facts of the mixture", "The mixture has the result when the conditions hold. A condition with `?` is taken to hold when it is not known."},
	{"aquatic", "Aquatic environment", "Weighted sums with M-factors."},
	{"aquatic-relevance", "Aquatic environment: relevant ingredients", ""},
	{"m-acute", "M-factors, acute", "M by the ingredient's lowest L(E)C50, where no M is given."},
	{"m-chronic", "M-factors, chronic", "M by the ingredient's lowest NOEC, where no M is given."},
	{"gas-flammable", "Flammable gas mixtures", ""},
	{"gas-oxidising", "Oxidising gas mixtures", ""},
	{"limit", "Limits used by procedures", "Aerosols and organic peroxides."},
	{"elicit", "Elicitation limits", "Sensitisers that are named although they do not make the mixture a sensitiser."},
	{"carry", "Statements carried by an ingredient", "Whether the mixture needs the statement too stays open."},
	{"airways", "Corrosion of the airways", "Open where a mixture corrodes the skin and is toxic by inhalation."},
	{"open-each", "Classes an ingredient points to", "A fact outside the rules decides; the class stays open."},
	{"test-only", "Classes without a rule for mixtures", "Tests on the mixture decide."},
	{"out-of-scope", "Not in the rule set", ""},
	{"extends", "Taken over", "All rows of the other rule set hold, but for those dropped."},
	{"drop", "Dropped", ""},
}

// propertyText explains the properties for docs/rules.md.
var propertyText = map[string]string{
	PropPH: "pH of the ingredient as it is added; ≤ 2 is a strong acid, ≥ 11.5 a strong base", PropNonAdditive: "1: corrosive or irritant to which adding up does not apply (aldehydes, phenols, surfactants, inorganic salts)",
	PropAverageMolarMass: "average molar mass, g/mol", PropAerodynamicUM: "particles of at most this aerodynamic diameter, µm",
	PropParticleSizeUM: "particles of at most this size, µm", PropIsocyanate: "1: an isocyanate (also seen from the name)", PropEpoxy: "1: an epoxy constituent (also seen from the name)", PropHydrogenPeroxide: "1: hydrogen peroxide (also seen from the CAS number)",
	PropTitaniumDioxide: "1: titanium dioxide (also seen from the CAS number)", PropLeadPct: "lead in the ingredient, %", PropCadmiumPct: "cadmium in the ingredient, %",
	PropChromium6Pct: "soluble chromium(VI) in the ingredient, %", PropActiveChlorinePct: "active chlorine in the ingredient, %", PropHalogenated: "1: a halogenated hydrocarbon",
	PropWorkplaceLimit: "1: has a workplace exposure limit of the Union", PropHeatKJG: "chemical heat of combustion, kJ/g", PropFlammableTc: "flammable gas: Tc of ISO 10156, %",
	PropNitrogenK: "inert gas: nitrogen equivalent K of ISO 10156", PropOxygenC: "oxidising gas: oxygen equivalent C of ISO 10156", PropEC50: "lowest acute L(E)C50 of fish, crustacea and algae, mg/l",
	PropNOEC: "lowest chronic NOEC or ECx, mg/l", PropRapidlyDegradable: "1 rapidly degradable, 0 not; unknown counts as not",
}

// RulesPage writes docs/rules.md: every row of every rule set with its clause and how we know it.
func RulesPage() (string, error) {
	var b strings.Builder
	b.WriteString(pageHead)
	b.WriteString("\n## Properties of ingredients\n\n| name | meaning |\n|---|---|\n")
	for _, p := range PropertyNames() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", p, propertyText[p])
	}
	for _, rs := range RuleSets() {
		rows, err := Rules(rs)
		if err != nil {
			return "", err
		}
		rows = slices.DeleteFunc(rows, func(r RuleRow) bool { return r.File != string(rs) })
		read := 0
		for _, r := range rows {
			if !r.Memory {
				read++
			}
		}
		law := (&Program{RuleSet: rs}).lawOf()
		fmt.Fprintf(&b, "\n## %s\n\n%s. %d rows of its own, %d read and %d recalled.\n", rs, law.Law(), len(rows), read, len(rows)-read)
		writeKinds(&b, rows)
	}
	return b.String(), nil
}

const pageHead = `# Rules

This page is written from the rule tables in ` + "`classify/rules/`" + ` (` + "`UPDATE=1 go test ./classify -run RulesPage`" + `). Each row says where the law
says it and how we know: **read** means that the text named under source was read, **recalled** means that the row was
written from memory and must be checked at the clause before anyone relies on it.

What is not a table is a procedure in ` + "`classify/`" + `: the acute toxicity estimate (` + "`acute.go`" + `), subcategories of skin corrosion and the
names of eye irritation (` + "`skineye.go`" + `), the aquatic additivity formula (` + "`aquatic.go`" + `), gas mixtures, aerosols and organic
peroxides (` + "`physical.go`" + `), tests on the mixture and the order of severity (` + "`order.go`" + `), specific limits (` + "`limits.go`" + `).

Two numbers that differ by no more than one part in a thousand million count as equal. At a limit of the law that is the
stricter side: a sum that should be 10 % is 10 % however its parts were rounded.

Not done: bridging from similar tested mixtures, which needs a person's judgement; layers of a mixture that separates.

## Adding a rule set

One new file ` + "`classify/rules/NAME.csv`" + `, found by its name. A row ` + "`extends`" + ` takes over the rows of another rule set, ` + "`drop`" + ` takes a
result out again; every other row adds. The kinds of rows are the headings below; ` + "`TestTablesAreWellFormed`" + ` says what each must
fill in, ` + "`TestEachRowGivesItsResultAtItsLimit`" + ` tries every row. The name must be in package ghs, or begin with one that is.

| column | holds |
|---|---|
| kind | what the row is |
| number | name under which its sum is quoted |
| input | what counts: hazards, ` + "`Class *`" + ` for every category, ` + "`A \\| B`" + ` for either, ` + "`10 A + B`" + ` for a weighted sum, ` + "`M`" + ` for the M-factor, ` + "`[property]`" + ` |
| cutoff | share from which an ingredient is relevant, % |
| op, limit, unit | the comparison; several sums that must all hold are separated by ` + "`;`" + ` |
| which | condition on the ingredient: a property, ` + "`ph <= 2`" + `, ` + "`name absent`" + ` |
| when | conditions on the mixture: form, use, public, tested, reserve, sustains, flash_point, boiling_point, ph, viscosity |
| result | class or statement given |
| clause, source, memory | where the law says so, what was read, ` + "`yes`" + ` when it was recalled |
| note | what a reader should know |

## Recipes

A recipe is a table (CSV or XLSX) or JSON. Columns: name, cas, percent (` + "`5`, `< 10`, `10 - 30`, `≥ 10 - < 25`" + `), hazards
(` + "`Skin Irrit. 2; Acute Tox. 4 oral`" + `), limits (` + "`Skin Irrit. 2 >= 5`" + `), m acute, m chronic, ate oral, ate dermal, ate gas, ate
vapour, ate dust (a number, ` + "`> 2000`, `not toxic` or `unknown`" + `), statements, active oxygen, molar mass, properties
(` + "`ph=1; non_additive`" + `). A row whose first cell begins with ` + "`@`" + ` says something of the mixture: @name, @form, @complete,
@public, @use, @flash point, @boiling point, @ph, @viscosity, @sustains combustion, @tested, @tested not, @tested ate oral.
`

func writeKinds(b *strings.Builder, rows []RuleRow) {
	for _, k := range kindTitles {
		var of []RuleRow
		for _, r := range rows {
			if r.Kind == k.kind {
				of = append(of, r)
			}
		}
		if len(of) == 0 {
			continue
		}
		fmt.Fprintf(b, "\n### %s\n\n", k.title)
		if k.text != "" {
			fmt.Fprintf(b, "%s\n\n", k.text)
		}
		b.WriteString("| counts | limit | condition | result | clause | how known | note |\n|---|---|---|---|---|---|---|\n")
		for _, r := range of {
			writeRow(b, &r)
		}
	}
}

func writeRow(b *strings.Builder, r *RuleRow) {
	limit := strings.TrimSpace(strings.Join([]string{r.Op, r.Limit, r.Unit}, " "))
	if r.Cutoff != "" {
		limit += "; relevant from " + r.Cutoff + " %"
	}
	conditions := strings.Join(slices.DeleteFunc([]string{r.Which, r.When}, func(s string) bool { return s == "" }), "; ")
	known := "read: " + r.Source
	if r.Memory {
		known = "**recalled**" + strings.TrimSuffix(": "+r.Source, ": recalled")
	}
	cells := []string{r.Input, limit, conditions, cmp.Or(r.Result, "–"), r.Clause, known, r.Note}
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", "\\|")
	}
	fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | "))
}
