package exposure

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

//go:embed bands.csv
var bandsCSV string

// Band is the occupational exposure band of a substance without a limit: NIOSH 2019-132, tier 1, from hazard statements.
// Letter is "C", "D" or "E" ("" when nothing bands it); Air is the range of concentrations to stay below.
type Band struct {
	Letter  string   `json:"letter"`
	Air     string   `json:"air,omitempty"`
	Because []string `json:"because,omitempty"` // endpoint and code
	Memory  bool     `json:"memory"`            // the rows were recalled, not read
	Source  string   `json:"source"`
}

// UpperPPM is the upper end of the band for vapours, in ppm.
func (b Band) UpperPPM() (ppm float64, ok bool) {
	_, words, ok := strings.Cut(b.Air, "ppm ")
	if !ok {
		return 0, false
	}
	fields := strings.Fields(words)
	ppm, err := strconv.ParseFloat(fields[len(fields)-1], 64)
	return ppm, err == nil
}

type bandRow struct{ endpoint, codes, categories, band, source string }

var bandRows = sync.OnceValue(func() []bandRow {
	rows, err := csv.NewReader(strings.NewReader(bandsCSV)).ReadAll()
	if err != nil {
		panic("bands.csv: " + err.Error())
	}
	var out []bandRow
	for _, r := range rows[1:] {
		out = append(out, bandRow{endpoint: r[0], codes: r[1], categories: r[2], band: r[3], source: r[4]})
	}
	return out
})

// BandOf bands a substance by statements ("H317") with the hazard each belongs to, where known (else NoHazard: the
// strictest row of the code counts). The most severe endpoint wins.
func BandOf(codes []ghs.Code, hazards []ghs.Hazard) Band {
	best := Band{Source: "NIOSH publication 2019-132, tier 1"}
	for i, code := range codes {
		for _, part := range code.Parts() {
			for _, r := range bandRows() {
				if !listed(r.codes, string(part.Base())) || !letter(r.band) {
					continue
				}
				if h := hazards[i]; h != ghs.NoHazard && len(code.Parts()) == 1 && !listed(r.categories, h.Category()) {
					continue
				}
				best.take(r, string(part))
			}
		}
	}
	for _, r := range bandRows() {
		if r.endpoint == "band range" && r.codes == best.Letter {
			best.Air = r.categories
		}
	}
	return best
}

func letter(band string) bool { return band == "C" || band == "D" || band == "E" || band == "D or E" }

func (b *Band) take(r bandRow, code string) {
	l := r.band[len(r.band)-1:] // "D or E" counts as E
	why := r.endpoint + " " + code
	switch {
	case l > b.Letter:
		b.Letter, b.Because = l, []string{why}
	case l == b.Letter && !slices.Contains(b.Because, why):
		b.Because = append(b.Because, why)
	}
	b.Memory = b.Memory || r.source == "memory"
}

// listed tells whether a comma separated list holds a word.
func listed(list, word string) bool {
	for _, x := range strings.Split(list, ",") {
		if strings.TrimSpace(x) == word {
			return true
		}
	}
	return false
}
