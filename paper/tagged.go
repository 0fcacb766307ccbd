package paper

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
)

// writeTagged writes a PDF whose pages carry marked content with its structure tree (ISO 32000-1 14.7), as an
// incremental update (7.5.6): the pages and the catalogue once more with their new entries, and the elements.
func writeTagged(w io.Writer, raw []byte, p *press) error {
	if !bytes.HasPrefix(raw, []byte("%PDF-1.")) {
		return errors.New("the PDF cannot be given its structure: it does not begin like one")
	}
	raw[len("%PDF-1.")] = '7'
	t := tagger{raw: raw, offsets: map[int]int{}, annots: map[*link]int{}}
	if err := t.read(); err != nil {
		return fmt.Errorf("the PDF cannot be given its structure: %w", err)
	}
	if len(t.pages) != len(p.owner) {
		return fmt.Errorf("the PDF cannot be given its structure: it has %d pages, %d were drawn", len(t.pages), len(p.owner))
	}
	t.addStructure(p)
	t.end()
	if _, err := w.Write(raw); err != nil {
		return err
	}
	_, err := w.Write(t.out.Bytes())
	return err
}

// tagger appends objects to a PDF.
type tagger struct {
	raw     []byte
	out     bytes.Buffer
	offsets map[int]int // of the objects appended
	next    int         // number of the next new object
	prev    int         // offset of the cross-reference table
	catalog int         // number of the catalogue
	info    string      // reference to the information dictionary
	entries string      // of the catalogue
	pages   []pageEntry
	parents [][]int // per page, the element of each mark
	annots  map[*link]int
	linked  []int // the elements of the links, in the order of the parent tree
}

// pageEntry is a page with what its dictionary holds.
type pageEntry struct {
	number  int
	entries string
}

// read finds pages, catalogue and trailer in a file as fpdf writes it: one object after the other, nothing in object streams.
func (t *tagger) read() error {
	trailer := t.raw[max(0, bytes.LastIndex(t.raw, []byte("\ntrailer\n"))):]
	m := regexp.MustCompile(`(?s)/Size (\d+).*?/Root (\d+) 0 R.*?/Info (\d+ 0 R).*?startxref\s+(\d+)`).FindSubmatch(trailer)
	if m == nil {
		return errors.New("its trailer cannot be read")
	}
	t.next, _ = strconv.Atoi(string(m[1]))
	t.catalog, _ = strconv.Atoi(string(m[2]))
	t.info = string(m[3])
	t.prev, _ = strconv.Atoi(string(m[4]))
	for _, line := range bytes.Split(t.raw[t.prev:], []byte("\n")) {
		if len(line) != 19 || line[17] != 'n' {
			continue
		}
		at, err := strconv.Atoi(string(line[:10]))
		if err != nil || at >= len(t.raw) {
			return errors.New("its cross-reference table cannot be read")
		}
		if err := t.object(t.raw[at:]); err != nil {
			return err
		}
	}
	if t.entries == "" {
		return errors.New("it has no catalogue")
	}
	return nil
}

// object keeps an object that is a page or the catalogue.
func (t *tagger) object(data []byte) error {
	head, body, ok := bytes.Cut(data, []byte(" 0 obj\n"))
	n, err := strconv.Atoi(string(head))
	if !ok || err != nil {
		return errors.New("an object is not where its cross-reference table says")
	}
	body, _, _ = bytes.Cut(body, []byte("\nendobj"))
	text := strings.TrimSpace(string(body[:min(len(body), 1<<20)]))
	inner := strings.TrimSuffix(strings.TrimPrefix(text, "<<"), ">>")
	switch {
	case strings.HasPrefix(text, "<</Type /Page\n"):
		t.pages = append(t.pages, pageEntry{n, inner})
	case n == t.catalog:
		t.entries = inner
	}
	return nil
}

// put appends an object.
func (t *tagger) put(n int, dict string) {
	t.offsets[n] = len(t.raw) + t.out.Len()
	fmt.Fprintf(&t.out, "%d 0 obj\n<<%s>>\nendobj\n", n, dict)
}

func (t *tagger) fresh() int {
	t.next++
	return t.next - 1
}

