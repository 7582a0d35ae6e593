package main

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fewtubes/catalog"
)

var moments = flag.Int("moments", 20, "moments within a write at which TestKilledWhileWriting kills")

// writer is a command that writes a file, in two forms so that the old file can
// be told from the new one.
type writer struct {
	name, file string
	old, new   []string // arguments without the file
	was, is    []byte   // what they write
	takes      time.Duration
}

// atWork is how a killed writer was met.
type atWork struct{ before, begun, amid, after int }

func (a atWork) all() int { return a.before + a.begun + a.amid + a.after }

// A program killed with SIGKILL while it writes leaves the old file or the new
// one, to the byte, and beside it at most a temporary file that is known by its
// name, does no harm, and is swept up later. The delays are seeded; where in
// the write they fall, the machine decides, and is counted: kills go on until
// that many fell within a write.
func TestKilledWhileWriting(t *testing.T) {
	t.Chdir(t.TempDir())
	seed := rand.New(rand.NewPCG(8, 2))
	var met atWork
	writers := crashWriters(t)
	for i := range writers {
		writers[i].rehearse(t)
	}
	for met.begun+met.amid < *moments && met.all() < 6**moments {
		w := &writers[met.all()%len(writers)]
		fresh := met.all()/len(writers)%2 == 1
		w.kill(t, &met, fresh, seed)
		if t.Failed() {
			break
		}
	}
	for i := range writers {
		writers[i].recovers(t)
	}
	t.Logf("%d kills: %d before the write, %d at an empty temporary file, %d while it was written or synced, %d after the rename",
		met.all(), met.before, met.begun, met.amid, met.after)
	// On a disk four of five fall within a write. In a folder kept in memory the
	// whole write is over in the time it takes to notice it.
	if met.begun+met.amid < *moments/10 {
		t.Errorf("only %d of %d kills fell within a write", met.begun+met.amid, met.all())
	}
}

// A box and a scene that are changed in place are whole, too, whenever the program
// is killed.
func TestKilledWhileChanging(t *testing.T) {
	t.Chdir(t.TempDir())
	seed := rand.New(rand.NewPCG(20, 8))
	for _, c := range []struct {
		file, text string
		args       []string
	}{
		{"box.toml", "# mine\nformat = 1\n[[tube]]\nid = \"viridian\"\n" + strings.Repeat("# and a remark\n", 20_000), []string{"box", "add", "ochre"}},
		{"box.toml", "# mine\nformat = 1\n[[tube]]\nid = \"viridian\"\n" + strings.Repeat("# and a remark\n", 20_000), []string{"measure", "--pile", "3:viridian,1:ochre", "--seen", "5G 4/2"}},
		{"marsh.toml", threeValues, []string{"choose", "marsh.toml", "--only", "titanium-white,ivory-black", "--save"}},
	} {
		put(t, c.file, c.text)
		began := time.Now()
		if out, err := exec.Command("fewtubes", c.args...).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		takes, is := time.Since(began), read(t, c.file)
		old, changed := 0, 0
		for range *moments {
			put(t, c.file, c.text)
			cmd := exec.Command("fewtubes", c.args...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration(seed.Float64() * float64(takes)))
			_ = cmd.Process.Kill() // it may have ended
			_ = cmd.Wait()
			switch got := read(t, c.file); {
			case string(got) == c.text:
				old++
			case bytes.Equal(got, is):
				changed++
			default:
				t.Errorf("%s is neither the old nor the new one: %d bytes", c.file, len(got))
			}
		}
		t.Logf("%s: %d kills left the old file, %d the new one", c.file, old, changed)
	}
}

