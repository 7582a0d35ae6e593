package kept

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"fewtubes/gamut/bounded"
)

// lines is a form for tests: the scene file holds the title alone.
var lines = Form{
	Text: func(scene json.RawMessage, _ []byte) []byte {
		var s struct{ Title string }
		if json.Unmarshal(scene, &s) != nil || s.Title == "" {
			return nil
		}
		return []byte(s.Title + "\n")
	},
	Adopt: func(text []byte, _ json.RawMessage) (json.RawMessage, error) {
		if bytes.HasPrefix(text, []byte("!")) {
			return nil, errors.New("line 1: no title")
		}
		return titled(strings.TrimSpace(string(text))), nil
	},
}

func titled(title string) json.RawMessage {
	return json.RawMessage(fmt.Sprintf(`{"title":%q}`, title))
}

func open(t testing.TB, dir string) *Store {
	t.Helper()
	s, err := Open(dir, lines)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func create(t testing.TB, s *Store, title string) string {
	t.Helper()
	id, err := s.Create(title, titled(title), nil)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func do(t testing.TB, s *Store, id, words, title string) *Document {
	t.Helper()
	now, err := s.Read(id)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Do(id, Act{Base: now.Revision, Words: words, Scene: titled(title)})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func isNow(t *testing.T, d *Document, err error, title, undo, redo string) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	if string(d.Scene) != string(titled(title)) || d.Undo != undo || d.Redo != redo {
		t.Errorf("%s, take back %q, do again %q; want %q, %q, %q", d.Scene, d.Undo, d.Redo, title, undo, redo)
	}
}

// Every act can be taken back and done again by name, by a program started anew.
func TestActsSurviveRestart(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	id := create(t, s, "a")
	for _, next := range []string{"b", "c", "d"} {
		s = open(t, dir)
		do(t, s, id, "to "+next, next)
	}
	d, err := open(t, dir).Read(id)
	isNow(t, d, err, "d", "to d", "")
	for _, want := range [][3]string{{"c", "to c", "to d"}, {"b", "to b", "to c"}, {"a", "", "to b"}, {"a", "", "to b"}} {
		d, err := open(t, dir).Undo(id, "")
		isNow(t, d, err, want[0], want[1], want[2])
	}
	d, err = open(t, dir).Redo(id, "")
	isNow(t, d, err, "b", "to b", "to c")
	text, err := os.ReadFile(s.sceneFile(id))
	if err != nil || string(text) != "b\n" {
		t.Errorf("the scene file holds %q, %v", text, err)
	}
	do(t, s, id, "elsewhere", "e")
	d, err = s.Redo(id, "")
	isNow(t, d, err, "e", "elsewhere", "")
}

// Joined acts are one, and what changes nothing is none.
func TestJoinedActs(t *testing.T) {
	s := open(t, t.TempDir())
	id := create(t, s, "a")
	for i, next := range []string{"b", "c", "c"} {
		if _, err := s.Do(id, Act{Base: i + 1, Words: "moved", Scene: titled(next), Join: true}); err != nil {
			t.Fatal(err)
		}
	}
	d, err := s.Undo(id, "")
	isNow(t, d, err, "a", "", "moved")
}

// Of two that change one revision, the second has to look again.
func TestOldBase(t *testing.T) {
	dir := t.TempDir()
	one, two := open(t, dir), open(t, dir)
	id := create(t, one, "a")
	if _, err := one.Do(id, Act{Base: 1, Words: "first", Scene: titled("b")}); err != nil {
		t.Fatal(err)
	}
	d, err := two.Do(id, Act{Base: 1, Words: "second", Scene: titled("c")})
	if !errors.Is(err, ErrOld) || d.Revision != 2 {
		t.Fatal(d, err)
	}
	d, err = two.Do(id, Act{Base: 2, Words: "second", Scene: titled("c")})
	isNow(t, d, err, "c", "second", "")
	d, err = two.Undo(id, "")
	isNow(t, d, err, "b", "first", "second")
}

// A table that another program wrote at the same moment is never written over.
func TestTwoWritersAtOnce(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	id := create(t, s, "a")
	other := &table{Format: tableFormat, Revision: 2, Scene: titled("theirs"), Text: sum([]byte("a\n")), Before: sum([]byte("a\n"))}
	data, err := other.encode()
	if err != nil {
		t.Fatal(err)
	}
	create := s.create
	s.create = func(path string, ours []byte) error {
		if err := create(path, data); err != nil {
			t.Fatal(err)
		}
		return create(path, ours)
	}
	d, err := s.Do(id, Act{Base: 1, Words: "ours", Scene: titled("ours")})
	if !errors.Is(err, ErrOld) || string(d.Scene) != string(titled("theirs")) {
		t.Errorf("%+v %v", d, err)
	}
}

// A scene file changed by another is a revision, and the one before is an act away.
func TestChangedOutside(t *testing.T) {
	s := open(t, t.TempDir())
	id := create(t, s, "a")
	do(t, s, id, "to b", "b")
	if err := os.WriteFile(s.sceneFile(id), []byte("theirs\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	d, err := s.Read(id)
	isNow(t, d, err, "theirs", changedOutside, "")
	d, err = s.Do(id, Act{Base: 2, Words: "late", Scene: titled("c")})
	if !errors.Is(err, ErrOld) || d.Revision != 3 {
		t.Error(d, err)
	}
	d, err = s.Undo(id, "")
	isNow(t, d, err, "b", "to b", changedOutside)
	d, err = s.Redo(id, "")
	isNow(t, d, err, "theirs", changedOutside, "")
}

// One that is no scene any more is kept beside, and a missing one is written again.
func TestBrokenOutside(t *testing.T) {
	s := open(t, t.TempDir())
	id := create(t, s, "a")
	if err := os.WriteFile(s.sceneFile(id), []byte("!broken"), 0o600); err != nil {
		t.Fatal(err)
	}
	d, err := s.Read(id)
	isNow(t, d, err, "a", "", "")
	if !strings.Contains(d.Note, "line 1: no title") || !strings.Contains(d.Note, "scene-outside-1.toml") {
		t.Error(d.Note)
	}
	aside, err := os.ReadFile(filepath.Join(s.folder(id), "scene-outside-1.toml"))
	if err != nil || string(aside) != "!broken" {
		t.Error(aside, err)
	}
	if err := os.Remove(s.sceneFile(id)); err != nil {
		t.Fatal(err)
	}
	d, err = s.Read(id)
	isNow(t, d, err, "a", "", "")
	if text, err := os.ReadFile(s.sceneFile(id)); err != nil || string(text) != "a\n" {
		t.Errorf("%q %v", text, err)
	}
}

// A scene file alone, as copied here by hand, is a scene.
func TestFileAlone(t *testing.T) {
	s := open(t, t.TempDir())
	if err := os.Mkdir(s.folder("dropped"), private); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.sceneFile("dropped"), []byte("by hand\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	d, err := s.Read("dropped")
	isNow(t, d, err, "by hand", "", "")
	if err := os.WriteFile(filepath.Join(s.folder("dropped"), tableName(d.Revision)), []byte("rotten"), 0o600); err != nil {
		t.Fatal(err)
	}
	d, err = s.Read("dropped")
	isNow(t, d, err, "by hand", "", "")
	if d.Revision != 2 {
		t.Error(d.Revision)
	}
}

// Killed between the two files, a writer is finished by the next reader.
func TestKilledBetween(t *testing.T) {
	s := open(t, t.TempDir())
	id := create(t, s, "a")
	var killed = errors.New("killed")
	replace := s.replace
	s.replace = func(string, []byte) error { panic(killed) }
	func() {
		defer func() {
			if recover() != killed {
				t.Error("it was not killed there")
			}
		}()
		do(t, s, id, "to b", "b")
	}()
	s.replace = replace
	d, err := s.Read(id)
	isNow(t, d, err, "b", "to b", "")
	if text, _ := os.ReadFile(s.sceneFile(id)); string(text) != "b\n" {
		t.Errorf("%q", text)
	}
}

// A full disk leaves what was: at each write of an act and of a new scene.
func TestFullDisk(t *testing.T) {
	full := &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}
	for at := range 2 {
		s := open(t, t.TempDir())
		id := create(t, s, "a")
		create, replace := s.create, s.replace
		if at == 0 {
			s.create = func(string, []byte) error { return full }
		} else {
			s.replace = func(string, []byte) error { return full }
		}
		if _, err := s.Do(id, Act{Base: 1, Words: "to b", Scene: titled("b")}); !errors.Is(err, syscall.ENOSPC) {
			t.Error(err)
		}
		if _, err := s.Create("new", titled("new"), nil); !errors.Is(err, syscall.ENOSPC) {
			t.Error(err)
		}
		s.create, s.replace = create, replace
		scenes, _, err := s.List()
		if err != nil || len(scenes) != 1 {
			t.Errorf("%v %v", scenes, err)
		}
		d, err := s.Read(id)
		isNow(t, d, err, "a", "", "")
		d, err = s.Do(id, Act{Base: 1, Words: "to b", Scene: titled("b")})
		isNow(t, d, err, "b", "to b", "")
		files, _ := os.ReadDir(s.folder(id))
		if len(files) != 2 {
			t.Errorf("%v", files)
		}
	}
}

// The acts are few and small enough, and the newest stay.
func TestHistoryIsBounded(t *testing.T) {
	s := open(t, t.TempDir())
	quick := func(path string, data []byte) error { return os.WriteFile(path, data, 0o600) } // a disk takes its time
	s.WriteWith(quick, quick)
	id := create(t, s, "a")
	for i := range mostActs + 20 {
		do(t, s, id, fmt.Sprint("act ", i), fmt.Sprint("title ", i))
	}
	table, _, err := newest(s.folder(id))
	if err != nil || len(table.Past) != mostActs || table.Past[mostActs-1].Words != fmt.Sprint("act ", mostActs+19) {
		t.Error(len(table.Past), err)
	}
	large := strings.Repeat("x", MostScene/2)
	for i := range 12 {
		do(t, s, id, "grew", fmt.Sprint(i, large))
	}
	table, _, err = newest(s.folder(id))
	if err != nil || len(table.Past) < 6 || len(table.Past) > 8 {
		t.Error(len(table.Past), err)
	}
}

// Removed is kept for 30 days, restored with its acts, forgotten for good.
func TestRemoved(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	id := create(t, s, "Marsh")
	do(t, s, id, "to b", "b")
	photo := "0123456789abcdef"
	if err := s.KeepPhoto(id, photo, "wide.jpg", []byte("light"), []byte("small")); err != nil {
		t.Fatal(err)
	}
	if err := s.Remove(id); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Read(id); !errors.Is(err, ErrNone) {
		t.Error(err)
	}
	if again := create(t, s, "Marsh"); again == id {
		t.Error("a name that a removed scene has")
	}
	_, removed, err := open(t, dir).List()
	if err != nil || len(removed) != 1 || removed[0].ID != id || removed[0].Title != "b" {
		t.Fatal(removed, err)
	}
	if err := s.Restore(id); err != nil {
		t.Fatal(err)
	}
	d, err := s.Undo(id, "")
	isNow(t, d, err, "Marsh", "", "to b")
	if name, data, err := s.Photo(photo); name != "wide.jpg" || string(data) != "light" {
		t.Error(name, data, err)
	}
	if err := s.Remove(id); err != nil {
		t.Fatal(err)
	}
	later := open(t, dir)
	later.now = func() time.Time { return time.Now().Add(keptRemoved - time.Hour) }
	if _, removed, _ := later.List(); len(removed) != 1 {
		t.Error("forgotten before its time")
	}
	later.now = func() time.Time { return time.Now().Add(keptRemoved + time.Hour) }
	if _, removed, _ := later.List(); len(removed) != 0 {
		t.Error("not forgotten in time")
	}
	if left := withBytes(t, dir, "light"); left != "" {
		t.Error(left)
	}
}

// Nothing of what is forgotten is left; what another scene holds stays there.
func TestForget(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	a, b := create(t, s, "secret cove"), create(t, s, "open")
	for i, scene := range []string{a, a, b} {
		id := fmt.Sprintf("%016x", min(i, 1))
		if err := s.KeepPhoto(scene, id, "cove.jpg", []byte("light"+id), []byte("small"+id)); err != nil {
			t.Fatal(err)
		}
	}
	gone, err := s.Forget(a)
	if err != nil || len(gone) != 1 || gone[0] != fmt.Sprintf("%016x", 0) {
		t.Error(gone, err)
	}
	for _, text := range []string{"secret cove", "light" + gone[0], "small" + gone[0]} {
		if left := withBytes(t, dir, text); left != "" {
			t.Errorf("%q is left in %s", text, left)
		}
	}
	if _, _, err := s.Photo(fmt.Sprintf("%016x", 1)); err != nil {
		t.Error(err)
	}
	if _, err := s.Forget(a); !errors.Is(err, ErrNone) {
		t.Error(err)
	}
}

// withBytes finds a file that holds a text.
func withBytes(t *testing.T, dir, text string) (path string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		if table, none := decode(data); none == nil {
			data, err = json.Marshal(table)
		}
		if bytes.Contains(data, []byte(text)) || strings.Contains(p, text) {
			path = p
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// A follower hears the newest change and who made it.
func TestFollow(t *testing.T) {
	s := open(t, t.TempDir())
	id := create(t, s, "a")
	changes, done := s.Follow(id)
	for i := range 3 {
		if _, err := s.Do(id, Act{Base: i + 1, Words: "w", Scene: titled(fmt.Sprint(i)), Tab: "one"}); err != nil {
			t.Fatal(err)
		}
	}
	if c := <-changes; c != (Change{4, "one"}) {
		t.Error(c)
	}
	done()
	if len(s.followers) != 0 {
		t.Error("a follower that left is kept")
	}
}

// No path is made from what is no id.
func TestStrangeIDs(t *testing.T) {
	s := open(t, t.TempDir())
	for _, id := range []string{"", ".", "..", "../scenes", "a/b", `a\b`, "A", "-a", strings.Repeat("a", 61), "a\x00"} {
		if _, err := s.Read(id); !errors.Is(err, ErrNone) {
			t.Errorf("%q: %v", id, err)
		}
		if err := s.Remove(id); !errors.Is(err, ErrNone) {
			t.Errorf("%q: %v", id, err)
		}
		if _, err := s.Forget(id); !errors.Is(err, ErrNone) {
			t.Errorf("%q: %v", id, err)
		}
		if _, _, err := s.Photo(id); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%q: %v", id, err)
		}
	}
	for _, name := range []string{"", "..", "../../x", "con", "a\x00b", strings.Repeat("ä", 200) + ".jpeg", "scene.toml", ".jpg", "a."} {
		if got := FileName(name); !filepath.IsLocal(got) || len(got) > 110 || strings.ContainsAny(got, `/\:*?"<>|`) {
			t.Errorf("%q becomes %q", name, got)
		}
	}
	for title, want := range map[string]string{"Salt marsh, at ebb": "salt-marsh-at-ebb", "Ватт": "scene", "": "scene", "--": "scene"} {
		if got := slug(title); got != want {
			t.Errorf("%q: %q", title, got)
		}
	}
}

// What is read as a table is bounded, and what was written reads back.
func FuzzTable(f *testing.F) {
	good, err := (&table{Format: 1, Revision: 3, Scene: titled("a"), Past: []act{{"to a", titled("b")}}}).encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add([]byte("\x1f\x8b"))
	f.Fuzz(func(t *testing.T, data []byte) {
		bounded.Work(t, len(data), func() {
			got, err := decode(data)
			if err != nil {
				return
			}
			again, err := got.encode()
			if err != nil {
				t.Fatal(err)
			}
			if _, err := decode(again); err != nil {
				t.Fatal(err)
			}
		})
	})
}

// FuzzHanded reads what may have been handed on: within bounds, with a scene, and
// refused in a line.
func FuzzHanded(f *testing.F) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range map[string]string{HandedScene: "format = 1\n", HandedAside: `{"held": []}`, "pictures/1.jpg": "light"} {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(text))
		}
		if err != nil {
			f.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, data []byte) {
		bounded.Work(t, len(data), func() {
			in, err := ReadHanded(data)
			switch {
			case err == nil && in.Text == nil:
				t.Error("taken without a scene")
			case err == nil && len(in.Text)+len(in.Aside) > 2*mostHandedText:
				t.Error("larger than its bounds")
			}
		})
	})
}
