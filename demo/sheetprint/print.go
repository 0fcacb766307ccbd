package sheetprint

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
)

// Print lays the sheet out and returns the PDF and what a reader must find in it. The same arguments give the same
// bytes. It fails when the language has no words or the document cannot be written.
func Print(s Spec, l Layout) ([]byte, Truth, error) {
	pages := 0
	for pass := 0; ; pass++ {
		pdf, truth, err := printOnce(s, l, pages)
		if err != nil {
			return nil, Truth{}, fmt.Errorf("print %s as %s: %w", s.Product, l.Name, err)
		}
		if truth.Pages == pages || pass == 3 {
			return pdf, truth, nil
		}
		pages = truth.Pages
	}
}

// printOnce prints with a given total for "page n of total".
func printOnce(s Spec, l Layout, total int) ([]byte, Truth, error) {
	sections, truth, err := compose(s, l)
	if err != nil {
		return nil, Truth{}, err
	}
	d, err := loadWords(s.Lang)
	if err != nil {
		return nil, Truth{}, err
	}
	f := &flow{canvas: newCanvas(l), spec: s, d: d, truth: truth, total: total, margin: 44 + float64(l.Seed%3)*5, gutter: 18}
	f.beginPage()
	if l.CoverPage {
		f.cover()
	}
	f.titleBlock()
	for i, sec := range sections {
		number := i + 1
		if len(s.OmitSections) > 0 {
			number = sec.means
		}
		f.heading(number, sec.means, sec.title)
		for _, b := range sec.blocks {
			f.block(b)
		}
	}
	if l.Turned {
		f.pdf.TransformEnd()
	}
	truth.Pages = f.pages
	var buf bytes.Buffer
	if err := f.pdf.Output(&buf); err != nil {
		return nil, Truth{}, err
	}
	out := buf.Bytes()
	if l.Turned {
		out = turnPages(out)
	}
	return out, *truth, nil
}

var (
	pageObject = regexp.MustCompile(`<</Type /Page\n`)
	xrefEntry  = regexp.MustCompile(`(?m)^(\d{10}) 00000 n`)
	startXref  = regexp.MustCompile(`startxref\n(\d+)\n`)
)

// turnPages gives every page a rotation entry of 90 degrees and moves the offsets of the cross-reference table along.
func turnPages(pdf []byte) []byte {
	const entry = "/Rotate 90\n"
	var at []int
	for _, m := range pageObject.FindAllIndex(pdf, -1) {
		at = append(at, m[1])
	}
	shift := func(m []byte) int { // offsets in the file before the entries went in
		n, _ := strconv.Atoi(string(m))
		k := 0
		for _, a := range at {
			if a <= n {
				k++
			}
		}
		return n + k*len(entry)
	}
	pdf = xrefEntry.ReplaceAllFunc(pdf, func(m []byte) []byte {
		return []byte(fmt.Sprintf("%010d 00000 n", shift(m[:10])))
	})
	pdf = startXref.ReplaceAllFunc(pdf, func(m []byte) []byte {
		n := bytes.TrimSpace(bytes.TrimPrefix(m, []byte("startxref")))
		return []byte(fmt.Sprintf("startxref\n%d\n", shift(n)))
	})
	var out bytes.Buffer
	last := 0
	for _, a := range at {
		out.Write(pdf[last:a])
		out.WriteString(entry)
		last = a
	}
	out.Write(pdf[last:])
	return out.Bytes()
}
