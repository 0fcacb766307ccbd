package web

import (
	"context"
	"fmt"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"sixteen/shelf"
)

// pace slows down signing in: so many attempts per address and per name, and so many passwords hashed at once, whatever
// the processor. It forgets when the process ends; the shelf's own count of wrong attempts does not.
type pace struct {
	mu      sync.Mutex
	origins map[string]*rate.Limiter
	names   map[string]*rate.Limiter
	hashing chan struct{}
}

// Attempts: one every few seconds after a first burst.
const (
	attemptEvery  = 3 * time.Second
	attemptsBurst = 20
	hashedAtOnce  = 4    // of 19 MiB each
	pacedMost     = 4096 // addresses or names that are remembered
)

func newPace() *pace {
	return &pace{origins: map[string]*rate.Limiter{}, names: map[string]*rate.Limiter{}, hashing: make(chan struct{}, hashedAtOnce)}
}

// enter lets an attempt pass or fails with shelf.ErrTooMany. Call release when the attempt is over.
func (p *pace) enter(ctx context.Context, origin, name string) (release func(), err error) {
	if !p.allow(p.origins, origin) || !p.allow(p.names, cut(name, 64)) {
		return nil, fmt.Errorf("%w: the attempts come too fast; wait a minute", shelf.ErrTooMany)
	}
	select {
	case p.hashing <- struct{}{}:
		return func() { <-p.hashing }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (p *pace) allow(all map[string]*rate.Limiter, key string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	l, ok := all[key]
	if !ok {
		if len(all) >= pacedMost {
			for k, l := range all { // those that were quiet are as new
				if l.Tokens() >= attemptsBurst {
					delete(all, k)
				}
			}
		}
		if len(all) >= pacedMost {
			return false // so many at once is an attack; who is remembered still gets in
		}
		l = rate.NewLimiter(rate.Every(attemptEvery), attemptsBurst)
		all[key] = l
	}
	return l.Allow()
}
