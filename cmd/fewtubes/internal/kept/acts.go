package kept

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/plain"
)

// Document is a scene as it stands.
type Document struct {
	ID       string          `json:"id"`
	Revision int             `json:"revision"`
	Scene    json.RawMessage `json:"scene"`
	Undo     string          `json:"undo"` // the act that would be taken back, or empty
	Redo     string          `json:"redo"` // the act that would be done again, or empty
	Note     string          `json:"note,omitempty"`
	Opened   []byte          `json:"-"` // the text it was opened from
}

func document(id string, t *table) *Document {
	d := &Document{ID: id, Revision: t.Revision, Scene: t.Scene, Note: t.Note, Opened: []byte(t.Opened)}
	if n := len(t.Past); n > 0 {
		d.Undo = t.Past[n-1].Words
	}
	if n := len(t.Next); n > 0 {
		d.Redo = t.Next[n-1].Words
	}
	return d
}

// changedOutside is the act of whoever changed the scene file.
const changedOutside = "changed outside fewtubes"

// Create keeps a new scene; opened is the text it was read from, or nil.
func (s *Store) Create(title string, scene json.RawMessage, opened []byte) (id string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if id, err = s.claim(title); err != nil {
		return "", err
	}
	if err := s.write(id, &table{Revision: 1, Scene: scene, Opened: string(opened)}, ""); err != nil {
		return "", errors.Join(err, os.RemoveAll(s.folder(id)))
	}
	return id, nil
}

// Read gives a scene as it stands.
func (s *Store) Read(id string) (*Document, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	t, _, err := s.load(id)
	if err != nil {
		return nil, err
	}
	return document(id, t), nil
}

// Act is one change of a scene.
type Act struct {
	Base  int // the revision it was made on
	Words string
	Scene json.RawMessage // after it
	Tab   string          // who did it, told to followers
	Join  bool            // one with the act before, where that has the same words
}

// Do keeps an act. Where another came before, the error is ErrOld and the scene
// as it stands is given.
func (s *Store) Do(id string, a Act) (*Document, error) {
	return s.change(id, a.Base, a.Tab, func(t *table) *table {
		if bytes.Equal(a.Scene, t.Scene) {
			return nil
		}
		words := plain.Cut(a.Words, mostWords)
		next := &table{Scene: a.Scene, Past: t.Past}
		if n := len(t.Past); !a.Join || n == 0 || t.Past[n-1].Words != words {
			next.Past = append(t.Past[:n:n], act{words, t.Scene})
		}
		return next
	})
}

const mostWords = 120 // letters

// Undo takes the last act back, Redo does the last again that was taken back.
// Without one the scene stays as it is.
func (s *Store) Undo(id, tab string) (*Document, error) {
	return s.change(id, anyBase, tab, func(t *table) *table {
		n := len(t.Past)
		if n == 0 {
			return nil
		}
		last := t.Past[n-1]
		return &table{Scene: last.Scene, Past: t.Past[:n-1], Next: append(t.Next, act{last.Words, t.Scene})}
	})
}

// Redo is told at Undo.
func (s *Store) Redo(id, tab string) (*Document, error) {
	return s.change(id, anyBase, tab, func(t *table) *table {
		n := len(t.Next)
		if n == 0 {
			return nil
		}
		next := t.Next[n-1]
		return &table{Scene: next.Scene, Past: append(t.Past, act{next.Words, t.Scene}), Next: t.Next[:n-1]}
	})
}

const anyBase = -1

// change keeps what f makes of a table, or nothing where that is nil.
func (s *Store) change(id string, base int, tab string, f func(*table) *table) (*Document, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	t, _, err := s.load(id)
	if err != nil {
		return nil, err
	}
	if base != anyBase && base != t.Revision {
		return document(id, t), ErrOld
	}
	next := f(t)
	if next == nil {
		return document(id, t), nil
	}
	next.Revision, next.Opened, next.Text, next.Before = t.Revision+1, t.Opened, t.Text, t.Text
	err = s.write(id, next, tab)
	if errors.Is(err, fs.ErrExist) { // another program's
		if t, _, err := s.load(id); err == nil {
			return document(id, t), ErrOld
		}
	}
	if err != nil {
		return nil, err
	}
	return document(id, next), nil
}

