package shelf

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
	"time"

	"sixteen/blend"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// Blend is a product of the workshop's own: its recipe as the author wrote it, and what it was classified as when it was last
// worked out, with which suppliers' sheets. When one of these sheets changes, Redo says since when the blend has to be worked
// out again, and RedoWhy because of what.
type Blend struct {
	Record
	Name     string                   `json:"name"`     // the recipe's product
	Revision int                      `json:"revision"` // counts from 1; every kept recipe and every working out adds one
	Recipe   string                   `json:"recipe"`   // YAML, as 'sixteen blend --example' writes it
	Note     string                   `json:"note,omitempty"`
	Uses     []BlendUse               `json:"uses"`
	Classes  map[ghs.RuleSet][]string `json:"classes"` // what its sheet declares under each rule set of the recipe
	Redo     time.Time                `json:"redo,omitzero"`
	RedoWhy  []string                 `json:"redo_why,omitempty"`
}

// BlendUse is a supplier's sheet that a blend was worked out with.
type BlendUse struct {
	As      string `json:"as"` // as the recipe names it
	Product string `json:"product"`
	Name    string `json:"name"`
	Sheet   string `json:"sheet"` // the revision that was in force then
}

// BlendRevision is one revision of a blend, as it was kept.
type BlendRevision struct {
	Blend
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	What string    `json:"what"` // added, revised, worked out again
}

const (
	blendRevised = "revised"
	blendAgain   = "worked out again"
)

func (b *Blend) kind() Kind       { return BlendKind }
func (b *Blend) table() string    { return "blends" }
func (b *Blend) title() string    { return b.Name }
func (b *Blend) searched() string { return b.Note }
func (b *Blend) columns() []column {
	return []column{
		{"name", text{&b.Name}}, {"revision", whole[int]{&b.Revision}}, {"recipe", text{&b.Recipe}}, {"note", text{&b.Note}}, {"uses", asJSON[[]BlendUse]{&b.Uses}},
		{"classes", asJSON[map[ghs.RuleSet][]string]{&b.Classes}}, {"redo", moment{&b.Redo}}, {"redo_why", asJSON[[]string]{&b.RedoWhy}},
	}
}
func (b *Blend) check() error { return named("blend", b.Name) }

// BlendStock is what a recipe is worked out with: the substance table, and for every sheet that the recipe names the sheet in
// force of the product on the shelf that is called so, by its ID, its name or the name of a file of its sheet. It fails with
// *Invalid when no product or more than one is called so, or when it has no sheet that was read.
func (s *Shelf) BlendStock(ctx context.Context, r *blend.Recipe) (blend.Stock, []BlendUse, error) {
	table, err := judge.Substances()
	stock, uses := blend.Stock{Table: table, Sheets: map[string]*sheet.Sheet{}}, []BlendUse{}
	if err != nil {
		return stock, nil, err
	}
	for _, name := range r.Files() {
		use, err := s.blendUse(ctx, name)
		if err != nil {
			return stock, nil, err
		}
		t, err := s.Sheet(ctx, use.Sheet)
		if err != nil {
			return stock, nil, err
		}
		if stock.Sheets[name], err = s.Facts(ctx, t.Document); err != nil {
			return stock, nil, err
		}
		uses = append(uses, use)
	}
	return stock, uses, nil
}

