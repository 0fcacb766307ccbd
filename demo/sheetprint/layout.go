package sheetprint

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"

	"sixteen/ghs"
)

// Layout is how a sheet looks. Make one with NewLayout; the zero Layout is not usable.
type Layout struct {
	Number int    // of the family, from 1
	Name   string // of the family
	Seed   uint64 // chooses among wordings

	Face      Face
	Size      float64 // of the body text, points
	Letter    bool    // US letter paper, else A4
	Landscape bool
	Turned    bool // landscape shown by the page's rotation entry, not by its size
	Columns   int
	Ink       [3]int // colour of headings and rules

	Heading    HeadingStyle
	Numbers    Numbering
	OldOrder   bool // composition before hazards
	Subheads   bool // "2.1 Classification …"
	Spaced     bool // heading capitals set apart letter by letter
	Capitals   bool // headings in capitals
	SubBold    bool
	Fields     FieldStyle
	Tables     TableStyle
	Centred    bool // cells centred, also vertically
	SplitRows  bool // table rows may be cut by a page break
	RunHead    bool
	Continued  bool // repeats the section heading on the next page
	TitleBlock TitleStyle
	Footnotes  bool // marks in tables and their notes below

	Classes        ClassStyle
	HStyle         StatementStyle
	PStyle         StatementStyle
	IngredientH    bool // classes and codes in the ingredient table
	IngredientList bool // ingredients as lines instead of a table
	CodesOnly      bool // ingredient column holds H codes without class names
	Pictograms     PictogramStyle
	GreySymbols    bool // pictograms without red, as printed on a black printer
	Ratings        RatingStyle
	RatingsFirst   bool // ratings in section 2 instead of 16
	FullText       bool // legend of H statements in section 16
	Range          RangeStyle
	DecimalComma   bool
	Temperature    TemperatureStyle
	Pressure       string // hPa, mmHg, kPa
	DensityUnit    string // g/cm3, kg/m3, relative, lb/gal
	VOCUnit        string // g/l, lb/gal
	Date           DateStyle
	PropertyTable  bool // section 9 as a table whatever Fields says
	LimitColumns   bool // limits as one row per substance with columns TWA and STEL
	CAS            CASStyle
	LoudH          bool   // hazard statements in capitals
	Thousands      bool   // 1,000 in limits (English only)
	CubicMetre     string // "m³", "m3"
	FlashInFive    bool   // the flash point stands in section 5, not in 9
	CoverPage      bool   // a letter comes first
	Legend         bool   // section 16 explains all nine pictograms by name
	Abbreviated    bool   // "N/D", "N/A" instead of sentences
}

// Face is a family of letters.
type Face string

// The faces. Sans and mono are embedded; the others are the standard faces every reader has.
const (
	Sans      Face = "gosans"
	Mono      Face = "gomono"
	Helvetica Face = "Helvetica"
	Times     Face = "Times"
)

// HeadingStyle is the look of a section heading.
type HeadingStyle uint8

// Heading styles.
const (
	BoldHeading HeadingStyle = iota
	UnderlinedHeading
	WhiteOnBlack
	GreyBar
	TwoCells     // number and title in separate boxes
	TwoLines     // number on one line, title on the next
	BoxedHeading // a frame around it
)

// Numbering is how headings are numbered.
type Numbering uint8

// Numberings.
const (
	SectionColon Numbering = iota // "SECTION 3: Title"
	SectionDash                   // "Section 3 - Title"
	NumberDot                     // "3. Title"
	Roman                         // "III. Title"
	Unnumbered
)

// FieldStyle is how a label stands to its value.
type FieldStyle uint8

// Field styles.
const (
	Inline FieldStyle = iota // "Label: value"
	LabelColumn
	ColonColumn // "Label      : value"
	BoxedRow
	ValueBelow
	Dotted // "Label ........ value"
)

// TableStyle is how tables are ruled.
type TableStyle uint8

// Table styles.
const (
	Boxed TableStyle = iota
	Borderless
	RuledHead
	Zebra
)

// TitleStyle is the top of the first page.
type TitleStyle uint8

// Title styles.
const (
	TitleCentred TitleStyle = iota
	TitleBand
	TitleLeft
	TitleBox
)

// ClassStyle is how section 2 states the classification.
type ClassStyle uint8

