package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// textWidth is the width that terminal output is wrapped to.
const textWidth = 100

// printer writes wrapped, indented text and remembers the first error.
type printer struct {
	w   io.Writer
	err error
}

// line writes text after an indent of blanks, wrapped to textWidth; following lines are indented by hang more.
func (p *printer) line(indent, hang int, text string) {
	pad := strings.Repeat(" ", indent)
	for i, l := range wrap(text, textWidth-indent-hang) {
		if i == 1 {
			pad += strings.Repeat(" ", hang)
		}
		p.printf("%s%s\n", pad, l)
	}
}

// pair writes "label: text" with the text in a column of its own.
func (p *printer) pair(indent, column int, label, text string) {
	pad := strings.Repeat(" ", indent)
	for i, l := range wrap(text, textWidth-indent-column) {
		if i > 0 {
			label = ""
		}
		p.printf("%s%s%s\n", pad, label+strings.Repeat(" ", max(1, column-utf8.RuneCountInString(label))), l)
	}
}

func (p *printer) heading(text string) {
	p.printf("\n%s\n%s\n", text, strings.Repeat("─", min(textWidth, utf8.RuneCountInString(text))))
}

func (p *printer) printf(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format, args...)
	}
}

// wrap breaks text at blanks into lines of at most width characters; words longer than a line stay whole. It returns
// one empty line for empty text.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}
