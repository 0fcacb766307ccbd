// Command generate writes invented safety data sheets with their truth records, to measure the reader on.
package main

import (
	"fmt"

	"github.com/alecthomas/kong"

	"sixteen/demo"
	"sixteen/ghs"
)

type options struct {
	Dir    string `arg:"" help:"Folder to write NNN.pdf and NNN.json into."`
	N      int    `short:"n" default:"64" help:"How many sheets."`
	Seed   uint64 `default:"1" help:"The same seed gives the same sheets."`
	Lang   string `help:"Only this language: en, fr, de, es."`
	Layout int    `help:"Only this layout family, from 1."`
	Scan   bool   `help:"As pictures of pages, slightly askew and grey, without text."`
	Rules  string `help:"Only this rule set: us-hcs-2024, eu-clp, ca-hpr."`
}

func main() {
	var o options
	k := kong.Parse(&o, kong.Name("generate"), kong.Description("Writes invented safety data sheets with their truth records."))
	err := demo.WriteGenerated(o.Dir, demo.Generated{N: o.N, Seed: o.Seed, Lang: ghs.Lang(o.Lang), Layout: o.Layout, Rules: ghs.RuleSet(o.Rules), Scan: o.Scan})
	k.FatalIfErrorf(err)
	fmt.Printf("%d sheets written to %s\n", o.N, o.Dir)
}
