package page

import "context"

// turn waits for a place among the computations that may run at once; release
// gives it back. The error is the context's.
func (s *Server) turn(ctx context.Context) (release func(), err error) {
	select {
	case s.busy <- struct{}{}:
		return func() { <-s.busy }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}
