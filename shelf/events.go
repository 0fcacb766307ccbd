package shelf

import (
	"context"
	"sync"
	"time"
)

// watchEvery is how often a watcher looks for changes that other processes made.
const watchEvery = time.Second

// events wakes those who watch the shelf after each change this process made.
type events struct {
	mu       sync.Mutex
	watchers map[chan struct{}]bool
}

func newEvents() *events { return &events{watchers: map[chan struct{}]bool{}} }

func (e *events) watch() chan struct{} {
	c := make(chan struct{}, 1)
	e.mu.Lock()
	e.watchers[c] = true
	e.mu.Unlock()
	return c
}

func (e *events) leave(c chan struct{}) {
	e.mu.Lock()
	delete(e.watchers, c)
	e.mu.Unlock()
}

func (e *events) changed() {
	e.mu.Lock()
	defer e.mu.Unlock()
	for c := range e.watchers {
		select {
		case c <- struct{}{}:
		default:
		}
	}
}

// Watch calls f with the entries of the trail after number since, and then with further ones as changes are made, by this
// process or another, in order and none twice, until ctx ends or f fails. It returns what f returned, or the context's error.
// A page that shows the progress of reading streams them; entries of the kind SheetKind tell of it.
func (s *Shelf) Watch(ctx context.Context, since int64, f func(Entry) error) error {
	wake := s.events.watch()
	defer s.events.leave(wake)
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	for {
		entries, err := s.entriesAfter(ctx, since, 500)
		if err != nil {
			return err
		}
		for _, e := range entries {
			if err := f(e); err != nil {
				return err
			}
			since = e.Seq
		}
		if len(entries) == 500 {
			continue
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-wake:
		case <-tick.C:
		}
	}
}
