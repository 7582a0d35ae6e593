package cover

import (
	"context"
	"time"
)

// Use is how often an engine was asked, and for how long.
type Use struct {
	Questions int
	Time      time.Duration
}

// Uses are those of the two engines.
type Uses struct {
	Search Use // of our own
	SAT    Use
}

// timed is an engine whose use is counted.
type timed struct {
	engine
	use *Use
}

func (t timed) ask(ctx context.Context, q *Question, active []*Cut) reply {
	defer t.use.since(time.Now())
	return t.engine.ask(ctx, q, active)
}

// since counts a question that began at a time.
func (u *Use) since(began time.Time) {
	u.Questions++
	u.Time += time.Since(began)
}