// write keeps a table and then the scene file, or neither. next.Text is the hash
// of the file that is there.
func (s *Store) write(id string, next *table, tab string) error {
	next.Format = tableFormat
	next.bounded()
	text := s.form.Text(next.Scene, []byte(next.Opened))
	there := next.Text
	if text != nil {
		next.Text = sum(text)
	}
	data, err := next.encode()
	if err != nil {
		return err
	}
	path := filepath.Join(s.folder(id), tableName(next.Revision))
	if err := s.create(path, data); err != nil {
		return err
	}
	if next.Text != there {
		if err := s.replace(s.sceneFile(id), text); err != nil {
			return errors.Join(err, os.Remove(path))
		}
	}
	s.written(id, next, tab)
	return nil
}

// written tidies up behind a table and tells who follows.
func (s *Store) written(id string, t *table, tab string) {
	for n := t.Revision; ; {
		if n = lower(s.folder(id), n); n == 0 {
			break
		}
		if os.Remove(filepath.Join(s.folder(id), tableName(n))) != nil {
			break
		}
	}
	s.tell(id, Change{t.Revision, tab})
}

// load reads a scene, finishes what a killed writer began and takes in what
// another changed.
func (s *Store) load(id string) (*table, time.Time, error) {
	if err := s.known(id); err != nil {
		return nil, time.Time{}, err
	}
	t, changed, err := newest(s.folder(id))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, changed, err
	}
	text, err := infile.Read(s.sceneFile(id), mostOpened)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text = nil
	case err != nil:
		return nil, changed, err
	}
	switch now := sum(text); {
	case t == nil && text == nil:
		return nil, changed, ErrNone
	case t != nil && now == t.Text:
		return t, changed, nil
	case t != nil && (text == nil || now == t.Before):
		if text = s.form.Text(t.Scene, []byte(t.Opened)); text != nil && sum(text) == t.Text {
			return t, changed, s.replace(s.sceneFile(id), text)
		}
		return t, changed, nil
	}
	t, err = s.adopt(id, t, text)
	return t, s.now(), err
}

// adopt takes in a scene file that another wrote; what is no scene is set aside.
func (s *Store) adopt(id string, t *table, text []byte) (*table, error) {
	var before json.RawMessage
	highest, err := highestRevision(s.folder(id))
	if err != nil {
		return nil, err
	}
	next := &table{Revision: highest + 1, Opened: string(text), Text: sum(text), Before: sum(text)}
	if t != nil {
		before = t.Scene
		next.Past = append(t.Past, act{changedOutside, t.Scene})
	}
	next.Scene, err = s.form.Adopt(text, before)
	if err == nil && len(next.Scene) > MostScene {
		err = errors.New("it is more than the page holds")
	}
	if err == nil {
		return next, s.adopted(id, next)
	}
	if t == nil {
		return nil, err
	}
	aside, err2 := s.setAside(id)
	if err2 != nil {
		return nil, err2
	}
	next.Scene, next.Past, next.Next, next.Opened = t.Scene, t.Past, t.Next, t.Opened
	next.Note = fmt.Sprintf("scene.toml was changed outside fewtubes and cannot be read (%s); it is kept beside as %s", plain.Cut(err.Error(), mostWords), aside)
	next.Text, next.Before = "", ""
	return next, s.write(id, next, "")
}

// adopted keeps a table whose scene file is there already, byte for byte.
func (s *Store) adopted(id string, next *table) error {
	next.Format = tableFormat
	next.bounded()
	data, err := next.encode()
	if err == nil {
		err = s.create(filepath.Join(s.folder(id), tableName(next.Revision)), data)
	}
	if err == nil {
		s.written(id, next, "")
	}
	return err
}

// setAside gives a scene file that cannot be read a name of its own.
func (s *Store) setAside(id string) (name string, err error) {
	for n := 1; ; n++ {
		name = fmt.Sprintf("scene-outside-%d.toml", n)
		path := filepath.Join(s.folder(id), name)
		if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
			return name, os.Rename(s.sceneFile(id), path)
		}
	}
}