func crashWriters(t *testing.T) []writer {
	t.Helper()
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	readings := paintOuts(t, builtin, 0, "1 titanium-white", "1 burnt-sienna", "1 burnt-sienna + 4 titanium-white")
	put(t, "marsh.toml", threeValues)
	put(t, "buoy.toml", "format = 1\n[[target]]\nname = \"buoy\"\ncolour = \"lab(52 68 58)\"\n")
	put(t, "reed.toml", "format = 1\n[[target]]\nname = \"reed\"\ncolour = \"lab(62 -40 58)\"\n")
	const two = "titanium-white,ultramarine-blue"
	return []writer{
		{name: "scene", file: "moved.toml",
			old: []string{"fit", "marsh.toml", "--points", "1:2,5:5,9:9", "-o"}, new: []string{"fit", "marsh.toml", "--points", "1:3,5:6,9:9", "-o"}},
		{name: "tubes", file: "own.toml",
			old: []string{"measure", readings, "-o"}, new: []string{"measure", readings, "--surface", "no-glare", "-o"}},
		{name: "report", file: "tubes.html",
			old: []string{"tubes", "--html"}, new: []string{"tubes", "--munsell", "--html"}},
		{name: "proofs", file: "proof",
			old: []string{"check", "buoy.toml", "--palette", two, "--certificate"}, new: []string{"check", "reed.toml", "--palette", two, "--certificate"}},
	}
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// rehearse learns what is written, and how long the temporary file lives.
func (w *writer) rehearse(t *testing.T) {
	t.Helper()
	for range 3 {
		if out, err := exec.Command("fewtubes", append(w.old, w.file, "--force")...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", w.name, err, out)
		}
	}
	w.was = whole(t, w.file)
	if w.name == "proofs" {
		if err := os.CopyFS("old", os.DirFS(w.file)); err != nil {
			t.Fatal(err)
		}
	}
	var stderr bytes.Buffer
	cmd := exec.Command("fewtubes", append(w.new, w.file, "--force")...)
	cmd.Stderr = &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	if awaitPart(ended, false) {
		since := time.Now()
		for len(parts()) > 0 {
			time.Sleep(20 * time.Microsecond)
		}
		w.takes = time.Since(since)
	}
	if err := <-ended; err != nil {
		t.Fatalf("%s: %v\n%s", w.name, err, stderr.String())
	}
	if w.is = whole(t, w.file); bytes.Equal(w.was, w.is) {
		t.Fatalf("%s: the old file and the new one are alike", w.name)
	}
	w.takes = max(w.takes, 200*time.Microsecond)
}

// kill starts the command, waits until its temporary file is seen and then for
// a random part of the time a write takes, and kills it.
func (w *writer) kill(t *testing.T, met *atWork, fresh bool, seed *rand.Rand) {
	t.Helper()
	args := append(w.new, w.file)
	if fresh {
		os.RemoveAll(w.file)
	} else {
		w.restore(t)
		args = append(args, "--force")
	}
	for _, name := range parts() {
		os.RemoveAll(name)
	}
	cmd := exec.Command("fewtubes", args...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	awaitPart(ended, seed.IntN(4) == 0)
	for until := time.Now().Add(time.Duration(seed.Float64() * float64(w.takes))); time.Now().Before(until); {
	}
	_ = cmd.Process.Kill() // it may have ended
	<-ended
	w.judge(t, met, fresh)
}

// judge looks at what a killed writer left.
func (w *writer) judge(t *testing.T, met *atWork, fresh bool) {
	t.Helper()
	_, err := os.Stat(w.file)
	var got []byte
	if err == nil {
		got = whole(t, w.file)
	}
	isOld := !fresh && bytes.Equal(got, w.was) || fresh && os.IsNotExist(err)
	isNew := err == nil && bytes.Equal(got, w.is)
	if !isOld && !isNew {
		t.Errorf("%s: the file is neither the old nor the new one: %d bytes, %v (old %d, new %d)", w.name, len(got), err, len(w.was), len(w.is))
	}
	left := parts()
	switch size := int64(0); {
	case len(left) > 1:
		t.Errorf("%s: left behind: %v", w.name, left)
	case len(left) == 1:
		if info, err := os.Stat(left[0]); err == nil {
			size = info.Size()
		}
		if size == 0 {
			met.begun++
		} else {
			met.amid++
		}
	case isNew:
		met.after++
	default:
		met.before++
	}
	known := map[string]bool{"marsh.toml": true, "old": true, "buoy.toml": true, "reed.toml": true, "moved.toml": true, "own.toml": true, "tubes.html": true, "proof": true}
	entries, err := os.ReadDir(".")
	for _, e := range entries {
		if !known[e.Name()] && !(strings.HasPrefix(e.Name(), ".fewtubes-") && strings.HasSuffix(e.Name(), ".part")) {
			t.Errorf("%s: there is now a %s", w.name, e.Name())
		}
	}
	if err != nil {
		t.Error(err)
	}
}

// recovers writes once more beside what a killed writer left, which goes when
// it is old and stays while it may be somebody's.
func (w *writer) recovers(t *testing.T) {
	t.Helper()
	for _, name := range parts() {
		os.RemoveAll(name)
	}
	put(t, ".fewtubes-1.part", "half a fi")
	put(t, ".fewtubes-2.part", "half a fi")
	old := time.Now().Add(-24 * time.Hour)
	if err := os.Chtimes(".fewtubes-1.part", old, old); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("fewtubes", append(w.new, w.file, "--force")...).CombinedOutput(); err != nil {
		t.Errorf("%s: %v\n%s", w.name, err, out)
	}
	if !bytes.Equal(whole(t, w.file), w.is) {
		t.Errorf("%s: written again, it is another file", w.name)
	}
	if left := fmt.Sprint(parts()); left != "[.fewtubes-2.part]" {
		t.Errorf("%s: left behind: %s", w.name, left)
	}
}

// awaitPart waits for a temporary file in the folder, one with bytes in it
// unless even an empty one will do, and reports whether there was one before
// the command ended.
func awaitPart(ended chan error, empty bool) bool {
	for {
		for _, name := range parts() {
			if info, err := os.Stat(name); err == nil && (empty || info.Size() > 0) {
				return true
			}
		}
		select {
		case err := <-ended:
			ended <- err
			return false
		default:
			time.Sleep(20 * time.Microsecond)
		}
	}
}

func parts() []string {
	found, _ := filepath.Glob(".fewtubes-*.part")
	return found
}

// restore puts back what the old command wrote.
func (w *writer) restore(t *testing.T) {
	t.Helper()
	os.RemoveAll(w.file)
	if w.name != "proofs" {
		put(t, w.file, string(w.was))
	} else if err := os.CopyFS(w.file, os.DirFS("old")); err != nil {
		t.Fatal(err)
	}
}

// whole is a file, or every file of a folder by name.
func whole(t *testing.T, path string) (out []byte) {
	t.Helper()
	entries, err := os.ReadDir(path)
	if err != nil {
		return read(t, path)
	}
	for _, e := range entries {
		out = append(append(append(out, e.Name()...), '\n'), read(t, filepath.Join(path, e.Name()))...)
	}
	return out
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
