package docx

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
)

// element is one element of a part, by its local name.
type element struct {
	name     string
	attrs    []xml.Attr
	text     string
	children []*element
}

// parse reads a part into a tree. Entities other than XML's own are an error, so that none expands.
func parse(data []byte) (*element, error) {
	dec := xml.NewDecoder(bytes.NewReader(data))
	root := &element{}
	open := []*element{root}
	for count := 0; ; {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return root, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%w (%v)", ErrDamaged, err)
		}
		top := open[len(open)-1]
		switch t := tok.(type) {
		case xml.StartElement:
			if count++; count > maxElements || len(open) > maxDepth {
				return nil, ErrTooLarge
			}
			n := &element{name: t.Name.Local, attrs: t.Attr}
			top.children = append(top.children, n)
			open = append(open, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if top.name == "t" {
				top.text += string(t)
			}
		}
	}
}

// child is the first child with a name; nil when there is none, also of a nil element.
func (n *element) child(name string) *element {
	if n == nil {
		return nil
	}
	for _, c := range n.children {
		if c.name == name {
			return c
		}
	}
	return nil
}

// on tells whether a switch among the children is set: it is there, and not with a value that turns it off.
func (n *element) on(name string) bool {
	c := n.child(name)
	if c == nil {
		return false
	}
	v := c.attribute("val")
	return v != "0" && v != "false"
}

func (n *element) attribute(name string) string {
	for _, a := range n.attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// all lists every element with a name, at any depth.
func (n *element) all(name string) []*element {
	var out []*element
	for _, c := range n.children {
		if c.name == name {
			out = append(out, c)
		}
		out = append(out, c.all(name)...)
	}
	return out
}

// direct lists the elements with a name that stand below n with nothing but wrappers (content controls, inserted text)
// between.
func (n *element) direct(name string) []*element {
	var out []*element
	for _, c := range n.children {
		switch c.name {
		case name:
			out = append(out, c)
		case "sdt", "sdtContent", "ins", "customXml", "moveTo":
			out = append(out, c.direct(name)...)
		}
	}
	return out
}
