package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"sixteen/demo"
)

// How many sheets are measured: scans take seconds a page. The scans are of a seed that the reader was not tuned on.
const (
	textSheets = 320
	scanSheets = 24
)

// fieldGoal is the least F1 that is aimed at for fields on text sheets; scans may lie 0.05 lower.
type fieldGoal struct {
	name   string
	fields []string
	least  float64
}

var fieldGoals = []fieldGoal{
	{"sections", []string{"sections"}, 0.99},
	{"signal word", []string{"signal_word"}, 0.99},
	{"H codes", []string{"h_codes"}, 0.98},
	{"pictograms", []string{"pictograms"}, 0.97},
	{"CAS and range", []string{"cas_and_range"}, 0.96},
	{"exposure limits", []string{"exposure_limits"}, 0.93},
	{"physical data", []string{"flash_point_c", "boiling_point_c", "density", "vapour_pressure", "ph", "voc", "auto_ignition_c", "kinematic_viscosity", "dynamic_viscosity", "lower_flammable", "upper_flammable"}, 0.95},
	{"transport", []string{"un_number", "transport_class", "packing_group"}, 0.95},
	{"dates", []string{"revision_date", "supersedes_date"}, 0.97},
}

const scanAllowance = 0.05

// measured is what the scoring command says of one folder.
type measured struct {
	Fields []struct {
		Field                string
		Right, Extra, Missed int
		Precision, Recall    float64
		F1                   float64 `json:"f1"`
		Sheets               int
	} `json:"fields"`
	Calibration []struct {
		From, Confidence, Right float64
		Values                  int
	} `json:"calibration"`
	Pages   int     `json:"pages"`
	Seconds float64 `json:"seconds"`
}

// reading prints the reader's accuracy per field on generated sheets, as text and as scans, what its confidence is worth,
// and which pictogram is taken for which.
func reading(ctx context.Context) error {
	text, err := measure(ctx, demo.Generated{N: textSheets, Seed: 11})
	if err != nil {
		return err
	}
	scans, err := measure(ctx, demo.Generated{N: scanSheets, Seed: 501, Scan: true})
	if err != nil {
		return err
	}
	fmt.Printf("## Text against goals, and scans\n\n%d generated text sheets (%d pages, %.0f s) and %d scans (%d pages, %.0f s); F1, n values in the records.\n\n",
		textSheets, text.Pages, text.Seconds, scanSheets, scans.Pages, scans.Seconds)
	row("field", "text", "n", "goal", "scan", "n", "goal")
	row("---", "---:", "---:", "---:", "---:", "---:", "---:")
	for _, g := range fieldGoals {
		a, n := text.f1(g.fields)
		b, m := scans.f1(g.fields)
		row(g.name, against(a, g.least), fmt.Sprint(n), fmt.Sprintf("%.2f", g.least), against(b, g.least-scanAllowance), fmt.Sprint(m), fmt.Sprintf("%.2f", g.least-scanAllowance))
	}
	text.print("Text sheets, every field")
	scans.print("Scans, every field")
	fmt.Print("\n## What a confidence is worth\n\nFacts by the confidence that they are read with, and the share of them that agrees with the record.\n\n")
	row("sheets", "confidence from", "values", "mean confidence", "right")
	row("---", "---:", "---:", "---:", "---:")
	for _, of := range []struct {
		name string
		m    measured
	}{{"text", text}, {"scan", scans}} {
		for _, c := range of.m.Calibration {
			row(of.name, fmt.Sprintf("%.2f", c.From), fmt.Sprint(c.Values), fmt.Sprintf("%.3f", c.Confidence), fmt.Sprintf("%.3f", c.Right))
		}
	}
	return confusion(ctx)
}

// against is a figure beside its goal: one that is missed is set in bold.
func against(f1, goal float64) string {
	if f1 < goal {
		return fmt.Sprintf("**%.3f**", f1)
	}
	return fmt.Sprintf("%.3f", f1)
}

// f1 puts fields together.
func (m measured) f1(fields []string) (f1 float64, n int) {
	right, wrong := 0, 0
	for _, f := range m.Fields {
		for _, name := range fields {
			if f.Field == name {
				right, wrong, n = right+f.Right, wrong+f.Extra+f.Missed, n+f.Right+f.Missed
			}
		}
	}
	if right+wrong == 0 {
		return 1, 0
	}
	return float64(2*right) / float64(2*right+wrong), n
}

func (m measured) print(title string) {
	fmt.Printf("\n## %s\n\n", title)
	row("field", "precision", "recall", "F1", "right", "extra", "missed", "sheets")
	row("---", "---:", "---:", "---:", "---:", "---:", "---:", "---:")
	for _, f := range m.Fields {
		row(f.Field, fmt.Sprintf("%.3f", f.Precision), fmt.Sprintf("%.3f", f.Recall), fmt.Sprintf("%.3f", f.F1), fmt.Sprint(f.Right), fmt.Sprint(f.Extra), fmt.Sprint(f.Missed), fmt.Sprint(f.Sheets))
	}
}

// measure generates sheets and scores the reader on them, by the same command that measures any folder.
func measure(ctx context.Context, g demo.Generated) (measured, error) {
	var m measured
	dir, err := os.MkdirTemp("", "sixteen-reading-")
	if err != nil {
		return m, err
	}
	defer os.RemoveAll(dir)
	if err := demo.WriteGenerated(dir, g); err != nil {
		return m, err
	}
	cmd := exec.CommandContext(ctx, "go", "run", "./cmd/score", "sheets", dir, "--json")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return m, fmt.Errorf("score: %w", err)
	}
	if err := json.Unmarshal(out, &m); err != nil {
		return m, fmt.Errorf("score: %w", err)
	}
	if len(m.Fields) == 0 {
		return m, fmt.Errorf("score measured no field")
	}
	return m, nil
}

// confusion prints which pictogram is taken for which; the test that measures it holds the pictures.
func confusion(ctx context.Context) error {
	fmt.Print("\n## Pictograms shown and read\n\nGenerated variations: 60 to 600 dots per inch, turned by −8 to 4 degrees, colour and grey, noise, seen from the side.\n\n")
	out, err := exec.CommandContext(ctx, "go", "test", "./read/picture", "-run", "^TestConfusion$", "-v", "-count=1").CombinedOutput()
	if err != nil {
		return fmt.Errorf("go test ./read/picture: %w: %s", err, out)
	}
	rows := 0
	for _, line := range strings.Split(string(bytes.TrimSpace(out)), "\n") {
		_, said, _ := strings.Cut(line, ".go:")
		_, said, _ = strings.Cut(said, ": ")
		switch {
		case strings.HasPrefix(said, "|"):
			fmt.Println(said)
			if rows++; rows == 1 {
				fmt.Println("|---|" + strings.Repeat("---:|", strings.Count(said, "|")-2))
			}
		case strings.Contains(said, "taken for another"):
			fmt.Printf("\n%s\n", said)
		}
	}
	if rows == 0 {
		return fmt.Errorf("go test ./read/picture printed no table: %s", out)
	}
	return nil
}
