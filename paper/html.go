package paper

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"strings"
)

//go:embed style.css
var styleSheet string

// Style is the style sheet that HTML papers carry.
func Style() string { return styleSheet }

// StyleHash is the source expression that lets a Content-Security-Policy accept the style sheet inside the papers:
// "'sha256-…'" (Content Security Policy Level 2).
func StyleHash() string {
	sum := sha256.Sum256([]byte(styleSheet))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// htmlWriter writes blocks as HTML.
type htmlWriter struct {
	b    strings.Builder
	doc  Document
	face *face
	err  error
}

// WriteHTML writes the document as one HTML file with everything in it: one style sheet, no script, nothing loaded from
// elsewhere. It follows the reader's light or dark setting on a screen and prints black on white.
func (d Document) WriteHTML(w io.Writer) error {
	body, err := d.BodyHTML()
	if err != nil {
		return err
	}
	d = d.withDefaults()
	_, err = fmt.Fprintf(w, `<!DOCTYPE html>
<html lang="%s">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<title>%s</title>
<style>%s</style>
</head>
<body>
%s</body>
</html>
`, html.EscapeString(string(d.Lang)), html.EscapeString(d.Title), styleSheet, body)
	return err
}

// BodyHTML is the document as a main element, for a page that carries the style sheet itself.
func (d Document) BodyHTML() (string, error) {
	f, err := newFace()
	if err != nil {
		return "", err
	}
	w := &htmlWriter{doc: d.withDefaults(), face: f}
	w.b.WriteString("<main class=\"paper\">\n")
	w.running("head", d.Head)
	w.blocks(d.Blocks)
	w.running("foot", d.Foot)
	w.b.WriteString("</main>\n")
	return w.b.String(), w.err
}

func (w *htmlWriter) printf(format string, args ...any) { fmt.Fprintf(&w.b, format, args...) }

func (w *htmlWriter) running(class string, r Running) {
	if strings.Contains(r.Left, "{page") {
		r.Left = ""
	}
	if strings.Contains(r.Right, "{page") {
		r.Right = ""
	}
	if r != (Running{}) {
		w.printf("<div class=\"%s\"><span>%s</span><span>%s</span></div>\n", class, html.EscapeString(r.Left), html.EscapeString(r.Right))
	}
}

func (w *htmlWriter) blocks(bs []Block) {
	for _, b := range bs {
		w.block(b)
	}
}

// inline is text with its styles.
func inline(t Text) string {
	var b strings.Builder
	for _, s := range t {
		text := strings.ReplaceAll(html.EscapeString(s.Text), "\n", "<br/>")
		if s.Bold {
			text = "<strong>" + text + "</strong>"
		}
		if s.Italic {
			text = "<em>" + text + "</em>"
		}
		if linkable(s.Link) {
			text = `<a href="` + html.EscapeString(s.Link) + `">` + text + "</a>"
		}
		b.WriteString(text)
	}
	return b.String()
}

// linkable tells whether an address may stand behind a link: no script.
func linkable(s string) bool {
	for _, p := range []string{"http://", "https://", "mailto:", "tel:", "/", "#"} {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}

var weightClass = [...]string{Usual: "", Small: ` class="small"`, Large: ` class="large"`, Huge: ` class="huge"`}

func (w *htmlWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		level := min(max(b.Level, 1), 4)
		w.printf("<h%d>%s</h%d>\n", level, html.EscapeString(b.Text), level)
	case Paragraph:
		w.printf("<p%s>%s</p>\n", weightClass[b.Weight], inline(b.Text))
	case List:
		w.list(b)
	case Table:
		w.table(b)
	case Pairs:
		w.b.WriteString("<dl>\n")
		for _, r := range b.Rows {
			w.printf("<dt>%s</dt><dd>%s</dd>\n", html.EscapeString(r.Key), inline(r.Value))
		}
		w.b.WriteString("</dl>\n")
	case Pictograms:
		w.pictograms(b)
	case Figure:
		w.figure(b)
	case Picture:
		w.picture(b)
	case QR:
		w.qr(b)
	case Box:
		w.printf("<section class=\"box %s\">\n", [...]string{Framed: "framed", Shaded: "shaded", Caution: "caution", Inverse: "inverse"}[b.Tone])
		if b.Title != "" {
			w.printf("<h3>%s</h3>\n", html.EscapeString(b.Title))
		}
		w.blocks(b.Blocks)
		w.b.WriteString("</section>\n")
	case Columns:
		w.b.WriteString("<div class=\"columns\">\n")
		for _, p := range b.Parts {
			w.b.WriteString("<div>\n")
			w.blocks(p.Blocks)
			w.b.WriteString("</div>\n")
		}
		w.b.WriteString("</div>\n")
	case Keep:
		w.blocks(b.Blocks)
	case Signature:
		w.b.WriteString("<div class=\"signature\">")
		for _, l := range b.Labels {
			w.printf("<div>%s</div>", html.EscapeString(l))
		}
		w.b.WriteString("</div>\n")
	case Space, PageBreak:
	default:
		w.err = fmt.Errorf("a document cannot hold a %T", b)
	}
}

func (w *htmlWriter) list(b List) {
	tag, class := "ul", [...]string{Bullet: "", Numbered: "", Tick: "tick", Cross: "cross", CheckBox: "checkbox"}[b.Marker]
	if b.Marker == Numbered {
		tag = "ol"
	}
	class = strings.TrimSpace(class + " " + [...]string{Usual: "", Small: "small", Large: "large", Huge: "huge"}[b.Weight])
	if class != "" {
		class = fmt.Sprintf(" class=%q", class)
	}
	w.printf("<%s%s>\n", tag, class)
	for _, i := range b.Items {
		w.printf("<li>%s</li>\n", inline(i))
	}
	w.printf("</%s>\n", tag)
}

func (w *htmlWriter) table(b Table) {
	class := ""
	if b.Dense {
		class = ` class="dense"`
	}
	w.printf("<div class=\"scroll\"><table%s>\n", class)
	if b.Caption != "" {
		w.printf("<caption>%s</caption>\n", html.EscapeString(b.Caption))
	}
	align := func(i int) string {
		return [...]string{Left: "", Right: ` class="right"`, Centre: ` class="centre"`}[b.Columns[i].Align]
	}
	titled := false
	total := 0.0
	for _, c := range b.Columns {
		titled = titled || c.Title != ""
		total += max(c.Width, 0) + btof(c.Width <= 0)
	}
	w.b.WriteString("<colgroup>")
	for _, c := range b.Columns {
		w.printf("<col width=\"%.0f%%\"/>", 100*(max(c.Width, 0)+btof(c.Width <= 0))/total)
	}
	w.b.WriteString("</colgroup>\n")
	if titled {
		w.b.WriteString("<thead><tr>")
		for i, c := range b.Columns {
			w.printf("<th scope=\"col\"%s>%s</th>", align(i), html.EscapeString(c.Title))
		}
		w.b.WriteString("</tr></thead>\n")
	}
	w.b.WriteString("<tbody>\n")
	for n, r := range b.Rows {
		if len(r) != len(b.Columns) {
			w.err = fmt.Errorf("row %d of the table %q has %d cells for %d columns", n+1, b.Caption, len(r), len(b.Columns))
			return
		}
		w.b.WriteString("<tr>")
		for i, c := range r {
			if i == 0 && b.RowHeads {
				w.printf("<th scope=\"row\"%s>%s</th>", align(i), inline(c))
				continue
			}
			w.printf("<td%s>%s</td>", align(i), inline(c))
		}
		w.b.WriteString("</tr>\n")
	}
	w.b.WriteString("</tbody>\n</table></div>\n")
}

func (w *htmlWriter) pictograms(b Pictograms) {
	side := b.SizeMM
	if side == 0 {
		side = 20
	}
	w.b.WriteString("<ul class=\"pictograms\">\n")
	for _, g := range b.List {
		d := &Drawing{Width: 100, Height: 100, Marks: []Mark{symbol(g, 0, 0, 100, "")}}
		name := html.EscapeString(g.Name(w.doc.Lang))
		w.printf("<li>%s", w.svg(d, side*MM, g.Name(w.doc.Lang)))
		if b.Names {
			w.printf("<span aria-hidden=\"true\">%s</span>", name)
		}
		w.b.WriteString("</li>\n")
	}
	w.b.WriteString("</ul>\n")
}

// svg is a drawing inside the page, of a width in points.
func (w *htmlWriter) svg(d *Drawing, width float64, alt string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="%s" width="%smm" height="%smm" viewBox="0 0 %s %s">`,
		html.EscapeString(alt), num(width/MM), num(width/MM*d.Height/d.Width), num(d.Width), num(d.Height))
	w.face.svgMarks(&b, stripped(d.Marks))
	b.WriteString("</svg>")
	return b.String()
}

// stripped is the marks without the roles of their groups, for a picture that is named as a whole.
func stripped(marks []Mark) []Mark {
	var out []Mark
	for _, m := range marks {
		if g, ok := m.(Group); ok {
			g.Role, g.Alt, g.Marks = Decoration, "", stripped(g.Marks)
			m = g
		}
		out = append(out, m)
	}
	return out
}

func (w *htmlWriter) figure(b Figure) {
	if b.Drawing == nil || b.Drawing.Width <= 0 {
		w.err = fmt.Errorf("the figure %q has no drawing", b.Alt)
		return
	}
	w.printf("<figure>%s", w.svg(b.Drawing, b.Drawing.Width, b.Alt))
	w.caption(b.Caption)
	w.b.WriteString("</figure>\n")
}

func (w *htmlWriter) caption(text string) {
	if text != "" {
		w.printf("<figcaption>%s</figcaption>", html.EscapeString(text))
	}
}

func (w *htmlWriter) picture(b Picture) {
	_, format, err := b.decoded()
	if err != nil {
		w.err = err
		return
	}
	var enc bytes.Buffer
	e := base64.NewEncoder(base64.StdEncoding, &enc)
	e.Write(b.Data)
	e.Close()
	w.printf("<figure><img alt=\"%s\" src=\"data:image/%s;base64,%s\"/>", html.EscapeString(b.Alt), format, enc.String())
	w.caption(b.Caption)
	w.b.WriteString("</figure>\n")
}

func (w *htmlWriter) qr(b QR) {
	side := b.SizeMM
	if side == 0 {
		side = 25
	}
	d, err := qrDrawing(b.Content)
	if err != nil {
		w.err = err
		return
	}
	w.printf("<figure class=\"qr\">%s", w.svg(d, side*MM, "QR: "+b.Content))
	w.caption(b.Label)
	w.b.WriteString("</figure>\n")
}
