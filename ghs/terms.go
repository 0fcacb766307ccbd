package ghs

// Lang is a language the tables carry, as an ISO 639-1 code.
type Lang string

// The languages carried. A new language is one new file under statements/ and one row here.
const (
	English Lang = "en"
	French  Lang = "fr"
	German  Lang = "de"
	Spanish Lang = "es"
)

// Langs lists the languages carried, English first.
func Langs() []Lang { return []Lang{English, French, German, Spanish} }

// Code is a statement code: "H317", "H350i", "H302+H312+H332", "P305+P351+P338", "EUH208". Combined codes are written
// with "+" and without blanks.
type Code string

// SignalWord is the signal word of a label.
type SignalWord uint8

// Signal words, in rising order.
const (
	NoSignalWord SignalWord = iota
	Warning
	Danger
)

// Pictogram is one of the nine symbols of the standard, numbered as in GHS01 … GHS09. Zero is none.
type Pictogram uint8

// The nine pictograms.
const (
	NoPictogram     Pictogram = iota
	ExplodingBomb             // GHS01
	Flame                     // GHS02
	FlameOverCircle           // GHS03
	GasCylinder               // GHS04
	Corrosion                 // GHS05
	SkullCrossbones           // GHS06
	ExclamationMark           // GHS07
	HealthHazard              // GHS08
	Environment               // GHS09
)

// RuleSet is one jurisdiction's classification and labelling law at one date.
type RuleSet string

// The rule sets. UN GHS is the model regulation, revision 10.
const (
	USHCS2024 RuleSet = "us-hcs-2024"
	USHCS2012 RuleSet = "us-hcs-2012"
	EUCLP     RuleSet = "eu-clp"
	GBCLP     RuleSet = "gb-clp"
	CAHPR     RuleSet = "ca-hpr"
	AUWHS     RuleSet = "au-whs"
	UNGHS     RuleSet = "un-ghs"
)
