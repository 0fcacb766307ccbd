package blend

import (
	"bytes"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func recipes(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/*.yaml")
	if err != nil || len(files) < 13 {
		t.Fatalf("recipes: %v, %d found", err, len(files))
	}
	return files
}

// Every field that the law wants is in the draft or is an open question (29 CFR 1910.1200 App. D Table D.1; REACH Annex II
// as amended by (EU) 2020/878; SOR/2015-17 Schedule 1), for every recipe, rule set and language, and every item says why.
func TestRequiredFieldsArePresentOrAsked(t *testing.T) {
	for _, f := range recipes(t) {
		for _, rs := range Drafted() {
			m := mix(t, file(t, filepath.Base(f)), rs)
			for _, l := range ghs.Langs() {
				d, err := m.Draft(l, stock())
				if err != nil {
					t.Fatal(err)
				}
				for _, x := range d.Missing() {
					t.Errorf("%s %s %s: %s (%s) is neither there nor asked", f, rs, l, x.Field, x.Clause)
				}
				checkItems(t, d)
			}
		}
	}
}

func checkItems(t *testing.T, d *Draft) {
	t.Helper()
	if len(d.Sections) != 16 {
		t.Fatalf("%d sections", len(d.Sections))
	}
	var b bytes.Buffer
	if err := d.WriteText(&b, true); err != nil {
		t.Fatal(err)
	}
	if m := regexp.MustCompile(`\[[a-z_]+[.a-z_0-9]*\]|\{[a-z]\}`).FindString(b.String()); m != "" {
		t.Errorf("%s %s: a word or a place is not filled: %s", d.RuleSet, d.Lang, m)
	}
	for _, s := range d.Sections {
		for _, i := range s.Items {
			if len(i.Why) == 0 && i.Kind != Subheading {
				t.Errorf("%s %s: %s has nothing behind it", d.RuleSet, d.Lang, i.Field)
			}
			if i.Open && !slices.ContainsFunc(d.Questions, func(q Question) bool { return q.Field == i.Field || q.Section == s.Number }) {
				t.Errorf("%s %s: %s is printed open and not asked", d.RuleSet, d.Lang, i.Field)
			}
		}
	}
}

// Missing would notice a field that is gone: without its item and its question each one is missed.
func TestMissingNotices(t *testing.T) {
	d, err := mix(t, Example, ghs.EUCLP).Draft(ghs.English, stock())
	if err != nil {
		t.Fatal(err)
	}
	fields, err := Fields(ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fields {
		if f.When != "" || f.Field == "all_sections" {
			continue
		}
		cut := *d
		cut.Sections = nil
		for _, s := range d.Sections {
			s.Items = slices.DeleteFunc(slices.Clone(s.Items), func(i Item) bool { return i.Field == f.Field })
			cut.Sections = append(cut.Sections, s)
		}
		cut.Questions = slices.DeleteFunc(slices.Clone(d.Questions), func(q Question) bool { return q.Field == f.Field })
		if !slices.ContainsFunc(cut.Missing(), func(x Required) bool { return x.Field == f.Field }) {
			t.Errorf("%s is gone and not missed", f.Field)
		}
	}
}

// The tables: each field once per rule set, with a clause; every word in all four languages; every heading too.
func TestTablesAreWhole(t *testing.T) {
	for _, rs := range Drafted() {
		fields, err := Fields(rs)
		if err != nil {
			t.Fatal(err)
		}
		if len(fields) < 85 {
			t.Errorf("%s: only %d fields", rs, len(fields))
		}
		for _, f := range fields {
			if f.Clause == "" || f.What == "" {
				t.Errorf("%s: %s has no clause", rs, f.Field)
			}
		}
		for n := 1; n <= 16; n++ {
			if _, ok := headingOf(string(rune('0'+n/10))+string(rune('0'+n%10)), rs); !ok {
				if _, ok := headingOf(strings.TrimLeft(string(rune('0'+n/10))+string(rune('0'+n%10)), "0"), rs); !ok {
					t.Errorf("%s: no heading for section %d", rs, n)
				}
			}
		}
	}
	for key := range dictionaries()[ghs.English].words {
		for _, l := range ghs.Langs() {
			if text := dictionaries()[l].words[key]; text == "" {
				t.Errorf("%s is not given in %s", key, l)
			} else if regexp.MustCompile(`(?i)\bsafe\b|\bsicher\b|\bseguro\b|sans danger|!`).MatchString(text) {
				t.Errorf("%s (%s) promises what nobody can: %s", key, l, text)
			}
		}
	}
	for _, h := range headings() {
		for _, l := range ghs.Langs() {
			if h.titles[l] == "" || h.source == "" {
				t.Errorf("heading %s lacks %s or its source", h.ref, l)
			}
		}
	}
}

// "No data available" stands only where the author says so: a recipe that says nothing has none in any draft.
func TestNoDataOnlyByTheAuthor(t *testing.T) {
	for _, rs := range Drafted() {
		m := mix(t, "product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: 60}, {cas: 108-65-6, percent: 40}]", rs)
		for _, l := range ghs.Langs() {
			d, err := m.Draft(l, stock())
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := d.WriteText(&b, false); err != nil {
				t.Fatal(err)
			}
			if strings.Contains(b.String(), dictionaries()[l].say("nodata")) {
				t.Errorf("%s %s: prints that there is no data, which nobody said", rs, l)
			}
			for p, qs := range d.Facts.Physical.Quantities {
				for _, q := range qs {
					if q.State == sheet.Stated {
						t.Errorf("%s: %s is stated, the recipe gives none", rs, p)
					}
				}
			}
		}
	}
}

// Trade secrets: the prescribed ranges of 29 CFR 1910.1200(i)(1)(iv) and SOR/2015-17 s. 4.5(3); joined ones under (v); no
// name withheld in Canada and the Union without a permission.
func TestRangesAndSecrets(t *testing.T) {
	us := mix(t, "product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: rest}, {cas: 108-65-6, percent: 12, secret: {name: an ester, share: true}}]", ghs.USHCS2024)
	for _, c := range []struct{ lo, hi, from, to float64 }{
		{12, 12, 7, 13}, {0.7, 0.7, 0.1, 1}, {1.2, 1.2, 0.5, 1.5}, {4, 4, 1, 5}, {35, 35, 15, 40}, {50, 50, 45, 70}, {90, 90, 80, 100},
		{4, 6, 3, 7}, {2, 8, 0, 0}, {9, 14, 7, 30}, {55, 75, 0, 0},
	} {
		got, _, ok := us.bandFor(sheet.Between(c.lo, c.hi))
		if ok != (c.to > 0) || ok && (got.Lo != c.from || got.Hi != c.to) {
			t.Errorf("%v – %v %%: %v %v, want %v – %v", c.lo, c.hi, got, ok, c.from, c.to)
		}
	}
	find := func(m *Mix) Listed {
		for _, e := range m.Disclosed(ghs.English) {
			if m.Mixture.Ingredients[e.Index].CAS == "108-65-6" {
				return e
			}
		}
		t.Fatal("the ester is not listed")
		return Listed{}
	}
	if e := find(us); !e.SecretName || e.CAS != "" || e.Name != "an ester" || !e.SecretShare || e.Percent.Lo != 7 || e.Percent.Hi != 13 {
		t.Errorf("United States: %+v", e)
	}
	plain := "product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: rest}, {cas: 108-65-6, percent: 12, secret: {name: an ester, share: true}}]"
	ca := mix(t, plain, ghs.CAHPR)
	if e := find(ca); e.SecretName || e.CAS != "108-65-6" || !e.SecretShare {
		t.Errorf("Canada without a claim: %+v", e)
	}
	d, err := ca.Draft(ghs.English, stock())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(d.Questions, func(q Question) bool { return q.Field == "secret" }) {
		t.Error("no question asks for the claim")
	}
	if e := find(mix(t, plain+"\nsecret_authority: {ca-hpr: {number: \"12345\", date: \"2026-02-03\"}}", ghs.CAHPR)); !e.SecretName {
		t.Errorf("Canada with a claim: %+v", e)
	}
	if e := find(mix(t, plain, ghs.EUCLP)); e.SecretName {
		t.Errorf("the Union without a permission: %+v", e)
	}
}

// A rounded estimate never says a severer category than the estimate itself (UN GHS table 3.1.1).
func TestEstimatesRoundWithinTheirCategory(t *testing.T) {
	for _, c := range []struct {
		route    ghs.Qualifier
		is, want float64
	}{{ghs.Oral, 300.102, 301}, {ghs.Oral, 819.36, 819}, {ghs.Oral, 300, 300}, {ghs.InhalationDust, 1.0004, 1.01}, {ghs.InhalationDust, 4.5459, 4.54}, {ghs.Dermal, 2003, 2010}} {
		if got := estimateShown(c.route, c.is); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v %v: %v, want %v", c.route, c.is, got, c.want)
		}
	}
}

// No filter holds methanol for long: the draft names none and asks for supplied air.
func TestNoFilterAgainstMethanol(t *testing.T) {
	d, err := mix(t, "product: X\nform: liquid\ningredients: [{cas: 67-56-1, percent: 60}, {cas: 123-86-4, percent: 40}]", ghs.EUCLP).Draft(ghs.English, stock())
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range d.Sections[7].Items {
		if i.Field == "breathing" && (!strings.Contains(i.Text, "supplied-air") || strings.Contains(i.Text, "A1")) {
			t.Errorf("breathing: %s", i.Text)
		}
	}
	if len(d.Facts.Control.Respiratory.Value.Filters) > 0 {
		t.Errorf("filters %v", d.Facts.Control.Respiratory.Value.Filters)
	}
}

// Which ingredients are listed, and from which share: sensitisers from 0.1 % under US law (App. A A.4.3), 1A from 0.01 % and
// with a specific limit from that limit in the Union (Annex II 3.2.1, from memory), irritants from 1 %.
func TestWhoIsListed(t *testing.T) {
	const text = "product: X\nform: liquid\ningredients: [{cas: 7732-18-5, percent: rest}, {name: A, percent: %, own: {hazards: HAZARD, ate oral: not toxic}}]"
	for _, c := range []struct {
		rs     ghs.RuleSet
		hazard string
		share  string
		listed bool
	}{
		{ghs.USHCS2024, "Skin Sens. 1", "0.1", true}, {ghs.USHCS2024, "Skin Sens. 1", "0.09", false},
		{ghs.USHCS2024, "Skin Irrit. 2", "1", true}, {ghs.USHCS2024, "Skin Irrit. 2", "0.9", false},
		{ghs.USHCS2024, "Carc. 2", "0.1", true}, {ghs.CAHPR, "Repr. 2", "0.1", true}, {ghs.CAHPR, "Repr. 2", "0.05", false},
		{ghs.EUCLP, "Skin Sens. 1A", "0.01", true}, {ghs.EUCLP, "Skin Sens. 1A", "0.009", false},
		{ghs.EUCLP, "Skin Sens. 1B", "0.1", true}, {ghs.EUCLP, "Skin Sens. 1B", "0.09", false},
		{ghs.EUCLP, "Aquatic Chronic 1", "0.1", true}, {ghs.EUCLP, "Aquatic Chronic 3", "0.9", false}, {ghs.EUCLP, "Aquatic Chronic 3", "1", true},
		{ghs.USHCS2024, "Aquatic Chronic 1", "5", false},
	} {
		m := mix(t, strings.NewReplacer("%", c.share, "HAZARD", c.hazard).Replace(text), c.rs)
		got := slices.ContainsFunc(m.Disclosed(ghs.English), func(e Listed) bool { return e.Name == "A" })
		if got != c.listed {
			t.Errorf("%s: %s at %s %%: listed %v, want %v", c.rs, c.hazard, c.share, got, c.listed)
		}
	}
}
