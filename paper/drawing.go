package paper

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"sixteen/ghs"
)

// Ink is a colour.
type Ink struct{ R, G, B uint8 }

// Inks of the papers: black on white and greys; red belongs to the frames of the pictograms alone.
var (
	black   = Ink{}
	white   = Ink{255, 255, 255}
	dark    = Ink{70, 70, 70}
	mid     = Ink{130, 130, 130}
	pale    = Ink{236, 236, 236}
	signRed = Ink{226, 0, 26}
)

func (i Ink) hex() string      { return fmt.Sprintf("#%02x%02x%02x", i.R, i.G, i.B) }
func (i Ink) rgba() color.RGBA { return color.RGBA{i.R, i.G, i.B, 255} }
func (i Ink) components() string {
	return fmt.Sprintf("%s %s %s", num(float64(i.R)/255), num(float64(i.G)/255), num(float64(i.B)/255))
}

// Point is a place on a drawing: points to the right and down from its top left corner.
type Point struct{ X, Y float64 }

// Segment is one step of a path: a line to the last of its points, or with three points a cubic curve.
type Segment struct {
	Move bool
	To   []Point
}

// Shape is an area or a stroke. A nil Fill or Stroke is not painted.
type Shape struct {
	Path      []Segment
	Close     bool
	Fill      *Ink
	Stroke    *Ink
	LineWidth float64
	Dash      []float64
}

// Words is one line of text with its base line at Y.
type Words struct {
	X, Y, Size float64
	Bold       bool
	Align      Align // of the text about X
	Ink        Ink
	Text       string
}

// Role is what a group of marks is to a reader aloud.
type Role string

// Roles, named as in ISO 32000 14.8.4; Decoration is not read.
const (
	Decoration    Role = ""
	TitleRole     Role = "H1"
	HeadingRole   Role = "H2"
	ParagraphRole Role = "P"
	FigureRole    Role = "Figure"
)

// Group is marks that are one thing to a reader aloud. Frame, when it is not empty, is the box the marks must lie in.
type Group struct {
	Role  Role
	Alt   string // of a figure
	Lang  ghs.Lang
	Frame Frame
	Marks []Mark
}

// Frame is a box: its left, top, width and height.
type Frame struct{ X, Y, W, H float64 }

// Mark is a Shape, Words or Group.
type Mark interface{ mark() }

func (Shape) mark() {}
func (Words) mark() {}
func (Group) mark() {}

// Drawing is a sheet of a fixed size, in points.
type Drawing struct {
	Width, Height float64
	Marks         []Mark
}

func moveTo(x, y float64) Segment { return Segment{Move: true, To: []Point{{x, y}}} }
func lineTo(x, y float64) Segment { return Segment{To: []Point{{x, y}}} }

// rectangle is a path around a box.
func rectangle(x, y, w, h float64) []Segment {
	return []Segment{moveTo(x, y), lineTo(x+w, y), lineTo(x+w, y+h), lineTo(x, y+h)}
}

// filled is a box in one colour.
func filled(x, y, w, h float64, ink Ink) Shape {
	return Shape{Path: rectangle(x, y, w, h), Close: true, Fill: &ink}
}

// stroke is a straight line.
func stroke(x0, y0, x1, y1, width float64, ink Ink) Shape {
	return Shape{Path: []Segment{moveTo(x0, y0), lineTo(x1, y1)}, Stroke: &ink, LineWidth: width}
}

// framed is the outline of a box, inside of it.
func framed(x, y, w, h, width float64, ink Ink) Shape {
	return Shape{Path: rectangle(x+width/2, y+width/2, w-width, h-width), Close: true, Stroke: &ink, LineWidth: width}
}

// symbol is a pictogram of the standard in a square: the drawing of package ghs.
func symbol(p ghs.Pictogram, x, y, side float64, l ghs.Lang) Group {
	g := Group{Role: FigureRole, Alt: p.Name(l), Frame: Frame{x, y, side, side}}
	for _, poly := range ghs.PictogramOutline(p) {
		ink := [...]Ink{ghs.White: white, ghs.Black: black, ghs.Red: signRed}[poly.Ink]
		var path []Segment
		for i, pt := range poly.Points {
			path = append(path, Segment{Move: i == 0, To: []Point{{x + pt.X*side, y + pt.Y*side}}})
		}
		g.Marks = append(g.Marks, Shape{Path: path, Close: true, Fill: &ink})
	}
	return g
}

// num writes a number for a page description: at most three decimals.
func num(v float64) string {
	if math.Abs(v) < 0.0005 {
		return "0"
	}
	s := fmt.Sprintf("%.3f", v)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// moved is the marks shifted and scaled.
func moved(marks []Mark, dx, dy, scale float64) []Mark {
	out := make([]Mark, 0, len(marks))
	for _, m := range marks {
		switch m := m.(type) {
		case Shape:
			path := make([]Segment, len(m.Path))
			for i, s := range m.Path {
				path[i].Move = s.Move
				for _, p := range s.To {
					path[i].To = append(path[i].To, Point{dx + p.X*scale, dy + p.Y*scale})
				}
			}
			m.Path, m.LineWidth = path, m.LineWidth*scale
			dash := make([]float64, len(m.Dash))
			for i, d := range m.Dash {
				dash[i] = d * scale
			}
			m.Dash = dash
			out = append(out, m)
		case Words:
			m.X, m.Y, m.Size = dx+m.X*scale, dy+m.Y*scale, m.Size*scale
			out = append(out, m)
		case Group:
			m.Frame = Frame{dx + m.Frame.X*scale, dy + m.Frame.Y*scale, m.Frame.W * scale, m.Frame.H * scale}
			m.Marks = moved(m.Marks, dx, dy, scale)
			out = append(out, m)
		}
	}
	return out
}
