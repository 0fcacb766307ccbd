package ghs

import (
	"bytes"
	"embed"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"sync"
)

//go:embed pictograms/*.svg
var pictogramFiles embed.FS

// Ink is the colour of a part of a pictogram. The standard prints a black symbol on white in a red frame (UN GHS
// 1.4.10.4.2.3).
type Ink uint8

// Inks.
const (
	White Ink = iota
	Black
	Red
)

// Point is a place in a pictogram: 0 to 1 rightwards and downwards.
type Point struct{ X, Y float64 }

// Polygon is one closed area of a pictogram. Its interior is filled by the even-odd rule.
type Polygon struct {
	Points []Point
	Ink    Ink
}

// PictogramSVG is our drawing of the pictogram as an SVG document, nil for NoPictogram.
func PictogramSVG(p Pictogram) []byte {
	data, err := pictogramFiles.ReadFile("pictograms/" + p.String() + ".svg")
	if err != nil {
		return nil
	}
	return data
}

// PictogramOutline is the same drawing as polygons in a square from 0 to 1, to be painted one over the other in their
// order. Curves are drawn as runs of short lines that keep within a thousandth of the square. The result is shared: read
// only.
func PictogramOutline(p Pictogram) []Polygon {
	if p == NoPictogram || int(p) >= len(pictogramNames) {
		return nil
	}
	return outlines()[p]
}

var outlines = sync.OnceValue(func() map[Pictogram][]Polygon {
	all := map[Pictogram][]Polygon{}
	for _, p := range Pictograms() {
		o, err := parseDrawing(PictogramSVG(p))
		if err != nil {
			panic(fmt.Sprintf("%s: %v", p, err)) // the drawings are part of the program; any test finds a fault in them
		}
		all[p] = o
	}
	return all
})

var inkOf = map[string]Ink{"#ffffff": White, "#000000": Black, "#e2001a": Red}

// drawingSize is the width and height of the drawings' coordinates.
const drawingSize = 1000

// parseDrawing reads the kind of SVG that the drawings are: filled paths of absolute M, L, C and Z commands in a square of
// drawingSize.
func parseDrawing(svg []byte) ([]Polygon, error) {
	dec := xml.NewDecoder(bytes.NewReader(svg))
	var out []Polygon
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		el, ok := tok.(xml.StartElement)
		if !ok || el.Name.Local != "path" {
			continue
		}
		var path, fill string
		for _, a := range el.Attr {
			switch a.Name.Local {
			case "d":
				path = a.Value
			case "fill":
				fill = a.Value
			}
		}
		ink, ok := inkOf[fill]
		if !ok {
			return nil, fmt.Errorf("no ink is %q", fill)
		}
		pts, err := parsePath(path)
		if err != nil {
			return nil, err
		}
		out = append(out, Polygon{pts, ink})
	}
}

// parsePath reads one closed path.
func parsePath(d string) ([]Point, error) {
	var pts, args []Point
	var command byte
	f := bytes.Fields([]byte(d))
	for i := 0; i < len(f); i++ {
		if len(f[i]) == 1 && f[i][0] >= 'A' {
			command = f[i][0]
			if command == 'Z' && i != len(f)-1 {
				return nil, errors.New("more than one part in a path")
			}
			continue
		}
		if i+1 == len(f) {
			return nil, fmt.Errorf("odd number of coordinates in %q", d)
		}
		x, errX := strconv.ParseFloat(string(f[i]), 64)
		y, errY := strconv.ParseFloat(string(f[i+1]), 64)
		if err := errors.Join(errX, errY); err != nil {
			return nil, err
		}
		i++
		args = append(args, Point{x / drawingSize, y / drawingSize})
		switch {
		case command == 'M' || command == 'L':
			pts, args = append(pts, args[0]), nil
		case command == 'C' && len(args) == 3:
			pts, args = appendCurve(pts, args), nil
		case command != 'C':
			return nil, fmt.Errorf("unknown path command %q", command)
		}
	}
	if command != 'Z' || len(args) > 0 || len(pts) < 3 {
		return nil, fmt.Errorf("path %q is not closed", d)
	}
	return pts, nil
}

// curveSteps is the number of lines that stand for one curve.
const curveSteps = 12

// appendCurve adds a cubic Bézier curve from the last point, through its control points c.
func appendCurve(pts, c []Point) []Point {
	p := pts[len(pts)-1]
	for i := 1; i <= curveSteps; i++ {
		t := float64(i) / curveSteps
		u := 1 - t
		a, b, g, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		pts = append(pts, Point{a*p.X + b*c[0].X + g*c[1].X + d*c[2].X, a*p.Y + b*c[0].Y + g*c[1].Y + d*c[2].Y})
	}
	return pts
}
