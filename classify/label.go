package classify

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Need tells whether an element belongs on the label.
type Need uint8

// Needs.
const (
	Required Need = iota
	Optional      // may be printed or left off
	Omitted       // not printed
)

var needNames = [...]string{Required: "required", Optional: "optional", Omitted: "omitted"}

// String is "required", "optional" or "omitted".
func (n Need) String() string { return needNames[n] }

// MarshalText writes the name.
func (n Need) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalText reads the name.
func (n *Need) UnmarshalText(text []byte) error {
	i := slices.Index(needNames[:], string(text))
	if i < 0 {
		return fmt.Errorf("no need is called %q: write required, optional or omitted", text)
	}
	*n = Need(i)
	return nil
}

// LabelElement is one element of a label: what it is, whether it is printed, why, the clause behind that, and the hazards
// that call for it.
type LabelElement[T any] struct {
	Value  T            `json:"value"`
	Need   Need         `json:"need"`
	Why    string       `json:"why"`
	Clause string       `json:"clause"`
	From   []ghs.Hazard `json:"from,omitempty"`
}

// LabelElements is everything that a classification puts on a label under one rule set, and what it leaves off.
type LabelElements struct {
	RuleSet       ghs.RuleSet                   `json:"rule_set"`
	SignalWord    LabelElement[ghs.SignalWord]  `json:"signal_word"` // NoSignalWord when no hazard has one
	Pictograms    []LabelElement[ghs.Pictogram] `json:"pictograms"`
	Hazard        []LabelElement[ghs.Code]      `json:"hazard"`                     // hazard statements, supplemental ones after them
	Precautionary []LabelElement[ghs.Code]      `json:"precautionary"`              // prevention, response, storage, disposal
	Short         []ghs.Code                    `json:"short"`                      // the precautionary statements for a label that has room for six
	ShortClause   string                        `json:"short_clause"`               // where the law allows the short set; "" when it does not
	Supplements   []Supplement                  `json:"supplements,omitempty"`      // of a classified mixture: which ingredients the statements name
	Unknown       []UnknownToxicity             `json:"unknown_toxicity,omitempty"` // of a classified mixture: the statements of unknown acute toxicity
	NotInRuleSet  []ghs.Hazard                  `json:"not_in_rule_set,omitempty"`
	Remarks       []string                      `json:"remarks,omitempty"` // what a person must add or decide
}

// LabelOptions are what a label needs to know beside the classification.
type LabelOptions struct {
	ForPublic          bool       // sold to the general public
	Millilitres        float64    // capacity of the package; 0 when it is large or not known
	CorrosiveToAirways bool       // the inhalation toxicity comes from corrosion of the airways
	Specific           []ghs.Code // forms of the statements that are known to fit better: H360FD, H350i
	Volatile           bool       // the liquid may form an explosive atmosphere (P240 to P243)
	SpecificTreatment  bool       // a specific treatment or antidote exists (P320, P321)
}

// Label works out the label elements of a classification under a rule set: signal word, pictograms and statements, each
// required, optional or omitted, with the reason and the clause. Hazards that the rule set does not know are listed and
// give no element, except those outside its law whose elements may be shown.
func Label(hazards ghs.HazardSet, rs ghs.RuleSet, opt LabelOptions) LabelElements {
	l := labelling{rs: rs, opt: opt, out: LabelElements{RuleSet: rs}}
	for _, h := range hazards.All() {
		e, ok := rs.Elements(h)
		if !ok || !e.Adopted {
			l.out.NotInRuleSet = append(l.out.NotInRuleSet, h)
		}
		if ok {
			l.elements = append(l.elements, e)
		}
	}
	l.signalWord()
	l.pictograms()
	l.statements()
	l.precautions()
	l.smallPackage()
	l.short()
	l.remarks()
	return l.out
}

