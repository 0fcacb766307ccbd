package ghs

import (
	"fmt"
	"strings"
)

// RuleSets lists the rule sets carried.
func RuleSets() []RuleSet {
	return []RuleSet{UNGHS, USHCS2024, USHCS2012, EUCLP, GBCLP, CAHPR, AUWHS}
}

var ruleSetNames = map[RuleSet]struct{ name, law string }{
	UNGHS:     {"United Nations GHS, revision 10", "Globally Harmonized System of Classification and Labelling of Chemicals, tenth revised edition, ST/SG/AC.10/30/Rev.10 (2023)"},
	USHCS2024: {"United States, 2024", "29 CFR 1910.1200 with appendices A to D, as amended 2024"},
	USHCS2012: {"United States, 2012", "29 CFR 1910.1200 with appendices A to D, as of 2012"},
	EUCLP:     {"European Union", "Regulation (EC) No 1272/2008 (CLP), as amended up to Delegated Regulation (EU) 2023/707"},
	GBCLP:     {"Great Britain", "Regulation (EC) No 1272/2008 as retained in the law of Great Britain"},
	CAHPR:     {"Canada", "Hazardous Products Regulations, SOR/2015-17, as amended by SOR/2022-272"},
	AUWHS:     {"Australia", "Model Work Health and Safety Regulations, with GHS revision 7"},
}

// Name is the rule set in a few words: "European Union".
func (rs RuleSet) Name() string { return ruleSetNames[rs].name }

// Law is the legal text the rule set stands for.
func (rs RuleSet) Law() string { return ruleSetNames[rs].law }

// Known tells whether the tables carry the rule set.
func (rs RuleSet) Known() bool { return ruleSetNames[rs].law != "" }

// Exists tells whether the rule set knows the hazard: whether a product can be classified so under its law. Hazards
// that only another law has, such as Eye Irrit. 2B under EU-CLP, do not exist.
func (rs RuleSet) Exists(h Hazard) bool { return h.row().ruleSets[rs] }

// Hazards is every hazard the rule set knows.
func (rs RuleSet) Hazards() HazardSet {
	var s HazardSet
	for _, h := range AllHazards() {
		if rs.Exists(h) {
			s.Add(h)
		}
	}
	return s
}

// ParseRuleSet reads a rule set's name in any case ("EU-CLP", "us_hcs_2024"). A year after a rule set that has only one
// edition here ("EU-CLP-2021") is accepted and means that rule set as carried: earlier texts are not kept apart. US-HCS
// without a year is the newest edition.
func ParseRuleSet(s string) (RuleSet, error) {
	key := strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
	if RuleSet(key).Known() {
		return RuleSet(key), nil
	}
	if key == "us-hcs" {
		return USHCS2024, nil
	}
	if i := strings.LastIndexByte(key, '-'); i > 0 && isYear(key[i+1:]) {
		if rs := RuleSet(key[:i]); rs.Known() {
			return rs, nil
		}
	}
	names := make([]string, 0, len(RuleSets()))
	for _, rs := range RuleSets() {
		names = append(names, string(rs))
	}
	return "", fmt.Errorf("no rule set is called %q: write one of %s", s, strings.Join(names, ", "))
}

func isYear(s string) bool {
	if len(s) != 4 || (s[:2] != "20" && s[:2] != "19") {
		return false
	}
	return strings.Trim(s[2:], "0123456789") == ""
}

// MarshalText writes the name.
func (rs RuleSet) MarshalText() ([]byte, error) { return []byte(rs), nil }

// UnmarshalText reads the name as ParseRuleSet does; the empty text is no rule set.
func (rs *RuleSet) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*rs = ""
		return nil
	}
	v, err := ParseRuleSet(string(text))
	if err != nil {
		return err
	}
	*rs = v
	return nil
}
