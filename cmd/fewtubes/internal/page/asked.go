package page

import (
	"crypto/sha256"
	"encoding/json"
	"sync"

	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// mostSessions is how many scenes keep their cuts; each is a few MB.
const mostSessions = 8

// heldSession is a session that serves one question at a time: the queue sees to
// it, which knows the session by this. To make it is work as well, and left to
// whoever has the first turn.
type heldSession struct {
	problem solver.Problem
	made    *solver.Session
}

// session is for who has the turn.
func (h *heldSession) session() (*solver.Session, error) {
	if h.made != nil {
		return h.made, nil
	}
	var err error
	h.made, err = solver.NewSession(h.problem)
	return h.made, err
}

// askedStore keeps the sessions used last, by everything but the limits, so
// that a change of a limit starts from the cuts already found.
type askedStore struct {
	mu    sync.Mutex
	byKey map[[32]byte]*heldSession
	order [][32]byte // least recently used first
}

func newAskedStore() *askedStore { return &askedStore{byKey: map[[32]byte]*heldSession{}} }

// session is for questions of one box, by its revision.
func (s *askedStore) session(p *solver.Problem, box string) (*heldSession, error) {
	key, err := keyOf(p, box)
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
	h := &heldSession{problem: *p}
	s.byKey[key] = h
	s.order = append(s.order, key)
	for len(s.order) > mostSessions {
		delete(s.byKey, s.order[0])
		s.order = s.order[1:]
	}
	return h, nil
}

// forget lets all of them go.
func (s *askedStore) forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.byKey, s.order = map[[32]byte]*heldSession{}, nil
}

// keyOf is the hash of what a session depends on. The tubes are the server's own and those of
// the box.
func keyOf(p *solver.Problem, box string) ([32]byte, error) {
	data, err := json.Marshal(struct {
		Targets      []solver.Target
		PaintsPerMix int
		Light        string
		Surface      film.Surface
		Most         int
		ByHand       solver.ByHand
		Box          string
	}{p.Targets, p.PaintsPerMix, p.Light.Name, p.Surface, p.MostPalettes, p.ByHand, box})
	return sha256.Sum256(data), err
}
