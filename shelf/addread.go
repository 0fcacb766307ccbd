package shelf

import (
	"context"
	"path/filepath"

	"golang.org/x/sync/errgroup"

	"sixteen/judge"
	"sixteen/sheet"
)

// ReadDocument is a document that was read before it came on the shelf.
type ReadDocument struct {
	Name      string
	Data      []byte
	Facts     *sheet.Sheet     // as read, without corrections
	Judgement *judge.Judgement // nil: it is judged
	Product   string           // ID; "" to find or make it by the facts
}

// AddRead puts documents on the shelf that were read before, all in one transaction. A document that is there already, for
// the same product, is left as it is. It returns their sheets in the same order.
func (s *Shelf) AddRead(ctx context.Context, by string, documents []ReadDocument) ([]Sheet, error) {
	sums := make([]string, len(documents))
	var group errgroup.Group
	group.SetLimit(8)
	for i, d := range documents {
		group.Go(func() (err error) {
			sums[i], err = s.keep(ctx, d.Data)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, s.explained(err)
	}
	var out []Sheet
	err := s.change(ctx, by, func(x *change) error {
		out = make([]Sheet, len(documents))
		for i, d := range documents {
			var err error
			if out[i], err = s.addRead(ctx, x, sums[i], d); err != nil {
				return err
			}
		}
		return nil
	})
	return out, err
}

func (s *Shelf) addRead(ctx context.Context, x *change, sum string, d ReadDocument) (Sheet, error) {
	name := filepath.Base(d.Name)
	if err := x.exec(ctx, "INSERT INTO documents (sha256, name, bytes, added, by_whom) VALUES (?, ?, ?, ?, ?) ON CONFLICT (sha256) DO NOTHING", sum, storable(name), len(d.Data), stamped(x.now), storable(x.by)); err != nil {
		return Sheet{}, err
	}
	have, err := loadAll[Sheet](ctx, x, "WHERE t.document = ? AND t.retired = '' AND t.state = 'read' AND (? = '' OR t.product_id = ?) ORDER BY t.seq LIMIT 1", sum, d.Product, d.Product)
	if err != nil || len(have) > 0 {
		return append(have, Sheet{})[0], err
	}
	t := Sheet{Document: sum, FileName: name, Product: d.Product, State: Waiting}
	if err := x.insert(ctx, &t, ""); err != nil {
		return t, err
	}
	old := t
	t.State = Read
	packed, err := pack(d.Facts)
	if err != nil {
		return t, err
	}
	return t, s.keepReading(ctx, x, &t, &old, outcome{facts: d.Facts, packed: packed, ready: d.Judgement})
}
