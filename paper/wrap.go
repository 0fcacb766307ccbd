package paper

import (
	"strings"
	"unicode/utf8"
)

// run is letters of one style on one line, x from the beginning of the line.
type run struct {
	text string
	cut  cut
	link string
	x, w float64
}

// line is one line of text.
type line struct {
	runs []run
	w    float64
	ends bool // the text itself ends the line here
}

// piece is part of a word in one style.
type piece struct {
	text string
	cut  cut
	link string
}

// token is letters without a blank between them, in one or several styles.
type token struct {
	pieces []piece
	brk    bool // a line ends before it
	joined bool // no blank before it: what stands before ends with a slash
}

func (t Text) words(f *face) []token {
	var out []token
	glued := false
	for _, s := range t {
		c := regular
		switch {
		case s.Bold:
			c = bold
		case s.Italic:
			c = italic
		}
		for i, part := range strings.Split(f.written(s.Text), "\n") {
			if i > 0 {
				out, glued = append(out, token{brk: true}), true
			}
			for j, w := range strings.Split(part, " ") {
				if j > 0 {
					glued = false
				}
				if w == "" {
					continue
				}
				if !glued || len(out) == 0 {
					out = append(out, token{})
				}
				for k, bit := range slashed(w) {
					if k > 0 {
						out = append(out, token{joined: true})
					}
					last := &out[len(out)-1]
					last.pieces = append(last.pieces, piece{bit, c, s.Link})
				}
				glued = true
			}
		}
	}
	return out
}

// slashed cuts a word after slashes between longer parts, where a line may end.
func slashed(w string) []string {
	var out []string
	for from, i := 0, 0; i < len(w); i++ {
		if w[i] == '/' && i-from >= 3 && len(w)-i > 3 && w[i+1] != '/' {
			out, from = append(out, w[from:i+1]), i+1
		}
		if i == len(w)-1 {
			out = append(out, w[from:])
		}
	}
	return out
}

// wrap breaks a text into lines no wider than width, at blanks and, where one word is wider than a line, inside it.
func (f *face) wrap(t Text, size, width float64) []line {
	var lines []line
	cur := line{}
	flush := func(blank bool) {
		if n := len(cur.runs); blank && n > 0 {
			cur.runs[n-1].text += " " // so that the words at the ends of lines do not grow together when read aloud
		}
		lines = append(lines, cur)
		cur = line{}
	}
	for i, w := range t.words(f) {
		if w.brk && i > 0 {
			cur.ends = true
			flush(true)
		}
		ww := 0.0
		for _, p := range w.pieces {
			ww += f.width(p.cut, size, p.text)
		}
		gap := 0.0
		if len(cur.runs) > 0 && len(w.pieces) > 0 && !w.joined {
			gap = f.advance(regular, ' ') * size
		}
		if len(cur.runs) > 0 && cur.w+gap+ww > width {
			flush(!w.joined)
			gap = 0
		}
		if ww > width {
			for _, p := range w.pieces {
				for rest := p.text; rest != ""; {
					n := f.fitting(p.cut, size, rest, width-cur.w)
					if n == 0 && len(cur.runs) > 0 {
						flush(false)
						continue
					}
					if _, first := utf8.DecodeRuneInString(rest); n < first {
						n = first
					}
					cur.add(f, size, piece{rest[:n], p.cut, p.link}, 0)
					rest = rest[n:]
				}
			}
			continue
		}
		for j, p := range w.pieces {
			if j > 0 {
				gap = 0
			}
			cur.add(f, size, p, gap)
		}
	}
	if len(cur.runs) > 0 || len(lines) == 0 {
		flush(false)
	}
	return lines
}

// add appends a piece, joined to the run before it when both have one style.
func (l *line) add(f *face, size float64, p piece, gap float64) {
	w := f.width(p.cut, size, p.text)
	if n := len(l.runs); n > 0 {
		last := &l.runs[n-1]
		sp := ""
		if gap > 0 {
			sp = " "
		}
		if last.cut == p.cut && last.link == p.link {
			last.text += sp + p.text
			last.w = f.width(last.cut, size, last.text)
			l.w = last.x + last.w
			return
		}
		if sp != "" {
			last.text += sp
		}
	}
	l.runs = append(l.runs, run{p.text, p.cut, p.link, l.w + gap, w})
	l.w += gap + w
}

// fitting is how many bytes of a word fit into width, 0 when not one letter does in a line that has begun; it prefers to
// break after a slash, hyphen or full stop.
func (f *face) fitting(c cut, size float64, s string, width float64) int {
	fit, nice, w := 0, 0, 0.0
	for i, r := range s {
		w += f.advance(c, r) * size
		if w > width {
			break
		}
		fit = i + len(string(r))
		if strings.ContainsRune("/-._,&=?@", r) {
			nice = fit
		}
	}
	if fit == len(s) {
		return fit
	}
	if nice > 0 {
		return nice
	}
	return fit
}
