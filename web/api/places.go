package api

import (
	"context"
	"net/http"

	"sixteen/ghs"
	"sixteen/shelf"
	"sixteen/web"
)

type placeBody struct {
	Name   string        `json:"name" minLength:"1" maxLength:"200"`
	Sort   string        `json:"sort" enum:"room,cupboard,shelves,outdoors,vehicle"`
	Within string        `json:"within,omitempty" maxLength:"64" doc:"ID of the place it is in."`
	Limits []shelf.Limit `json:"limits,omitempty" maxItems:"50" doc:"The most it may hold of a storage class, from the law or the insurer's letter named in source. The program presumes none."`
	Note   string        `json:"note,omitempty" maxLength:"5000"`
}

func (b placeBody) onto(p shelf.Place) shelf.Place {
	p.Name, p.Sort, p.Within, p.Limits, p.Note = b.Name, shelf.PlaceSort(b.Sort), b.Within, b.Limits, b.Note
	return p
}

type stockBody struct {
	Product   string   `json:"product" maxLength:"64" doc:"ID."`
	Place     string   `json:"place" maxLength:"64" doc:"ID."`
	Amount    *float64 `json:"amount,omitempty" minimum:"0" maximum:"1e9" doc:"Without it the amount is not known, which is not the same as none."`
	Unit      string   `json:"unit" maxLength:"20" doc:"l, ml, kg, g, or a unit of the United States: see docs/api.md."`
	Container string   `json:"container,omitempty" maxLength:"200"`
	Batch     string   `json:"batch,omitempty" maxLength:"200"`
	Opened    string   `json:"opened,omitempty" maxLength:"10" doc:"Day, year-month-day."`
	Expires   string   `json:"expires,omitempty" maxLength:"10" doc:"Day, year-month-day."`
	Note      string   `json:"note,omitempty" maxLength:"5000"`
}

func (b stockBody) onto(p shelf.Stock) shelf.Stock {
	p.Product, p.Place, p.Amount, p.Unit, p.Container, p.Batch, p.Opened, p.Expires, p.Note = b.Product, b.Place, b.Amount, b.Unit, b.Container, b.Batch, b.Opened, b.Expires, b.Note
	return p
}

type supplierBody struct {
	Name      string   `json:"name" minLength:"1" maxLength:"500"`
	Contact   string   `json:"contact,omitempty" maxLength:"500"`
	Email     string   `json:"email,omitempty" maxLength:"320"`
	Phone     string   `json:"phone,omitempty" maxLength:"100"`
	Emergency string   `json:"emergency,omitempty" maxLength:"100" doc:"Emergency telephone."`
	Address   string   `json:"address,omitempty" maxLength:"1000"`
	Language  ghs.Lang `json:"language,omitempty" maxLength:"8" doc:"Letters are written in it."`
	Note      string   `json:"note,omitempty" maxLength:"5000"`
}

func (b supplierBody) onto(p shelf.Supplier) shelf.Supplier {
	p.Name, p.Contact, p.Email, p.Phone, p.Emergency, p.Address, p.Language, p.Note = b.Name, b.Contact, b.Email, b.Phone, b.Emergency, b.Address, b.Language, b.Note
	return p
}

// addPlaces adds places, what stands in them, and suppliers: records that are listed, made, changed and retired alike.
func addPlaces(s *server) {
	tag := func(tag string) func(method, path, id, says string, need web.Role) operation {
		return func(method, path, id, says string, need web.Role) operation {
			return operation{method: method, path: path, id: id, tag: tag, says: says, need: need}
		}
	}
	addPlaceRecords(s, tag("places"))
	addStock(s, tag("stock"))
	addSuppliers(s, tag("suppliers"))
}

type tagged func(method, path, id, says string, need web.Role) operation

