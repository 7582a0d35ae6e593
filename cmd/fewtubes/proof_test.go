//go:build linux

package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
	"time"
)

// A file of proofs that would take minutes is left at once on an interrupt, and
// one too large to hold is not begun.
func TestProofsAreBounded(t *testing.T) {
	inFolder(t)
	if _, stderr, code := command("check", "buoy.toml", "--palette", "titanium-white,ivory-black", "--certificate", "one"); code != exitAnswered {
		t.Fatal(stderr)
	}
	one := read(t, "one")
	put(t, "many", string(bytes.Repeat(one, mostProofs/2/len(one))))
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
	if err := f.Truncate(mostProofs + 1); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if _, stderr, code := command("proof", "huge"); code != exitMistake || stderr != "fewtubes: huge: over 64 MB is too large to be verified; have shorter proofs written, as with --cells 1000\n" {
		t.Errorf("exit %d, said %q", code, stderr)
	}
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
