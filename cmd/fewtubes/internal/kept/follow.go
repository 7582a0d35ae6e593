package kept

import (
	"fmt"
	"os"
)

// Change is a revision and the tab that made it, empty where another program did.
type Change struct {
	Revision int    `json:"revision"`
	Tab      string `json:"tab"`
}

// Follow gives the newest change of a scene as it comes; done ends it.
func (s *Store) Follow(id string) (changes <-chan Change, done func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := make(chan Change, 1)
	if s.followers[id] == nil {
		s.followers[id] = map[chan Change]bool{}
	}
	s.followers[id][c] = true
	return c, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.followers[id], c)
		if len(s.followers[id]) == 0 {
			delete(s.followers, id)
		}
	}
}

// tell leaves each follower the newest change: an older one nobody has read is gone.
func (s *Store) tell(id string, c Change) {
	for to := range s.followers[id] {
		select {
		case <-to:
		default:
		}
		to <- c
	}
}

// Stamp changes when a scene's files do: another program may have changed them.
func (s *Store) Stamp(id string) string {
	highest, err := highestRevision(s.folder(id))
	info, none := os.Stat(s.sceneFile(id))
	if err != nil || none != nil {
		return fmt.Sprint(highest)
	}
	return fmt.Sprint(highest, info.Size(), info.ModTime().UnixNano())
}
