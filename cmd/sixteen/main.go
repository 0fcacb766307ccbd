// Command sixteen reads safety data sheets, checks whether they can be believed, and says what to do next.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/alecthomas/kong"

	"sixteen/ghs"
	"sixteen/shelf"
)

// Exit statuses, the same for every command.
const (
	exitNone     = 0 // done, nothing found
	exitFindings = 1 // done, and there are findings
	exitFailed   = 2 // could not be read or done
)

// errFindings ends a command that worked and found something.
var errFindings = errors.New("there are findings")

// commands is the command line; each command is one file.
type commands struct {
	At shelfFlags `embed:""`

	Demo      demoCommand      `cmd:"" help:"Write the demo workshop, judge its sheets, and show them as pages on this machine."`
	Read      readCommand      `cmd:"" help:"Print the facts of safety data sheets, sections 2, 8 and 11 first."`
	Check     checkCommand     `cmd:"" help:"Say what in a sheet cannot be true, is missing, may be true, or is worth knowing."`
	Plain     plainCommand     `cmd:"" help:"Half a page for somebody who has never read a sheet: what it can do, what to wear, what is not known."`
	Label     labelCommand     `cmd:"" help:"Compare what stands on the tin with its sheet."`
	Claims    claimsCommand    `cmd:"" help:"Judge sales claims by the sheet."`
	Letter    letterCommand    `cmd:"" help:"Write the letter that asks the supplier about the findings, in four languages."`
	Print     printCommand     `cmd:"" help:"Print labels, bench cards, letters, the register, plans and comparisons as PDF, HTML or DOCX."`
	Revise    reviseCommand    `cmd:"" help:"Say what a new revision changes in meaning, and which papers are now wrong."`
	Overrule  overruleCommand  `cmd:"" help:"Decide that a finding does not apply, with a reason that is kept and shown; list them; take one back."`
	Correct   correctCommand   `cmd:"" help:"Correct a fact that was read wrongly, with a reason that is kept beside it; list the facts; take one back."`
	Shelf     shelfCommand     `cmd:"" help:"The register of a workshop: products, sheets, places, questions, backup."`
	Serve     serveCommand     `cmd:"" help:"Show sheets as pages on this machine; drop further ones there."`
	Work      workCommand      `cmd:"" help:"Read what waits on a shelf, without pages: for further machines that share one."`
	User      userCommand      `cmd:"" help:"Users of a shelf that others than this machine reach: open, list and close accounts, tokens of programs."`
	Substance substanceCommand `cmd:"" help:"Print what is known of one substance, by CAS number, EC number or name."`
	Classify  classifyCommand  `cmd:"" help:"Classify your own recipe under one or several rule sets."`
	Kit       kitCommand       `cmd:"" help:"Classify a product in parts: each part, and the fresh mix at its ratio."`
	Blend     blendCommand     `cmd:"" help:"Your own product from its recipe: classes, label, a drafted sheet in four languages, and what to change to reach a target."`
	Plan      planCommand      `cmd:"" help:"Plan a job: what gets into the air, whom it reaches, how hot the mix becomes, what to do and wear."`
	Compare   compareCommand   `cmd:"" help:"Compare products that would do one job, on axes that are kept apart."`
	Tables    tablesCommand    `cmd:"" help:"Import your own copy of an official table, list what was imported, take it back."`
	LabelRead labelReadCommand `cmd:"" help:"Print what stands on a label, from a photograph or a PDF of it."`
	Doctor    doctorCommand    `cmd:"" help:"Say what this machine lacks for the work, and how to get it."`
	Version   versionCommand   `cmd:"" help:"Print the version."`
}

// shelfFlags say which shelf a command works with.
type shelfFlags struct {
	Shelf     string `name:"shelf" env:"SIXTEEN_SHELF" placeholder:"FILE" help:"The shelf: its SQLite file, or postgres://… ; your own when not given."`
	Documents string `name:"documents" env:"SIXTEEN_DOCUMENTS" placeholder:"FOLDER" help:"Where the shelf's documents are: a folder, or s3://… ; beside the SQLite file when not given."`
}

// streams are the channels a command talks through, and the shelf it works with.
type streams struct {
	in       io.Reader
	out, err io.Writer
	shelf    shelf.Options
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
}

// run executes one command line and returns the exit status.
func run(ctx context.Context, args []string, io streams) int {
	var c commands
	exited := -1
	parser, err := kong.New(&c,
		kong.Name("sixteen"),
		kong.Description("Reads safety data sheets, checks whether they can be believed, and says what to do next. Works without a connection; documents stay on this machine."),
		kong.Writers(io.out, io.err),
		kong.Exit(func(code int) { exited = code }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Vars{"rulesets": ruleSetNames()},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	)
	if err != nil {
		fmt.Fprintln(io.err, "sixteen:", err)
		return exitFailed
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	k, err := parser.Parse(args)
	if exited >= 0 {
		return exited
	}
	if err != nil {
		fmt.Fprintf(io.err, "sixteen: %v\nsixteen: see 'sixteen --help'\n", err)
		return exitFailed
	}
	io.shelf = shelf.Options{URL: c.At.Shelf, Documents: c.At.Documents, Desk: shelfDesk(io)}
	k.Bind(io)
	switch err := k.Run(); {
	case err == nil:
		return exitNone
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(io.err, "sixteen: stopped")
		return exitFailed
	default:
		if !errors.Is(err, errSaid) {
			fmt.Fprintln(io.err, "sixteen:", err)
		}
		return exitFailed
	}
}

// ruleSetNames lists the rule sets for the help.
func ruleSetNames() string {
	var names []string
	for _, rs := range ghs.RuleSets() {
		names = append(names, string(rs))
	}
	return strings.Join(names, ", ")
}

// errSaid ends a command that failed and has already said why.
var errSaid = errors.New("already said")

type versionCommand struct{}

// Run prints the version that the build recorded.
func (versionCommand) Run(io streams) error {
	_, err := fmt.Fprintln(io.out, versionWords())
	return err
}

// released is the version of a release, set by its build (-ldflags "-X main.released=v1.2.3"); "" in other builds.
var released string

// versionWords is the program's name with its version and the commit it was built from, as far as the build recorded them.
func versionWords() string {
	version, revision := "unreleased", ""
	if info, ok := debug.ReadBuildInfo(); ok {
		if info.Main.Version != "" && info.Main.Version != "(devel)" {
			version = info.Main.Version
		}
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				revision = " " + s.Value
			}
		}
	}
	if released != "" {
		version = released
	}
	return "sixteen " + version + revision
}
