package main

import (
	"fmt"
	"os"
	"os/user"
	"strings"
	"time"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/substance"
)

// tablesCommand works on the official tables that this user has imported.
type tablesCommand struct {
	Import tablesImport `cmd:"" help:"Read your own copy of an official table (XLSX or CSV): harmonised classifications or exposure limits."`
	List   tablesList   `cmd:"" help:"List the imported tables."`
	Undo   tablesUndo   `cmd:"" help:"Take the last imported table back."`
}

type tablesImport struct {
	File      string         `arg:"" help:"The table as .xlsx or .csv."`
	Edition   string         `required:"" help:"Name and date of the table; it becomes the source of every value."`
	Rules     []string       `help:"For classifications: the rule sets under which the table is law."`
	Authority string         `help:"For exposure limits: whose they are, for example \"UK WEL\"."`
	Sheet     string         `help:"Tab of the spreadsheet; the first with rows when not given."`
	Column    map[string]int `help:"What a column means, counted from 1, where the header does not tell: cas=2;class=5. Give all columns or none."`
	First     int            `help:"Line of the first row of data, with --column." default:"2"`
	Complete  bool           `help:"The table is the whole list: what it does not name is no longer taken as official."`
	Apply     bool           `help:"Do it. Without it only the report of what would change is printed."`
	Rows      int            `help:"How many rows of each kind to list in the report; 0 lists all." default:"20"`
}

// Run works out what the table would change, prints the report, and applies it when asked to.
func (c *tablesImport) Run(io streams) error {
	file, err := judge.TablesFile()
	if err != nil {
		return err
	}
	overlay, err := judge.ReadTables(file)
	if err != nil {
		return err
	}
	f, err := os.Open(c.File)
	if err != nil {
		return fmt.Errorf("the table cannot be opened: %w", err)
	}
	defer f.Close()
	m := substance.Mapping{Edition: c.Edition, Authority: c.Authority, Sheet: c.Sheet, Complete: c.Complete}
	for _, r := range c.Rules {
		rs, err := parseRules(strings.TrimSpace(r))
		if err != nil {
			return err
		}
		m.RuleSets = append(m.RuleSets, rs)
	}
	if len(c.Column) > 0 {
		m.FirstLine, m.Columns = c.First, map[substance.Field]int{}
		for name, n := range c.Column {
			m.Columns[substance.Field(strings.ReplaceAll(name, "_", " "))] = n - 1
		}
		m.Kind = substance.LimitTable
		if _, ok := m.Columns[substance.FieldClass]; ok {
			m.Kind = substance.ClassificationTable
		}
	}
	plan, err := substance.Embedded().With(overlay).Import(f, m)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	if err := plan.WriteReport(io.out, c.Rows); err != nil {
		return err
	}
	if !c.Apply {
		_, err := fmt.Fprintln(io.out, "\nNothing was changed. Run the command again with --apply to take the table over.")
		return err
	}
	who := "somebody"
	if u, err := user.Current(); err == nil {
		who = u.Username
	}
	if err := judge.WriteTables(file, overlay.Apply(plan, time.Now().Format(time.DateOnly)+" by "+who)); err != nil {
		return err
	}
	_, err = fmt.Fprintln(io.out, "\nThe table is taken over. 'sixteen tables undo' takes it back.")
	return err
}

type tablesList struct{}

// Run lists the layers, oldest first.
func (tablesList) Run(io streams) error {
	file, err := judge.TablesFile()
	if err != nil {
		return err
	}
	overlay, err := judge.ReadTables(file)
	if err != nil {
		return err
	}
	if len(overlay.Layers) == 0 {
		_, err := fmt.Fprintln(io.out, "No table has been imported; the embedded table is used as it is.")
		return err
	}
	for i, l := range overlay.Layers {
		of := l.Authority
		if l.Kind == substance.ClassificationTable {
			of = ruleNames(l.RuleSets)
		}
		if _, err := fmt.Fprintf(io.out, "%d  %s, %s for %s: %d entries, imported %s\n", i+1, l.Edition, l.Kind, of, len(l.Entries), l.Applied); err != nil {
			return err
		}
	}
	return nil
}

func ruleNames(rs []ghs.RuleSet) string {
	var names []string
	for _, r := range rs {
		names = append(names, r.Name())
	}
	return strings.Join(names, ", ")
}

type tablesUndo struct{}

// Run takes the last layer off.
func (tablesUndo) Run(io streams) error {
	file, err := judge.TablesFile()
	if err != nil {
		return err
	}
	overlay, err := judge.ReadTables(file)
	if err != nil {
		return err
	}
	rest, undone, ok := overlay.Undo()
	if !ok {
		return fmt.Errorf("no table has been imported, so there is nothing to take back")
	}
	if err := judge.WriteTables(file, rest); err != nil {
		return err
	}
	_, err = fmt.Fprintf(io.out, "%s is taken back; %d imported tables are left.\n", undone.Edition, len(rest.Layers))
	return err
}
