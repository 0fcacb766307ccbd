package web

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"sixteen/exposure"
	"sixteen/plan"
)

// answers keeps the last answers for jobs, since working one out takes longer than a page may. An answer is that of one
// job with one state of every sheet in it.
type answers struct {
	mu   sync.Mutex
	kept map[[32]byte]planView
	last [][32]byte // oldest first
}

// keptAnswers is how many answers are kept.
const keptAnswers = 64

func (a *answers) get(key [32]byte) (planView, bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	v, ok := a.kept[key]
	return v, ok
}

func (a *answers) put(key [32]byte, v planView) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.kept == nil {
		a.kept = map[[32]byte]planView{}
	}
	if _, ok := a.kept[key]; ok {
		return
	}
	if len(a.last) == keptAnswers {
		delete(a.kept, a.last[0])
		a.last = a.last[1:]
	}
	a.kept[key] = v
	a.last = append(a.last, key)
}

// keyOf is the key of a job's answer: the job, the share of the limits, and the last change of every sheet in it.
func (a *App) keyOf(ctx context.Context, job *exposure.Job, share float64) ([32]byte, error) {
	h := sha256.New()
	enc := json.NewEncoder(h)
	if err := enc.Encode(job); err != nil {
		return [32]byte{}, err
	}
	fmt.Fprintln(h, share)
	for _, p := range job.Products {
		files := []string{p.File}
		for _, part := range p.Parts {
			files = append(files, part.File)
		}
		for _, file := range files {
			id, ok := strings.CutPrefix(file, plan.ShelfFile)
			if !ok {
				continue
			}
			product, err := a.shelf.Product(ctx, id)
			if err != nil {
				return [32]byte{}, err
			}
			fmt.Fprintln(h, id, product.Seq, product.Sheet)
			if product.Sheet == "" {
				continue
			}
			sheet, err := a.shelf.Sheet(ctx, product.Sheet)
			if err != nil {
				return [32]byte{}, err
			}
			fmt.Fprintln(h, sheet.Seq)
		}
	}
	return [32]byte(h.Sum(nil)), nil
}

// answer works a job out, or gives the answer it has.
func (a *App) answer(ctx context.Context, job *exposure.Job, share float64) planView {
	key, err := a.keyOf(ctx, job, share)
	if err != nil {
		return planView{Questions: questionsOf(err)}
	}
	if v, ok := a.answers.get(key); ok {
		return v
	}
	v := a.workOut(ctx, job, share)
	if v.Plan != nil && !v.Plan.Partial {
		a.answers.put(key, v)
	}
	return v
}

// lasting is something worked out from the whole shelf. Every change on the shelf has a number, so it holds as long as that
// number is the last and the day is the same.
type lasting[T any] struct {
	mu   sync.Mutex
	held bool
	seq  int64
	day  string
	v    T
}

// of gives what holds, or has it worked out anew.
func (l *lasting[T]) of(seq int64, day string, work func() (T, error)) (T, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.held && l.seq == seq && l.day == day {
		return l.v, nil
	}
	v, err := work()
	if err != nil {
		return v, err
	}
	l.held, l.seq, l.day, l.v = true, seq, day, v
	return v, nil
}
