package api

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/shelf"
	"sixteen/web"
)

// maxJob is the largest description of a job or recipe in bytes.
const maxJob = 256 << 10

// jobBody is a job as it is kept.
type jobBody struct {
	Name        string   `json:"name" minLength:"1" maxLength:"500"`
	Place       string   `json:"place,omitempty" maxLength:"64" doc:"ID of a place."`
	Products    []string `json:"products,omitempty" maxItems:"50" doc:"IDs of the products it uses."`
	Description any      `json:"description" doc:"The job as 'sixteen plan --example' writes it, as an object or as YAML in a string. A product of the shelf is named by file: shelf:ID."`
	Result      any      `json:"result,omitempty" doc:"The plan, to be kept with it."`
}

// described is the description as YAML, of which JSON is a part.
func described(v any) (string, error) {
	text, ok := v.(string)
	if !ok {
		raw, err := json.Marshal(v)
		if err != nil {
			return "", err
		}
		text = string(raw)
	}
	if _, err := jobOf(text); err != nil {
		return "", err
	}
	return text, nil
}

func jobOf(text string) (*exposure.Job, error) {
	if len(text) > maxJob {
		return nil, wrong("The description of the job is larger than 256 KB.", "A job takes a few KB; send it without what does not belong to it.")
	}
	job, err := exposure.ParseJob([]byte(text))
	if err != nil {
		return nil, wrong("The job cannot be read: "+strings.TrimSuffix(err.Error(), ".")+".", "Correct it; 'sixteen plan --example' writes one with every field explained.")
	}
	return job, nil
}

func (b jobBody) onto(j shelf.Job) (shelf.Job, error) {
	text, err := described(b.Description)
	if err != nil {
		return j, err
	}
	j.Name, j.Place, j.Products, j.Description, j.Result = b.Name, b.Place, b.Products, text, ""
	if b.Result != nil {
		raw, err := json.Marshal(b.Result)
		if err != nil {
			return j, err
		}
		j.Result = string(raw)
	}
	return j, nil
}

func addJobs(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "jobs", says: says, need: need}
	}
	addJobRecords(s, op)
	addPlans(s, op)
}

func addJobRecords(s *server, op tagged) {
	register(s, op("GET", "/jobs", "list-jobs", "List the planned jobs, the last changed first.", web.Read), func(ctx context.Context, q *struct {
		Product string `query:"product" maxLength:"64" doc:"Only those that use it."`
	}) (*list[shelf.Job], error) {
		all, err := s.shelf.Jobs(ctx, q.Product)
		return &list[shelf.Job]{all}, err
	})
	add := op("POST", "/jobs", "add-job", "Keep a job.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct{ Body jobBody }) (*made[shelf.Job], error) {
		j, err := in.Body.onto(shelf.Job{})
		if err != nil {
			return nil, err
		}
		j.Computed = s.computed(j)
		j, err = s.shelf.AddJob(ctx, by(ctx), j)
		return create("jobs", j, j.Record, err)
	})
	register(s, op("GET", "/jobs/{id}", "get-job", "One job.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Job], error) {
		j, err := s.shelf.Job(ctx, in.ID)
		return keep(j, j.Record, err)
	})
	register(s, op("PUT", "/jobs/{id}", "edit-job", "Change a job.", web.Work), func(ctx context.Context, in *edited[jobBody]) (*one[shelf.Job], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		j, err := s.shelf.Job(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		if j, err = in.Body.onto(j); err != nil {
			return nil, err
		}
		j.Version, j.Computed = version, s.computed(j)
		j, err = s.shelf.EditJob(ctx, by(ctx), j)
		return keep(j, j.Record, err)
	})
	register(s, op("POST", "/jobs/{id}/retire", "retire-job", "Take a job off the lists.", web.Work), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetireJob(ctx, by(ctx), in.ID, in.Body.Why)
	})
}

