//go:build linux

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"fewtubes/cmd/fewtubes/internal/proofs"
)

// oneCertificate is a certificate as a file held it before there were folders.
func oneCertificate(t *testing.T) []byte {
	t.Helper()
	if _, stderr, code := command("check", "buoy.toml", "--palette", "titanium-white,ivory-black", "--certificate", "one"); code != exitAnswered {
		t.Fatal(stderr)
	}
	return read(t, "one/missed-1.txt")
}

// A file of proofs that would take minutes is left at once on an interrupt, and
// one too large to hold is not begun.
func TestProofsAreBounded(t *testing.T) {
	inFolder(t)
	one := oneCertificate(t)
	put(t, "many", string(bytes.Repeat(one, proofs.MostBytes/2/len(one))))
	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	interrupted, stop := context.WithCancel(context.Background())
	context.AfterFunc(ctx, stop)
	var stdout, stderr bytes.Buffer
	start := time.Now()
	code := run(interrupted, []string{"fewtubes", "proof", "many"}, &stdout, &stderr)
	if d := time.Since(start); code != exitInterrupted || d > 10*time.Second {
		t.Errorf("exit %d after %v, said %q", code, d, stderr.String())
	}
	for _, line := range strings.Split(strings.TrimSpace(stdout.String()), "\n") {
		if line != "" && !strings.HasSuffix(line, ": the proof holds.") {
			t.Errorf("printed %q", line)
		}
	}
	f, err := os.Create("huge")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString("certificate unreachable 2\n"); err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(proofs.MostBytes + 1); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if _, stderr, code := command("proof", "huge"); code != exitMistake || stderr != "fewtubes: huge: over 64 MB is too large to be verified; have shorter proofs written, as with --cells 1000\n" {
		t.Errorf("exit %d, said %q", code, stderr)
	}
}

// A file made to fill the memory or to keep the program busy is refused in one
// line, within 200 MB above its size and 10 s of the processors.
func TestHostileProofs(t *testing.T) {
	inFolder(t)
	one := oneCertificate(t)
	head, _, _ := bytes.Cut(one, []byte("\nmove "))
	filled := func(line string) string {
		return string(head) + "\nmove r< 3 .999\n" + strings.Repeat(line, (proofs.MostBytes-len(head)-100)/len(line)) + "end\n"
	}
	for name, c := range map[string]hostile{
		"splits": {filled("split r< 1 .5\n"), "hostile:1: certificate 1 does not hold: the certificate proves nothing: step 1000: over 1000 cells are open at a time; do not rely on it, and have it written anew by choose --certificate DIR\n"},
		"exact":  {filled("move r< 3 .999 r<3*1\n"), "hostile:1: certificate 1: it takes more work than is done for one file; give each certificate a file of its own, or have shorter proofs written, as with --cells 1000\n"},
		"blank":  {string(one) + strings.Repeat(" ", proofs.MostBytes-2*len(head)) + "\n", ""},
	} {
		put(t, "hostile", c.text)
		if held := c.verify(t, name); held < len(c.text) {
			t.Errorf("%s: of %d bytes %d were held", name, len(c.text), held)
		}
	}
}

// hostile is what is refused with some words, or not.
type hostile struct{ text, says string }

// verify has the file or folder of the name verified, within the bounds.
func (h *hostile) verify(t *testing.T, name string) (held int) {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command("fewtubes", "proof", "hostile")
	cmd.Stderr = &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	most := watchMemory(cmd.Process.Pid)
	_ = cmd.Wait()
	code, busy := cmd.ProcessState.ExitCode(), cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()
	if says := strings.TrimPrefix(stderr.String(), "fewtubes: "); says != h.says || (code == exitMistake) != (h.says != "") {
		t.Errorf("%s: exit %d, said %.300q", name, code, stderr.String())
	}
	if held = <-most; held > len(h.text)+200<<20 || busy > 10*time.Second {
		t.Errorf("%s: %d bytes made it take %d MB and %v", name, len(h.text), held>>20, busy)
	} else {
		t.Logf("%s: %d MB, %v", name, held>>20, busy)
	}
	return held
}

