package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"sixteen/exposure"
)

// question is one thing that --ask asks: what is asked, what the unit means, and the answer taken when none is given.
type question struct {
	key, asks, explains, otherwise string
	check                          func(string) error
}

// questions are asked in this order. Keys are the fields of askedJob.
func questions() []question {
	return []question{
		{"name", "What is the job called?", "", "Saturday job", anyText},
		{"jurisdiction", "Whose exposure limits count?", "us, us-ca, ca-on, eu, gb or de", "us", oneOf("us", "us-ca", "ca-on", "eu", "gb", "de")},
		{"file", "Which product? Name the file of its sheet or recipe.", "PDF, text, .json, .csv or .xlsx; relative to the folder of the job file", "", anyText},
		{"amount", "How much is used, in grams?", "a number, or a range such as 250-350; 1 litre of resin weighs about 1100 g", "500", aRange},
		{"area", "How large is the wet surface, in square metres?", "a door is about 1.6 m², a surfboard about 2.2 m² with both sides", "1", aRange},
		{"surface", "How does it lie open: film, pool, cup or spray?", "film: brushed or rolled on; pool: poured; cup: stands in an open pot", "film", oneOf("film", "pool", "cup", "spray")},
		{"transfer", "Which share of the spray lands on the work, 0 to 1?", "only for spray; docs/exposure.md lists usual shares by gun", "0.4", aRange},
		{"minutes", "How long does the work take, in minutes?", "", "45", aRange},
		{"stay", "How long does the person stay afterwards, in minutes?", "0 when they leave at once", "60", aRange},
		{"volume", "How large is the room, in cubic metres?", "length × width × height in metres; a garage is about 40 m³", "40", aRange},
		{"floor", "How large is its floor, in square metres?", "", "16", aRange},
		{"changes", "How many times an hour does fresh air replace that of the room?", "0 sealed, 0.2 to 1 closed, 2 to 10 windows open on both sides; a range will do", "0.3-1", aRange},
		{"temperature", "How warm is it, in °C?", "", "18-24", aRange},
		{"next", "What is the next room called, if somebody is in it?", "leave empty when nobody is near", "", anyText},
		{"nextvolume", "How large is the next room, in cubic metres?", "", "30", aRange},
		{"door", "How much air passes the door between them each way, in m³ a minute?", "0.2 to 1 with the door closed but not sealed, 5 to 20 open", "0.2-1", aRange},
		{"nextage", "Who is there?", "adult, child 11-16, child 6-11, child 3-6, child 1-3 or infant 6-12 months", "adult", anyAge},
	}
}

func anyText(string) error { return nil }

func aRange(s string) error {
	_, err := exposure.ParseRange(s)
	return err
}

func anyAge(s string) error {
	var names []string
	for _, a := range exposure.Ages() {
		if string(a) == s {
			return nil
		}
		names = append(names, string(a))
	}
	return fmt.Errorf("%q is no group; one of: %s", s, strings.Join(names, ", "))
}

func oneOf(words ...string) func(string) error {
	return func(s string) error {
		for _, w := range words {
			if s == w {
				return nil
			}
		}
		return fmt.Errorf("%q is none of %s", s, strings.Join(words, ", "))
	}
}

// skipped tells which questions an earlier answer makes idle.
func skipped(key string, answers map[string]string) bool {
	switch key {
	case "transfer":
		return answers["surface"] != "spray"
	case "nextvolume", "door", "nextage":
		return answers["next"] == ""
	}
	return false
}

// ask asks everything, writes the job file and says where. A job file that exists is not overwritten.
func (c *planCommand) ask(ctx context.Context, in io.Reader, streams streams) error {
	if c.Job == "" {
		c.Job = "job.yaml"
	}
	if _, err := os.Stat(c.Job); err == nil {
		return fmt.Errorf("%s exists already: name another file to write the answers to", c.Job)
	}
	answers, err := askAll(ctx, bufio.NewScanner(in), streams.err)
	if err != nil {
		return err
	}
	text := jobText(answers)
	if _, err := exposure.ParseJob([]byte(text)); err != nil {
		return err
	}
	if err := os.WriteFile(c.Job, []byte(text), 0o644); err != nil {
		return err
	}
	_, err = fmt.Fprintf(streams.err, "sixteen: answers written to %s; change it there and plan it again\n", c.Job)
	return err
}

