package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"strconv"
	"strings"
)

// WriteSVG writes the drawing as an SVG document. Letters keep the width that they have on paper whatever type the
// reader's machine has.
func (d *Drawing) WriteSVG(w io.Writer) error {
	f, err := newFace()
	if err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s">`,
		num(d.Width/MM), num(d.Height/MM), num(d.Width), num(d.Height))
	f.svgMarks(&b, d.Marks)
	b.WriteString("</svg>")
	_, err = io.WriteString(w, b.String())
	return err
}

func (f *face) svgMarks(b *strings.Builder, marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Shape:
			svgShape(b, m)
		case Words:
			f.svgWords(b, m)
		case Group:
			attrs := ""
			if m.Role == FigureRole {
				attrs += fmt.Sprintf(` role="img" aria-label="%s"`, html.EscapeString(m.Alt))
			}
			if m.Lang != "" {
				attrs += fmt.Sprintf(` lang="%s"`, m.Lang)
			}
			fmt.Fprintf(b, "<g%s>", attrs)
			f.svgMarks(b, m.Marks)
			b.WriteString("</g>")
		}
	}
}

func svgShape(b *strings.Builder, s Shape) {
	b.WriteString(`<path d="`)
	for _, seg := range s.Path {
		letter := "L"
		switch {
		case seg.Move:
			letter = "M"
		case len(seg.To) == 3:
			letter = "C"
		}
		b.WriteString(letter)
		for i, p := range seg.To {
			if i > 0 {
				b.WriteString(" ")
			}
			b.WriteString(num(p.X) + " " + num(p.Y))
		}
	}
	if s.Close {
		b.WriteString("Z")
	}
	b.WriteString(`" fill-rule="evenodd"`)
	if s.Fill == nil {
		b.WriteString(` fill="none"`)
	} else {
		fmt.Fprintf(b, ` fill="%s"`, s.Fill.hex())
	}
	if s.Stroke != nil {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s"`, s.Stroke.hex(), num(s.LineWidth))
		if len(s.Dash) > 0 {
			var d []string
			for _, v := range s.Dash {
				d = append(d, num(v))
			}
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Join(d, " "))
		}
	}
	b.WriteString("/>")
}

