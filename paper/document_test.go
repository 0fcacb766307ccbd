package paper

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"sixteen/ghs"
	"sixteen/read/docx"
)

// sample has one block of every kind.
func sample() Document {
	chart := &Drawing{Width: 300, Height: 120, Marks: []Mark{
		framed(30, 5, 265, 95, 0.6, black),
		Shape{Path: []Segment{moveTo(30, 100), {To: []Point{{100, 90}, {120, 20}, {295, 15}}}}, Stroke: &black, LineWidth: 1.4},
		Shape{Path: []Segment{moveTo(30, 50), lineTo(295, 50)}, Stroke: &black, LineWidth: 0.7, Dash: []float64{4, 3}},
		Words{X: 28, Y: 53, Size: 8, Align: Right, Text: "50 ppm"},
	}}
	var rows [][]Text
	for i := range 60 {
		rows = append(rows, []Text{Plain("Row " + strings.Repeat("i", i%5+1)), Plain("Größe, œuvre, año: ≥ 5 µm, 20 °C, H₂O"), Plain("12.5")})
	}
	return Document{
		Title: "Sample of every block", Lang: ghs.English, Date: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC),
		Head: Running{Left: "Harbour Lane Boat Works", Right: "Sample"}, Foot: Running{Left: "Printed 2026-03-04", Right: "{page} / {pages}"},
		Blocks: []Block{
			Heading{1, "Sample of every block"},
			Paragraph{Text: Text{{Text: "Words in "}, {Text: "bold", Bold: true}, {Text: ", "}, {Text: "italic", Italic: true}, {Text: " and a "}, {Text: "link", Link: "https://example.org/sheet"}, {Text: "."}}},
			Heading{2, "Pictograms"},
			Pictograms{List: ghs.Pictograms(), SizeMM: 18, Names: true},
			Heading{2, "Lists"},
			List{Items: []Text{Plain("first"), Plain("second")}},
			List{Marker: Numbered, Items: []Text{Plain("one"), Plain("two")}},
			Columns{Parts: []Part{
				{Blocks: []Block{List{Marker: Tick, Items: []Text{Plain("Open the door")}}}},
				{Blocks: []Block{List{Marker: Cross, Items: []Text{Plain("Eat here")}}}},
				{Blocks: []Block{List{Marker: CheckBox, Items: []Text{Plain("Done")}}}},
			}},
			Box{Tone: Caution, Title: "Skin allergy for life", Blocks: []Block{Paragraph{Text: Plain("The exclamation mark also covers a lasting allergy.")}}},
			Box{Tone: Framed, Title: "Framed", Blocks: []Block{Paragraph{Text: Plain("Inside a frame.")}}},
			Box{Tone: Inverse, Title: "Inverse", Blocks: []Block{Paragraph{Text: Plain("White title.")}}},
			Pairs{Rows: []Pair{{"Supplier", Plain("Tidewater Resins Ltd")}, {"Telephone", Plain("+00 123")}}},
			Figure{Drawing: chart, Alt: "Concentration over time", Caption: "Vapour near the person"},
			QR{Content: "https://example.org/p/1", Label: "Sheet"},
			Heading{2, "Table"},
			Table{Caption: "Many rows", Columns: []Column{{Title: "Name", Width: 2}, {Title: "Words", Width: 4}, {Title: "Value", Align: Right}}, Rows: rows, RowHeads: true},
			Signature{Labels: []string{"Date", "Name"}},
		},
	}
}

