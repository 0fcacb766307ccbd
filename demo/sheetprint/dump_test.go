package sheetprint

import (
	"fmt"
	"os"
	"sixteen/ghs"
	"testing"
)

func TestDump(t *testing.T) {
	for n := 1; n <= LayoutCount(); n++ {
		lang := ghs.Langs()[n%4]
		rules := []ghs.RuleSet{ghs.USHCS2024, ghs.EUCLP, ghs.CAHPR}[n%3]
		l, err := NewLayout(n, rules, lang, uint64(n*7))
		if err != nil {
			t.Fatal(err)
		}
		pdf, tr, err := Print(exampleSpec(lang, rules), l)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile(fmt.Sprintf("/tmp/demo-out/%02d.pdf", n), pdf, 0o644)
		b, _ := tr.JSON()
		os.WriteFile(fmt.Sprintf("/tmp/demo-out/%02d.json", n), b, 0o644)
		fmt.Println(n, l.Name, len(pdf), tr.Pages)
	}
}
