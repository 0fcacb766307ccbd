package substance_test

import (
	"fmt"
	"os"
	"strings"

	"sixteen/ghs"
	"sixteen/substance"
)

func ExampleTable_Search() {
	for _, m := range substance.Embedded().Search("benzyl alcohl", 1) {
		fmt.Println(m.CAS, m.Name, "–", m.Why)
	}
	for _, m := range substance.Embedded().Search("25068-38-5", 1) {
		fmt.Println(m.CAS, "–", m.Why)
	}
	// Output:
	// 100-51-6 benzyl alcohol – name, 1 letter apart
	// 25068-38-6 – CAS number 25068-38-6, if "25068-38-5" was misread or mistyped
}

func ExampleSubstance_VapourPressure() {
	s, _ := substance.Embedded().ByCAS("67-64-1")
	p := s.VapourPressure(25)
	fmt.Printf("%.1f kPa, %s, estimate: %v\n", p.Pa/1000, p.Method, p.Estimate)
	// Output: 30.8 kPa, Antoine equation inside its range, estimate: false
}

func ExampleSubstance_ForRuleSet() {
	s, _ := substance.Embedded().ByCAS("108-65-6")
	b := s.ForRuleSet(ghs.EUCLP)
	for _, c := range b.Official {
		fmt.Println("official:", c.Hazard, c.Code)
	}
	for _, c := range b.Typical {
		fmt.Println("typical:", c.Hazard, c.Code)
	}
	// Output:
	// official: Flam. Liq. 3 H226
	// typical: STOT SE 3 narcotic H336
}

// A list of limits is laid over the table, and taken off again.
func ExampleTable_Import() {
	list := "CAS;Name;TWA ppm;TWA mg/m3\n67-64-1;Acetone;400;960\n67-64-2;typing error;1;1\n"
	table := substance.Embedded()
	plan, err := table.Import(strings.NewReader(list), substance.Mapping{Kind: substance.LimitTable, Edition: "House limits of the workshop", Authority: "house limit"})
	if err != nil {
		fmt.Println(err)
		return
	}
	plan.WriteReport(os.Stdout, 10)
	overlay := substance.Overlay{}.Apply(plan, "3 March, by the person in charge")
	s, _ := table.With(overlay).ByCAS("67-64-1")
	fmt.Println(len(s.LimitsFor(substance.OtherPlace)), "house limit")
	overlay, _, _ = overlay.Undo()
	s, _ = table.With(overlay).ByCAS("67-64-1")
	fmt.Println(len(s.LimitsFor(substance.OtherPlace)), "after undo")
	// Output:
	// House limits of the workshop (limits)
	// columns: cas = column A, name = column B, twa ppm = column C, twa mg/m3 = column D; data from row 2
	// 2 rows: 1 added, 1 ignored
	//
	// Added
	//   row 2: 67-64-1, Acetone
	//     + 8 h mean: 400 ppm = 960 mg/m³
	//
	// Ignored
	//   row 3: 67-64-2, typing error
	//     note: CAS number 67-64-2 has a wrong check digit; perhaps 67-64-1 (acetone)
	// 1 house limit
	// 0 after undo
}
