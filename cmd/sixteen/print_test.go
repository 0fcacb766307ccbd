package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// Papers come from the command line in the format that the file's ending names; what cannot be printed says what to do.
func TestPrint(t *testing.T) {
	dir := bench(t, "brinequick")
	file := filepath.Join(dir, "brinequick.pdf")
	for out, c := range map[string]struct {
		args  []string
		magic string
	}{
		"card.pdf":     {[]string{"print", "card", file, "--lang", "de"}, "%PDF-"},
		"card.docx":    {[]string{"print", "card", file}, "PK"},
		"label.html":   {[]string{"print", "label", file, "--size", "105x74", "--lang", "en,fr"}, "<!DOCTYPE html>"},
		"labels.pdf":   {[]string{"print", "labels", file, "--start", "3"}, "%PDF-"},
		"supplier.pdf": {[]string{"print", "supplier-label", file, "--size", "210x148", "--volume", "5l"}, "%PDF-"},
		"letter.docx":  {[]string{"letter", file, "--lang", "es"}, "PK"},
		"register.pdf": {[]string{"print", "register", file}, "%PDF-"},
	} {
		path := filepath.Join(dir, out)
		ran(t, exitNone, append(c.args, "--out", path, "--date", "2026-03-04"), "written to "+path)
		data, err := os.ReadFile(path)
		if err != nil || !bytes.HasPrefix(data, []byte(c.magic)) || len(data) < 1500 {
			t.Errorf("%s: %d bytes, %v", out, len(data), err)
		}
	}
	for want, args := range map[string][]string{
		"take ":                   {"print", "label", file, "--size", "30x15"},
		"choose one of pdf, html": {"print", "label", file, "--size", "105x74", "--format", "docx"},
		"write the size":          {"print", "label", file, "--size", "small"},
		"with ml or l":            {"print", "label", file, "--volume", "a lot"},
		"one or two languages":    {"print", "label", file, "--lang", "en,fr,de"},
		"write it as 2026-03-04":  {"print", "card", file, "--date", "today"},
		"give its dimensions":     {"print", "labels", file, "--stock", "mine"},
		"there is no such place":  {"print", "labels", file, "--start", "9"},
	} {
		ran(t, exitFailed, args, want)
	}
}