// Class styles.
const (
	ClassShort  ClassStyle = iota // "Skin Irrit. 2, H315"
	ClassLong                     // "Skin irritation, Category 2"
	ClassTabled                   // table of class, category, code
)

// StatementStyle is how statements are printed.
type StatementStyle uint8

// Statement styles.
const (
	CodePhrase StatementStyle = iota // "H315 Causes skin irritation."
	CodeColon                        // "H315: Causes skin irritation."
	PhraseCode                       // "Causes skin irritation. (H315)"
	PhraseOnly
	CodeOnly
	CodesJoined // "H315-317-319"
)

// PictogramStyle is how pictograms are given.
type PictogramStyle uint8

// Pictogram styles.
const (
	NamedPictograms PictogramStyle = iota
	CodedPictograms                // "GHS02, GHS07"
	DrawnPictograms                // vector drawings
	BitmapPictograms
)

// RatingStyle is how 0–4 ratings are given.
type RatingStyle uint8

// Rating styles.
const (
	RatingWords RatingStyle = iota
	RatingDiamond
	RatingBars
)

// RangeStyle is how a range of percentages is written.
type RangeStyle uint8

// Range styles.
const (
	RangeHyphen  RangeStyle = iota // "10 - 30"
	RangeTight                     // "10-30"
	RangeDash                      // "10 – 30"
	RangeTo                        // "10 to 30", in the sheet's language
	RangeSigns                     // "≥ 10 - < 25"
	RangeASCII                     // ">=10 - <25"
	RangePercent                   // "10 - 30 %"
)

// CASStyle is how CAS numbers stand in section 3.
type CASStyle uint8

// CAS styles.
const (
	CASColumn  CASStyle = iota
	CASPadded           // "000067-64-1"
	CASBelow            // on the line below the name
	CASBracket          // "acetone (67-64-1)" in the name's cell
)

// TemperatureStyle is the scale of temperatures.
type TemperatureStyle uint8

// Temperature styles.
const (
	Celsius TemperatureStyle = iota
	Fahrenheit
	FahrenheitCelsius // "73 °F (23 °C)"
	CelsiusFahrenheit
)

// DateStyle is how dates are written.
type DateStyle uint8

// Date styles.
const (
	DateISO      DateStyle = iota // 2024-03-18
	DateMonth                     // 18 March 2024, in the sheet's language
	DateUS                        // 03/18/2024
	DateDotted                    // 18.03.2024
	DateMonthUS                   // March 18, 2024
	DateEuropean                  // 18/03/2024
)

// family is a layout before noise.
type family struct {
	name string
	make func(*Layout)
}

