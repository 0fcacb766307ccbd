package audit

import (
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func claimed(texts ...string) func(*Case) { return func(c *Case) { c.Claims = texts } }

// Each claim is found in its own words, in every language it is carried in.
func TestClaimsAreFound(t *testing.T) {
	for text, want := range map[string]string{
		"Non-toxic once mixed.": "non-toxic", "Ungiftig!": "non-toxic", "Produit non toxique": "non-toxic",
		"NO VOC": "no-voc", "Zero VOCs": "no-voc", "VOC-frei": "no-voc", "sans COV": "no-voc", "Low VOC": "low-voc",
		"No fumes at all": "no-fumes", "ohne Dämpfe": "no-fumes", "Food safe after cure": "food-safe", "lebensmittelecht": "food-safe",
		"FDA compliant": "food-safe", "100% solids": "solids-100", "100 % Festkörper": "solids-100", "Odourless": "odourless", "odorless": "odourless", "geruchsneutral": "odourless",
		"No respirator needed.": "no-respirator", "All natural": "natural", "bio-based": "natural", "BPA-free": "bpa-free", "sans BPA": "bpa-free",
		"solvent free": "solvent-free", "Lösemittelfrei": "solvent-free", "Non-flammable formula": "non-flammable", "hypoallergenic": "hypoallergenic",
		"The gentle hardener": "gentle", "only mildly irritating": "gentle", "no special gloves needed": "no-gloves", "biodegradable": "biodegradable",
		"eco-friendly": "eco-friendly", "safe for kids": "child-safe", "isocyanate-free": "isocyanate-free", "Sans plomb.": "lead-free", "OSHA approved": "authority-approved",
		"family can stay in the room": "no-ventilation", "styrene free": "styrene-free", "water-based": "water-based", "completely safe": "safe", "no carcinogens": "no-carcinogens", "Low odour laminating resin": "low-odour",
	} {
		hits := FindClaims(text)
		if !slices.ContainsFunc(hits, func(h ClaimHit) bool { return h.Claim.ID == want }) {
			t.Errorf("%q: %s is not found", text, want)
		}
		for _, h := range hits {
			if h.Words != strings.Trim(h.Words, " ,.!") || h.Words == "" {
				t.Errorf("%q: the words found are %q", text, h.Words)
			}
		}
	}
	for _, text := range []string{"Not food safe.", "Use with plenty of fresh air.", "Fills buoyancy tanks in minutes.", "This hardener is not non-toxic", "Ledger", "A leadership course"} {
		for _, h := range FindClaims(text) {
			t.Errorf("%q: found %s", text, h.Claim.ID)
		}
	}
}

func TestClaimCatalogueIsComplete(t *testing.T) {
	cs := ClaimCatalogue()
	if len(cs) < 20 {
		t.Errorf("only %d claims", len(cs))
	}
	seen := map[string]bool{}
	for _, c := range cs {
		if seen[c.ID] || c.Means == "" || c.Support == "" || c.Judge == nil || c.Words[ghs.English] == "" {
			t.Errorf("%s is incomplete or stands twice", c.ID)
		}
		seen[c.ID] = true
	}
}

// The verdicts on the claims, sheet by sheet.
func TestClaimVerdicts(t *testing.T) {
	inert := func(rs ghs.RuleSet) *sheet.Sheet {
		s := blank(rs, "Rinse")
		s.Composition.Ingredients = []sheet.Ingredient{ingredient(rs, "Water", "7732-18-5", 97, 100)}
		s.Hazards = sheet.Hazards{Classified: sheet.NoneStated}
		return s
	}
	for _, x := range []struct {
		text  string
		sheet func(ghs.RuleSet) *sheet.Sheet
		want  Verdict
	}{
		{"non-toxic", resin, ClaimContradicted}, {"non-toxic", inert, ClaimConsistent},
		{"no VOC", thinner, ClaimContradicted}, {"no VOC", resin, ClaimUnsupported},
		{"no fumes", thinner, ClaimContradicted}, {"no fumes", resin, ClaimNeedsTest},
		{"food safe", resin, ClaimContradicted}, {"food safe", func(rs ghs.RuleSet) *sheet.Sheet {
			s := resin(rs)
			s.Identification.UsesAgainst = sheet.Fact[string]{}
			return s
		}, ClaimNeedsTest},
		{"odourless", resin, ClaimContradicted}, {"100 % solids", thinner, ClaimContradicted}, {"100 % solids", resin, ClaimNeedsTest},
		{"no respirator needed", thinner, ClaimContradicted}, {"BPA-free", resin, ClaimNeedsTest}, {"BPA-free", thinner, ClaimConsistent},
		{"hypoallergenic", hardener, ClaimContradicted}, {"hypoallergenic", thinner, ClaimConsistent},
		{"gentle", hardener, ClaimContradicted}, {"non-flammable", thinner, ClaimContradicted}, {"non-flammable", resin, ClaimConsistent},
		{"solvent-free", thinner, ClaimContradicted}, {"isocyanate-free", resin, ClaimConsistent}, {"eco-friendly", resin, ClaimContradicted},
		{"no gloves needed", resin, ClaimContradicted}, {"natural resin", resin, ClaimNeedsTest}, {"OSHA approved", resin, ClaimContradicted},
		{"biodegradable", resin, ClaimNeedsTest}, {"water-based", resin, ClaimUnsupported}, {"water-based", inert, ClaimConsistent},
	} {
		c := caseOf(x.sheet(ghs.EUCLP), ghs.EUCLP)
		c.Claims = []string{x.text}
		got := JudgeClaims(c)
		if len(got) != 1 || got[0].Verdict != x.want {
			t.Errorf("%q of %s: got %+v, want %s", x.text, c.Sheet.Identification.ProductName.Value, got, x.want)
		}
	}
}

// No verdict, and no text of the catalogue, calls a product safe.
func TestVerdictsNeverSayTrue(t *testing.T) {
	for v := range ClaimConsistent + 1 {
		if s := v.String(); strings.Contains(s, "true") || strings.Contains(s, "safe") {
			t.Errorf("verdict %q", s)
		}
	}
}

func claimTrials() []trial {
	return []trial{
		finds("claim", Contradiction, "no VOC beside nothing but solvent", ghs.EUCLP, thinner, claimed("No VOC!")),
		finds("claim", Gap, "no VOC and no figure", ghs.EUCLP, resin, claimed("No VOC!")),
		finds("claim", Doubt, "bio-based", ghs.EUCLP, resin, claimed("A bio-based resin.")),
		finds("claim", Note, "non-flammable with a high flash point", ghs.EUCLP, resin, claimed("Non-flammable.")),
		passes("claim", "a text without a claim", ghs.EUCLP, resin, claimed("Stir well.")),
	}
}
