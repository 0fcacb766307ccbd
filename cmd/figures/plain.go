package main

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// plainFigures prints how hard the sentences for newcomers are to read. Only sentences of our own are measured: what the
// half page quotes from a sheet is the supplier's.
func plainFigures() {
	var harms, looks []string
	for _, h := range ghs.AllHazards() {
		if s := audit.CouldHappen(h); s != "" && !slices.Contains(harms, s) {
			harms = append(harms, s)
		}
	}
	for _, stop := range judge.Tour(&sheet.Sheet{}) {
		looks = append(looks, stop.Look)
	}
	fmt.Println("| text, in English | sentences | words | Flesch–Kincaid grade | LIX |")
	fmt.Println("|---|---:|---:|---:|---:|")
	for _, t := range []struct {
		name string
		text []string
	}{{"half page: what a hazard can do", harms}, {"tour: what to look for", looks}} {
		r := audit.ReadabilityOf(strings.Join(t.text, " "))
		fmt.Printf("| %s | %d | %d | %.1f | %.0f |\n", t.name, r.Sentences, r.Words, r.Grade, r.LIX)
	}
}
