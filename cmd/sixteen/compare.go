package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"sixteen/compare"
	"sixteen/exposure"
	"sixteen/plan"
)

type compareCommand struct {
	Products  []string `arg:"" name:"product" help:"Products: sheets (PDF, text), recipes (.json, .csv, .xlsx), or kits and inline products (.yaml, written as under products of a job)."`
	Job       string   `help:"Job file in which each product stands in for the one the job uses." placeholder:"FILE"`
	InsteadOf string   `help:"Which product of the job they stand in for, when it uses several." placeholder:"NAME"`
	Rules     string   `help:"Rule set all products are judged by: ${rulesets}. Without it that of the job, or the UN model rules."`
	Samples   int      `help:"Draws from the ranges for each product; 0 for none." default:"0"`
	JSON      bool     `help:"Print everything as JSON."`
	HTML      string   `help:"Write the comparison as one page to this file." placeholder:"FILE" type:"path"`
}

// Run compares the products on every axis.
func (c *compareCommand) Run(ctx context.Context, io streams) error {
	made, err := c.make(ctx, io)
	if err != nil {
		return err
	}
	return c.show(io, made)
}

// make reads the products and compares them.
func (c *compareCommand) make(ctx context.Context, io streams) (*compare.Comparison, error) {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return nil, err
	}
	req := compare.Request{Rules: rules, Role: c.InsteadOf}
	dir := "."
	if c.Job != "" {
		p := planCommand{Job: c.Job, Rules: c.Rules}
		if req.Job, err = p.read(); err != nil {
			return nil, err
		}
		dir = filepath.Dir(c.Job)
		if err := absolute(dir, req.Job.Products); err != nil {
			return nil, err
		}
	}
	for _, file := range c.Products {
		p, err := candidate(file)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		req.Products = append(req.Products, p)
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return nil, err
	}
	defer desk.Close()
	req.Options = plan.Options{Source: plan.Files{Desk: desk}, Exposure: exposure.Options{Samples: c.Samples, Seed: 1, Progress: progress(io, "draws from the ranges")}}
	return compare.Make(ctx, req, desk.Substances())
}

// candidate is a product by its file; a YAML file holds a product as a job writes it, with names relative to itself.
func candidate(file string) (exposure.Product, error) {
	if ext := strings.ToLower(filepath.Ext(file)); ext != ".yaml" && ext != ".yml" {
		abs, err := filepath.Abs(file)
		return exposure.Product{File: abs}, err
	}
	raw, err := readFile(file)
	if err != nil {
		return exposure.Product{}, err
	}
	p, err := plan.ParseProduct(raw)
	if err != nil {
		return p, err
	}
	one := []exposure.Product{p}
	err = absolute(filepath.Dir(file), one)
	return one[0], err
}

// absolute turns the file names of products, relative to dir, into absolute ones.
func absolute(dir string, products []exposure.Product) error {
	var failed error
	turn := func(name string) string {
		if name == "" || filepath.IsAbs(name) {
			return name
		}
		abs, err := filepath.Abs(filepath.Join(dir, name))
		if err != nil {
			failed = err
		}
		return abs
	}
	for i := range products {
		products[i].File = turn(products[i].File)
		products[i].Parts = slices.Clone(products[i].Parts)
		for k := range products[i].Parts {
			products[i].Parts[k].File = turn(products[i].Parts[k].File)
		}
	}
	return failed
}

func (c *compareCommand) show(streams streams, made *compare.Comparison) error {
	if c.HTML != "" {
		if err := writeWhole(c.HTML, made.WriteHTML); err != nil {
			return fmt.Errorf("the page cannot be written: %w", err)
		}
		fmt.Fprintf(streams.err, "sixteen: comparison written to %s\n", c.HTML)
	}
	switch {
	case c.JSON:
		if err := made.WriteJSON(streams.out); err != nil {
			return err
		}
	case c.HTML == "":
		if err := made.WriteText(streams.out); err != nil {
			return err
		}
	}
	if made.Partial {
		fmt.Fprintln(streams.err, "sixteen: stopped before the end; the answer is partial and says so")
		return errSaid
	}
	return nil
}
