package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/mattn/go-isatty"

	"sixteen/audit"
)

// summary adds up what became of the documents.
type summary struct {
	total   int // documents that were asked for
	passed  int // files in folders with another ending
	started time.Time
	results []result
	count   map[outcome]int
	pages   int
	judged  bool
	found   int // findings that are not overruled
	by      [4]int
}

// add takes one result in.
func (s *summary) add(r result) {
	if s.count == nil {
		s.count = map[outcome]int{}
	}
	s.count[r.outcome]++
	s.pages += r.pages
	s.judged = s.judged || r.judged
	for kind, n := range r.findings {
		s.by[kind] += n
		s.found += n
	}
	s.results = append(s.results, r)
}

// done is how many documents were worked on.
func (s *summary) done() int { return len(s.results) - s.count[notReached] }

// kinds are the columns of findings.
var kinds = []audit.Kind{audit.Contradiction, audit.Gap, audit.Doubt, audit.Note}

// print writes a line per document and the sums.
func (s *summary) print(w io.Writer) error {
	p := &printer{w: w}
	partial := s.done() < s.total
	p.printf("\n")
	if partial {
		p.printf("PARTIAL: stopped after %d of %d documents.\n", s.done(), s.total)
	}
	wide := len("document")
	for _, r := range s.results {
		wide = min(60, max(wide, len([]rune(r.name))))
	}
	p.printf("%-*s  %-11s  %5s  %7s", wide, "document", "outcome", "pages", "seconds")
	if s.judged {
		p.printf("  contradictions  gaps  doubts  notes")
	}
	p.printf("\n")
	for _, r := range s.results {
		if r.outcome == notReached {
			continue
		}
		p.printf("%-*s  %-11s  %5s  %7.1f", wide, shorten(r.name, 60), r.outcome, orBlank(r.pages), r.took.Seconds())
		if r.judged {
			p.printf("  %14d  %4d  %6d  %5d", r.findings[audit.Contradiction], r.findings[audit.Gap], r.findings[audit.Doubt], r.findings[audit.Note])
		}
		if r.why != nil {
			p.printf("  %s", shorten(r.why.Error(), 160))
		}
		p.printf("\n")
	}
	p.printf("\n%s\n", s.line())
	if s.passed > 0 {
		p.printf("%d files with other endings were passed over.\n", s.passed)
	}
	return p.err
}

func orBlank(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// line is the sum in one sentence.
func (s *summary) line() string {
	took := time.Since(s.started)
	out := fmt.Sprintf("%d documents: %d read, %d not a sheet, %d failed", s.total, s.count[wasRead], s.count[notSheet], s.count[hasFailed])
	if n := s.total - s.done(); n > 0 {
		out += fmt.Sprintf(", %d not reached", n)
	}
	out += fmt.Sprintf("; %d pages in %.1f s.", s.pages, took.Seconds())
	if s.judged {
		var parts []string
		for _, k := range kinds {
			parts = append(parts, fmt.Sprintf("%d %s", s.by[k], plural(k)))
		}
		out += " Findings: " + strings.Join(parts, ", ") + "."
	}
	return out
}

func plural(k audit.Kind) string { return k.String() + "s" }

// writeCSV writes the summary as a table for a spreadsheet (RFC 4180). Documents that were not reached are listed as such.
func (s *summary) writeCSV(file string) error {
	return writeWhole(file, func(w io.Writer) error {
		t := csv.NewWriter(w)
		rows := [][]string{{"document", "product", "outcome", "pages", "seconds", "contradictions", "gaps", "doubts", "notes", "why"}}
		for _, r := range s.results {
			row := []string{cell(r.path), cell(r.product), string(r.outcome), orBlank(r.pages), fmt.Sprintf("%.1f", r.took.Seconds()), "", "", "", "", ""}
			for i, k := range kinds {
				if r.judged {
					row[5+i] = strconv.Itoa(r.findings[k])
				}
			}
			if r.why != nil {
				row[9] = cell(r.why.Error())
			}
			rows = append(rows, row)
		}
		if n := s.total - len(s.results); n > 0 {
			rows = append(rows, []string{fmt.Sprintf("and %d documents more", n), "", string(notReached), "", "", "", "", "", "", ""})
		}
		return t.WriteAll(rows)
	})
}

// cell keeps a spreadsheet from taking text for a formula: such text gets an apostrophe before it.
func cell(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}

// progressBar is a bar on a terminal; elsewhere, for twenty documents and more, a line after each tenth.
type progressBar struct {
	w        io.Writer
	total    int
	terminal bool
	tenth    int
}

func newProgressBar(w io.Writer, total int) *progressBar {
	f, ok := w.(*os.File)
	return &progressBar{w: w, total: total, terminal: ok && isatty.IsTerminal(f.Fd())}
}

const barWidth = 30

// show draws the bar, or says how far the work is.
func (p *progressBar) show(s *summary) {
	if p.total < 2 {
		return
	}
	done := len(s.results)
	if !p.terminal {
		if tenth := 10 * done / p.total; p.total >= 20 && tenth > p.tenth && s.count[notReached] == 0 {
			p.tenth = tenth
			fmt.Fprintf(p.w, "sixteen: %d of %d documents\n", done, p.total)
		}
		return
	}
	full := barWidth * done / p.total
	left := ""
	if took := time.Since(s.started); done > 0 && done < p.total {
		left = fmt.Sprintf(", about %v left", (took / time.Duration(done) * time.Duration(p.total-done)).Round(time.Second))
	}
	fmt.Fprintf(p.w, "\r\x1b[K%s%s %d of %d, %d failed%s", strings.Repeat("█", full), strings.Repeat("░", barWidth-full), done, p.total, s.count[hasFailed], left)
}

// hide takes the bar away, so that a line can be printed.
func (p *progressBar) hide() {
	if p.terminal && p.total > 1 {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
