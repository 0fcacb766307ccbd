package audit

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Verdict is what the papers say of a sales claim. None of them says that a claim is true: that is for tests.
type Verdict uint8

// Verdicts, gravest first.
const (
	ClaimContradicted Verdict = iota // the sheet or the label says the opposite
	ClaimUnsupported                 // the sheet gives nothing that would support it
	ClaimNeedsTest                   // only a test report could show it
	ClaimConsistent                  // nothing on the sheet speaks against it
)

var verdictWords = [...]string{"contradicted", "not supported by the sheet", "needs a test report", "consistent with the sheet"}

// String is the verdict in words.
func (v Verdict) String() string { return word(verdictWords[:], int(v)) }

// MarshalText writes the verdict in words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads a verdict from its words.
func (v *Verdict) UnmarshalText(b []byte) error {
	i, err := index(verdictWords[:], string(b))
	*v = Verdict(i)
	return err
}

// Claim is one kind of sales claim: the words by which it is found, what it means when taken at its word, what would
// support it, and how the papers bear on it.
type Claim struct {
	ID      string
	Words   map[ghs.Lang]string // regular expression on lower-case text
	Means   string
	Support string // the evidence that would support it
	Judge   func(*Case) Judgement
}

// Judgement is a verdict with the sides it rests on.
type Judgement struct {
	Verdict Verdict
	Sides   []Side
}

// Claimed is one claim found in a text, judged.
type Claimed struct {
	Claim   string  `json:"claim"`
	Words   string  `json:"words"` // as found
	Text    string  `json:"text"`  // the sentence it stands in
	Means   string  `json:"means"`
	Support string  `json:"support"`
	Verdict Verdict `json:"verdict"`
	Sides   []Side  `json:"sides"`
}

// JudgeClaims finds the claims of the catalogue in the case's texts (Claims, and the free text of the label) and judges
// each by the sheet. Each claim is reported once, where it first stands.
func JudgeClaims(c *Case) []Claimed {
	texts := slices.Clone(c.Claims)
	if c.Label != nil && c.Label.Text != "" {
		texts = append(texts, c.Label.Text)
	}
	var out []Claimed
	seen := map[string]bool{}
	for _, text := range texts {
		for _, hit := range FindClaims(text) {
			if seen[hit.Claim.ID] {
				continue
			}
			seen[hit.Claim.ID] = true
			j := hit.Claim.Judge(c)
			out = append(out, Claimed{hit.Claim.ID, hit.Words, hit.Sentence, hit.Claim.Means, hit.Claim.Support, j.Verdict, j.Sides})
		}
	}
	slices.SortStableFunc(out, func(a, b Claimed) int { return cmp.Compare(a.Verdict, b.Verdict) })
	return out
}

// ClaimHit is a claim found in a text.
type ClaimHit struct {
	Claim    Claim
	Words    string
	Sentence string
}

// FindClaims finds the claims of the catalogue in a text, in English and, where the words are simple, in French, German
// and Spanish. A claim that is denied in the same breath ("not food safe") is none.
func FindClaims(text string) []ClaimHit {
	var out []ClaimHit
	for _, s := range sentences(text) {
		lower := strings.ToLower(s)
		for _, c := range ClaimCatalogue() {
			for _, l := range ghs.Langs() {
				at := claimPattern(c.Words[l]).FindStringSubmatchIndex(lower)
				if at == nil || denied(lower[:at[4]]) {
					continue
				}
				out = append(out, ClaimHit{c, lower[at[4]:at[5]], strings.TrimSpace(s)})
				break
			}
		}
	}
	return out
}

// claimPattern is the expression of one claim in one language; no words match nothing.
func claimPattern(words string) *regexp.Regexp {
	if words == "" {
		words = `[^\s\S]`
	}
	return regexp.MustCompile(`(^|[^\p{L}])(` + words + `)($|[^\p{L}])`)
}

func sentences(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '.' || r == '!' || r == '?' || r == ';' || r == '•' })
}

// denied tells whether the words before a claim deny it.
func denied(before string) bool {
	f := strings.Fields(before)
	if len(f) == 0 {
		return false
	}
	last := strings.Trim(f[len(f)-1], ",:()")
	return slices.Contains([]string{"not", "isn't", "never", "nicht", "pas", "kein", "keine", "cannot"}, last)
}

// documentClaims writes the claims into the page of checks.
func documentClaims(b *strings.Builder) {
	b.WriteString("\n## The claims\n\nSales claims are found in free text and judged by the sheet: contradicted, not supported by the sheet, needs a test report, or consistent with the sheet. Never true.\n")
	b.WriteString("The meanings are plain readings of the words (common practice) where no standard is named.\n\n| claim | taken at its word | what would support it |\n| --- | --- | --- |\n")
	for _, c := range ClaimCatalogue() {
		fmt.Fprintf(b, "| %s | %s | %s |\n", c.ID, c.Means, c.Support)
	}
}
