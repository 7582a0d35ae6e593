package page

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/owntubes"
)

// boxFile is the painter's box as a file. It may be edited by hand at any time: it
// is looked at before each question, and every change is made to the text as it is
// then.
type boxFile struct {
	path string             // empty: kept in memory alone
	from *catalog.Catalogue // without the box

	mu    sync.Mutex
	stamp stamp
	held  heldBox
}

// stamp tells a file that was written since.
type stamp struct {
	size int64
	at   time.Time
}

// heldBox is a box as it was read. Where the file is broken it is the last that was
// not, and wrong says what is the matter.
type heldBox struct {
	box      *owntubes.Box
	all      *catalog.Catalogue // as the commands take it with --box
	revision string
	leftOut  []string
	wrong    error
}

func newBoxFile(path string, from *catalog.Catalogue) *boxFile {
	return &boxFile{path: path, from: from, held: heldBox{all: from}}
}

// now is the box as its file has it.
func (b *boxFile) now() heldBox {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.look()
	return b.held
}

func (b *boxFile) look() {
	var seen stamp
	if b.path != "" {
		if info, err := os.Stat(b.path); err == nil {
			seen = stamp{info.Size(), info.ModTime()}
		}
	}
	if b.held.box != nil && (b.path == "" || seen == b.stamp) || b.from == nil {
		return
	}
	var text []byte
	if b.path != "" {
		var err error
		if text, err = owntubes.Text(b.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			b.held.wrong = errors.New("the box cannot be read: " + err.Error())
			return
		}
	}
	b.stamp = seen
	b.take(text)
}

// take makes the text the box, unless something is wrong with it.
func (b *boxFile) take(text []byte) {
	held, err := b.read(text)
	if err != nil {
		b.held.wrong = err
		return
	}
	b.held = held
}

func (b *boxFile) read(text []byte) (h heldBox, err error) {
	const name = "box.toml" // its folder stands on the page already
	if h.box, err = owntubes.OpenBox(name, text, b.from); err != nil {
		return h, err
	}
	sum := sha256.Sum256(h.box.Text())
	h.revision, h.all = hex.EncodeToString(sum[:8]), b.from
	f, err := owntubes.Parse(name, h.box.Text())
	if err != nil || len(f.Tubes) == 0 {
		return h, err
	}
	var leftOut []error
	h.all, leftOut, err = f.Apply(b.from)
	for _, why := range leftOut {
		h.leftOut = append(h.leftOut, oneLine(why))
	}
	return h, err
}

// change writes what becomes of the box, whole, within the text that its file has.
func (b *boxFile) change(f func(*owntubes.Box) (*owntubes.Box, error)) (heldBox, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.look()
	if b.held.wrong != nil {
		return b.held, &trouble{http.StatusConflict, "nothing is changed while the box is broken: " + b.held.wrong.Error()}
	}
	changed, err := f(b.held.box)
	if err != nil {
		return b.held, err
	}
	held, err := b.read(changed.Text())
	if err != nil {
		return b.held, err
	}
	if b.path != "" && held.revision != b.held.revision {
		if err := b.write(changed.Text()); err != nil {
			return b.held, &trouble{http.StatusInsufficientStorage, "the box could not be written: " + err.Error()}
		}
	}
	b.held = held
	return held, nil
}

func (b *boxFile) write(text []byte) error {
	if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
		return err
	}
	if err := atomicfile.Replace(b.path, text); err != nil {
		return err
	}
	if b.stamp == (stamp{}) { // it is new
		if err := os.Chmod(b.path, 0o600); err != nil {
			return err
		}
	}
	info, err := os.Stat(b.path)
	if err == nil {
		b.stamp = stamp{info.Size(), info.ModTime()}
	}
	return err
}

// stock is every tube a question may use: those of the program with the painter's
// own.
func (s *Server) stock() *catalog.Catalogue { return s.box.now().all }

// readyBox is a box that is common: a start for who would rather take a few out
// than put all in.
type readyBox struct {
	Words string   `json:"words"`
	IDs   []string `json:"ids"`
}