func addPlaceRecords(s *server, op tagged) {
	register(s, op("GET", "/places", "list-places", "List the places.", web.Read), func(ctx context.Context, _ *struct{}) (*list[shelf.Place], error) {
		all, err := s.shelf.Places(ctx)
		return &list[shelf.Place]{all}, err
	})
	add := op("POST", "/places", "add-place", "Put a place on the shelf.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct{ Body placeBody }) (*made[shelf.Place], error) {
		p, err := s.shelf.AddPlace(ctx, by(ctx), in.Body.onto(shelf.Place{}))
		return create("places", p, p.Record, err)
	})
	register(s, op("GET", "/places/{id}", "get-place", "One place.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Place], error) {
		p, err := s.shelf.Place(ctx, in.ID)
		return keep(p, p.Record, err)
	})
	register(s, op("PUT", "/places/{id}", "edit-place", "Change a place.", web.Work), func(ctx context.Context, in *edited[placeBody]) (*one[shelf.Place], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		p, err := s.shelf.Place(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		p = in.Body.onto(p)
		p.Version = version
		p, err = s.shelf.EditPlace(ctx, by(ctx), p)
		return keep(p, p.Record, err)
	})
	register(s, op("POST", "/places/{id}/retire", "retire-place", "Take a place off the lists, when nothing stands in it.", web.Manage), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetirePlace(ctx, by(ctx), in.ID, in.Body.Why)
	})
	register(s, op("GET", "/storage", "get-storage", "What stands where: totals by storage class against the limits, and neighbours that published tables keep apart.", web.Read), func(ctx context.Context, _ *struct{}) (*answer, error) {
		all, err := s.shelf.Storage(ctx)
		return &answer{map[string]any{"places": all}}, err
	})
}

func addStock(s *server, op tagged) {
	register(s, op("GET", "/stock", "list-stock", "List what stands where.", web.Read), func(ctx context.Context, q *struct {
		Product string `query:"product" maxLength:"64"`
		Place   string `query:"place" maxLength:"64" doc:"Exactly there, not in places within it."`
	}) (*list[shelf.Stock], error) {
		all, err := s.shelf.Stock(ctx, shelf.StockFilter{Product: q.Product, Place: q.Place})
		return &list[shelf.Stock]{all}, err
	})
	add := op("POST", "/stock", "add-stock", "Record that an amount of a product stands in a place.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct{ Body stockBody }) (*made[shelf.Stock], error) {
		p, err := s.shelf.AddStock(ctx, by(ctx), in.Body.onto(shelf.Stock{}))
		return create("stock", p, p.Record, err)
	})
	register(s, op("GET", "/stock/{id}", "get-stock", "One amount.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Stock], error) {
		p, err := s.shelf.StockOf(ctx, in.ID)
		return keep(p, p.Record, err)
	})
	register(s, op("PUT", "/stock/{id}", "edit-stock", "Change an amount.", web.Work), func(ctx context.Context, in *edited[stockBody]) (*one[shelf.Stock], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		p, err := s.shelf.StockOf(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		p = in.Body.onto(p)
		p.Version = version
		p, err = s.shelf.EditStock(ctx, by(ctx), p)
		return keep(p, p.Record, err)
	})
	register(s, op("POST", "/stock/{id}/retire", "retire-stock", "Record that it is used up or gone.", web.Work), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetireStock(ctx, by(ctx), in.ID, in.Body.Why)
	})
}

func addSuppliers(s *server, op tagged) {
	register(s, op("GET", "/suppliers", "list-suppliers", "List the suppliers.", web.Read), func(ctx context.Context, _ *struct{}) (*list[shelf.Supplier], error) {
		all, err := s.shelf.Suppliers(ctx)
		return &list[shelf.Supplier]{all}, err
	})
	add := op("POST", "/suppliers", "add-supplier", "Put a supplier on the shelf.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct{ Body supplierBody }) (*made[shelf.Supplier], error) {
		p, err := s.shelf.AddSupplier(ctx, by(ctx), in.Body.onto(shelf.Supplier{}))
		return create("suppliers", p, p.Record, err)
	})
	register(s, op("GET", "/suppliers/{id}", "get-supplier", "One supplier.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Supplier], error) {
		p, err := s.shelf.Supplier(ctx, in.ID)
		return keep(p, p.Record, err)
	})
	register(s, op("PUT", "/suppliers/{id}", "edit-supplier", "Change a supplier.", web.Work), func(ctx context.Context, in *edited[supplierBody]) (*one[shelf.Supplier], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		p, err := s.shelf.Supplier(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		p = in.Body.onto(p)
		p.Version = version
		p, err = s.shelf.EditSupplier(ctx, by(ctx), p)
		return keep(p, p.Record, err)
	})
	register(s, op("POST", "/suppliers/{id}/retire", "retire-supplier", "Take a supplier off the lists.", web.Manage), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetireSupplier(ctx, by(ctx), in.ID, in.Body.Why)
	})
}
