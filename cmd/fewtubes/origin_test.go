//go:build linux

package main

import (
	"bytes"
	"context"
	"flag"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

const (
	refusedAnew = "fewtubes: page.html exists already; --force overwrites it\n"
	writtenAnew = "fewtubes: rewrote page.html, which was this scene's earlier answer\n"
)

var toPage = []string{"choose", "scene.toml", "--only", "titanium-white,ivory-black", "--html", "page.html"}

// An answer is written anew over its scene's earlier one, which the program says,
// and over nothing else: each case changes something after the first answer.
func TestEarlierAnswerIsWrittenAnew(t *testing.T) {
	edit := func(change func(text string) string) func(*testing.T) {
		return func(t *testing.T) {
			if err := os.WriteFile("page.html", []byte(change(string(read(t, "page.html")))), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	rename := func(from, to string) {
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		name   string
		change func(*testing.T)
		args   []string
		says   string
	}{
		{"the same again", nil, toPage, writtenAnew},
		{"other limits", nil, append(toPage[:3:3], "titanium-white,ivory-black,yellow-ochre", "--html", "page.html"), writtenAnew},
		{"by another name", nil, append(toPage[:5:5], "./page.html"), strings.ReplaceAll(writtenAnew, "page", "./page")},
		{"the scene's colours changed", func(t *testing.T) {
			rewrite(t, "scene.toml", func(text string) string { return text + "[[target]]\nname = 'late'\ncolour = 'lab(50 1 1)'\n" })
		}, toPage, writtenAnew},
		{"by force", nil, append(toPage[:6:6], "--force"), ""},
		{"another scene", nil, append([]string{"choose", "buoy.toml"}, toPage[2:]...), refusedAnew},
		{"another scene of that name", func(t *testing.T) {
			rewrite(t, "scene.toml", func(text string) string { return strings.Replace(text, "\n", "\ntitle = 'Another'\n", 1) })
		}, toPage, refusedAnew},
		{"another command", nil, []string{"check", "scene.toml", "--palette", "titanium-white,ivory-black", "--html", "page.html"}, refusedAnew},
		{"a letter changed", edit(func(text string) string { return strings.Replace(text, "</h1>", "!</h1>", 1) }), toPage, refusedAnew},
		{"a line added", edit(func(text string) string { return text + "\n" }), toPage, refusedAnew},
		{"a line added before", edit(func(text string) string { return "\n" + text }), toPage, refusedAnew},
		{"the mark changed", edit(func(text string) string { return strings.Replace(text, "without asking", "with asking", 1) }), toPage, refusedAnew},
		{"the mark taken away", edit(func(text string) string { return text[:strings.LastIndex(text, "<!--")] }), toPage, refusedAnew},
		{"cut short", edit(func(text string) string { return text[:len(text)/2] }), toPage, refusedAnew},
		{"emptied", edit(func(string) string { return "" }), toPage, refusedAnew},
		{"other line ends", edit(func(text string) string { return strings.ReplaceAll(text, "\n", "\r\n") }), toPage, refusedAnew},
		{"not ours", edit(func(string) string { return "<h1>Mine</h1>" }), toPage, refusedAnew},
		{"a link to it", func(t *testing.T) {
			rename("page.html", "real.html")
			if err := os.Symlink("real.html", "page.html"); err != nil {
				t.Fatal(err)
			}
		}, toPage, refusedAnew},
		{"a folder", func(t *testing.T) {
			if err := os.Remove("page.html"); err != nil {
				t.Fatal(err)
			}
			if err := os.Mkdir("page.html", 0o755); err != nil {
				t.Fatal(err)
			}
		}, toPage, "fewtubes: page.html cannot be written: it is a folder; name another file\n"},
		{"write-protected", func(t *testing.T) {
			if err := os.Chmod("page.html", 0o444); err != nil {
				t.Fatal(err)
			}
		}, toPage, "fewtubes: page.html cannot be written: it is write-protected; name another file\n"},
		{"in another folder", func(t *testing.T) {
			if err := os.Mkdir("sub", 0o755); err != nil {
				t.Fatal(err)
			}
			rename("page.html", "sub/page.html")
		}, append(toPage[:5:5], "sub/page.html"), strings.ReplaceAll(refusedAnew, "page", "sub/page")},
	} {
		t.Run(c.name, func(t *testing.T) {
			inFolder(t)
			if _, stderr, code := command(toPage...); code != exitAnswered || stderr != "" {
				t.Fatal(stderr)
			}
			if c.change != nil {
				c.change(t)
			}
			info, _ := os.Lstat("page.html")
			_, stderr, code := command(c.args...)
			if stderr != c.says || (code == exitAnswered) != (c.says == "" || strings.Contains(c.says, "rewrote")) {
				t.Errorf("exit %d, said %q, want %q", code, stderr, c.says)
			}
			if now, _ := os.Lstat("page.html"); code != exitAnswered && info != nil && (!os.SameFile(info, now) || !now.ModTime().Equal(info.ModTime())) {
				t.Error("the file was touched")
			}
		})
	}
}

func rewrite(t *testing.T, path string, change func(string) string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(change(string(read(t, path)))), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Only pages and drawings of a scene are written anew: nothing a person edits,
// nothing that cannot carry the mark.
func TestWhatIsNeverWrittenAnew(t *testing.T) {
	inFolder(t)
	again := map[string]bool{"choose": true, "check": true, "compare": true, "curve": true, "curve's drawing": true}
	for name, args := range outputs {
		args, file := naming(args, "twice")
		if _, stderr, code := command(args...); code != exitAnswered {
			t.Fatalf("%s: %s", name, stderr)
		}
		first := written(t, file)
		_, stderr, code := command(args...)
		want := "fewtubes: " + file + " exists already; --force overwrites it\n"
		if again[name] {
			want = "fewtubes: rewrote " + file + ", which was this scene's earlier answer\n"
		}
		if stderr != want || (code == exitAnswered) != again[name] {
			t.Errorf("%s: exit %d, said %q, want %q", name, code, stderr, want)
		}
		if written(t, file) != first {
			t.Errorf("%s: another answer", name)
		}
		os.RemoveAll(file)
	}
}

// written is what a file holds, or the files of a folder together.
func written(t *testing.T, path string) (all string) {
	t.Helper()
	err := filepath.WalkDir(path, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && entry.Type().IsRegular() {
			all += entry.Name() + "\n" + string(read(t, path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// An answer that was cut short does not take the place of one that was not.
func TestInterruptedAnswerKeepsTheEarlier(t *testing.T) {
	inFolder(t)
	if _, stderr, code := command(toPage...); code != exitAnswered {
		t.Fatal(stderr)
	}
	from := &origin{"choose", "scene.toml", ""}
	if !from.wrote("page.html") {
		t.Fatal("the page is not known again")
	}
	before := read(t, "page.html")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	c := cli.NewContext(newApp(io.Discard, io.Discard), flag.NewFlagSet("choose", flag.ContinueOnError), &cli.Context{Context: ctx})
	if err := from.write(c, "page.html", []byte("half an answer")); err == nil || !strings.Contains(err.Error(), "exists already") {
		t.Errorf("error %v", err)
	}
	if !bytes.Equal(before, read(t, "page.html")) {
		t.Error("the page was written anew")
	}
}

// A folder moved with its scene and its page still has both, and a page under a
// folder that is a link is the same as under its own name.
func TestEarlierAnswerMovesWithItsScene(t *testing.T) {
	inFolder(t)
	if _, stderr, code := command(toPage...); code != exitAnswered {
		t.Fatal(stderr)
	}
	moved := t.TempDir()
	for _, file := range []string{"scene.toml", "page.html"} {
		put(t, filepath.Join(moved, file), string(read(t, file)))
	}
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(moved, link); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{moved, link} {
		from := &origin{"choose", filepath.Join(dir, "scene.toml"), ""}
		if !from.wrote(filepath.Join(dir, "page.html")) {
			t.Errorf("%s: not known again", dir)
		}
	}
}