// The same of a folder, each of whose files may be a stranger's.
func TestHostileFolders(t *testing.T) {
	marsh := os.DirFS(filepath.Join(sourceFolder, "internal/proofs/testdata/marsh"))
	inFolder(t)
	const anew = "; do not rely on this folder, and have it written anew by choose or check with --certificate DIR\n"
	const begun = "pseudo-Boolean proof version 1.2\nf 5\n"
	fill := func(head, line, tail string, size int) string {
		return head + strings.Repeat(line, (size-len(head)-len(tail))/len(line)) + tail
	}
	certificate, err := fs.ReadFile(marsh, "need-4.txt")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := bytes.Cut(certificate, []byte("\nmove "))
	statement, err := fs.ReadFile(marsh, "statement.txt")
	if err != nil {
		t.Fatal(err)
	}
	upToNeeds, _, _ := bytes.Cut(statement, []byte("need tubes 1"))
	for name, c := range map[string]struct {
		file string
		hostile
	}{
		"many lines":     {"cover-tubes.pbp", hostile{fill(begun, "p 1 2 +\n", "c 9\n", 60<<20), "cover-tubes.pbp:299998: it holds more than a proof may"}},
		"large numbers":  {"cover-tubes.pbp", hostile{begun + "p 1" + strings.Repeat(" "+strings.Repeat("9", 700)+" *", 90) + "\nc 6\n", "cover-tubes.pbp:4: the constraint can be kept"}},
		"larger numbers": {"cover-tubes.pbp", hostile{begun + strings.Repeat("p 1"+strings.Repeat(" "+strings.Repeat("9", 700)+" *", 90)+"\n", 900), "cover-tubes.pbp:21: it takes more work than a proof may"}},
		"a long line":    {"cover-tubes.pbp", hostile{begun + "p 1" + strings.Repeat(" 1 +", 1<<20), "cover-tubes.pbp:3: it is over 65536 bytes long"}},
		"splits":         {"need-4.txt", hostile{fill(string(head)+"\nmove r< 3 .999\n", "split r< 1 .5\n", "end\n", 60<<20), "need-4.txt: the certificate proves nothing: step 1000: over 1000 cells are open at a time"}},
		"needs":          {"statement.txt", hostile{fill(string(upToNeeds), "need tubes 1 search titanium-white hansa-yellow-medium ultramarine-blue yellow-ochre burnt-sienna\n", "end\n", 1<<20), "statement.txt:2015: there are too few or too many words"}},
		"a large file":   {"tubes.txt", hostile{strings.Repeat("tube\n", 14<<20), "tubes.txt: with it the folder is too large to be verified: over 64 MB, or 1 MB of a statement"}},
	} {
		if err := errors.Join(os.RemoveAll("hostile"), os.CopyFS("hostile", marsh)); err != nil {
			t.Fatal(err)
		}
		put(t, "hostile/"+c.file, c.text)
		c.says = "hostile/" + c.says + anew
		c.verify(t, name)
	}
}

// watchMemory gives the most that a process held, bytes, once it has ended. What
// the system tells in the end counts in what this process held when it began it.
func watchMemory(pid int) <-chan int {
	most := make(chan int, 1)
	go func() {
		held := 0
		for {
			status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
			_, after, found := strings.Cut(string(status), "VmHWM:")
			if err != nil || !found { // it has ended
				most <- held << 10
				return
			}
			name, _, _ := strings.Cut(strings.TrimPrefix(string(status), "Name:\t"), "\n")
			if kB, err := strconv.Atoi(strings.Fields(after)[0]); err == nil && name == "fewtubes" {
				held = kB
			}
			time.Sleep(2 * time.Millisecond)
		}
	}()
	return most
}

// A curve tells how many points it has found, on a terminal.
func TestCurveTellsHowFarItIs(t *testing.T) {
	var s spinner
	s.following(3)
	if got := s.text.Load(); got != "following the curve: point 3 found" {
		t.Errorf("%q", got)
	}
}

func TestNoWasteHasNoSign(t *testing.T) {
	inFolder(t)
	for _, form := range [][]string{nil, {"--json"}} {
		stdout, stderr, code := command(append([]string{"pack", "scene.toml", "--size", "30x40cm", "--waste", "-0", "--palette", "titanium-white,ivory-black"}, form...)...)
		if code != exitAnswered || strings.Contains(stdout, "-0 %") || strings.Contains(stdout, ": -0,") {
			t.Errorf("exit %d %s\n%.300s", code, stderr, stdout)
		}
	}
}
