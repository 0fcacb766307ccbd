package classify_test

import (
	"fmt"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
)

const patchingPaste = `@form,liquid,,,,
name,percent,hazards,ate oral,,
amine,4,Skin Corr. 1B; Skin Sens. 1; Acute Tox. 4 oral,,,
resin,30,Skin Irrit. 2; Eye Irrit. 2,not toxic,,
chalk,66,,not toxic,,
`

func ExampleProgram_At() {
	m, err := classify.ReadRecipe(strings.NewReader(patchingPaste), "csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := classify.Compile(m, ghs.EUCLP)
	if err != nil {
		fmt.Println(err)
		return
	}
	x, _ := p.Point()
	c := p.At(x)
	for _, r := range c.Results() {
		if r.Class == ghs.SkinCorrosion || r.Class == ghs.SkinSensitisation || r.Class == ghs.AcuteToxicity && r.Qualifier == ghs.Oral {
			fmt.Printf("%s: %s (%s)\n", r.Standing, r.Why[0].Text, r.Why[0].Clause)
		}
	}
	// Output:
	// not classified: ruled out because ATEmix (oral) = 100 / (4 / 500) = 12500 mg/kg > 2000 mg/kg (Acute Tox. 4 oral) (CLP Annex I, 3.1.3.6.1; CLP Annex I, Table 3.1.1)
	// classified: 10 × Skin Corr. + Skin Irrit. 2: 4 % × 10 + 30 % = 70 % ≥ 10 % → Skin Irrit. 2 (CLP Annex I, 3.2.3.3.3, Table 3.2.3)
	// classified: amine (is Skin Sens. 1): 4 % ≥ 1 % → Skin Sens. 1 (CLP Annex I, 3.4.3.3.1, Table 3.4.5)
}

func ExampleProgram_Distances() {
	m, err := classify.ReadRecipe(strings.NewReader(patchingPaste), "csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := classify.Compile(m, ghs.USHCS2024)
	if err != nil {
		fmt.Println(err)
		return
	}
	x, _ := p.Point()
	for _, d := range p.Distances(x) {
		fmt.Println(d.Words(p))
	}
	// Output:
	// Acute Tox. 4 oral from 25 % of amine (now 4 %)
	// Skin Corr. 1B from 5 % of amine (now 4 %)
	// Eye Irrit. 2A below 3 % of amine (now 4 %)
	// no Skin Sens. 1 below 0.1 % of amine (now 4 %)
}
