package page

import (
	"errors"
	"io"
	"net/http"
	"os"
	"time"
)

// Times an asker may take. A photograph of 64 MB comes in a second over the
// loopback and in half a minute over a slow network at home.
const (
	headTime  = 5 * time.Second
	bodyPause = 5 * time.Second  // without a byte of the body
	bodyTime  = 60 * time.Second // for all of it
	idleTime  = 30 * time.Second // between two requests
	writeTime = 5 * time.Second  // for what is written to be taken
)

var errSlow = &trouble{http.StatusRequestTimeout, "the request came in too slowly; try again"}

// paced bounds what a slow asker holds. The deadlines go with each read and
// write: an answer may take its time, and so net/http's deadlines for whole
// requests, which end it, are not used.
func paced(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		conn := http.NewResponseController(w)
		if r.Body != nil && r.Body != http.NoBody {
			_ = conn.SetReadDeadline(time.Now().Add(bodyPause)) // for what nobody reads, too
			r.Body = &pacedBody{ReadCloser: r.Body, conn: conn}
		}
		out := &pacedWriter{w, conn}
		out.hurry()
		defer out.hurry() // for what is still buffered
		next.ServeHTTP(out, r)
	})
}

type pacedBody struct {
	io.ReadCloser
	conn *http.ResponseController
	end  time.Time // from when the first byte is asked for
}

func (b *pacedBody) Read(p []byte) (int, error) {
	now := time.Now()
	if b.end.IsZero() {
		b.end = now.Add(bodyTime)
	}
	next := now.Add(bodyPause)
	if next.After(b.end) {
		next = b.end
	}
	_ = b.conn.SetReadDeadline(next)
	n, err := b.ReadCloser.Read(p)
	switch {
	case errors.Is(err, os.ErrDeadlineExceeded):
		err = errSlow
	case err != nil:
		_ = b.conn.SetReadDeadline(time.Time{}) // net/http watches for the asker leaving
	}
	return n, err
}

type pacedWriter struct {
	http.ResponseWriter
	conn *http.ResponseController
}

func (w *pacedWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

func (w *pacedWriter) hurry() { _ = w.conn.SetWriteDeadline(time.Now().Add(writeTime)) }

func (w *pacedWriter) WriteHeader(status int) {
	w.hurry()
	w.ResponseWriter.WriteHeader(status)
}

func (w *pacedWriter) Write(p []byte) (int, error) {
	w.hurry()
	return w.ResponseWriter.Write(p)
}

func (w *pacedWriter) Flush() {
	w.hurry()
	_ = w.conn.Flush()
}