// families lists the layouts. A new one is one more row.
var families = []family{
	{"plain lines", func(l *Layout) {
		l.Face, l.Letter, l.Heading, l.Numbers = Helvetica, true, BoldHeading, SectionColon
		l.Fields, l.Tables, l.TitleBlock, l.HStyle, l.PStyle = Inline, RuledHead, TitleCentred, PhraseOnly, PhraseOnly
		l.Classes, l.Ratings, l.Capitals = ClassLong, RatingWords, true
	}},
	{"boxed tables", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Fields, l.Tables = Sans, GreyBar, NumberDot, BoxedRow, Boxed
		l.TitleBlock, l.RunHead, l.IngredientH, l.Classes, l.PropertyTable = TitleBox, true, true, ClassTabled, true
	}},
	{"black bars", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Fields, l.Tables = Sans, WhiteOnBlack, SectionDash, LabelColumn, Borderless
		l.TitleBlock, l.Capitals, l.HStyle, l.Ratings, l.RatingsFirst = TitleBand, true, PhraseCode, RatingDiamond, true
	}},
	{"two columns", func(l *Layout) {
		l.Face, l.Size, l.Columns, l.Heading, l.Numbers = Times, 8.6, 2, UnderlinedHeading, NumberDot
		l.Fields, l.IngredientList, l.TitleBlock, l.Classes = Inline, true, TitleCentred, ClassLong
	}},
	{"two cells", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Fields, l.Tables = Helvetica, TwoCells, NumberDot, BoxedRow, Boxed
		l.Centred, l.TitleBlock, l.RunHead, l.IngredientH, l.CodesOnly = true, TitleBox, true, true, true
	}},
	{"typewriter, Roman numerals", func(l *Layout) {
		l.Face, l.Size, l.Heading, l.Numbers, l.OldOrder = Mono, 8.2, BoldHeading, Roman, true
		l.Fields, l.Tables, l.TitleBlock, l.Capitals, l.Ratings = ColonColumn, Borderless, TitleLeft, true, RatingWords
		l.HStyle, l.Classes, l.RatingsFirst = PhraseOnly, ClassLong, true
	}},
	{"unnumbered capitals", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Capitals = Times, UnderlinedHeading, Unnumbered, true
		l.Size, l.Fields, l.Tables, l.TitleBlock, l.HStyle = 10, ValueBelow, RuledHead, TitleCentred, CodeColon
	}},
	{"landscape", func(l *Layout) {
		l.Face, l.Landscape, l.Heading, l.Numbers, l.Fields = Sans, true, GreyBar, SectionColon, BoxedRow
		l.Tables, l.TitleBlock, l.RunHead, l.IngredientH, l.SplitRows = Zebra, TitleBand, true, true, true
	}},
	{"numbered subheadings", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Subheads, l.SubBold = Helvetica, BoldHeading, SectionColon, true, true
		l.Fields, l.Tables, l.RunHead, l.Continued, l.IngredientH = LabelColumn, Borderless, true, true, true
		l.TitleBlock, l.FullText, l.Capitals = TitleLeft, true, true
	}},
	{"letter-spaced", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Spaced, l.Capitals = Helvetica, UnderlinedHeading, NumberDot, true, true
		l.Fields, l.Tables, l.TitleBlock, l.HStyle = ColonColumn, RuledHead, TitleBand, PhraseCode
	}},
	{"headings on two lines", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Fields, l.Tables = Sans, TwoLines, SectionColon, LabelColumn, Boxed
		l.TitleBlock, l.Ratings, l.RatingsFirst, l.LimitColumns = TitleCentred, RatingBars, true, true
	}},
	{"footnotes", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Footnotes, l.Fields = Times, BoldHeading, SectionDash, true, Dotted
		l.Size, l.Tables, l.TitleBlock, l.IngredientH, l.CodesOnly, l.FullText = 9.6, RuledHead, TitleLeft, true, true, true
	}},
	{"ledger", func(l *Layout) {
		l.Face, l.Size, l.Heading, l.Numbers, l.Fields = Mono, 8, BoxedHeading, SectionDash, Dotted
		l.Tables, l.Centred, l.TitleBlock, l.Ratings, l.RatingsFirst = Boxed, true, TitleBox, RatingBars, true
	}},
	{"old order, boxed", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.OldOrder, l.Fields = Times, BoxedHeading, SectionColon, true, LabelColumn
		l.Size, l.Tables, l.TitleBlock, l.Ratings, l.RatingsFirst, l.LimitColumns = 9.6, Boxed, TitleCentred, RatingDiamond, true, true
	}},
	{"subheadings in boxes", func(l *Layout) {
		l.Face, l.Heading, l.Numbers, l.Subheads, l.Fields = Sans, WhiteOnBlack, SectionColon, true, BoxedRow
		l.Tables, l.TitleBlock, l.RunHead, l.IngredientH, l.FullText, l.PropertyTable = Boxed, TitleBand, true, true, true, true
	}},
	{"landscape by rotation", func(l *Layout) {
		l.Face, l.Landscape, l.Turned, l.Heading, l.Numbers = Helvetica, true, true, UnderlinedHeading, SectionDash
		l.Columns, l.Fields, l.Tables, l.TitleBlock, l.IngredientList = 2, Inline, RuledHead, TitleLeft, true
	}},
}

// LayoutCount is the number of layout families.
func LayoutCount() int { return len(families) }