func (f *face) svgWords(b *strings.Builder, m Words) {
	c, weight := regular, ""
	if m.Bold {
		c, weight = bold, ` font-weight="bold"`
	}
	s := strings.TrimRight(f.written(m.Text), " ")
	w := f.width(c, m.Size, s)
	if strings.TrimSpace(s) == "" {
		return
	}
	fmt.Fprintf(b, `<text x="%s" y="%s" font-family="Go, Verdana, sans-serif" font-size="%s"%s fill="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
		num(m.X-offset(m.Align, w)), num(m.Y), num(m.Size), weight, m.Ink.hex(), num(w), html.EscapeString(s))
}

// ParseSVG reads a drawing from the part of SVG 1.1 that charts need: g, rect, line, polyline, polygon, path (all commands
// but arcs), circle, ellipse, text and tspan, with translate and scale, the paint attributes, the same as style
// attribute, and rules of a style element for single classes. A user unit is one CSS pixel, 0.75 pt. Anything else is an
// error that names it, because a chart must not lose a line without a word.
func ParseSVG(data []byte) (*Drawing, error) {
	p := svgParser{dec: xml.NewDecoder(bytes.NewReader(data)), classes: map[string]map[string]string{}}
	p.stack = []svgState{{scale: 1, style: map[string]string{"fill": "#000", "font-size": "16", "stroke-width": "1"}}}
	for {
		tok, err := p.dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("the chart is not well-formed SVG: %w", err)
		}
		if err := p.token(tok); err != nil {
			return nil, err
		}
	}
	if p.out.Width <= 0 || p.out.Height <= 0 {
		return nil, errors.New("the chart needs a viewBox, or width and height")
	}
	return &p.out, nil
}

// svgState is what an element hands down to those inside it.
type svgState struct {
	dx, dy, scale float64
	style         map[string]string
	skip          bool
	text          bool
	x, y          float64 // of text
	name          string
}

type svgParser struct {
	dec     *xml.Decoder
	stack   []svgState
	classes map[string]map[string]string
	out     Drawing
}

func (p *svgParser) top() *svgState { return &p.stack[len(p.stack)-1] }

func (p *svgParser) token(tok xml.Token) error {
	switch t := tok.(type) {
	case xml.StartElement:
		s, err := p.enter(t)
		if err != nil {
			return err
		}
		p.stack = append(p.stack, s)
		if s.skip {
			return nil
		}
		return p.draw(t)
	case xml.EndElement:
		p.stack = p.stack[:len(p.stack)-1]
	case xml.CharData:
		switch s := p.top(); {
		case s.name == "style":
			p.rules(string(t))
		case s.text && !s.skip:
			p.words(s, string(t))
		}
	}
	return nil
}

func attr(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

func pixels(s string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(s), "px"), 64)
	if err != nil {
		return 0
	}
	return v
}

// enter works out position and style of an element.
func (p *svgParser) enter(t xml.StartElement) (svgState, error) {
	s := *p.top()
	s.name = t.Name.Local
	switch s.name {
	case "title", "desc", "metadata", "style", "defs":
		s.skip = true
		return s, nil
	case "svg", "g", "rect", "line", "polyline", "polygon", "path", "circle", "ellipse", "text", "tspan":
	default:
		return s, fmt.Errorf("the chart holds a %q element, which cannot be printed", s.name)
	}
	style := map[string]string{}
	for k, v := range s.style {
		style[k] = v
	}
	delete(style, "opacity")
	for _, a := range t.Attr {
		style[a.Name.Local] = a.Value
	}
	for _, c := range strings.Fields(attr(t, "class")) {
		for k, v := range p.classes[c] {
			style[k] = v
		}
	}
	for k, v := range declarations(attr(t, "style")) {
		style[k] = v
	}
	s.style = style
	if s.name == "svg" {
		return s, p.size(t, &s)
	}
	return s, s.transform(attr(t, "transform"))
}

func (p *svgParser) size(t xml.StartElement, s *svgState) error {
	const unit = 0.75
	box := floats(attr(t, "viewBox"))
	if len(box) != 4 {
		box = []float64{0, 0, pixels(attr(t, "width")), pixels(attr(t, "height"))}
	}
	s.scale, s.dx, s.dy = unit, -box[0]*unit, -box[1]*unit
	p.out.Width, p.out.Height = box[2]*unit, box[3]*unit
	return nil
}

func (s *svgState) transform(list string) error {
	for rest := strings.TrimSpace(list); rest != ""; {
		name, tail, ok := strings.Cut(rest, "(")
		args, after, ok2 := strings.Cut(tail, ")")
		v := floats(args)
		if !ok || !ok2 || len(v) == 0 {
			return fmt.Errorf("the chart has a transform %q that cannot be read", list)
		}
		v = append(v, 0)
		switch strings.Trim(name, " ,") {
		case "translate":
			s.dx, s.dy = s.dx+v[0]*s.scale, s.dy+v[1]*s.scale
		case "scale":
			if v[1] != 0 && v[1] != v[0] {
				return fmt.Errorf("the chart is scaled unevenly (%q), which cannot be printed", list)
			}
			s.scale *= v[0]
		default:
			return fmt.Errorf("the chart has a transform %q that cannot be printed", list)
		}
		rest = strings.TrimSpace(after)
	}
	return nil
}

// rules reads rules for single classes from a style element.
func (p *svgParser) rules(css string) {
	for _, rule := range strings.Split(css, "}") {
		selectors, body, ok := strings.Cut(rule, "{")
		if !ok {
			continue
		}
		for _, sel := range strings.Split(selectors, ",") {
			sel = strings.TrimSpace(sel)
			if name, ok := strings.CutPrefix(sel[strings.LastIndexAny(sel, " >")+1:], "."); ok {
				if p.classes[name] == nil {
					p.classes[name] = map[string]string{}
				}
				for k, v := range declarations(body) {
					p.classes[name][k] = v
				}
			}
		}
	}
}

func declarations(css string) map[string]string {
	out := map[string]string{}
	for _, d := range strings.Split(css, ";") {
		if k, v, ok := strings.Cut(d, ":"); ok {
			out[strings.TrimSpace(k)] = strings.TrimSpace(v)
		}
	}
	return out
}

func floats(s string) []float64 {
	var out []float64
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '\n' || r == '\t' || r == '\r' }) {
		out = append(out, pixels(f))
	}
	return out
}

func (s *svgState) at(x, y float64) Point { return Point{s.dx + x*s.scale, s.dy + y*s.scale} }

// paint is the style of a shape.
func (s *svgState) paint(shape Shape) (Shape, error) {
	var err error
	if shape.Fill, err = s.ink("fill"); err != nil {
		return shape, err
	}
	if shape.Stroke, err = s.ink("stroke"); err != nil {
		return shape, err
	}
	shape.LineWidth = pixels(s.style["stroke-width"]) * s.scale
	for _, d := range floats(s.style["stroke-dasharray"]) {
		if d > 0 {
			shape.Dash = append(shape.Dash, d*s.scale)
		}
	}
	return shape, nil
}

// ink reads a colour and lays it over white as far as it is transparent.
func (s *svgState) ink(name string) (*Ink, error) {
	v := strings.ToLower(strings.TrimSpace(s.style[name]))
	var c Ink
	switch v {
	case "", "none", "transparent":
		return nil, nil
	case "black", "currentcolor", "canvastext":
	case "white", "canvas":
		c = white
	case "grey", "gray":
		c = Ink{128, 128, 128}
	case "red":
		c = Ink{255, 0, 0}
	default:
		h, ok := strings.CutPrefix(v, "#")
		if len(h) == 3 {
			h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
		}
		n, err := strconv.ParseUint(h, 16, 32)
		if !ok || len(h) != 6 || err != nil {
			return nil, fmt.Errorf("the chart has the colour %q, write it as #rrggbb", v)
		}
		c = Ink{uint8(n >> 16), uint8(n >> 8), uint8(n)}
	}
	alpha := 1.0
	for _, k := range []string{"opacity", name + "-opacity"} {
		if o, err := strconv.ParseFloat(s.style[k], 64); err == nil {
			alpha *= o
		}
	}
	if alpha <= 0 {
		return nil, nil
	}
	mix := func(v uint8) uint8 { return uint8(float64(v)*alpha + 255*(1-alpha) + 0.5) }
	return &Ink{mix(c.R), mix(c.G), mix(c.B)}, nil
}

func (p *svgParser) draw(t xml.StartElement) error {
	s := p.top()
	n := func(name string) float64 { return pixels(attr(t, name)) }
	var shape Shape
	switch t.Name.Local {
	case "rect":
		a := s.at(n("x"), n("y"))
		shape = Shape{Path: rectangle(a.X, a.Y, n("width")*s.scale, n("height")*s.scale), Close: true}
	case "line":
		a, b := s.at(n("x1"), n("y1")), s.at(n("x2"), n("y2"))
		shape = Shape{Path: []Segment{moveTo(a.X, a.Y), lineTo(b.X, b.Y)}}
	case "polyline", "polygon":
		v := floats(attr(t, "points"))
		for i := 0; i+1 < len(v); i += 2 {
			shape.Path = append(shape.Path, Segment{Move: i == 0, To: []Point{s.at(v[i], v[i+1])}})
		}
		shape.Close = t.Name.Local == "polygon"
	case "circle":
		shape = s.ellipse(n("cx"), n("cy"), n("r"), n("r"))
	case "ellipse":
		shape = s.ellipse(n("cx"), n("cy"), n("rx"), n("ry"))
	case "path":
		var err error
		if shape, err = s.path(attr(t, "d")); err != nil {
			return err
		}
	case "text", "tspan":
		s.text = true
		if attr(t, "x") != "" || t.Name.Local == "text" {
			s.x = n("x")
		}
		if attr(t, "y") != "" || t.Name.Local == "text" {
			s.y = n("y")
		}
		s.y += n("dy")
		return nil
	default:
		return nil
	}
	shape, err := s.paint(shape)
	if err == nil && len(shape.Path) > 0 {
		p.out.Marks = append(p.out.Marks, shape)
	}
	return err
}

func (s *svgState) ellipse(cx, cy, rx, ry float64) Shape {
	const k = 0.5522847498
	at := func(x, y float64) Point { return s.at(cx+x*rx, cy+y*ry) }
	return Shape{Close: true, Path: []Segment{
		{Move: true, To: []Point{at(1, 0)}},
		{To: []Point{at(1, k), at(k, 1), at(0, 1)}}, {To: []Point{at(-k, 1), at(-1, k), at(-1, 0)}},
		{To: []Point{at(-1, -k), at(-k, -1), at(0, -1)}}, {To: []Point{at(k, -1), at(1, -k), at(1, 0)}},
	}}
}

func (p *svgParser) words(s *svgState, text string) {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" {
		return
	}
	at := s.at(s.x, s.y)
	w := Words{X: at.X, Y: at.Y, Size: pixels(s.style["font-size"]) * s.scale, Text: text, Bold: s.style["font-weight"] == "bold" || pixels(s.style["font-weight"]) >= 600}
	switch s.style["text-anchor"] {
	case "middle":
		w.Align = Centre
	case "end":
		w.Align = Right
	}
	if b := s.style["dominant-baseline"]; b == "middle" || b == "central" {
		w.Y += w.Size * 0.33
	}
	if ink, err := s.ink("fill"); err == nil && ink != nil {
		w.Ink = *ink
	}
	p.out.Marks = append(p.out.Marks, w)
}