// readyBoxes are common practice, no source.
var readyBoxes = []readyBox{
	{"outdoor ten", []string{
		"titanium-white", "cadmium-lemon", "cadmium-yellow-deep", "yellow-ochre", "cadmium-red-light", "quinacridone-magenta",
		"ultramarine-blue", "cerulean-blue-chromium", "viridian", "burnt-sienna",
	}},
	{"warm and cool of each, no cadmium", []string{
		"titanium-white", "bismuth-yellow", "indian-yellow-hue", "pyrrole-red", "quinacridone-magenta", "ultramarine-blue", "phthalo-blue-green-shade",
	}},
	{"earths", []string{"titanium-white", "yellow-ochre", "raw-sienna", "burnt-sienna", "light-red", "raw-umber", "green-earth"}},
}

// boxDoc is the box as the page draws it.
type boxDoc struct {
	Path     string     `json:"path"` // where it is kept; empty: nowhere yet
	Revision string     `json:"revision"`
	Owned    []string   `json:"owned"` // ids, in the order of the file
	LeftOut  []string   `json:"leftOut"`
	Wrong    string     `json:"wrong"` // why the file cannot be read; empty: it can
	Ready    []readyBox `json:"ready"`
}

func (s *Server) boxDoc(h heldBox) boxDoc {
	doc := boxDoc{Path: s.box.path, Revision: h.revision, Owned: []string{}, LeftOut: append([]string{}, h.leftOut...), Ready: readyBoxes}
	if h.box != nil {
		for _, t := range h.box.Owned() {
			doc.Owned = append(doc.Owned, t.ID)
		}
	}
	if h.wrong != nil {
		doc.Wrong = oneLine(h.wrong)
	}
	return doc
}

// showBox lists the tubes in the painter's box.
func (s *Server) showBox(w http.ResponseWriter, _ *http.Request) { writeJSON(w, s.boxDoc(s.box.now())) }

// fillBox puts tubes into the box and takes others out.
func (s *Server) fillBox(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Put  []string `json:"put"`
		Take []string `json:"take"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	if n := len(q.Put) + len(q.Take); n > mostEntries {
		fail(w, tooMany("tubes", n, mostEntries))
		return
	}
	held, err := s.box.change(func(b *owntubes.Box) (*owntubes.Box, error) {
		put, err := knownTubes(b.Catalogue(), q.Put)
		if err != nil {
			return nil, err
		}
		take, err := knownTubes(b.Catalogue(), q.Take)
		if err != nil {
			return nil, err
		}
		for _, id := range put {
			if slices.Contains(take, id) {
				return nil, fmt.Errorf("%s is to be put in and taken out at once; do one of them", id)
			}
		}
		if b, _, err = b.Put(true, put); err != nil {
			return nil, err
		}
		b, _, err = b.Put(false, take)
		return b, err
	})
	if err != nil {
		fail(w, err)
		return
	}
	writeJSON(w, s.boxDoc(held))
}

// knownTubes are the ids of tubes, each once.
func knownTubes(all *catalog.Catalogue, names []string) (out []string, err error) {
	for _, name := range names {
		t, err := all.Get(name)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(out, t.ID) {
			out = append(out, t.ID)
		}
	}
	return out, nil
}

// families are the shelves of the box, each from one tube of the catalogue on, in
// whose order they stand.
var families = []struct{ words, from string }{
	{"whites", "titanium-white"}, {"yellows", "cadmium-lemon"}, {"oranges", "cadmium-orange"}, {"reds", "cadmium-red-light"},
	{"violets", "cobalt-violet-light"}, {"blues", "indanthrone-blue"}, {"greens", "phthalo-green-blue-shade"},
	{"earths", "yellow-ochre-light"}, {"blacks and greys", "ivory-black"},
}

// ownFamily holds what the painter wrote.
const ownFamily = "my own"

// familiesOf is the shelf of each tube of a catalogue.
func familiesOf(all *catalog.Catalogue) map[string]string {
	out, shelf, next := map[string]string{}, ownFamily, 0
	for _, t := range all.Tubes() {
		if next < len(families) && t.ID == families[next].from {
			shelf, next = families[next].words, next+1
		}
		out[t.ID] = shelf
	}
	return out
}

// holds reports whether there is a tube in it.
func (h heldBox) holds() bool { return h.box != nil && len(h.box.Owned()) > 0 }

// record is what the box's swatches taught, some tubes among those of it.
func (h heldBox) record(ids []string) (*owntubes.Lesson, error) {
	if h.box == nil {
		return owntubes.New("").TeachAmong(h.all, ids)
	}
	return h.box.TeachAmong(ids)
}