func askAll(ctx context.Context, lines *bufio.Scanner, out io.Writer) (map[string]string, error) {
	answers := map[string]string{}
	for _, q := range questions() {
		if skipped(q.key, answers) {
			continue
		}
		for {
			fmt.Fprintf(out, "\n%s\n", q.asks)
			if q.explains != "" {
				fmt.Fprintf(out, "  (%s)\n", q.explains)
			}
			fmt.Fprintf(out, "  [%s] ", orEmpty(q.otherwise))
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			if !lines.Scan() {
				return nil, fmt.Errorf("the questions ended at %q: nothing was written", q.asks)
			}
			answer := strings.TrimSpace(lines.Text())
			if answer == "" {
				answer = q.otherwise
			}
			if q.key == "file" && answer == "" {
				fmt.Fprintln(out, "  a product is needed")
				continue
			}
			if err := q.check(answer); err != nil {
				fmt.Fprintf(out, "  %v\n", err)
				continue
			}
			answers[q.key] = answer
			break
		}
	}
	return answers, nil
}

func orEmpty(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}

// jobText is the job file of the answers, with comments.
func jobText(a map[string]string) string {
	quote := strconv.Quote
	minutes, stay := number(a["minutes"]), number(a["stay"])
	var b strings.Builder
	fmt.Fprintf(&b, "# Written by questions; times are minutes from the start. \"sixteen plan --example\" names every field.\nname: %s\njurisdiction: %s\n\n", quote(a["name"]), a["jurisdiction"])
	fmt.Fprintf(&b, "products:\n  - name: product\n    file: %s\n\n", quote(a["file"]))
	fmt.Fprintf(&b, "rooms:\n  - name: workroom\n    volume_m3: %s\n    floor_m2: %g\n    air_changes_per_hour: %s\n    temperature_c: %s\n    near_field: {radius_m: 0.8}   # the air around the work\n",
		quote(a["volume"]), number(a["floor"]), quote(a["changes"]), quote(a["temperature"]))
	if a["next"] != "" {
		fmt.Fprintf(&b, "  - name: %s\n    volume_m3: %s\n    air_changes_per_hour: 0.5\n\ndoors:\n  - {between: [workroom, %s], air_m3_min: %s}   # each way\n", quote(a["next"]), quote(a["nextvolume"]), quote(a["next"]), quote(a["door"]))
	}
	fmt.Fprintf(&b, "\ntasks:\n  - name: work\n    kind: %s\n    room: workroom\n    start_min: 0\n    duration_min: %g\n    product: product\n    surface: %s\n    amount_g: %s\n    area_m2: %s\n", kindOf(a["surface"]), minutes, a["surface"], quote(a["amount"]), quote(a["area"]))
	if a["surface"] == "spray" {
		fmt.Fprintf(&b, "    transfer_efficiency: %g\n", number(a["transfer"]))
	}
	fmt.Fprintf(&b, "\npeople:\n  - name: who works\n    stays:\n      - {room: workroom, near: true, from_min: 0, until_min: %g}\n", minutes)
	if stay > 0 {
		fmt.Fprintf(&b, "      - {room: workroom, from_min: %g, until_min: %g}\n", minutes, minutes+stay)
	}
	if a["next"] != "" {
		fmt.Fprintf(&b, "  - name: who is next door\n    age: %s\n    stays:\n      - {room: %s, from_min: 0, until_min: %g}\n", quote(a["nextage"]), quote(a["next"]), max(480, minutes+stay))
	}
	return b.String()
}

func kindOf(surface string) string {
	switch surface {
	case "spray":
		return "spray"
	case "pool":
		return "pour"
	case "cup":
		return "mix"
	}
	return "brush"
}

// number is the high end of an answered range.
func number(s string) float64 {
	r, err := exposure.ParseRange(s)
	if err != nil {
		return 0
	}
	if r.HasHi {
		return r.Hi
	}
	return r.Lo
}
