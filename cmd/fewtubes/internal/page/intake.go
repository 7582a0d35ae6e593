package page

import (
	"errors"
	"io"
	"net/http"
	"sync"
)

// mostIncoming is what photographs that come in, or wait to be decoded, may hold
// together, bytes: four of the largest, some twenty of a phone.
const mostIncoming = 260 << 20

var errCrowded = &trouble{http.StatusServiceUnavailable, "too many photographs come in at once; try again in a few seconds"}

// intake bounds the memory of bodies by what has come in of them. Who finds no
// room is turned away rather than left to wait: a connection is only seen to
// close while it is being read.
type intake struct {
	mu         sync.Mutex
	held, most int
}

func (i *intake) claim(n int) bool {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.held+n > i.most {
		return false
	}
	i.held += n
	return true
}

// release gives room back.
func (i *intake) release(n int) {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.held -= n
}

// body reads a body of at most so many bytes; release gives its room back, and is
// to be called in any case.
func (i *intake) body(w http.ResponseWriter, r *http.Request, most int64) (data []byte, release func(), err error) {
	claimed := 0
	release = func() {
		i.release(claimed)
		claimed = 0
	}
	expected := most
	if r.ContentLength >= 0 {
		expected = min(expected, r.ContentLength)
	}
	in := http.MaxBytesReader(w, r.Body, most)
	for {
		if len(data) == cap(data) {
			const first = 64 << 10
			grow := max(min(max(first, cap(data)), int(expected)+1-cap(data)), 1) // one byte more, to see the end
			if !i.claim(grow) {
				return nil, release, errCrowded
			}
			claimed += grow
			data = append(make([]byte, 0, cap(data)+grow), data...)
		}
		n, err := in.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if errors.Is(err, io.EOF) {
			return data, release, nil
		}
		if err != nil {
			return nil, release, err
		}
	}
}
