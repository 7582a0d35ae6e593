package kept

import (
	"os"
	"path/filepath"
	"strings"
	"time"
)

// keptRemoved is how long a removed scene can be restored.
const keptRemoved = 30 * 24 * time.Hour

const removedStamp = "20060102T150405Z"

// removedName parts the name of a removed scene's folder.
func removedName(name string) (id string, when time.Time, ok bool) {
	id, stamp, ok := strings.Cut(name, "@")
	when, err := time.Parse(removedStamp, stamp)
	return id, when, ok && err == nil && sceneID.MatchString(id)
}

// removedAs is the folder of a removed scene, or empty.
func (s *Store) removedAs(id string) string {
	entries, _ := os.ReadDir(s.removed())
	for _, e := range entries {
		if of, _, ok := removedName(e.Name()); ok && of == id {
			return filepath.Join(s.removed(), e.Name())
		}
	}
	return ""
}

// Remove puts a scene aside for 30 days.
func (s *Store) Remove(id string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.known(id); err != nil {
		return err
	}
	err := os.Rename(s.folder(id), filepath.Join(s.removed(), id+"@"+s.now().UTC().Format(removedStamp)))
	s.tell(id, Change{})
	return err
}

// Restore brings a removed scene back.
func (s *Store) Restore(id string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	from := s.removedAs(id)
	if from == "" {
		return ErrNone
	}
	return os.Rename(from, s.folder(id))
}

// Forget erases a scene, removed or not, with its photographs, thumbnails and acts,
// and gives the photographs that no other scene holds.
func (s *Store) Forget(id string) (photos []string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	folder := s.removedAs(id)
	if s.known(id) == nil {
		folder = s.folder(id)
	}
	if folder == "" {
		return nil, ErrNone
	}
	held, _ := os.ReadDir(filepath.Join(folder, "photos"))
	if err := os.RemoveAll(folder); err != nil {
		return nil, err
	}
	s.tell(id, Change{})
	for _, e := range held {
		if s.photoFolder(e.Name()) == "" {
			photos = append(photos, e.Name())
		}
	}
	return photos, nil
}

// forgetOld erases what was removed long enough ago.
func (s *Store) forgetOld() {
	entries, _ := os.ReadDir(s.removed())
	for _, e := range entries {
		if _, when, ok := removedName(e.Name()); ok && s.now().Sub(when) > keptRemoved {
			_ = os.RemoveAll(filepath.Join(s.removed(), e.Name()))
		}
	}
}
