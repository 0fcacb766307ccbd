package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// writeRecipe writes a recipe of a thinner for the plans of these tests.
func writeRecipe(t *testing.T, dir, name, cas string) string {
	t.Helper()
	file := filepath.Join(dir, name+".csv")
	if err := os.WriteFile(file, []byte("name,cas,percent\n"+name+","+cas+",100\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// The printed example is a job that can be planned, as text, JSON and page.
func TestPlanOfTheExample(t *testing.T) {
	dir := t.TempDir()
	status, example, errText := runCommand(t, "plan", "--example")
	if status != exitNone {
		t.Fatalf("status %d: %s", status, errText)
	}
	job, page := filepath.Join(dir, "job.yaml"), filepath.Join(dir, "plan.html")
	if err := os.WriteFile(job, []byte(example), 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, errText := runCommand(t, "plan", "--samples", "50", "--html", page, "--json", job)
	if status != exitNone {
		t.Fatalf("status %d: %s", status, errText)
	}
	var plan struct {
		Headline []string `json:"headline"`
		Exposure struct {
			People []struct{ Name string } `json:"people"`
		} `json:"exposure"`
	}
	if err := json.Unmarshal([]byte(out), &plan); err != nil || len(plan.Headline) == 0 || len(plan.Exposure.People) != 2 {
		t.Errorf("JSON: %v, %+v", err, plan)
	}
	html, err := os.ReadFile(page)
	if err != nil || !bytes.Contains(html, []byte("<svg")) || !bytes.Contains(html, []byte("prefers-color-scheme")) {
		t.Errorf("page: %v, %d bytes", err, len(html))
	}
	if status, out, _ = runCommand(t, "plan", "--samples", "0", "--limits", "gb", job); status != exitNone || !strings.Contains(out, "UK WEL") {
		t.Errorf("--limits gb: status %d, no UK limit in the text", status)
	}
}

// Questions answered by pressing return, a product file apart, give a job file that can be planned; a file that exists is
// not overwritten; a wrong answer is asked again.
func TestPlanAsks(t *testing.T) {
	dir := t.TempDir()
	writeRecipe(t, dir, "thinner", "123-86-4")
	c := planCommand{Job: filepath.Join(dir, "job.yaml"), Samples: 0, Fraction: 0.5}
	answers := "Wipe the mast\nmoon\nus\n\nthinner.csv\nmany\n200-300\n" + strings.Repeat("\n", 8) + "kitchen\n\n\nchild 6-11\n"
	var out, errs bytes.Buffer
	if err := c.ask(context.Background(), strings.NewReader(answers), streams{out: &out, err: &errs}); err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	for _, want := range []string{`"moon" is none of`, "a product is needed", `"many" is not a range`} {
		if !strings.Contains(errs.String(), want) {
			t.Errorf("the questions do not say %q", want)
		}
	}
	status, text, errText := runCommand(t, "plan", "--samples", "0", c.Job)
	if status != exitNone {
		t.Fatalf("status %d: %s", status, errText)
	}
	for _, want := range []string{"Wipe the mast", "thinner", "who is next door", "kitchen", "OSHA PEL"} {
		if !strings.Contains(text, want) {
			t.Errorf("the plan lacks %q", want)
		}
	}
	if err := c.ask(context.Background(), strings.NewReader(answers), streams{out: &out, err: &errs}); err == nil || !strings.Contains(err.Error(), "exists already") {
		t.Errorf("asked again over the same file: %v", err)
	}
	c.Job = filepath.Join(dir, "short.yaml")
	if err := c.ask(context.Background(), strings.NewReader("x\n"), streams{out: &out, err: &errs}); err == nil || !strings.Contains(err.Error(), "nothing was written") {
		t.Errorf("answers that end early: %v", err)
	}
	if _, err := os.Stat(c.Job); err == nil {
		t.Error("a job file was written from unfinished answers")
	}
}

// A job that cannot be planned is refused with the field's name, before anything is printed.
func TestPlanRefuses(t *testing.T) {
	dir := t.TempDir()
	_, example, _ := runCommand(t, "plan", "--example")
	for _, c := range []struct{ name, old, new, want string }{
		{"room without air", "volume_m3: 60", "volume_m3: 0", "rooms[0].volume_m3"},
		{"300 air changes", "air_changes_per_hour: [0.5, 2]", "air_changes_per_hour: 300", "rooms[0].air_changes_per_hour"},
		{"negative mass", "amount_g: 200", "amount_g: -200", "tasks[0].amount_g"},
		{"density missing", "    density_kg_m3: 980 ", "    # ", "products[0].density_kg_m3"},
		{"mistyped", "shift_hours", "shift_hour", "did you mean"},
		{"no such file", "complete: false         #", "file: absent.pdf #", "products[0]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(example, c.old, c.new, 1)
			if c.name == "density missing" {
				text = strings.Replace(text, "amount_g: [250, 350]", "amount_ml: 300", 1)
			}
			if c.name == "no such file" {
				i, k := strings.Index(text, "    ingredients:"), strings.Index(text, "  - name: Quayside casting mix")
				text = text[:i] + text[k:]
			}
			job := filepath.Join(dir, "job.yaml")
			if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			status, out, errText := runCommand(t, "plan", "--samples", "0", job)
			if status != exitFailed || out != "" || !strings.Contains(errText, c.want) {
				t.Errorf("status %d, output %q, error %q; want %q", status, out[:min(80, len(out))], errText, c.want)
			}
		})
	}
	if status, _, errText := runCommand(t, "plan"); status != exitFailed || !strings.Contains(errText, "--ask") {
		t.Errorf("no job: status %d, %q", status, errText)
	}
	if status, _, errText := runCommand(t, "plan", "--fraction", "3", "x.yaml"); status != exitFailed || !strings.Contains(errText, "--fraction") {
		t.Errorf("fraction: status %d, %q", status, errText)
	}
}

// Recipes are compared with and without a job; a kit comes from a YAML file with names relative to it.
func TestCompareRecipes(t *testing.T) {
	dir := t.TempDir()
	toluene, acetone := writeRecipe(t, dir, "toluene", "108-88-3"), writeRecipe(t, dir, "acetone", "67-64-1")
	if err := os.WriteFile(filepath.Join(dir, "kit.yaml"), []byte("name: blend\nratio: \"1:1\"\ninert: true\nparts: [{file: toluene.csv}, {file: acetone.csv}]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	job := filepath.Join(dir, "job.yaml")
	if err := os.WriteFile(job, []byte(`name: wipe
jurisdiction: us
products: [{name: wipe, file: acetone.csv, price_per_kg: 4}]
rooms: [{name: bay, volume_m3: 80, floor_m2: 30, air_changes_per_hour: 2, near_field: {radius_m: 0.8}}]
tasks: [{name: wipe, kind: clean, room: bay, start_min: 0, duration_min: 15, product: wipe, surface: film, amount_g: 200, area_m2: 1}]
people: [{name: Osei, stays: [{room: bay, near: true, from_min: 0, until_min: 30}]}]
`), 0o644); err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(dir, "comparison.html")
	status, out, errText := runCommand(t, "compare", "--job", job, "--html", page, "--json", toluene, acetone, filepath.Join(dir, "kit.yaml"))
	if status != exitNone {
		t.Fatalf("status %d: %s", status, errText)
	}
	var answer struct {
		Products []struct {
			Name string   `json:"name"`
			Cost *float64 `json:"cost_of_job"`
		} `json:"products"`
		Pairs []struct {
			TradeOff string `json:"trade_off"`
		} `json:"pairs"`
	}
	if err := json.Unmarshal([]byte(out), &answer); err != nil || len(answer.Products) != 3 || len(answer.Pairs) != 3 {
		t.Fatalf("%v: %s", err, out)
	}
	if answer.Products[2].Name != "blend" || answer.Products[1].Cost == nil || *answer.Products[1].Cost != 0.8 {
		t.Errorf("products %+v, want a blend and the acetone of the job at 0.80", answer.Products)
	}
	if _, err := os.Stat(page); err != nil {
		t.Error(err)
	}
	if status, out, _ = runCommand(t, "compare", toluene, acetone); status != exitNone || !strings.Contains(out, "not assessed without a job") {
		t.Errorf("without a job: status %d", status)
	}
	if status, _, errText = runCommand(t, "compare", toluene); status != exitFailed || !strings.Contains(errText, "at least two") {
		t.Errorf("one product: status %d, %q", status, errText)
	}
}
