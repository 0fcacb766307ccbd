package shelf

import (
	"context"
	"strings"

	"sixteen/audit"
	"sixteen/sheet"
)

// compareWith records which revision a sheet supersedes and what it changes in meaning, when it is not older.
func (s *Shelf) compareWith(ctx context.Context, x *change, t *Sheet, inForce string, facts *sheet.Sheet, p Product) error {
	before, err := load[Sheet](ctx, x, inForce)
	if err != nil {
		return err
	}
	date := firstNonEmpty(facts.Identification.RevisionDate.Value, facts.Identification.IssueDate.Value)
	if later(before.RevisionDate, date) {
		return nil
	}
	was, err := s.facts(ctx, x, before.Document)
	if err != nil {
		if isNotFound(err) {
			return nil
		}
		return err
	}
	rules := p.RuleSet
	if rules == "" {
		rules = before.RuleSet
	}
	t.Supersedes = before.ID
	t.Changes = audit.Revise(was, facts, rules)
	return nil
}

// compareOlder is for a sheet that is older than the one in force and came after it: the one in force supersedes it when it
// supersedes none yet, and is judged again beside it.
func (s *Shelf) compareOlder(ctx context.Context, x *change, t *Sheet, inForce string, facts *sheet.Sheet, p Product) error {
	newer, err := load[Sheet](ctx, x, inForce)
	if err != nil {
		return err
	}
	if newer.Supersedes != "" || !later(newer.RevisionDate, t.RevisionDate) {
		return nil
	}
	is, err := s.facts(ctx, x, newer.Document)
	if err != nil {
		if isNotFound(err) {
			return nil
		}
		return err
	}
	rules := p.RuleSet
	if rules == "" {
		rules = newer.RuleSet
	}
	now := newer
	now.Supersedes, now.Changes = t.ID, audit.Revise(facts, is, rules)
	return s.rejudge(ctx, x, &now, &newer, "compared with an older revision")
}

// productOf finds the product that a sheet is of, by its name and supplier as printed, or makes it and its supplier.
func (x *change) productOf(ctx context.Context, facts *sheet.Sheet, file string) (string, error) {
	name := strings.TrimSpace(facts.Identification.ProductName.Value)
	if name == "" {
		name = strings.TrimSuffix(file, fileEnding(file))
	}
	supplier, err := x.supplierOf(ctx, facts)
	if err != nil {
		return "", err
	}
	same, err := loadAll[Product](ctx, x, "WHERE t.folded = ? AND t.retired = '' AND COALESCE(t.supplier_id, '') IN (?, '') ORDER BY t.seq", folded(name), supplier)
	if err != nil {
		return "", err
	}
	for _, p := range same {
		if p.Supplier == supplier {
			return p.ID, nil
		}
	}
	if len(same) > 0 && supplier != "" { // known by its name only until now
		p, old := same[0], same[0]
		p.Supplier = supplier
		return p.ID, x.update(ctx, "supplier known", &p, &old, "")
	}
	p := Product{Name: name, Supplier: supplier}
	err = x.insert(ctx, &p, "")
	return p.ID, err
}

// supplierOf finds or makes the supplier as printed; "" when the sheet names none.
func (x *change) supplierOf(ctx context.Context, facts *sheet.Sheet) (string, error) {
	id := facts.Identification
	name := strings.TrimSpace(id.Supplier.Value)
	if name == "" {
		return "", nil
	}
	same, err := loadAll[Supplier](ctx, x, "WHERE t.folded = ? AND t.retired = '' ORDER BY t.seq LIMIT 1", folded(name))
	if err != nil || len(same) > 0 {
		return firstID(same), err
	}
	u := Supplier{Name: name, Email: id.SupplierEmail.Value, Phone: id.SupplierPhone.Value, Emergency: id.EmergencyPhone.Value, Address: id.SupplierAddress.Value, Language: facts.Language.Value}
	err = x.insert(ctx, &u, "as its sheet prints it")
	return u.ID, err
}

func fileEnding(name string) string {
	if i := strings.LastIndexByte(name, '.'); i > 0 {
		return name[i:]
	}
	return ""
}

func contains(list []string, s string) bool {
	for _, have := range list {
		if have == s {
			return true
		}
	}
	return false
}

func firstID(list []Supplier) string {
	if len(list) == 0 {
		return ""
	}
	return list[0].ID
}
