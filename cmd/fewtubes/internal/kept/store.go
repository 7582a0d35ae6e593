package kept

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/infile"
)

// Form knows how a scene as the page has it becomes a scene file and back.
type Form struct {
	// Text is the scene within the text it was opened from, or nil for what is no
	// whole scene yet.
	Text func(scene json.RawMessage, opened []byte) []byte
	// Adopt reads a scene file; before is the scene it takes the place of, or nil.
	Adopt func(text []byte, before json.RawMessage) (json.RawMessage, error)
}

// Store is a folder of scenes.
type Store struct {
	dir  string
	form Form
	now  func() time.Time

	create, replace func(path string, data []byte) error // whole files

	mu        sync.Mutex // of the files, among this program's own readers and writers
	followers map[string]map[chan Change]bool
}

// Errors about scenes.
var (
	ErrNone = errors.New("there is no such scene")
	ErrOld  = errors.New("the scene has been changed in the meantime")
)

// private is a folder that no other account may look into.
const private fs.FileMode = 0o700

// Open makes the folder where it is missing and forgets what was removed long ago.
func Open(dir string, form Form) (*Store, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, form: form, now: time.Now, create: atomicfile.CreatePrivate, replace: atomicfile.ReplacePrivate,
		followers: map[string]map[chan Change]bool{}}
	for _, folder := range []string{dir, s.scenes(), s.removed()} {
		if err := os.MkdirAll(folder, private); err != nil {
			return nil, err
		}
	}
	// One that was there before may have been open to others.
	if err := os.Chmod(dir, private); err != nil {
		return nil, err
	}
	s.forgetOld()
	return s, nil
}

// WriteWith has files written by other means: tests know disks that are full.
func (s *Store) WriteWith(create, replace func(path string, data []byte) error) {
	s.create, s.replace = create, replace
}

// Dir is the folder.
func (s *Store) Dir() string { return s.dir }

func (s *Store) scenes() string             { return filepath.Join(s.dir, "scenes") }
func (s *Store) removed() string            { return filepath.Join(s.dir, "removed") }
func (s *Store) folder(id string) string    { return filepath.Join(s.scenes(), id) }
func (s *Store) sceneFile(id string) string { return filepath.Join(s.folder(id), "scene.toml") }

var sceneID = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}$`)

// known refuses an id that could not be one, before a path is made from it.
func (s *Store) known(id string) error {
	if !sceneID.MatchString(id) {
		return ErrNone
	}
	if info, err := os.Stat(s.folder(id)); err != nil || !info.IsDir() {
		return ErrNone
	}
	return nil
}

// slug is a title as the name of a folder.
func slug(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	name := strings.Join(words, "-")
	if len(name) > 40 {
		name = strings.TrimRight(name[:40], "-")
	}
	if !sceneID.MatchString(name) || !filepath.IsLocal(name) { // some names are devices elsewhere
		return "scene"
	}
	return name
}

// claim makes the folder of a new scene under a name that neither a scene nor a
// removed one has.
func (s *Store) claim(title string) (id string, err error) {
	for n := 1; n < 10_000; n++ {
		id = slug(title)
		if n > 1 {
			id = fmt.Sprintf("%s-%d", id, n)
		}
		if s.removedAs(id) != "" {
			continue
		}
		err = os.Mkdir(s.folder(id), private)
		if !errors.Is(err, fs.ErrExist) {
			return id, err
		}
	}
	return "", err
}

// Summary is a scene in a list.
type Summary struct {
	ID      string    `json:"id"`
	Title   string    `json:"title"`
	Changed time.Time `json:"changed"`
	Colours int       `json:"colours"`
	Thumbs  []string  `json:"thumbs"` // ids of its photographs
}

// List gives the scenes, changed last first, and the removed ones, removed last
// first: their time is that of the removal.
func (s *Store) List() (scenes, removed []Summary, err error) {
	s.forgetOld()
	s.mu.Lock()
	defer s.mu.Unlock()
	scenes, removed = []Summary{}, []Summary{}
	entries, err := os.ReadDir(s.scenes())
	if err != nil {
		return nil, nil, err
	}
	for _, e := range entries {
		if !e.IsDir() || !sceneID.MatchString(e.Name()) {
			continue
		}
		if t, changed, err := s.load(e.Name()); err == nil {
			scenes = append(scenes, summarise(e.Name(), t.Scene, changed))
		}
	}
	entries, err = os.ReadDir(s.removed())
	if err != nil {
		return nil, nil, err
	}
	for _, e := range entries {
		id, when, ok := removedName(e.Name())
		if !ok {
			continue
		}
		if t, _, err := newest(filepath.Join(s.removed(), e.Name())); err == nil {
			removed = append(removed, summarise(id, t.Scene, when))
		}
	}
	for _, list := range [][]Summary{scenes, removed} {
		slices.SortStableFunc(list, func(a, b Summary) int { return b.Changed.Compare(a.Changed) })
	}
	return scenes, removed, nil
}

func summarise(id string, scene json.RawMessage, changed time.Time) Summary {
	var known struct {
		Title   string            `json:"title"`
		Targets []json.RawMessage `json:"targets"`
		Photos  []struct {
			ID string `json:"id"`
		} `json:"photos"`
	}
	_ = json.Unmarshal(scene, &known) // it was read before it was kept
	out := Summary{ID: id, Title: known.Title, Changed: changed.UTC(), Colours: len(known.Targets), Thumbs: []string{}}
	for _, p := range known.Photos {
		if photoID.MatchString(p.ID) {
			out.Thumbs = append(out.Thumbs, p.ID)
		}
	}
	return out
}

// Last is the scene that was open last, or empty.
func (s *Store) Last() string {
	data, err := infile.Read(filepath.Join(s.dir, "last"), 100)
	if id := strings.TrimSpace(string(data)); err == nil && s.known(id) == nil {
		return id
	}
	return ""
}

// Opened remembers that a scene is open.
func (s *Store) Opened(id string) {
	if s.Last() != id {
		_ = s.replace(filepath.Join(s.dir, "last"), []byte(id+"\n")) // without it another scene is shown first
	}
}
