// Command score measures sixteen against files of worked examples.
//
//	score cases FILE.json      classify each case and compare with its expected answer
//	score sheets DIR           read each NNN.pdf and compare its facts with NNN.json
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/alecthomas/kong"
)

// errDiffers is returned when the measurement ran and some cases did not pass: exit status 1 without a message.
var errDiffers = errors.New("some cases differ or are not covered")

// streams are where a command writes.
type streams struct{ out io.Writer }

type cli struct {
	Cases  casesCmd  `cmd:"" help:"Compare classifications with a file of worked examples."`
	Sheets sheetsCmd `cmd:"" help:"Read a folder of sheets and compare with their records, field by field."`
}

func main() {
	var c cli
	k := kong.Parse(&c, kong.Name("score"), kong.Description("Measure sixteen against worked examples."), kong.UsageOnError())
	err := k.Run(&streams{out: os.Stdout})
	if errors.Is(err, errDiffers) {
		os.Exit(1)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "score:", err)
		os.Exit(2)
	}
}
