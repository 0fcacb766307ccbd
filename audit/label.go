package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

// Label is what a label on a container says, as typed in, ticked or read from a photograph. Every list may be empty.
// Complete tells whether all of the label was entered: what is absent from an incomplete label is not held against it.
type Label struct {
	Complete      bool              `json:"complete"`
	Product       string            `json:"product"`
	UFI           string            `json:"ufi,omitempty"`
	Supplier      string            `json:"supplier"`
	Address       string            `json:"address"`
	Phone         string            `json:"phone"`
	CapacityML    float64           `json:"capacity_ml"` // 0: unknown
	Pictograms    []ghs.Pictogram   `json:"pictograms"`
	SignalPrinted string            `json:"signal_printed"` // the word as printed, "" when there is none
	Statements    []sheet.Statement `json:"statements"`     // H and EUH statements
	Precautions   []sheet.Statement `json:"precautions"`
	Ingredients   []string          `json:"ingredients"` // substances the label names ("contains …")
	Text          string            `json:"text"`        // everything else, for the claims
	Evidence      []sheet.Evidence  `json:"evidence,omitempty"`
}