// Label works out the label elements of the mixture at this composition: those of its classes, the supplemental
// statements that its ingredients call for, and the statements of unknown acute toxicity.
func (c *Classification) Label(opt LabelOptions) LabelElements {
	rs, err := ghs.ParseRuleSet(string(c.Program.RuleSet))
	if err != nil {
		rs = c.Program.RuleSet
	}
	l := Label(c.Hazards, rs, opt)
	l.Supplements = c.Supplements()
	l.Unknown = c.UnknownToxicity()
	for _, s := range l.Supplements {
		if slices.ContainsFunc(l.Hazard, func(e LabelElement[ghs.Code]) bool { return e.Value == s.Code }) {
			continue
		}
		e := LabelElement[ghs.Code]{Value: s.Code, Need: Required, Why: s.Why[0].Text, Clause: s.Why[0].Clause}
		if s.Optional {
			e.Need, e.Why = Optional, "not needed where the label names the ingredients: "+e.Why
		}
		l.Hazard = append(l.Hazard, e)
	}
	return l
}

// labelling is one run of Label.
type labelling struct {
	rs       ghs.RuleSet
	opt      LabelOptions
	elements []ghs.Elements
	out      LabelElements
}

// european tells whether the rule set is Regulation (EC) No 1272/2008 or its British successor.
func (l *labelling) european() bool { return l.rs == ghs.EUCLP || l.rs == ghs.GBCLP }

func (l *labelling) american() bool { return l.rs == ghs.USHCS2024 || l.rs == ghs.USHCS2012 }

// clauses names where each rule set orders the precedence of elements.
type clauses map[ghs.RuleSet]string

func (c clauses) of(rs ghs.RuleSet) string { return c[rs] }

var signalClauses = clauses{
	ghs.UNGHS: "UN GHS 1.4.10.5.3.2", ghs.AUWHS: "GHS revision 7, 1.4.10.5.3.2", ghs.EUCLP: "Regulation (EC) No 1272/2008 Art. 20(3)", ghs.GBCLP: "Regulation (EC) No 1272/2008 Art. 20(3)",
	ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.1.1", ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.1.1", ghs.CAHPR: "SOR/2015-17 s. 3.6(1)",
}

func (l *labelling) signalWord() {
	w := LabelElement[ghs.SignalWord]{Need: Omitted, Why: "no hazard of the product has a signal word", Clause: signalClauses.of(l.rs)}
	for _, e := range l.elements {
		if !e.Adopted {
			continue
		}
		switch {
		case e.SignalWord > w.Value:
			w = LabelElement[ghs.SignalWord]{e.SignalWord, Required, "the highest signal word of the hazards", signalClauses.of(l.rs), []ghs.Hazard{e.Hazard}}
		case e.SignalWord == w.Value && w.Value != ghs.NoSignalWord:
			w.From = append(w.From, e.Hazard)
		}
	}
	l.out.SignalWord = w
}

// PrintedPictograms are the pictograms that the label must show, by number.
func (l LabelElements) PrintedPictograms() []ghs.Pictogram { return required(l.Pictograms) }

// PrintedStatements are the codes of the hazard statements that the label must show, in the order of the label.
func (l LabelElements) PrintedStatements() []ghs.Code { return required(l.Hazard) }

// PrintedPrecautions are the codes of all precautionary statements that the label must show where nothing shortens them.
func (l LabelElements) PrintedPrecautions() []ghs.Code { return required(l.Precautionary) }

func required[T any](list []LabelElement[T]) []T {
	var out []T
	for _, e := range list {
		if e.Need == Required {
			out = append(out, e.Value)
		}
	}
	return out
}

// smallPackageStatements are the hazards whose hazard and precautionary statements Regulation (EC) No 1272/2008 Annex I
// 1.5.2.1.1 lets off packages up to 125 ml; those of smallPackageWork only when the product is not for the public.
// From memory.
var (
	smallPackageStatements = ghs.SetOf(ghs.OxGas1, ghs.PressGas, ghs.PressGasCompressed, ghs.PressGasLiquefied, ghs.PressGasRefrigerated, ghs.PressGasDissolved,
		ghs.FlamLiq2, ghs.FlamLiq3, ghs.FlamSol1, ghs.FlamSol2, ghs.SelfReactC, ghs.SelfReactD, ghs.SelfReactE, ghs.SelfReactF, ghs.SelfHeat2,
		ghs.WaterReact1, ghs.WaterReact2, ghs.WaterReact3, ghs.OxLiq2, ghs.OxLiq3, ghs.OxSol2, ghs.OxSol3,
		ghs.OrgPeroxC, ghs.OrgPeroxD, ghs.OrgPeroxE, ghs.OrgPeroxF, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.AquaticAcute1, ghs.AquaticChronic1, ghs.AquaticChronic2)
	smallPackageWork = ghs.SetOf(ghs.AcuteTox4Oral, ghs.AcuteTox4Dermal, ghs.AcuteTox4InhalationGas, ghs.AcuteTox4InhalationVapour, ghs.AcuteTox4InhalationDust,
		ghs.STOTSE2, ghs.STOTSE3, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2)
	smallPackagePrecautions = ghs.SetOf(ghs.FlamGas2, ghs.Lact, ghs.AquaticChronic3, ghs.AquaticChronic4)
)

