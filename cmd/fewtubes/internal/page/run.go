package page

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"sync"
	"time"
)

// stopTime is how long a stop waits for streams to end.
const stopTime = 700 * time.Millisecond

// errStopped is the cause of the end of every request when the program stops.
var errStopped = &trouble{http.StatusServiceUnavailable, "the program was stopped; start it again to go on from here"}

func newHTTP(handler http.Handler) *http.Server {
	return &http.Server{
		Handler:                      handler,
		ReadHeaderTimeout:            headTime,
		IdleTimeout:                  idleTime,
		MaxHeaderBytes:               mostHead,
		DisableGeneralOptionsHandler: true, // the guard sees every request
		ErrorLog:                     log.New(io.Discard, "", 0),
	}
}

// Serve answers until the context ends. Then running answers are cut short,
// their streams told, and all is closed within a second.
func (s *Server) Serve(ctx context.Context, listener net.Listener) error {
	return s.serve(ctx, listener, s.Handler())
}

func (s *Server) serve(ctx context.Context, listener net.Listener, handler http.Handler) error {
	server := newHTTP(handler)
	base, stop := context.WithCancelCause(context.WithoutCancel(ctx))
	defer stop(nil)
	server.BaseContext = func(net.Listener) context.Context { return base }
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(newBounded(listener, mostConnections)) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	stop(errStopped)
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		_ = server.Close()
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// boundedListener has so many connections open at most; the next waits to be
// accepted.
type boundedListener struct {
	net.Listener
	places chan struct{}
	closed chan struct{}
	once   sync.Once
}

func newBounded(l net.Listener, most int) *boundedListener {
	return &boundedListener{Listener: l, places: make(chan struct{}, most), closed: make(chan struct{})}
}

func (l *boundedListener) Accept() (net.Conn, error) {
	select {
	case l.places <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.places
		return nil, err
	}
	return &boundedConn{Conn: c, leave: sync.OnceFunc(func() { <-l.places })}, nil
}

func (l *boundedListener) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

type boundedConn struct {
	net.Conn
	leave func()
}

func (c *boundedConn) Close() error {
	defer c.leave()
	return c.Conn.Close()
}
