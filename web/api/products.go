package api

import (
	"context"
	"net/http"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
	"sixteen/web"
)

// productBody is what a program says of a product. What the shelf knows itself (the sheet in force, dates) is not part of it.
type productBody struct {
	Name         string       `json:"name" minLength:"1" maxLength:"500"`
	Code         string       `json:"code,omitempty" maxLength:"200" doc:"Article number."`
	Supplier     string       `json:"supplier,omitempty" maxLength:"64" doc:"ID of a supplier."`
	UsedFor      string       `json:"used_for,omitempty" maxLength:"2000"`
	Note         string       `json:"note,omitempty" maxLength:"5000"`
	RuleSet      ghs.RuleSet  `json:"rule_set,omitempty" maxLength:"32" doc:"Rule set to judge its sheets by; without it the one that the sheet appears to be written for."`
	ReviewMonths int          `json:"review_months,omitempty" minimum:"0" maximum:"1200" doc:"How often its sheet is looked at again, in months; 0 as the settings say."`
	ReviewDue    string       `json:"review_due,omitempty" maxLength:"10" doc:"Day, year-month-day."`
	Parts        []shelf.Part `json:"parts,omitempty" maxItems:"20" doc:"Of a kit, with their shares in the mix; none for a product in one tin."`
	PartsBy      string       `json:"parts_by,omitempty" enum:"mass,volume"`
}

func (b productBody) onto(p shelf.Product) shelf.Product {
	p.Name, p.Code, p.Supplier, p.UsedFor, p.Note, p.RuleSet = b.Name, b.Code, b.Supplier, b.UsedFor, b.Note, b.RuleSet
	p.ReviewMonths, p.ReviewDue, p.Parts, p.PartsBy = b.ReviewMonths, b.ReviewDue, b.Parts, b.PartsBy
	return p
}

// productQuery selects products.
type productQuery struct {
	Paging
	Text          string `query:"text" maxLength:"500" doc:"Words of the name, article number, supplier or sheet; spelling mistakes are forgiven."`
	Supplier      string `query:"supplier" maxLength:"64" doc:"ID of a supplier."`
	Place         string `query:"place" maxLength:"64" doc:"ID of a place in which the product stands."`
	Statement     string `query:"statement" maxLength:"16" doc:"H code of the sheet in force, such as H317."`
	RuleSet       string `query:"rule_set" maxLength:"32"`
	State         string `query:"state" enum:"waiting,reading,read,no-sheet,failed,cancelled,none" doc:"Of the newest sheet; none for products without any."`
	DueBy         string `query:"due_by" format:"date" doc:"Review due on or before this day."`
	Flammable     bool   `query:"flammable"`
	Contradictory bool   `query:"contradictory" doc:"The sheet in force has contradictions."`
	Kits          bool   `query:"kits" doc:"Only kits."`
	Retired       bool   `query:"retired" doc:"The retired ones in place of the others."`
	Order         string `query:"order" enum:"name,change,worst,review,oldest,supplier" doc:"Without it the best fit, or the name."`
}

func (q productQuery) filter() shelf.ProductFilter {
	return shelf.ProductFilter{Text: q.Text, Supplier: q.Supplier, Place: q.Place, Statement: ghs.Code(q.Statement), RuleSet: ghs.RuleSet(q.RuleSet), State: shelf.State(q.State), DueBy: q.DueBy,
		Flammable: q.Flammable, Contradictory: q.Contradictory, Kits: q.Kits, Retired: q.Retired, Order: shelf.ProductOrder(q.Order), Paging: q.part()}
}

// edited is a change of a record, made on the version that If-Match names.
type edited[T any] struct {
	ByID
	IfMatch string `header:"If-Match" doc:"The ETag of the record that the change was made on."`
	Body    T
}

