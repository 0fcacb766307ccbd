package main

import (
	"context"
	"fmt"

	"sixteen/paper"
)

type printPlan struct {
	output
	paged
	Job     string `arg:"" help:"Job file (YAML), as for sixteen plan."`
	Rules   string `help:"Rule set the products are judged by: ${rulesets}. Without it that of the job."`
	Samples int    `help:"Draws from the ranges, for percentiles and chances; 0 for none." default:"2000"`
	Link    string `help:"Address that the QR code leads to." placeholder:"ADDRESS"`
}

// Run prints the plan of a job.
func (c *printPlan) Run(ctx context.Context, streams streams) error {
	date, err := c.date()
	if err != nil {
		return err
	}
	if c.Samples < 0 || c.Samples > 1_000_000 {
		return fmt.Errorf("--samples is %d: give 0 to 1000000", c.Samples)
	}
	made := planCommand{Job: c.Job, Rules: c.Rules, Samples: c.Samples, Seed: 1, Fraction: 0.5}
	job, err := made.read()
	if err != nil {
		return err
	}
	p, err := made.make(ctx, streams, job)
	if err != nil {
		return err
	}
	d, err := paper.JobPlan(p, paper.PaperOptions{Date: date, Page: c.size(), Link: c.Link})
	if err != nil {
		return err
	}
	return c.write(streams, "plan", c.Job, d.Write)
}

type printCompare struct {
	output
	paged
	Products  []string `arg:"" name:"product" help:"Products, as for sixteen compare."`
	Job       string   `help:"Job file in which each product stands in for the one the job uses." placeholder:"FILE"`
	InsteadOf string   `help:"Which product of the job they stand in for, when it uses several." placeholder:"NAME"`
	Rules     string   `help:"Rule set all products are judged by: ${rulesets}. Without it that of the job, or the UN model rules."`
}

// Run prints the comparison.
func (c *printCompare) Run(ctx context.Context, streams streams) error {
	date, err := c.date()
	if err != nil {
		return err
	}
	made, err := (&compareCommand{Products: c.Products, Job: c.Job, InsteadOf: c.InsteadOf, Rules: c.Rules}).make(ctx, streams)
	if err != nil {
		return err
	}
	return c.write(streams, "comparison", "products", paper.Comparison(made, paper.PaperOptions{Date: date, Page: c.size()}).Write)
}
