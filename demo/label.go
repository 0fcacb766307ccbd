package demo

import (
	"fmt"
	"slices"

	"sixteen/audit"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
)

// labelOf is the label that belongs to a sheet, with at most six precautionary statements as labels have room for.
func labelOf(s sheetprint.Spec, capacityML float64) audit.Label {
	l := audit.Label{Complete: true, Product: s.Product, UFI: s.UFI, Supplier: s.Supplier.Name, Phone: s.Supplier.Phone, CapacityML: capacityML,
		Pictograms: slices.Clone(s.Pictograms)}
	for i, a := range s.Supplier.Address {
		if i > 0 {
			l.Address += ", "
		}
		l.Address += a
	}
	switch s.SignalWord {
	case "Danger":
		l.SignalPrinted = ghs.Danger.In(s.Lang)
	case "Warning":
		l.SignalPrinted = ghs.Warning.In(s.Lang)
	default:
		l.SignalPrinted = s.SignalWord
	}
	l.Statements = statements(s, s.Statements)
	l.Precautions = statements(s, shortest(s.Precautions, 6))
	for _, in := range s.Ingredients {
		if slices.ContainsFunc(in.Classes, func(k sheetprint.Class) bool { return slices.Contains(s.Statements, k.Code) }) {
			l.Ingredients = append(l.Ingredients, in.Name)
		}
	}
	return l
}

func statements(s sheetprint.Spec, codes []ghs.Code) []sheet.Statement {
	var out []sheet.Statement
	for _, c := range codes {
		out = append(out, sheet.Statement{Code: c, Phrase: s.Phrase(c)})
	}
	return out
}

// shortest keeps n statements, one of each part (prevention, response, storage, disposal) before a second of any.
func shortest(codes []ghs.Code, n int) []ghs.Code {
	var out []ghs.Code
	for round := 0; len(out) < n && round < n; round++ {
		for part := '2'; part <= '5'; part++ {
			k := 0
			for _, c := range codes {
				if rune(c[1]) != part {
					continue
				}
				if k == round && len(out) < n {
					out = append(out, c)
				}
				k++
			}
		}
	}
	slices.Sort(out)
	return out
}

// dropPictogram leaves one pictogram off the label.
func dropPictogram(p ghs.Pictogram) func(*audit.Label) PlantedFault {
	return func(l *audit.Label) PlantedFault {
		l.Pictograms = slices.DeleteFunc(l.Pictograms, func(q ghs.Pictogram) bool { return q == p })
		return PlantedFault{Kind: "label-pictogram-missing", Says: fmt.Sprintf("The label leaves out the pictogram %s that section 2 shows.", p),
			Checks: []string{"label-pictogram-missing"}}
	}
}
