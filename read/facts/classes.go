package facts

import (
	"strings"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// categoryWords stand before a category.
var categoryWords = map[string]bool{
	"category": true, "cat": true, "categorie": true, "kategorie": true, "kat": true, "categoria": true, "cat1": true, "class": true, "division": true, "type": true, "typ": true, "tipo": true, "gefahrenkategorie": true,
}

// isCategory tells whether a token is a category of the standard: 1, 1A, 2B, 1.4.
func isCategory(t string) bool {
	switch len(t) {
	case 1:
		return t[0] >= '1' && t[0] <= '5'
	case 2:
		return t[0] >= '1' && t[0] <= '3' && t[1] >= 'a' && t[1] <= 'c'
	case 3:
		return t[0] == '1' && t[1] == '.' && t[2] >= '1' && t[2] <= '6'
	}
	return false
}

// isTypeLetter tells whether a token is the type of a self-reactive substance or organic peroxide: A to G.
func isTypeLetter(t string) bool { return len(t) == 1 && t[0] >= 'a' && t[0] <= 'g' }

// classHit is one class with its category in a text.
type classHit struct {
	hazard   ghs.Hazard
	possible []ghs.Hazard
	code     ghs.Code
	start    int
	end      int
}

// classesOf finds classes with categories in a text such as "Acute Tox. 4 - H302 Skin Irrit. 2 - H315", "Flammable
// liquids Category 2", "H315: Skin Irrit. Category 2", "Skin Sens. 1A, H317 (SCL: 0.0015 %)".
func classesOf(text string) []classHit {
	ts := tokenize(text)
	codes := ghs.ParseCodes(text)
	var out []classHit
	from := 0 // first token of the chunk
	for i := 0; i < len(ts); i++ {
		if codeAt(codes, ts[i].start) >= 0 {
			continue
		}
		letter := i > 0 && isTypeLetter(ts[i].text) && (categoryWords[ts[i-1].text] || strings.HasPrefix(ts[i-1].text, "perox") || strings.HasPrefix(ts[i-1].text, "react"))
		if !isCategory(ts[i].text) && !letter || i == from && !categoryWords[ts[max(0, i-1)].text] || ts[i].start > 0 && (text[ts[i].start-1] == '(' && i > 0 && !categoryWords[ts[i-1].text]) {
			if i > from && ts[i].start > 0 && text[ts[i].start-1] == '(' && isCategory(ts[i].text) {
				// "(2)" after a class is a category as well
			} else {
				continue
			}
		}
		if i+1 < len(ts) && len(ts[i+1].text) == 1 && ts[i+1].text[0] >= 'a' && ts[i+1].text[0] <= 'c' && len(ts[i].text) == 1 && ts[i+1].start-ts[i].end <= 1 && (i+2 == len(ts) || ts[i+2].start-ts[i+1].end > 0) && text[ts[i].end:ts[i+1].start] == " " {
			i++ // "1 B"
		}
		end := qualifierEnd(text, ts[i].end)
		start := ts[from].start
		if i-from > 14 {
			start = ts[i-14].start
		}
		chunk := text[start:end]
		hit := classHit{start: start, end: end}
		readings := ghs.Readings(withoutCodes(chunk, codes, start))
		hit.code = codeNear(codes, start, ts[i].end, text)
		if len(readings) > 1 && hit.code != "" {
			if narrowed := ghs.Readings(withoutCodes(chunk, codes, start) + " " + string(hit.code)); len(narrowed) > 0 {
				readings = narrowed
			}
		}
		if len(readings) > 0 {
			if len(readings) == 1 {
				hit.hazard = readings[0]
			} else {
				hit.possible = readings
			}
			hit.start = classStart(text, ts, from, i, start)
			out = append(out, hit)
			from = i + 1
			for from < len(ts) && ts[from].start < end {
				from++
			}
		} else if categoryWords[ts[max(0, i-1)].text] {
			from = i + 1
		}
		for from < len(ts) && codeAt(codes, ts[from].start) >= 0 {
			from++
		}
		if from >= len(ts) {
			break
		}
	}
	return out
}

// classStart moves the start of a hit past words that a code or full stop sets apart.
func classStart(text string, ts []token, from, to, start int) int {
	for i := from; i < to; i++ {
		if ts[i].start > start && ts[i].start > 0 {
			before := strings.TrimRight(text[start:ts[i].start], " ")
			if strings.HasSuffix(before, ";") || strings.HasSuffix(before, ":") && i < to-1 {
				start = ts[i].start
			}
		}
	}
	return start
}

// qualifierEnd takes a bracket such as "(Oral)" right behind a category into the hit.
func qualifierEnd(text string, end int) int {
	rest := text[end:]
	trimmed := strings.TrimLeft(rest, " ")
	if strings.HasPrefix(trimmed, "(") {
		if k := strings.IndexByte(trimmed, ')'); k > 0 && k < 50 && !hasDigits(trimmed[:k], 2) {
			return end + len(rest) - len(trimmed) + k + 1
		}
	}
	if strings.HasPrefix(trimmed, ",") || strings.HasPrefix(trimmed, "-") {
		t := strings.TrimLeft(trimmed[1:], " ")
		for _, w := range []string{"RTI", "oral", "dermal", "inhalation", "Oral", "Dermal", "Inhalation", "narcotic", "STOT RTI"} {
			if strings.HasPrefix(t, w) && (len(t) == len(w) || !isLetter(t[len(w)])) {
				return end + len(rest) - len(t) + len(w)
			}
		}
	}
	return end
}

// codeAt is the index of the code that covers byte i, -1 when none.
func codeAt(codes []ghs.CodeHit, i int) int {
	for k, c := range codes {
		if c.Start <= i && i < c.End {
			return k
		}
	}
	return -1
}

// withoutCodes blanks out codes in a chunk that starts at byte start of the text.
func withoutCodes(chunk string, codes []ghs.CodeHit, start int) string {
	var b []byte
	for _, c := range codes {
		if c.Start >= start && c.End <= start+len(chunk) {
			if b == nil {
				b = []byte(chunk)
			}
			for k := c.Start - start; k < c.End-start; k++ {
				b[k] = ' '
			}
		}
	}
	if b == nil {
		return chunk
	}
	return string(b)
}

// codeNear is the H code that stands beside a class: inside the hit or within a few characters behind it.
func codeNear(codes []ghs.CodeHit, start, end int, text string) ghs.Code {
	for _, c := range codes {
		if c.Code.Kind() != ghs.HazardStatement {
			continue
		}
		if c.Start >= start && c.End <= end {
			return c.Code
		}
		if c.Start >= end && c.Start-end < 40 {
			between := text[end:c.Start]
			if !hasDigits(between, 1) && len(tokenize(between)) <= 3 {
				return c.Code
			}
		}
	}
	return ""
}

// readClasses reads the classification of the product from section 2, up to its precautionary statements.
func (r *reader) readClasses(fields []field[hazKey], body []int, ingredients map[int]bool) {
	precaution := map[int]bool{}
	statement := map[int]bool{}
	for _, f := range fields {
		switch f.key {
		case hazPrecaution:
			precaution[f.at] = true
			for _, b := range f.below {
				precaution[b] = true
			}
		case hazUnknown, hazOtherHazards:
			statement[f.at] = true
			for _, b := range f.below {
				statement[b] = true
			}
		}
	}
	for bi, i := range body {
		l := &r.lines[i]
		if ingredients[i] || precaution[i] && !strings.Contains(l.Text, "ategor") || statement[i] || !classLike(l) {
			continue
		}
		j := *l
		hits := classesOf(strings.ReplaceAll(l.Text, "\t", " "))
		if len(hits) == 0 && bi+1 < len(body) && !strings.HasSuffix(l.Text, ".") && len(l.Text) < 110 { // a class on two lines
			n := r.lines[body[bi+1]]
			if n.Page == l.Page && len(n.Text) < 60 && (len(n.Text) < 5 || classLike(&n)) && hasDigits(n.Text, 1) && len(classesOf(strings.ReplaceAll(n.Text, "\t", " "))) == 0 {
				j = layout.Join(*l, n)
				for _, hit := range classesOf(strings.ReplaceAll(j.Text, "\t", " ")) {
					if hit.start < len(l.Text) && hit.end > len(l.Text) {
						hits = append(hits, hit)
					}
				}
			}
		}
		if len(hits) == 0 {
			hits = wholeClass(strings.ReplaceAll(l.Text, "\t", " "))
		}
		for _, hit := range hits {
			r.addClass(hit, stretch{&j, hit.start, hit.end})
		}
	}
}

// wholeClass reads a class that has no category from a line that names it and little else, up to its code: "Compressed
// gas H280", "Gase unter Druck - Verflüssigtes Gas. H280: ...".
func wholeClass(text string) []classHit {
	codes := ghs.ParseCodes(text)
	end := len(text)
	var code ghs.Code
	if len(codes) > 0 {
		end, code = codes[0].Start, codes[0].Code
	}
	if code.Kind() != ghs.HazardStatement && (len(text) > 60 || code != "") {
		return nil
	}
	name := strings.Trim(text[:end], " .;:-–,(")
	if len(name) < 5 || len(tokenize(name)) > 8 {
		return nil
	}
	readings := ghs.Readings(name)
	if len(readings) == 0 {
		return nil
	}
	for _, h := range readings {
		if h.Category() != "" || code == "" && h.Class().Group() != ghs.PhysicalGroup {
			return nil
		}
	}
	hit := classHit{start: 0, end: min(len(text), strings.Index(text, name)+len(name)), code: code, possible: readings}
	if len(readings) == 1 {
		hit.hazard, hit.possible = readings[0], nil
	}
	return []classHit{hit}
}

// classLike tells whether a line may hold a classification: it is no prose and no precautionary statement.
func classLike(l *layout.Line) bool {
	if len(l.Text) < 5 || len(l.Text) > 400 {
		return false
	}
	for _, hit := range ghs.ParseCodes(l.Text) {
		if hit.Code.Kind() == ghs.PrecautionaryStatement {
			return false
		}
	}
	return hasDigits(l.Text, 1) || len(l.Text) < 110
}

func (r *reader) addClass(hit classHit, where stretch) {
	h := &r.sheet.Hazards
	printed := strings.Join(strings.Fields(where.text()), " ")
	for i := range h.Classification {
		c := &h.Classification[i]
		if c.Value.Hazard == hit.hazard && len(c.Value.Possible) == len(hit.possible) && (hit.hazard != 0 || samePossible(c.Value.Possible, hit.possible)) {
			c.Evidence = append(c.Evidence, where.evidence()...)
			if c.Value.Code == "" {
				c.Value.Code = hit.code
			}
			return
		}
	}
	confidence := sureTable
	if hit.hazard == 0 {
		confidence = inferred
	}
	h.Classification = append(h.Classification, fact(sheet.ClassStatement{Hazard: hit.hazard, Possible: hit.possible, Printed: printed, Code: hit.code}, confidence, where))
}

func samePossible(a, b []ghs.Hazard) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
