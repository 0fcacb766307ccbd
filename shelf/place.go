package shelf

import (
	"context"
	"fmt"
)

// PlaceSort is what sort of place it is.
type PlaceSort string

// Sorts of places.
const (
	Room     PlaceSort = "room"
	Cupboard PlaceSort = "cupboard" // fire-resisting or not: its limits say
	Shelves  PlaceSort = "shelves"
	Outdoors PlaceSort = "outdoors"
	Vehicle  PlaceSort = "vehicle"
)

// PlaceSorts lists the sorts of places.
func PlaceSorts() []PlaceSort { return []PlaceSort{Room, Cupboard, Shelves, Outdoors, Vehicle} }

// Limit is the most that a place may hold of one storage class. A person sets it, from the law or the insurer's letter named in
// Source; the program presumes none.
type Limit struct {
	Class  StorageClass `json:"class"`
	Most   float64      `json:"most"`
	Unit   string       `json:"unit"` // one of Units
	Source string       `json:"source,omitempty"`
}

// Place is a room, a cupboard in it, or another place where products stand. The totals of a place count what stands in the
// places within it.
type Place struct {
	Record
	Name   string    `json:"name"`
	Sort   PlaceSort `json:"sort"`
	Within string    `json:"within,omitempty"` // ID of the place it is in; "" when in none
	Limits []Limit   `json:"limits"`
	Note   string    `json:"note,omitempty"`
}

func (p *Place) kind() Kind       { return PlaceKind }
func (p *Place) table() string    { return "places" }
func (p *Place) title() string    { return p.Name }
func (p *Place) searched() string { return joined(string(p.Sort), p.Note) }
func (p *Place) columns() []column {
	return []column{
		{"name", text{&p.Name}}, {"kind", words[PlaceSort]{&p.Sort}}, {"within", ref{&p.Within}}, {"limits", asJSON[[]Limit]{&p.Limits}}, {"note", text{&p.Note}},
	}
}
func (p *Place) check() error {
	if err := named("place", p.Name); err != nil {
		return err
	}
	if err := oneOf("sort of place", p.Sort, PlaceSorts()...); err != nil {
		return err
	}
	for _, l := range p.Limits {
		if err := oneOf("storage class", l.Class, StorageClasses()...); err != nil {
			return err
		}
		if err := oneOf("unit of a limit", l.Unit, Units()...); err != nil {
			return err
		}
		if !(l.Most >= 0 && l.Most < 1e9) {
			return &Invalid{What: fmt.Sprintf("The limit of %v %s cannot be kept.", l.Most, l.Unit), Do: "Give a number from 0 up."}
		}
	}
	return nil
}

// AddPlace puts a place on the shelf.
func (s *Shelf) AddPlace(ctx context.Context, by string, p Place) (Place, error) {
	return add(ctx, s, by, p)
}

// Place is one place. It fails with ErrNotFound.
func (s *Shelf) Place(ctx context.Context, id string) (Place, error) { return load[Place](ctx, s, id) }

// EditPlace keeps a changed place. A place cannot be within itself. It fails with ErrNotFound, *Conflict and *Invalid.
func (s *Shelf) EditPlace(ctx context.Context, by string, p Place) (Place, error) {
	return edit(ctx, s, by, p, func(x *change, t, old *Place) error {
		for at, steps := t.Within, 0; at != ""; steps++ {
			if at == t.ID || steps > 100 {
				return &Invalid{What: "The place would be within itself.", Do: "Choose another place around it, or none."}
			}
			around, err := load[Place](ctx, x, at)
			if err != nil {
				return err
			}
			at = around.Within
		}
		return nil
	})
}

// RetirePlace takes a place off the lists, with the reason. It fails with *Invalid while products stand in it.
func (s *Shelf) RetirePlace(ctx context.Context, by, id, why string) error {
	held, err := s.Stock(ctx, StockFilter{Place: id})
	if err != nil {
		return err
	}
	if len(held) > 0 {
		return &Invalid{What: fmt.Sprintf("%d products still stand there.", len(held)), Do: "Move them to another place first."}
	}
	return retire[Place](ctx, s, by, id, why, exposureNote)
}

// Places lists the places by name.
func (s *Shelf) Places(ctx context.Context) ([]Place, error) {
	return loadAll[Place](ctx, s, "WHERE t.retired = '' ORDER BY lower(t.name), t.id")
}
