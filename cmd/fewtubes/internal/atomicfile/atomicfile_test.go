package atomicfile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

func TestReplaceWritesWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "scene.toml")
	for _, text := range []string{"first, long text", "second"} {
		if err := Replace(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, text)
	}
	leftIn(t, path, "scene.toml")
}

func TestCreateKeepsWhatExists(t *testing.T) {
	path := filepath.Join(t.TempDir(), "scene.toml")
	if err := Create(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	for what, err := range map[string]error{"create": Create(path, []byte("second")), "check": Check(path, false)} {
		if !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s says %v", what, err)
		}
	}
	if err := Check(path, true); err != nil {
		t.Error(err)
	}
	holds(t, path, "first")
	leftIn(t, path, "scene.toml")
}

// Both ways to take a name that is free: neither takes one that is not.
func TestClaimNeverReplaces(t *testing.T) {
	for name, take := range map[string]func(from, to string) error{"rename": claim, "link": claimByLink} {
		dir := t.TempDir()
		from, to := filepath.Join(dir, "from"), filepath.Join(dir, "to")
		for i, want := range []error{nil, fs.ErrExist} {
			if err := os.WriteFile(from, []byte{byte('0' + i)}, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := take(from, to); !errors.Is(err, want) {
				t.Errorf("%s, time %d: %v, want %v", name, i, err, want)
			}
			os.Remove(from)
		}
		holds(t, to, "0")
	}
}

func TestOneOfManyCreates(t *testing.T) {
	dir := t.TempDir()
	for round := range 20 {
		path := filepath.Join(dir, fmt.Sprint("scene", round))
		var winner atomic.Int64
		var wins atomic.Int64
		var wg sync.WaitGroup
		for i := range 8 {
			wg.Go(func() {
				err := Create(path, []byte(fmt.Sprint(i)))
				switch {
				case err == nil:
					wins.Add(1)
					winner.Store(int64(i))
				case !errors.Is(err, fs.ErrExist):
					t.Error(err)
				}
			})
		}
		wg.Wait()
		if wins.Load() != 1 {
			t.Fatalf("%d of 8 made the file", wins.Load())
		}
		holds(t, path, fmt.Sprint(winner.Load()))
	}
}

// Whoever reads while others write sees one of their files, whole.
func TestReadersSeeWholeFiles(t *testing.T) {
	const size = 1 << 16
	path := filepath.Join(t.TempDir(), "scene.toml")
	page := func(b byte) []byte { return bytes.Repeat([]byte{b}, size) }
	if err := Create(path, page('0')); err != nil {
		t.Fatal(err)
	}
	var writers sync.WaitGroup
	for i := range 4 {
		writers.Go(func() {
			for range 25 {
				if err := Replace(path, page(byte('1'+i))); err != nil {
					t.Error(err)
				}
			}
		})
	}
	ended := make(chan struct{})
	go func() { writers.Wait(); close(ended) }()
	for done := false; !done; {
		select {
		case <-ended:
			done = true
		default:
		}
		got, err := os.ReadFile(path)
		if err != nil || len(got) != size || bytes.Count(got, got[:1]) != size {
			t.Fatalf("%d bytes, %v", len(got), err)
		}
	}
	leftIn(t, path, "scene.toml")
}

func TestModeStaysAndLinksAreFollowed(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "scene.toml"), filepath.Join(t.TempDir(), "link.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := Replace(link, []byte("through the link")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 || info.Size() == 0 {
		t.Errorf("after writing: %v, %v", info, err)
	}
	if info, _ := os.Lstat(link); info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
}

