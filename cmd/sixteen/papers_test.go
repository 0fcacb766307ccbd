package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sixteen/demo"
	"sixteen/demo/sheetprint"
)

// keptCache is the folder of the caches before HOME is moved.
func keptCache(t *testing.T) string {
	t.Helper()
	dir, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// bench is a folder with the papers of the demo that a test asks for, and an empty configuration.
func bench(t *testing.T, ids ...string) string {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("XDG_CACHE_HOME", keptCache(t)) // the prepared reader is kept
	t.Setenv("HOME", t.TempDir())
	dir := t.TempDir()
	put := func(name string, data []byte, err error) {
		t.Helper()
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, id := range ids {
		item := itemOf(t, id)
		printed, _, err := item.PrintedSheet()
		put(id+".pdf", printed, err)
		label, _, err := item.MakeLabel()
		if err != nil {
			t.Fatal(err)
		}
		raw, err := json.Marshal(label)
		put(id+".json", raw, err)
		before, ok, err := item.PreviousSpec()
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			continue
		}
		layout, err := sheetprint.NewLayout(3, item.Rules, item.Lang, 1)
		if err != nil {
			t.Fatal(err)
		}
		printed, _, err = sheetprint.Print(before, layout)
		put(id+"-before.pdf", printed, err)
	}
	return dir
}

func itemOf(t *testing.T, id string) demo.Item {
	t.Helper()
	for _, item := range demo.Described().Products {
		if item.ID == id {
			return item
		}
	}
	t.Fatalf("the demo has no product %s", id)
	return demo.Item{}
}

// ran executes a command and checks its status and that every wanted text is in what it prints, line ends aside.
func ran(t *testing.T, status int, args []string, want ...string) string {
	t.Helper()
	got, out, errText := runCommand(t, args...)
	if got != status {
		t.Errorf("%v: status %d, want %d: %s", args, got, status, errText)
	}
	flat := strings.Join(strings.Fields(out+errText), " ")
	for _, w := range want {
		if !strings.Contains(flat, w) {
			t.Errorf("%v: no %q in %s", args, w, flat)
		}
	}
	return out
}

// The half page warns of the allergy that section 2 leaves out, says why when asked, and tours all sixteen sections.
func TestPlain(t *testing.T) {
	file := filepath.Join(bench(t, "brinequick"), "brinequick.pdf")
	short := ran(t, exitNone, []string{"plain", file}, "Section 2 does not say so, but its ingredients do: A skin allergy for life", "Gloves of nitrile", "not disclosed")
	if strings.Contains(short, "from: ") || regexp.MustCompile(`(?i)\bsafe\b`).MatchString(short) {
		t.Errorf("the half page gives sources unasked, or calls something safe: %s", short)
	}
	ran(t, exitNone, []string{"plain", "--why", file}, "from: ", "[p. 1: ")
	var paper struct {
		CanDo []struct {
			Text string
			From []json.RawMessage
		} `json:"can_do"`
		Tour []struct {
			Section int
			Here    string
		} `json:"tour"`
	}
	if err := json.Unmarshal([]byte(ran(t, exitNone, []string{"plain", "--json", "--tour", file})), &paper); err != nil {
		t.Fatal(err)
	}
	if len(paper.Tour) != 16 || paper.Tour[0].Section != 2 {
		t.Errorf("the tour has %d stops and begins with section %d", len(paper.Tour), paper.Tour[0].Section)
	}
	for _, s := range paper.CanDo {
		if len(s.From) == 0 {
			t.Errorf("a sentence without a source: %s", s.Text)
		}
	}
}

// The label of the demo lacks a symbol that section 2 calls for; typed in, what is not entered is only open.
func TestLabel(t *testing.T) {
	dir := bench(t, "murrelam-a")
	file, label := filepath.Join(dir, "murrelam-a.pdf"), filepath.Join(dir, "murrelam-a.json")
	ran(t, exitFindings, []string{"label", file, "--label", label}, "does not say what the sheet says", "GHS09", "Label: pictograms GHS07", "[p. 1: ")
	ran(t, exitNone, []string{"label", file, "--label", label, "--pictograms", "GHS07,GHS09"}, "The label says what the sheet says")
	ran(t, exitFindings, []string{"label", file, "--pictograms", "GHS07", "--signal", "Warning", "--statements", "H315,H319"}, "DOUBT", "H317")
	out := ran(t, exitFindings, []string{"label", "--json", file, "--label", label})
	var paper struct {
		Verdict  string
		Findings []struct{ Check string }
	}
	if err := json.Unmarshal([]byte(out), &paper); err != nil || paper.Verdict == "" || len(paper.Findings) != 1 || paper.Findings[0].Check != "label-pictogram-missing" {
		t.Errorf("json %v: %+v", err, paper)
	}
	ran(t, exitFailed, []string{"label", file}, "--label")
	ran(t, exitFailed, []string{"label", file, "--pictograms", "GHS10"}, "GHS01 … GHS09")
	ran(t, exitFailed, []string{"label", file, "--statements", "hot"}, "not a statement code")
	ran(t, exitFailed, []string{"label", file, "--label", file}, "not a label in JSON")
}

// A printed label is read from its file and set beside the sheet, with what was read and where.
func TestLabelFromAPhoto(t *testing.T) {
	dir := bench(t, "murrelam-a")
	file, photo := filepath.Join(dir, "murrelam-a.pdf"), filepath.Join(dir, "label.pdf")
	item := itemOf(t, "murrelam-a")
	label, _, err := item.MakeLabel()
	if err != nil {
		t.Fatal(err)
	}
	layout, err := sheetprint.NewLayout(1, "eu-clp", "en", 1)
	if err != nil {
		t.Fatal(err)
	}
	printed, err := sheetprint.PrintLabel(label, "en", layout)
	if err == nil {
		err = os.WriteFile(photo, printed, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	out := ran(t, exitFindings, []string{"label", file, "--photo", photo}, "read on label", "[at ")
	if !strings.Contains(out, "H317") {
		t.Errorf("the statements of the label are not shown:\n%s", out)
	}
	ran(t, exitFailed, []string{"label", file, "--photo", photo, "--label", photo}, "give one of them")
	ran(t, exitFailed, []string{"label", file, "--photo", filepath.Join(dir, "none.png")}, "cannot be opened")
}

// A fifth of benzyl alcohol is no "no VOC"; "food safe" needs a test; a text that claims nothing finds nothing.
func TestClaims(t *testing.T) {
	dir := bench(t, "brinequick")
	file, text := filepath.Join(dir, "brinequick.pdf"), filepath.Join(dir, "leaflet.txt")
	if err := os.WriteFile(text, []byte("No VOC. Food safe once cured!"), 0o644); err != nil {
		t.Fatal(err)
	}
	ran(t, exitFindings, []string{"claims", file, text}, "CONTRADICTED: “no voc”", "NEEDS A TEST REPORT: “food safe”", "246 g/l")
	ran(t, exitFindings, []string{"claims", file, "--says", "no VOC, really"}, "CONTRADICTED: “no voc”")
	ran(t, exitNone, []string{"claims", file, "--says", "Comes in a blue tin."}, "None of the claims")
	ran(t, exitFailed, []string{"claims", file}, "--says")
	ran(t, exitFailed, []string{"claims", file, file}, "plain text")
}

// The letter asks in the language that is wanted, on a page when asked for, and asks nothing when all is overruled.
func TestLetter(t *testing.T) {
	dir := bench(t, "brinequick")
	file, page := filepath.Join(dir, "brinequick.pdf"), filepath.Join(dir, "letter.html")
	for lang, want := range map[string]string{"en": "Dear Sir or Madam", "fr": "Madame, Monsieur", "de": "Sehr geehrte", "es": "Estimados"} {
		ran(t, exitNone, []string{"letter", file, "--lang", lang}, want, "Oxwrack Marine Supply", "H317")
	}
	ran(t, exitNone, []string{"letter", file, "--html", page}, "letter written")
	if raw, err := os.ReadFile(page); err != nil || !strings.Contains(string(raw), "<li>") || !strings.Contains(string(raw), `lang="en"`) {
		t.Errorf("%v: %s", err, raw)
	}
	ran(t, exitFailed, []string{"letter", file, "--lang", "la"}, "choose one of")
}

// The newer hardener warns of less although nothing in it changed: the older papers stay until the supplier answers.
func TestRevise(t *testing.T) {
	dir := bench(t, "murrelam-b")
	before, now := filepath.Join(dir, "murrelam-b-before.pdf"), filepath.Join(dir, "murrelam-b.pdf")
	ran(t, exitFindings, []string{"revise", before, now}, "MILDER (lasting harm): classification", "Skin corrosion, category 1B", "labels on jars and shelves", "keep the older, stricter papers")
	ran(t, exitFindings, []string{"revise", now, before}, "STERNER", "swap them?")
	ran(t, exitNone, []string{"revise", now, now}, "Nothing that was compared changed in meaning")
	var paper struct {
		Papers  []string
		Changes []struct{ Direction string }
	}
	if err := json.Unmarshal([]byte(ran(t, exitFindings, []string{"revise", "--json", before, now})), &paper); err != nil || len(paper.Papers) == 0 || len(paper.Changes) < 2 {
		t.Errorf("json %v: %+v", err, paper)
	}
	ran(t, exitFailed, []string{"revise", before, filepath.Join(dir, "absent.pdf")}, "absent.pdf")
}

// An overruled finding is shown with its reason, asks the supplier nothing, and stands again when it is taken back.
func TestOverrule(t *testing.T) {
	file := filepath.Join(bench(t, "brinequick"), "brinequick.pdf")
	out := ran(t, exitFindings, []string{"check", file}, "CONTRADICTION")
	id := regexp.MustCompile(`sensitiser-hidden-[0-9a-f]{10}`).FindString(out)
	ran(t, exitFailed, []string{"overrule", file, id, "--who", "Ilse"}, "why")
	ran(t, exitFailed, []string{"overrule", file, "sum-over-100-0000000000", "--who", "Ilse", "--why", "x"}, "has no finding", id)
	ran(t, exitNone, []string{"overrule", file, id, "--who", "Ilse", "--why", "tested by the supplier"}, id)
	ran(t, exitNone, []string{"overrule", file}, id, "Ilse", "tested by the supplier")
	if _, out, _ := runCommand(t, "check", file); strings.Contains(out, "CONTRADICTION") || !strings.Contains(out, "OVERRULED contradiction") {
		t.Errorf("check shows %s", out)
	}
	ran(t, exitNone, []string{"overrule", "--undo", file, id}, "stands again")
	ran(t, exitFindings, []string{"check", file}, "CONTRADICTION")
	ran(t, exitFailed, []string{"overrule", "--undo", file, id}, "nothing to take back")
}

// A corrected fact is read and judged as corrected, beside the value as read, until it is taken back.
func TestCorrect(t *testing.T) {
	file := filepath.Join(bench(t, "brinequick"), "brinequick.pdf")
	const path = "hazards.signal_word"
	ran(t, exitNone, []string{"correct", file}, path, "identification.product_name")
	ran(t, exitNone, []string{"correct", file, path}, `"Warning"`)
	ran(t, exitFailed, []string{"correct", file, path, "Danger"}, "why")
	ran(t, exitFailed, []string{"correct", file, path, "Hooray", "--why", "x"}, "Hooray")
	ran(t, exitFailed, []string{"correct", file, "hazards.mood", "x", "--why", "x"}, "no such fact")
	ran(t, exitNone, []string{"correct", file, path, "Danger", "--who", "Ilse", "--why", "blurred"}, "corrected")
	ran(t, exitNone, []string{"read", "--json", file}, `"corrections":[{"who":"Ilse"`, `"why":"blurred"`)
	ran(t, exitFindings, []string{"check", file}, "signal word Danger")
	ran(t, exitNone, []string{"correct", "--undo", file, path}, "as it was")
	ran(t, exitFindings, []string{"check", file}, "signal word Warning")
	ran(t, exitFailed, []string{"correct", "--undo", file, path}, "nothing to take back")
}