func addProducts(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "products", says: says, need: need}
	}
	register(s, op("GET", "/products", "list-products", "List products and kits.", web.Read), func(ctx context.Context, q *productQuery) (*page[shelf.ProductLine], error) {
		p, err := s.shelf.Products(ctx, q.filter())
		return &page[shelf.ProductLine]{p}, err
	})
	add := op("POST", "/products", "add-product", "Put a product or a kit on the shelf.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct{ Body productBody }) (*made[shelf.Product], error) {
		p, err := s.shelf.AddProduct(ctx, by(ctx), in.Body.onto(shelf.Product{}))
		return create("products", p, p.Record, err)
	})
	register(s, op("GET", "/products/{id}", "get-product", "One product.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Product], error) {
		p, err := s.shelf.Product(ctx, in.ID)
		return keep(p, p.Record, err)
	})
	register(s, op("PUT", "/products/{id}", "edit-product", "Change a product.", web.Work), func(ctx context.Context, in *edited[productBody]) (*one[shelf.Product], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		p, err := s.shelf.Product(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		p = in.Body.onto(p)
		p.Version = version
		p, err = s.shelf.EditProduct(ctx, by(ctx), p)
		return keep(p, p.Record, err)
	})
	register(s, op("POST", "/products/{id}/retire", "retire-product", "Take a product off the lists; it is kept.", web.Manage), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetireProduct(ctx, by(ctx), in.ID, in.Body.Why)
	})
	register(s, op("POST", "/products/{id}/restore", "restore-product", "Put a retired product back on the lists.", web.Manage), func(ctx context.Context, in *ByID) (*done, error) {
		return nil, s.shelf.RestoreProduct(ctx, by(ctx), in.ID)
	})
	register(s, op("POST", "/products/{id}/reviewed", "review-product", "Record that its sheet was looked at today.", web.Work), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Note string `json:"note,omitempty" maxLength:"2000"`
		}
	}) (*one[shelf.Product], error) {
		p, err := s.shelf.Reviewed(ctx, by(ctx), in.ID, in.Body.Note)
		return keep(p, p.Record, err)
	})
	register(s, op("GET", "/products/{id}/sheets", "list-revisions", "The revisions of a product's sheet, the newest first.", web.Read), func(ctx context.Context, in *ByID) (*list[shelf.Sheet], error) {
		all, err := s.shelf.Revisions(ctx, in.ID)
		return &list[shelf.Sheet]{all}, err
	})
	register(s, op("GET", "/products/{id}/judgement", "judge-product", "The judgement of the sheet in force: facts with evidence, findings, what follows from the ingredients.", web.Read), func(ctx context.Context, in *ByID) (*answer, error) {
		j, _, err := s.app.Judged(ctx, in.ID)
		return &answer{j}, err
	})
	register(s, op("GET", "/products/{id}/kit", "classify-kit", "The classes of a kit's parts and of the fresh mix.", web.Read), func(ctx context.Context, in *ByID) (*struct{ Body kitBody }, error) {
		k, err := s.app.Kit(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		return &struct{ Body kitBody }{kitOf(k)}, nil
	})
	addChecks(s, op)
}

// labelled is how a label stands beside the sheet.
type labelled struct {
	Verdict  string      `json:"verdict"`
	RuleSet  ghs.RuleSet `json:"rule_set"`
	Findings any         `json:"findings" doc:"As those of a judgement."`
}

// labelBody is what stands on a tin.
type labelBody struct {
	Complete    bool     `json:"complete" doc:"This is all that the label says, so that what is absent is held against it."`
	Product     string   `json:"product,omitempty" maxLength:"500"`
	Signal      string   `json:"signal,omitempty" maxLength:"100" doc:"As printed."`
	Pictograms  []string `json:"pictograms,omitempty" maxItems:"9" doc:"GHS01 to GHS09."`
	Statements  []string `json:"statements,omitempty" maxItems:"100" doc:"Codes of hazard statements."`
	Precautions []string `json:"precautions,omitempty" maxItems:"100" doc:"Codes of precautionary statements."`
	Supplier    string   `json:"supplier,omitempty" maxLength:"500"`
	Address     string   `json:"address,omitempty" maxLength:"500"`
	Phone       string   `json:"phone,omitempty" maxLength:"100"`
	UFI         string   `json:"ufi,omitempty" maxLength:"40"`
	CapacityML  float64  `json:"capacity_ml,omitempty" minimum:"0" maximum:"1e9" doc:"What the container holds, in millilitres; 0 not known."`
	Ingredients []string `json:"ingredients,omitempty" maxItems:"200"`
	Text        string   `json:"text,omitempty" maxLength:"20000" doc:"Everything else on the label."`
}

