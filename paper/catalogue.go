package paper

import (
	"fmt"
	"slices"
	"strings"
)

// Format is a form of file.
type Format string

// Formats.
const (
	PDF  Format = "pdf"
	HTML Format = "html"
	DOCX Format = "docx"
)

// Kind is one row of the catalogue of papers: its name on the command line, what it is for, what it is made from, the
// formats it comes in, and the rules behind its form.
type Kind struct {
	Name    string
	Title   string
	For     string
	From    string
	Formats []Format
	Langs   string
	Rules   string
}

// Papers lists every paper. A new paper is a file of this package and a row here; a test holds docs/papers.md to it.
func Papers() []Kind {
	return []Kind{
		{"label", "Workplace label", "a jar, bottle or pot that was filled at work", "a sheet", []Format{PDF, HTML}, "en, fr, de, es, one or two at once; Canada always English and French",
			"29 CFR 1910.1200(f)(6); Regulation (EC) No 1272/2008 Annex I 1.2.1 for sizes (common practice at work); SOR/2015-17 s. 5.4"},
		{"labels", "Sheet of labels", "several jars at once, on a sheet of blank labels", "a sheet", []Format{PDF}, "as the workplace label", "dimensions of the blank sheet"},
		{"supplier-label", "Supplier label", "containers that are sold", "a sheet", []Format{PDF, HTML}, "as the workplace label",
			"Regulation (EC) No 1272/2008 Art. 17 and Annex I table 1.3; 29 CFR 1910.1200(f)(1); SOR/2015-17 s. 3"},
		{"card", "Bench card", "the wall above the bench: one page for everybody who works there", "a sheet", []Format{PDF, HTML, DOCX}, "en, fr, de, es",
			"the standard's statements; 15 minutes of rinsing as ANSI/ISEA Z358.1 has it (from memory); the rest common practice"},
		{"letter", "Letter to the supplier", "questions that only the supplier can answer, with the words of the sheet and the clause", "the findings on a sheet", []Format{PDF, HTML, DOCX}, "en, fr, de, es", "the clause of each finding"},
		{"register", "Register", "the inspector and the insurer: what is there, where, how much, how hazardous", "several sheets", []Format{PDF, HTML, DOCX}, "en, fr, de, es", "29 CFR 1910.1200(e)(1)(i) list of hazardous chemicals; common practice elsewhere"},
		{"plan", "Job plan", "the people who do the job and those who share the air", "a job file", []Format{PDF, HTML, DOCX}, "en", "docs/exposure.md and docs/protection.md"},
		{"comparison", "Comparison", "choosing between products for one job", "two or more products", []Format{PDF, HTML, DOCX}, "en", "docs/compare.md"},
		{"sheet", "Drafted sheet", "an own blend: the draft of its safety data sheet in sixteen sections", "a recipe (sixteen blend)", []Format{PDF, HTML, DOCX}, "en, fr, de, es", "docs/blend.md"},
	}
}

// ParseFormat reads a format, or takes it from the ending of a file name when none is given; it must be one of those
// the paper comes in.
func (k Kind) ParseFormat(asked, file string) (Format, error) {
	f := Format(strings.ToLower(asked))
	if f == "" {
		f = PDF
		for _, known := range []Format{PDF, HTML, DOCX} {
			if strings.HasSuffix(strings.ToLower(file), "."+string(known)) {
				f = known
			}
		}
	}
	if !slices.Contains(k.Formats, f) {
		return "", fmt.Errorf("the %s does not come as %q: choose one of %s", strings.ToLower(k.Title), f, joined(k.Formats))
	}
	return f, nil
}

func joined(formats []Format) string {
	var out []string
	for _, f := range formats {
		out = append(out, string(f))
	}
	return strings.Join(out, ", ")
}

// PaperOf is the row of a paper by its name.
func PaperOf(name string) (Kind, bool) {
	i := slices.IndexFunc(Papers(), func(k Kind) bool { return k.Name == name })
	if i < 0 {
		return Kind{}, false
	}
	return Papers()[i], true
}