func (t *tagger) addStructure(p *press) {
	root, tree := t.fresh(), t.fresh()
	for i, page := range t.pages {
		annots := ""
		for _, l := range p.links[i] {
			t.annots[l] = t.fresh()
			annots += fmt.Sprintf("%d 0 R ", t.annots[l])
		}
		if annots != "" {
			annots = " /Annots [" + annots + "]"
		}
		t.put(page.number, fmt.Sprintf("%s\n/StructParents %d /Tabs /S%s", page.entries, i, annots))
		t.parents = append(t.parents, make([]int, len(p.owner[i])))
	}
	doc := t.element(p.root, root)
	var nums strings.Builder
	for i, list := range t.parents {
		fmt.Fprintf(&nums, "%d [", i)
		for _, e := range list {
			fmt.Fprintf(&nums, "%d 0 R ", e)
		}
		nums.WriteString("] ")
	}
	for i, e := range t.linked {
		fmt.Fprintf(&nums, "%d %d 0 R ", len(t.parents)+i, e)
	}
	t.put(tree, "/Nums ["+nums.String()+"]")
	t.put(root, fmt.Sprintf("/Type /StructTreeRoot /K [%d 0 R] /ParentTree %d 0 R /ParentTreeNextKey %d", doc, tree, len(t.parents)+len(t.linked)))
	t.put(t.catalog, fmt.Sprintf("%s\n/StructTreeRoot %d 0 R /MarkInfo <</Marked true>> /ViewerPreferences <</DisplayDocTitle true>>", t.entries, root))
}

// element appends an element with everything below it and returns its number.
func (t *tagger) element(e *element, parent int) int {
	n := t.fresh()
	var kids strings.Builder
	for _, k := range e.kids {
		if k.link != nil {
			t.annotation(k.link, n)
			fmt.Fprintf(&kids, "<</Type /OBJR /Pg %d 0 R /Obj %d 0 R>> ", t.pages[k.page].number, t.annots[k.link])
			continue
		}
		if k.element == nil {
			t.parents[k.page][k.mcid] = n
			fmt.Fprintf(&kids, "<</Type /MCR /Pg %d 0 R /MCID %d>> ", t.pages[k.page].number, k.mcid)
			continue
		}
		fmt.Fprintf(&kids, "%d 0 R ", t.element(k.element, n))
	}
	dict := fmt.Sprintf("/Type /StructElem /S /%s /P %d 0 R", e.role, parent)
	if e.alt != "" {
		dict += " /Alt " + textString(e.alt)
	}
	if e.lang != "" {
		dict += " /Lang " + textString(string(e.lang))
	}
	if e.scope != "" {
		dict += " /A <</O /Table /Scope /" + e.scope + ">>"
	}
	if kids.Len() > 0 {
		dict += " /K [" + kids.String() + "]"
	}
	t.put(n, dict)
	return n
}

// annotation appends the place to click on of a link whose element has a number.
func (t *tagger) annotation(l *link, element int) {
	t.put(t.annots[l], fmt.Sprintf("/Type /Annot /Subtype /Link /Rect [%s %s %s %s] /Border [0 0 0] /F 4 /StructParent %d /Contents %s /A <</S /URI /URI <%x>>>",
		num(l.rect[0]), num(l.rect[1]), num(l.rect[2]), num(l.rect[3]), len(t.parents)+len(t.linked), textString(l.url), l.url))
	t.linked = append(t.linked, element)
}

// end appends the cross-reference table and the trailer. The identity of the file is made from its content.
func (t *tagger) end() {
	at := len(t.raw) + t.out.Len()
	sum := sha256.Sum256(append(append([]byte(nil), t.raw...), t.out.Bytes()...))
	t.out.WriteString("xref\n")
	for n := 1; n < t.next; n++ {
		if off, ok := t.offsets[n]; ok {
			fmt.Fprintf(&t.out, "%d 1\n%010d 00000 n \n", n, off)
		}
	}
	fmt.Fprintf(&t.out, "trailer\n<</Size %d /Root %d 0 R /Info %s /Prev %d /ID [<%x> <%x>]>>\nstartxref\n%d\n%%%%EOF\n", t.next, t.catalog, t.info, t.prev, sum[:16], sum[:16], at)
}

// textString is a text string of PDF: UTF-16 with its mark, in hexadecimal digits.
func textString(s string) string {
	b := []byte{0xfe, 0xff}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return "<" + hex.EncodeToString(b) + ">"
}