func (b labelBody) label() (audit.Label, error) {
	l := audit.Label{Complete: b.Complete, Product: b.Product, SignalPrinted: b.Signal, Supplier: b.Supplier, Address: b.Address, Phone: b.Phone, UFI: b.UFI, CapacityML: b.CapacityML, Ingredients: b.Ingredients, Text: b.Text}
	for _, name := range b.Pictograms {
		p, ok := ghs.ParsePictogram(name)
		if !ok {
			return l, wrong(name+" is no pictogram.", "Use GHS01 to GHS09.")
		}
		l.Pictograms = append(l.Pictograms, p)
	}
	var err error
	if l.Statements, err = statements(b.Statements); err == nil {
		l.Precautions, err = statements(b.Precautions)
	}
	return l, err
}

func statements(codes []string) ([]sheet.Statement, error) {
	var out []sheet.Statement
	for _, c := range codes {
		hits := ghs.ParseCodes(c)
		if len(hits) == 0 {
			return nil, wrong(c+" is no code of a statement.", "Write codes such as H317, EUH208 or P280.")
		}
		for _, h := range hits {
			out = append(out, sheet.Statement{Code: h.Code})
		}
	}
	return out, nil
}

// addChecks adds the questions about a product that keep nothing.
func addChecks(s *server, op func(method, path, id, says string, need web.Role) operation) {
	register(s, op("POST", "/products/{id}/label-check", "check-label", "Compare what stands on the tin with the sheet. Nothing is kept.", web.Read), func(ctx context.Context, in *struct {
		ByID
		Body labelBody
	}) (*struct{ Body labelled }, error) {
		l, err := in.Body.label()
		if err != nil {
			return nil, err
		}
		j, err := s.judge(ctx, in.ID, judge.Request{Label: &l})
		if err != nil {
			return nil, err
		}
		return &struct{ Body labelled }{labelled{Verdict: audit.LabelVerdict(j.Case(), j.Report), RuleSet: j.RuleSet, Findings: findingsIn(j.Report, audit.LabelSheet)}}, nil
	})
	register(s, op("POST", "/products/{id}/claims", "judge-claims", "Judge sales claims by the sheet. Nothing is kept.", web.Read), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Text string `json:"text" minLength:"1" maxLength:"20000" doc:"The advertisement."`
		}
	}) (*answer, error) {
		j, err := s.judge(ctx, in.ID, judge.Request{Claims: []string{in.Body.Text}})
		if err != nil {
			return nil, err
		}
		return &answer{map[string]any{"claims": audit.JudgeClaims(j.Case())}}, nil
	})
}

// judge judges the sheet in force of a product as a request says.
func (s *server) judge(ctx context.Context, product string, req judge.Request) (*judge.Judgement, error) {
	_, kept, err := s.app.Judged(ctx, product)
	if err != nil {
		return nil, err
	}
	return s.shelf.Judge(ctx, kept.ID, req)
}

// findingsIn are the open findings of one group of checks.
func findingsIn(r audit.Report, g audit.Group) []audit.Finding {
	group := map[string]audit.Group{}
	for _, c := range audit.Catalogue() {
		group[c.ID] = c.Group
	}
	out := []audit.Finding{}
	for _, f := range r.Open() {
		if group[f.Check] == g {
			out = append(out, f)
		}
	}
	return out
}