// smallPackage makes optional what the law lets off small packages.
func (l *labelling) smallPackage() {
	ml := l.opt.Millilitres
	switch {
	case ml <= 0:
	case l.european() && ml <= 125:
		l.smallEuropean()
	case l.american() && ml <= 100:
		clause := "29 CFR 1910.1200(f)(12)(ii)"
		relax(l.out.Hazard, clause, func([]ghs.Hazard) bool { return true })
		relax(l.out.Precautionary, clause, func([]ghs.Hazard) bool { return true })
		l.out.Remarks = append(l.out.Remarks, "Only where a full label does not fit by any other means: the small label says that the full label is on the outer package ("+clause+").")
	case l.rs == ghs.CAHPR && ml <= 100:
		clause := "SOR/2015-17 s. 5.4 (from memory)"
		relax(l.out.Hazard, clause, func([]ghs.Hazard) bool { return true })
		relax(l.out.Precautionary, clause, func([]ghs.Hazard) bool { return true })
	}
}

func (l *labelling) smallEuropean() {
	free := smallPackageStatements
	if !l.opt.ForPublic {
		free = free.Union(smallPackageWork)
	}
	within := func(set ghs.HazardSet) func([]ghs.Hazard) bool {
		return func(from []ghs.Hazard) bool {
			return len(from) > 0 && !slices.ContainsFunc(from, func(h ghs.Hazard) bool { return !set.Has(h) })
		}
	}
	relax(l.out.Hazard, "Regulation (EC) No 1272/2008 Annex I 1.5.2.1.1 (from memory)", within(free))
	relax(l.out.Precautionary, "Regulation (EC) No 1272/2008 Annex I 1.5.2.1.1 and 1.5.2.1.2 (from memory)", within(free.Union(smallPackagePrecautions)))
}

// relax makes the required elements of the hazards optional.
func relax(list []LabelElement[ghs.Code], clause string, applies func([]ghs.Hazard) bool) {
	for i := range list {
		if list[i].Need == Required && applies(list[i].From) {
			list[i].Need, list[i].Why, list[i].Clause = Optional, "small package", clause
		}
	}
}

// remarks says what no table can fill in.
func (l *labelling) remarks() {
	for _, e := range l.elements {
		switch e.Hazard {
		case ghs.STOTSE1, ghs.STOTSE2, ghs.STOTRE1, ghs.STOTRE2:
			l.remark(fmt.Sprintf("%s: name the organs if they are known, and the route if no other causes the hazard.", e.Hazard))
		case ghs.STOTSE3:
			l.remark("STOT SE 3: it is not known whether the effect is narcotic or irritation of the airways; both statements are shown.")
		case ghs.HNOC, ghs.HHNOC, ghs.PHNOC:
			l.remark(fmt.Sprintf("%s: the statement describing the hazard must be written by the supplier.", e.Hazard))
		case ghs.Repr1, ghs.Repr1A, ghs.Repr1B, ghs.Repr2:
			l.remark(fmt.Sprintf("%s: name the effect (fertility, unborn child) if it is known.", e.Hazard))
		}
	}
}

func (l *labelling) remark(s string) {
	if !slices.Contains(l.out.Remarks, s) {
		l.out.Remarks = append(l.out.Remarks, s)
	}
}

// byNumber orders codes as labels print them.
func byNumber(a, b LabelElement[ghs.Code]) int {
	rank := func(c ghs.Code) int {
		switch c.Kind() {
		case ghs.HazardStatement:
			return 0
		case ghs.SupplementalStatement:
			return 2
		}
		return 1
	}
	return cmp.Or(cmp.Compare(rank(a.Value), rank(b.Value)), strings.Compare(string(a.Value), string(b.Value)))
}