// computed is when the result that a job comes with was made; zero when it has none.
func (s *server) computed(j shelf.Job) (at time.Time) {
	if j.Result != "" {
		at = s.now().UTC()
	}
	return at
}

// ShareOf is which share of the limits is aimed at.
type ShareOf struct {
	Share float64 `query:"share" minimum:"0.01" maximum:"1" default:"0.5" doc:"Share of the exposure limits that is aimed at."`
}

// addPlans adds what is worked out: of a job, of products beside each other, of a recipe. Nothing is kept.
func addPlans(s *server, op tagged) {
	register(s, op("POST", "/plans", "plan-job", "Work a job out: what gets into the air, whom it reaches, how hot the mix becomes, what to do and wear. Nothing is kept.", web.Read), func(ctx context.Context, in *struct {
		ShareOf
		Body struct {
			Description any `json:"description" doc:"The job as 'sixteen plan --example' writes it, as an object or as YAML in a string. A product of the shelf is named by file: shelf:ID."`
		}
	}) (*answer, error) {
		text, err := described(in.Body.Description)
		if err != nil {
			return nil, err
		}
		p, err := s.plan(ctx, text, in.Share)
		return &answer{p}, err
	})
	register(s, op("GET", "/jobs/{id}/plan", "plan-kept-job", "Work a kept job out with the sheets as they are now.", web.Read), func(ctx context.Context, in *struct {
		ByID
		ShareOf
	}) (*answer, error) {
		j, err := s.shelf.Job(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		p, err := s.plan(ctx, j.Description, in.Share)
		return &answer{p}, err
	})
	register(s, op("POST", "/comparisons", "compare-products", "Compare products that would do one job, on axes that are kept apart.", web.Read), func(ctx context.Context, in *struct {
		Body struct {
			Products []string `json:"products" minItems:"2" maxItems:"8" doc:"IDs."`
			Job      string   `json:"job,omitempty" maxLength:"64" doc:"ID of a job; without it by what the papers say."`
		}
	}) (*answer, error) {
		c, asks, err := s.app.Compare(ctx, in.Body.Products, in.Body.Job)
		if err != nil {
			return nil, err
		}
		if c == nil {
			return nil, wrong("The products cannot be compared. "+strings.Join(asks, " "), "Put the sheets that are missing on the shelf, or name other products.")
		}
		return &answer{map[string]any{"comparison": c, "left_out": append([]string{}, asks...)}}, nil
	})
	register(s, op("POST", "/blends", "draft-blend", "Classify an own product from its recipe and draft its sheet of sixteen sections, with what is still open as questions. A competent person reviews it before it leaves the house.", web.Read), func(ctx context.Context, in *struct{ Body blendBody }) (*answer, error) {
		m, d, err := s.app.Blend(ctx, in.Body.Recipe, in.Body.rules(), in.Body.lang())
		if err != nil {
			return nil, err
		}
		return &answer{map[string]any{"draft": d, "label": m.Label, "rule_set": m.RuleSet}}, nil
	})
}

func (s *server) plan(ctx context.Context, text string, share float64) (*plan.Plan, error) {
	job, err := jobOf(text)
	if err != nil {
		return nil, err
	}
	p, asks := s.app.Plan(ctx, job, share)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if p == nil {
		return nil, wrong("The job leaves open what the figures need. "+strings.Join(asks, " "), "Answer these in the description and send it again.")
	}
	return p, nil
}

// blendBody is a recipe.
type blendBody struct {
	Recipe   string `json:"recipe" minLength:"1" maxLength:"262144" doc:"YAML, as 'sixteen blend --example' writes it. A supplier's sheet is named by its product on the shelf."`
	RuleSet  string `json:"rule_set" enum:"us-hcs-2024,eu-clp,ca-hpr"`
	Language string `json:"language,omitempty" enum:"en,fr,de,es" default:"en"`
}

func (b blendBody) rules() ghs.RuleSet { return ghs.RuleSet(b.RuleSet) }

func (b blendBody) lang() ghs.Lang { return ghs.Lang(b.Language) }