// What is refused is refused by a check before the work, with force or not, in
// the same words.
func TestRefusals(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for name, to := range map[string]string{"adrift": at("none"), "tofolder": dir, "todevice": "/dev/null"} {
		if err := os.Symlink(to, at(name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(at("kept"), []byte("kept"), 0o444); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path, says string
		replace    bool
	}{
		{dir, "is a folder", true},
		{dir, "is a folder", false},
		{at("tofolder"), "is a folder", true},
		{at("none/x.html"), "no such file", false},
		{at("adrift"), "link to a file that is not there", false},
		{at("adrift"), "link to a file that is not there", true},
		{at("todevice"), "link to a device", true},
		{at("kept"), "write-protected", true},
		{at("kept"), "exists", false},
		{at(strings.Repeat("x", 300)), "name too long", false},
	} {
		write := map[bool]func(string, []byte) error{false: Create, true: Replace}[c.replace]
		for what, err := range map[string]error{"check": Check(c.path, c.replace), "write": write(c.path, []byte("x"))} {
			var told *fs.PathError
			if !errors.As(err, &told) || told.Path != c.path || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), ".part") {
				t.Errorf("%s %s: error %v, want it to say %q", what, c.path, err, c.says)
			}
		}
	}
	holds(t, at("kept"), "kept")
	leftIn(t, at("kept"), "adrift", "kept", "todevice", "tofolder")
}

func TestStreamsAreWrittenAsTheyStand(t *testing.T) {
	if err := Create(os.DevNull, []byte("gone")); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Errorf("%s is now %v, %v", os.DevNull, info, err)
	}
}

// A pipe with no reader is refused and never waited for: one with a name in a
// folder always, since a reader may go before the work is done, and one of the
// system's when it is written to.
func TestPipesWithoutReader(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("mkfifo and /proc as Linux has them")
	}
	path := filepath.Join(t.TempDir(), "pipe")
	if out, err := exec.Command("mkfifo", path).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for what, try := range map[string]func() error{
		"check":   func() error { return Check(path, true) },
		"create":  func() error { return Create(path, []byte("x")) },
		"replace": func() error { return Replace(path, []byte("x")) },
	} {
		if err := promptly(t, try); err == nil || !strings.Contains(err.Error(), "it is a named pipe") {
			t.Errorf("%s: %v", what, err)
		}
	}
	reader, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		t.Fatal(err)
	}
	writer, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()
	stream := fmt.Sprintf("/proc/self/fd/%d", writer.Fd())
	read := make(chan string)
	go func() {
		b := make([]byte, 8)
		n, _ := reader.Read(b)
		read <- string(b[:n])
	}()
	if err := promptly(t, func() error { return Create(stream, []byte("read")) }); err != nil {
		t.Error(err)
	}
	if got := <-read; got != "read" {
		t.Errorf("the reader got %q", got)
	}
	reader.Close()
	if err := promptly(t, func() error { return Create(stream, []byte("x")) }); err == nil || !strings.Contains(err.Error(), "nobody reads from it") {
		t.Error(err)
	}
}

// promptly fails the test where f does not return.
func promptly(t *testing.T, f func() error) error {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- f() }()
	select {
	case err := <-done:
		return err
	case <-time.After(20 * time.Second):
		t.Fatal("it waits for ever")
		return nil
	}
}

func TestOldLeftoversAreSwept(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-2 * abandoned)
	for name, when := range map[string]time.Time{
		".fewtubes-1.part":     old,
		".fewtubes-2.part":     time.Now().Add(-abandoned / 2), // may be in use
		".fewtubes-notes.part": old,                            // not our name
		".fewtubes-3":          old,
		"fewtubes-4.part":      old,
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, when, when); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, ".fewtubes-5.part"), 0o700); err != nil { // of a folder of files
		t.Fatal(err)
	}
	os.Chtimes(filepath.Join(dir, ".fewtubes-5.part"), old, old)
	path := filepath.Join(dir, "scene.toml")
	if err := Create(path, nil); err != nil {
		t.Fatal(err)
	}
	leftIn(t, path, ".fewtubes-2.part", ".fewtubes-3", ".fewtubes-notes.part", "fewtubes-4.part", "scene.toml")
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v, want %q", path, got, err, want)
	}
}

func leftIn(t *testing.T, path string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("in the folder: %q, want %q", got, want)
	}
}
