package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
)

type casesCmd struct {
	File string `arg:"" help:"File of worked examples (JSON)." type:"existingfile"`
	JSON bool   `help:"Print the results as JSON."`
	Only string `help:"Run only the cases whose id contains this text."`
}

// outcome of one case.
type verdict string

const (
	pass       verdict = "pass"
	differs    verdict = "differs"
	notCovered verdict = "not covered"
)

// result is what came of one case.
type result struct {
	ID      string   `json:"id"`
	RuleSet string   `json:"ruleset,omitempty"`
	Verdict verdict  `json:"verdict"`
	Lines   []string `json:"lines,omitempty"` // what was found, number by number
}

// report is the results of one file.
type report struct {
	File       string   `json:"file"`
	Results    []result `json:"results"`
	Passed     int      `json:"passed"`
	Differing  int      `json:"differing"`
	NotCovered int      `json:"not_covered"`
}

// Run reads the file, runs its cases and prints what came of them.
func (c *casesCmd) Run(s *streams) error {
	data, err := os.ReadFile(c.File)
	if err != nil {
		return err
	}
	rep, err := runCases(data, c.Only)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	rep.File = c.File
	if c.JSON {
		enc := json.NewEncoder(s.out)
		enc.SetIndent("", " ")
		err = enc.Encode(rep)
	} else {
		err = rep.print(s.out)
	}
	if err != nil {
		return err
	}
	if rep.Differing+rep.NotCovered > 0 {
		return errDiffers
	}
	return nil
}

// caseFile is the head of a file of worked examples. The cases are read one by one, so that a mistake in one names it.
type caseFile struct {
	Schema     json.RawMessage   `json:"schema"`
	About      json.RawMessage   `json:"about"`
	Fields     json.RawMessage   `json:"fields"`
	Classes    json.RawMessage   `json:"classes"`
	ATE        json.RawMessage   `json:"ate"`
	Tolerance  json.RawMessage   `json:"tolerance"`
	MemoryRule json.RawMessage   `json:"memory_rule"`
	Note       json.RawMessage   `json:"note"`
	Count      *int              `json:"count"`
	Cases      []json.RawMessage `json:"cases"`
}

func runCases(data []byte, only string) (*report, error) {
	var f caseFile
	if err := strict(data, &f); err != nil {
		return nil, err
	}
	if len(f.Cases) == 0 {
		return nil, fmt.Errorf("the file holds no cases: it needs a list named \"cases\"")
	}
	if f.Count != nil && *f.Count != len(f.Cases) {
		return nil, fmt.Errorf("the file says that it holds %d cases but holds %d", *f.Count, len(f.Cases))
	}
	rep := &report{}
	for i, raw := range f.Cases {
		var head struct {
			ID    string          `json:"id"`
			Topic json.RawMessage `json:"topic"`
		}
		if err := json.Unmarshal(raw, &head); err != nil {
			return nil, fmt.Errorf("case %d: %w", i+1, err)
		}
		if !strings.Contains(head.ID, only) {
			continue
		}
		r, err := runCase(raw, head.Topic != nil)
		if err != nil {
			return nil, fmt.Errorf("case %d (%s): %w", i+1, head.ID, err)
		}
		rep.add(r)
	}
	return rep, nil
}

func runCase(raw json.RawMessage, exposure bool) (result, error) {
	if exposure {
		var c exposureCase
		if err := strict(raw, &c); err != nil {
			return result{}, err
		}
		return c.run()
	}
	var c classCase
	if err := strict(raw, &c); err != nil {
		return result{}, err
	}
	return c.run()
}

// strict reads JSON and refuses fields that it does not know.
func strict(data []byte, into any) error {
	dec := json.NewDecoder(strings.NewReader(string(data)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil {
		return fmt.Errorf("%s", strings.TrimPrefix(err.Error(), "json: "))
	}
	return nil
}

func (r *report) add(one result) {
	r.Results = append(r.Results, one)
	switch one.Verdict {
	case pass:
		r.Passed++
	case differs:
		r.Differing++
	default:
		r.NotCovered++
	}
}

func (r *report) print(w io.Writer) error {
	for _, one := range r.Results {
		if _, err := fmt.Fprintf(w, "%-12s %s (%s)\n", one.Verdict, one.ID, one.RuleSet); err != nil {
			return err
		}
		for _, l := range one.Lines {
			fmt.Fprintf(w, "             %s\n", l)
		}
	}
	_, err := fmt.Fprintf(w, "\n%d cases: %d pass, %d differ, %d not covered\n", len(r.Results), r.Passed, r.Differing, r.NotCovered)
	return err
}