func run1(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// folder is where a test writes its papers: a folder of its own, or the one that PAPER_OUT names to look at them.
func folder(t *testing.T) string {
	t.Helper()
	if d := os.Getenv("PAPER_OUT"); d != "" {
		return d
	}
	return t.TempDir()
}

// written writes a paper to a file and returns its name.
func written(t *testing.T, name string, write func(io.Writer) error) string {
	t.Helper()
	var b, again bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if err := write(&again); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Errorf("%s: written twice, the bytes differ (%v)", name, err)
	}
	file := filepath.Join(folder(t), name)
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// textOf is the text of a PDF with single blanks.
func textOf(t *testing.T, file string) string {
	t.Helper()
	return strings.Join(strings.Fields(run1(t, "pdftotext", file, "-")), " ")
}

// inOrder checks that the words stand in a text one after the other.
func inOrder(t *testing.T, what, text string, words ...string) {
	t.Helper()
	at := 0
	for _, w := range words {
		w = strings.Join(strings.Fields(w), " ")
		i := strings.Index(text[at:], w)
		if i < 0 {
			t.Fatalf("%s: %q is missing, or not after the words before it, in:\n%.1500s", what, w, text[at:])
		}
		at += i + len(w)
	}
}

func sampleWords() []string {
	return []string{"Sample of every block", "Words in bold, italic and a link.", "Pictograms", "Lists", "first", "second", "one", "two", "Open the door", "Eat here", "Done",
		"Skin allergy for life", "lasting allergy", "Framed", "Inside a frame", "Inverse", "White title", "Supplier", "Tidewater Resins Ltd", "Vapour near the person", "Sheet", "Many rows", "Größe, œuvre, año: ≥ 5 µm", "Date", "Name"}
}

// ISO 32000-1 14.7 and 14.8: the structure holds every kind of block in the order of reading.
func TestPDFHasTextAndStructure(t *testing.T) {
	file := written(t, "sample.pdf", sample().WritePDF)
	inOrder(t, "text", textOf(t, file), sampleWords()...)
	structure := strings.Join(strings.Fields(run1(t, "pdfinfo", "-struct-text", file)), " ")
	inOrder(t, "structure", structure, "Document", "H1", `"Sample of every block"`, "P", `"Words in "`, `"bold"`, "Link", "Object", `"link"`, "H2", "Figure", "L", "LI", "LBody", `"first"`, "Sect", "H3", "Table", "TR", "TH", "/Scope /Row", `"Supplier"`, "TD", "Figure", "Caption", "Table", "Caption", `"Many rows"`, "TR", "TH", "/Scope /Column", `"Name"`)
	info := run1(t, "pdfinfo", file)
	for _, want := range []string{"Sample of every block", "Tagged:          yes", "Pages:           3", "2026"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
	fonts := strings.Split(strings.TrimSpace(run1(t, "pdffonts", file)), "\n")[2:]
	for _, f := range fonts {
		if fields := strings.Fields(f); len(fields) < 8 || fields[len(fields)-5] != "yes" || fields[len(fields)-3] != "yes" {
			t.Errorf("the font is not embedded with its letters: %s", f)
		}
	}
	if err := api.ValidateFile(file, &model.Configuration{Reader15: true, ValidationMode: model.ValidationStrict, Limits: model.DefaultResourceLimits()}); err != nil {
		t.Errorf("not valid by another library: %v", err)
	}
	if n := strings.Count(strings.Join(strings.Fields(run1(t, "pdftotext", "-layout", file, "-")), " "), "Name Words Value"); n != 2 {
		t.Errorf("the titles of the table stand on %d pages, want 2", n)
	}
}

// Everything in the HTML is well-formed, nothing is fetched, and no script or style attribute would need a hole in a strict policy.
func TestHTMLIsWellFormedAndSelfContained(t *testing.T) {
	file := written(t, "sample.html", sample().WriteHTML)
	plain := wellFormed(t, file)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	inOrder(t, "HTML", plain, sampleWords()...)
	sum := sha256.Sum256([]byte(Style()))
	if want := "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; StyleHash() != want || !bytes.Contains(data, []byte("<style>"+Style()+"</style>")) {
		t.Errorf("the policy would refuse the style sheet: %s", StyleHash())
	}
}

// Our own reader finds every word in the word-processor document.
func TestDOCXIsReadBack(t *testing.T) {
	file := written(t, "sample.docx", sample().WriteDOCX)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	page, err := docx.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, w := range page.Words {
		words = append(words, w.Text)
	}
	text := strings.Join(words, " ")
	for _, want := range sampleWords() {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the document:\n%s", want, text)
		}
	}
}

// wellFormed checks an HTML paper and returns its text.
func wellFormed(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	dec := xml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(data, []byte("<!DOCTYPE html>\n"))))
	var text strings.Builder
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return strings.Join(strings.Fields(text.String()), " ")
		}
		if err != nil {
			t.Fatalf("%s: not well-formed: %v", file, err)
		}
		switch tok := tok.(type) {
		case xml.CharData:
			text.Write(tok)
		case xml.StartElement:
			for _, a := range tok.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "src" && !strings.HasPrefix(a.Value, "data:") {
					t.Errorf("%s: <%s %s=%q>", file, tok.Name.Local, a.Name.Local, a.Value)
				}
			}
			if tok.Name.Local == "script" || tok.Name.Local == "link" {
				t.Errorf("%s: <%s>", file, tok.Name.Local)
			}
		}
	}
}
