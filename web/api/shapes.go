package api

import (
	"sixteen/shelf"
)

// one answers with a record and its version.
type one[T any] struct {
	ETag string `header:"ETag"`
	Body T
}

// made answers with a record that was made, where it is, and its version.
type made[T any] struct {
	Location string `header:"Location"`
	ETag     string `header:"ETag"`
	Body     T
}

// page answers with part of a list.
type page[T any] struct {
	Body shelf.Page[T]
}

// list answers with a whole list.
type list[T any] struct {
	Body []T
}

// answer answers with something whose shape its own page of the documentation describes.
type answer struct {
	Body any
}

// done answers with nothing.
type done struct{}

// ByID names a record.
type ByID struct {
	ID string `path:"id" maxLength:"64"`
}

// retiring takes a record off the shelf's lists.
type retiring struct {
	ByID
	Body struct {
		Why string `json:"why" maxLength:"2000" doc:"The reason; it is kept."`
	}
}

// Paging is which part of a list is wanted.
type Paging struct {
	Limit  int `query:"limit" minimum:"1" maximum:"1000" default:"50" doc:"How many items at most."`
	Offset int `query:"offset" minimum:"0" maximum:"10000000" doc:"After how many items."`
}

func (p Paging) part() shelf.Paging { return shelf.Paging{Limit: p.Limit, Offset: p.Offset} }

// keep hands out a record as it stands on the shelf now.
func keep[T any](t T, r shelf.Record, err error) (*one[T], error) {
	return &one[T]{ETag: tagOf(r.Version), Body: t}, err
}

// create hands out a record that was made.
func create[T any](kind string, t T, r shelf.Record, err error) (*made[T], error) {
	return &made[T]{Location: place(kind, r.ID), ETag: tagOf(r.Version), Body: t}, err
}
