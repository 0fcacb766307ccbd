package main

import (
	"context"
	"fmt"
	"html/template"
	"io"
	"os"
	"path/filepath"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
)

type letterCommand struct {
	File  string `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Lang  string `help:"Language of the letter: en, fr, de or es. Without it the language of the sheet."`
	Rules string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	JSON  bool   `help:"Print the letter as JSON, each question with the findings it comes from."`
	HTML  string `help:"Write the letter as an HTML file to print." placeholder:"OUT" type:"path"`
}

// Run writes the letter to the supplier. Without a question it writes none and says so.
func (c *letterCommand) Run(ctx context.Context, io streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	lang, err := parseLang(c.Lang)
	if err != nil {
		return err
	}
	j, err := judgeOne(ctx, io, c.File, judge.Request{Rules: rules})
	if err != nil {
		return err
	}
	if lang == "" {
		lang = ghs.English
		if l := j.Sheet.Language; l.Known() {
			lang = l.Value
		}
	}
	letter, ok := audit.LetterOf(j.Sheet, j.Report, lang)
	if !ok {
		_, err := fmt.Fprintln(io.err, "sixteen: no finding asks the supplier anything, so no letter was written")
		return err
	}
	switch {
	case c.HTML != "":
		if err := writeLetter(c.HTML, letter); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.err, "sixteen: letter written to %s\n", c.HTML)
		return err
	case c.JSON:
		return encode(io, letter)
	}
	_, err = fmt.Fprint(io.out, letter.Text())
	return err
}

// parseLang understands the --lang flag; "" stands for "the language of the sheet".
func parseLang(s string) (ghs.Lang, error) {
	if s == "" {
		return "", nil
	}
	for _, l := range ghs.Langs() {
		if string(l) == s {
			return l, nil
		}
	}
	return "", fmt.Errorf("--lang: there is no letter in %q: choose one of %v", s, ghs.Langs())
}

// letterPage is the letter on a sheet of paper, with room for the sender's head and the signature.
var letterPage = template.Must(template.New("letter").Parse(`<!DOCTYPE html>
<html lang="{{.Lang}}">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>{{.Subject}}</title>
<style>
body { font: 11pt/1.5 Georgia, "Times New Roman", serif; max-width: 42em; margin: 3em auto; padding: 0 1.5em; color: #111; background: #fff; }
address { font-style: normal; white-space: pre-line; margin-bottom: 2.5em; }
h1 { font-size: 1.1em; }
li { margin: .5em 0; break-inside: avoid; }
.sign { margin-top: 4em; border-top: 1px solid #555; width: 16em; }
@page { margin: 22mm 20mm; }
@media print { body { margin: 0; padding: 0; max-width: none; } }
</style></head>
<body>
<address>{{.To}}</address>
<h1>{{.Subject}}</h1>
{{range .Opening}}<p>{{.}}</p>
{{end}}<ol>
{{range .Questions}}<li>{{.Text}}</li>
{{end}}</ol>
{{range .Closing}}<p>{{.}}</p>
{{end}}<div class="sign"></div>
</body>
</html>
`))

func writeLetter(file string, letter audit.Letter) error {
	return writeWhole(file, func(w io.Writer) error { return letterPage.Execute(w, letter) })
}

// writeWhole writes a file that appears whole or not at all.
func writeWhole(file string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(file), ".sixteen-*")
	if err != nil {
		return fmt.Errorf("the file cannot be written: %w", err)
	}
	defer os.Remove(f.Name())
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}
