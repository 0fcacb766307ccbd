package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"sixteen/exposure"
	"sixteen/judge"
	"sixteen/plan"
	"sixteen/substance"
)

type planCommand struct {
	Job         string  `arg:"" optional:"" help:"Job file (YAML). See --example for one that names every field, --ask to be asked."`
	Example     bool    `help:"Print a commented example of a job file and end."`
	Ask         bool    `help:"Ask questions in the terminal, write the answers to the job file, and plan it."`
	JSON        bool    `help:"Print the whole plan as JSON."`
	HTML        string  `help:"Write the plan with its charts as one page to this file." placeholder:"FILE" type:"path"`
	Rules       string  `help:"Rule set the products are judged by: ${rulesets}. Without it that of the job, or of the place whose limits count."`
	Limits      string  `help:"Whose exposure limits count, in place of the job's: us, us-ca, ca-on, eu, gb, de." placeholder:"PLACE"`
	Respirators string  `help:"Whose respirators and filters: US or EN." enum:",US,EN" default:""`
	Samples     int     `help:"Draws from the ranges, for percentiles and chances; 0 for none." default:"2000"`
	Seed        uint64  `help:"Seed of the draws; the same seed gives the same figures." default:"1"`
	Fraction    float64 `help:"Share of the limits that the needed ventilation keeps." default:"0.5"`
}

// Run plans the job, or prints the example, or asks first.
func (c *planCommand) Run(ctx context.Context, io streams) error {
	if c.Example {
		_, err := io.out.Write(exposure.ExampleYAML())
		return err
	}
	if c.Samples < 0 || c.Samples > 1_000_000 {
		return fmt.Errorf("--samples is %d: give 0 to 1000000", c.Samples)
	}
	if !(c.Fraction > 0 && c.Fraction <= 1) {
		return fmt.Errorf("--fraction is %g: give a share of the limits above 0 and up to 1", c.Fraction)
	}
	if c.Ask {
		if err := c.ask(ctx, os.Stdin, io); err != nil {
			return err
		}
	}
	if c.Job == "" {
		return fmt.Errorf("name a job file, or use --ask to be asked, or --example to see one")
	}
	job, err := c.read()
	if err != nil {
		return err
	}
	p, err := c.make(ctx, io, job)
	if err != nil {
		return err
	}
	if err := c.show(io, p); err != nil {
		return err
	}
	if p.Partial {
		fmt.Fprintln(io.err, "sixteen: stopped before the end; the answer is partial and says so")
		return errSaid
	}
	return nil
}

// read reads the job file and lays the flags over it.
func (c *planCommand) read() (*exposure.Job, error) {
	raw, err := readFile(c.Job)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Job, err)
	}
	job, err := exposure.ParseJob(raw)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Job, err)
	}
	rules, err := parseRules(c.Rules)
	if err != nil {
		return nil, err
	}
	if rules != "" {
		job.Rules = rules
	}
	if c.Limits != "" {
		job.Jurisdiction = substance.Jurisdiction(c.Limits)
	}
	if c.Respirators != "" {
		job.Respirators = c.Respirators
	}
	return job, nil
}

// make plans the job with the desk for the files it names. The desk is only opened when there are any.
func (c *planCommand) make(ctx context.Context, io streams, job *exposure.Job) (*plan.Plan, error) {
	opt := plan.Options{Exposure: exposure.Options{Samples: c.Samples, Seed: c.Seed, Fraction: c.Fraction, Progress: progress(io, "draws from the ranges")}}
	table, err := judge.Substances()
	if err != nil {
		return nil, err
	}
	if namesFiles(job) {
		desk, err := openDesk(ctx, io)
		if err != nil {
			return nil, err
		}
		defer desk.Close()
		opt.Source = plan.Files{Desk: desk, Dir: filepath.Dir(c.Job)}
	}
	return plan.Make(ctx, job, table, opt)
}

func namesFiles(job *exposure.Job) bool {
	return slices.ContainsFunc(job.Products, func(p exposure.Product) bool {
		return p.File != "" || slices.ContainsFunc(p.Parts, func(part exposure.Part) bool { return part.File != "" })
	})
}

// progress tells on the error stream how far a long run is.
func progress(io streams, what string) func(done, of int) {
	return func(done, of int) {
		if of >= 5000 && done%5000 == 0 {
			fmt.Fprintf(io.err, "sixteen: %d of %d %s\n", done, of, what)
		}
	}
}

func (c *planCommand) show(streams streams, p *plan.Plan) error {
	if c.HTML != "" {
		if err := writeWhole(c.HTML, p.WriteHTML); err != nil {
			return fmt.Errorf("the page cannot be written: %w", err)
		}
		fmt.Fprintf(streams.err, "sixteen: plan written to %s\n", c.HTML)
	}
	switch {
	case c.JSON:
		return p.WriteJSON(streams.out)
	case c.HTML == "":
		return p.WriteText(streams.out)
	}
	return nil
}
