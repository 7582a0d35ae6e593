package page

import (
	"crypto/sha256"
	"encoding/json"
	"sync"

	"fewtubes/solver"
)

// mostSessions is how many scenes keep their cuts; each is a few MB.
const mostSessions = 8

// heldSession is a session that serves one question at a time: the queue sees to
// it, which knows the session by this.
type heldSession struct{ session *solver.Session }

// askedStore keeps the sessions used last, by everything but the limits, so
// that a change of a limit starts from the cuts already found.
type askedStore struct {
	mu    sync.Mutex
	byKey map[[32]byte]*heldSession
	order [][32]byte // least recently used first
}

func newAskedStore() *askedStore { return &askedStore{byKey: map[[32]byte]*heldSession{}} }

func (s *askedStore) session(p *solver.Problem) (*heldSession, error) {
	key, err := keyOf(p)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if h := s.byKey[key]; h != nil {
		for i, other := range s.order {
			if other == key {
				s.order = append(append(s.order[:i:i], s.order[i+1:]...), key)
				break
			}
		}
		return h, nil
	}
	made, err := solver.NewSession(*p)
	if err != nil {
		return nil, err
	}
	h := &heldSession{session: made}
	s.byKey[key] = h
	s.order = append(s.order, key)
	for len(s.order) > mostSessions {
		delete(s.byKey, s.order[0])
		s.order = s.order[1:]
	}
	return h, nil
}

// keyOf is the hash of what a session depends on. The tubes are the server's own.
func keyOf(p *solver.Problem) ([32]byte, error) {
	data, err := json.Marshal(struct {
		Targets      []solver.Target
		PaintsPerMix int
		Light        string
		Most         int
	}{p.Targets, p.PaintsPerMix, p.Light.Name, p.MostPalettes})
	return sha256.Sum256(data), err
}