// NewLayout makes layout family number (from 1) for a sheet of the given rule set and language, with noise chosen by
// seed: wordings, units, writing of ranges and dates, margins. It fails when there is no such family.
func NewLayout(number int, rules ghs.RuleSet, lang ghs.Lang, seed uint64) (Layout, error) {
	if number < 1 || number > len(families) {
		return Layout{}, fmt.Errorf("layout %d does not exist: choose 1 to %d", number, len(families))
	}
	rng := rand.New(rand.NewPCG(seed, uint64(number)))
	l := Layout{Number: number, Name: families[number-1].name, Seed: seed, Size: 9, Columns: 1}
	l.Ink = pick(rng, [][3]int{{0, 0, 0}, {20, 50, 110}, {120, 20, 30}, {10, 90, 70}, {70, 70, 70}})
	l.Letter = rules != ghs.EUCLP && rules != ghs.GBCLP
	l.Pictograms = pick(rng, []PictogramStyle{NamedPictograms, CodedPictograms, DrawnPictograms, DrawnPictograms, BitmapPictograms, BitmapPictograms})
	l.GreySymbols = rng.IntN(6) == 0
	l.HStyle = pick(rng, []StatementStyle{CodePhrase, CodePhrase, CodePhrase, CodeColon, CodeColon, PhraseCode, PhraseOnly, CodesJoined})
	l.PStyle = pick(rng, []StatementStyle{CodePhrase, CodePhrase, CodeColon, CodeOnly})
	l.Classes = pick(rng, []ClassStyle{ClassShort, ClassLong, ClassTabled})
	families[number-1].make(&l)
	l.unitsFor(rules, lang, rng)
	l.Range = pick(rng, []RangeStyle{RangeHyphen, RangeTight, RangeDash, RangeTo, RangeSigns, RangeASCII, RangePercent})
	if !europeanRules(rules) && l.Ratings == RatingWords {
		l.Ratings = pick(rng, []RatingStyle{RatingWords, RatingDiamond, RatingBars})
	}
	l.noise(lang, rng)
	l.Size += float64(rng.IntN(5)-2) * 0.15
	return l, nil
}

// noise adds the rarer habits of printers of sheets.
func (l *Layout) noise(lang ghs.Lang, rng *rand.Rand) {
	l.CAS = pick(rng, []CASStyle{CASColumn, CASColumn, CASColumn, CASColumn, CASPadded, CASBelow, CASBracket})
	l.LoudH = l.HStyle != CodesJoined && rng.IntN(7) == 0
	l.Thousands = lang == ghs.English && rng.IntN(2) == 0
	l.CubicMetre = pick(rng, []string{"m³", "m³", "m3"})
	l.FlashInFive = !l.Subheads && rng.IntN(9) == 0
	l.CoverPage = rng.IntN(14) == 0
	l.Legend = rng.IntN(9) == 0
	l.Abbreviated = rng.IntN(6) == 0
}

// unitsFor chooses units and dates that the jurisdiction and language really use.
func (l *Layout) unitsFor(rules ghs.RuleSet, lang ghs.Lang, rng *rand.Rand) {
	l.Pressure, l.DensityUnit, l.VOCUnit = "hPa", pick(rng, []string{"g/cm3", "g/cm3", "relative", "kg/m3"}), "g/l"
	l.Date = pick(rng, []DateStyle{DateISO, DateMonth})
	switch {
	case europeanRules(rules):
		l.Temperature, l.Pressure = Celsius, pick(rng, []string{"hPa", "kPa", "mbar", "Pa"})
		l.Date = pick(rng, []DateStyle{DateISO, DateMonth, DateDotted, DateEuropean})
		if lang != ghs.English {
			l.DecimalComma = true
		}
	case rules == ghs.CAHPR:
		l.Temperature, l.Pressure = pick(rng, []TemperatureStyle{Celsius, CelsiusFahrenheit}), pick(rng, []string{"kPa", "mmHg"})
		l.DecimalComma = lang != ghs.English
	default:
		l.Temperature = pick(rng, []TemperatureStyle{Fahrenheit, FahrenheitCelsius, CelsiusFahrenheit})
		l.Pressure = pick(rng, []string{"mmHg", "mmHg", "hPa"})
		l.DensityUnit = pick(rng, []string{"relative", "lb/gal", "g/cm3"})
		l.VOCUnit = pick(rng, []string{"g/l", "lb/gal"})
		if lang == ghs.English {
			l.Date = pick(rng, []DateStyle{DateUS, DateMonthUS, DateISO})
		}
	}
}

func europeanRules(r ghs.RuleSet) bool { return r == ghs.EUCLP || r == ghs.GBCLP }

func pick[T any](rng *rand.Rand, from []T) T { return from[rng.IntN(len(from))] }

// word is the wording of key that this layout uses throughout.
func (l Layout) word(d dictionary, key string, fill ...string) string {
	ws := d[key]
	if len(ws) == 0 {
		return key
	}
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", l.Seed, key)
	return fillIn(ws[(h.Sum64()>>32)%uint64(len(ws))], fill)
}
