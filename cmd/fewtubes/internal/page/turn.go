package page

import "context"

// turn waits for a turn among the computations, and tells who asks; release gives
// it back.
func (s *Server) turn(p *reply, about any) (release func(), err error) {
	ctx := p.r.Context()
	if release, err = s.queue.enter(ctx, about, p.waits); err != nil {
		return nil, err
	}
	if ctx.Err() != nil { // both came at once
		release()
		return nil, context.Cause(ctx)
	}
	p.turn()
	return release, nil
}

// inTurn is the outcome of f, run when its turn comes.
func inTurn[T any](s *Server, p *reply, about any, f func(context.Context) (T, error)) (out T, err error) {
	release, err := s.turn(p, about)
	if err != nil {
		return out, err
	}
	return inPlace(p.r.Context(), release, f)
}

// inPlace runs f in a place of the queue. Where the asker leaves it returns at
// once; what cannot be broken off runs to its end all the same, and keeps its
// place until then, so that what it holds stays counted.
func inPlace[T any](ctx context.Context, release func(), f func(context.Context) (T, error)) (out T, err error) {
	type outcome struct {
		out   T
		err   error
		fault any
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			o.fault = recover()
			release()
			done <- o
		}()
		o.out, o.err = f(ctx)
	}()
	select {
	case o := <-done:
		if o.fault != nil {
			panic(o.fault)
		}
		return o.out, o.err
	case <-ctx.Done():
		return out, context.Cause(ctx)
	}
}