// blendUse finds the product that a recipe's sheet line means.
func (s *Shelf) blendUse(ctx context.Context, name string) (BlendUse, error) {
	found, err := loadAll[Product](ctx, s, "WHERE t.retired = '' AND (t.id = ? OR t.folded = ?) ORDER BY t.id", name, folded(name))
	if err != nil {
		return BlendUse{}, err
	}
	if len(found) == 0 {
		file := path.Base(strings.ReplaceAll(name, `\`, "/"))
		found, err = loadAll[Product](ctx, s, "WHERE t.retired = '' AND t.id IN (SELECT h.product_id FROM sheets h WHERE h.file_name = ? AND h.retired = '') ORDER BY t.id", file)
		if err != nil {
			return BlendUse{}, err
		}
	}
	switch {
	case len(found) == 0:
		return BlendUse{}, &Invalid{What: fmt.Sprintf("The recipe names the sheet %q, and no product or sheet on the shelf is called so.", name),
			Do: "Put the supplier's sheet on the shelf, and write the product's name after sheet: in the recipe."}
	case len(found) > 1:
		return BlendUse{}, &Invalid{What: fmt.Sprintf("%d products on the shelf are called %q: %s and %s, among others.", len(found), name, found[0].ID, found[1].ID),
			Do: "Write the ID of the one that is meant after sheet: in the recipe."}
	case found[0].Sheet == "":
		return BlendUse{}, &Invalid{What: found[0].Name + " has no sheet on the shelf that was read.", Do: "Put its sheet on the shelf, or wait until it is read."}
	}
	return BlendUse{As: name, Product: found[0].ID, Name: found[0].Name, Sheet: found[0].Sheet}, nil
}

// workOut reads the recipe and classifies it under each of its rule sets.
func (s *Shelf) workOut(ctx context.Context, b *Blend) error {
	invalid := func(err error) error {
		return &Invalid{What: "The recipe cannot be worked out: " + err.Error() + ".", Do: "Mend the recipe; 'sixteen blend --example' prints one with every field."}
	}
	r, err := blend.Read(strings.NewReader(b.Recipe))
	if err != nil {
		return invalid(err)
	}
	stock, uses, err := s.BlendStock(ctx, r)
	if err != nil {
		return err
	}
	b.Name, b.Uses, b.Classes = r.Product, uses, map[ghs.RuleSet][]string{}
	for _, rs := range r.RuleSets() {
		m, err := blend.Make(r, stock, rs)
		if err != nil {
			return invalid(fmt.Errorf("%s: %w", rs.Name(), err))
		}
		b.Classes[rs] = []string{}
		for _, h := range m.Declared.All() {
			b.Classes[rs] = append(b.Classes[rs], h.String())
		}
	}
	return nil
}

// settle compares the sheets a blend was worked out with with those in force now.
func (x *change) settle(ctx context.Context, b *Blend) error {
	b.Redo, b.RedoWhy = time.Time{}, nil
	for _, u := range b.Uses {
		p, err := load[Product](ctx, x, u.Product)
		if err != nil {
			return err
		}
		if p.Sheet != u.Sheet {
			b.Redo = x.now
			b.RedoWhy = append(b.RedoWhy, "another sheet of "+p.Name+" is in force")
		}
	}
	return nil
}

// AddBlend keeps the recipe of a new blend, worked out with the sheets in force. It fails with *Invalid when the recipe cannot
// be read or worked out, and when a blend of that name is on the shelf.
func (s *Shelf) AddBlend(ctx context.Context, by, recipe, note string) (Blend, error) {
	b := Blend{Recipe: recipe, Note: strings.TrimSpace(note), Revision: 1}
	if err := s.workOut(ctx, &b); err != nil {
		return b, err
	}
	err := s.change(ctx, by, func(x *change) error {
		if err := x.blendNamed(ctx, b.Name, ""); err != nil {
			return err
		}
		if err := x.settle(ctx, &b); err != nil {
			return err
		}
		return x.insert(ctx, &b, b.Note)
	})
	return b, err
}

// blendNamed fails when another blend on the shelf is called so.
func (x *change) blendNamed(ctx context.Context, name, but string) error {
	rows, err := loadAll[Blend](ctx, x, "WHERE t.retired = '' AND t.name = ? AND t.id <> ?", name, but)
	if err != nil || len(rows) == 0 {
		return err
	}
	return &Invalid{What: fmt.Sprintf("A blend called %q is on the shelf already (%s).", name, rows[0].ID), Do: "Revise that one, or give this product another name."}
}

// ReviseBlend keeps a changed recipe as the next revision, with what was changed. version is the one the change was made on. It
// fails with ErrNotFound, *Conflict, and *Invalid when nothing is said of what was changed.
func (s *Shelf) ReviseBlend(ctx context.Context, by, id string, version int64, recipe, note string) (Blend, error) {
	if strings.TrimSpace(note) == "" {
		return Blend{}, &Invalid{What: "Nothing is said of what was changed.", Do: "Say it in a few words: the history of the blend shows them."}
	}
	return s.keepBlend(ctx, by, id, version, &recipe, note, blendRevised)
}

// RedoBlend works a blend out again with the sheets in force now, and keeps the outcome as its next revision.
func (s *Shelf) RedoBlend(ctx context.Context, by, id string, version int64) (Blend, error) {
	return s.keepBlend(ctx, by, id, version, nil, "", blendAgain)
}

func (s *Shelf) keepBlend(ctx context.Context, by, id string, version int64, recipe *string, note, what string) (Blend, error) {
	b, err := s.Blend(ctx, id)
	if err != nil {
		return b, err
	}
	if recipe != nil {
		b.Recipe = *recipe
	} else {
		note = "sheets in force: " + strings.Join(b.RedoWhy, "; ")
		if len(b.RedoWhy) == 0 {
			note = "no sheet had changed"
		}
	}
	b.Note, b.Version = strings.TrimSpace(note), version
	if err := s.workOut(ctx, &b); err != nil {
		return b, err
	}
	err = s.change(ctx, by, func(x *change) error {
		old, err := load[Blend](ctx, x, id)
		if err != nil {
			return err
		}
		if !old.Retired.IsZero() {
			return &Invalid{What: "This blend is off the shelf.", Do: "Keep the recipe as a new blend."}
		}
		if err := x.blendNamed(ctx, b.Name, id); err != nil {
			return err
		}
		if err := x.settle(ctx, &b); err != nil {
			return err
		}
		b.Revision = old.Revision + 1
		return x.update(ctx, what, &b, &old, b.Note)
	})
	return b, err
}

// Blend is one blend. It fails with ErrNotFound.
func (s *Shelf) Blend(ctx context.Context, id string) (Blend, error) { return load[Blend](ctx, s, id) }

// Blends lists the blends, those to be worked out again first, then by name.
func (s *Shelf) Blends(ctx context.Context) ([]Blend, error) {
	return loadAll[Blend](ctx, s, "WHERE t.retired = '' ORDER BY CASE t.redo WHEN '' THEN 1 ELSE 0 END, lower(t.name), t.id")
}

// RetireBlend takes a blend off the list, with the reason. Its revisions are kept.
func (s *Shelf) RetireBlend(ctx context.Context, by, id, why string) error {
	return retire[Blend](ctx, s, by, id, why, "")
}

// BlendRevisions lists the revisions of a blend, the latest first, each as it was kept. It fails with ErrNotFound.
func (s *Shelf) BlendRevisions(ctx context.Context, id string) ([]BlendRevision, error) {
	if _, err := s.Blend(ctx, id); err != nil {
		return nil, err
	}
	entries, err := s.entries(ctx, " WHERE kind = ? AND ref = ? AND what IN ('added', ?, ?) ORDER BY seq DESC", string(BlendKind), id, blendRevised, blendAgain)
	out := []BlendRevision{}
	for _, e := range entries {
		r := BlendRevision{At: e.At, By: e.Who, What: e.What}
		if err := json.Unmarshal(e.After, &r.Blend); err != nil {
			return nil, fmt.Errorf("revision of the blend in entry %d of the trail: %w", e.Seq, err)
		}
		out = append(out, r)
	}
	return out, err
}

// redoBlends marks the blends that a product's sheet goes into: they have to be worked out again.
func (x *change) redoBlends(ctx context.Context, product, why string) error {
	blends, err := loadAll[Blend](ctx, x, `WHERE t.retired = '' AND t.uses LIKE ? ESCAPE '\'`, `%"product":"`+escapeLike(product)+`"%`)
	if err != nil {
		return err
	}
	for _, old := range blends {
		if slices.Contains(old.RedoWhy, why) {
			continue
		}
		b := old
		if b.Redo.IsZero() {
			b.Redo = x.now
		}
		b.RedoWhy = append(slices.Clone(old.RedoWhy), why)
		if err := x.update(ctx, "to be worked out again", &b, &old, why); err != nil {
			return err
		}
	}
	return nil
}

// PickBlend finds the blend that is meant, by its ID or its name.
func (s *Shelf) PickBlend(ctx context.Context, words string) (Blend, error) {
	if b, err := s.Blend(ctx, words); err == nil || !errors.Is(err, ErrNotFound) {
		return b, err
	}
	all, err := s.Blends(ctx)
	if err != nil {
		return Blend{}, err
	}
	var names []string
	for _, b := range all {
		if strings.EqualFold(b.Name, words) {
			return b, nil
		}
		names = append(names, b.Name)
	}
	if len(names) == 0 {
		return Blend{}, fmt.Errorf("%w: no blend is kept on this shelf", ErrNotFound)
	}
	return Blend{}, fmt.Errorf("%w: no blend is called %q; there are %s", ErrNotFound, words, strings.Join(names, ", "))
}
