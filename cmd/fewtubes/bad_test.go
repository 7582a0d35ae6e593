package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// leastMistakes are in the table.
const leastMistakes = 150

// mistaken is one case of the files in testdata/bad: a command, the text of the
// file bad.* it names, and what it is told.
//
//	$ choose bad.toml        the mistake lies in a line of bad.toml
//	$~ choose bad.toml       it does not
//	| format = 2
//	= fewtubes: bad.toml:1: ...
type mistaken struct {
	command string
	inLine  bool
	hasText bool
	text    string
}

// TestBadInput drives the whole program with everything a person may get wrong.
// -update writes the messages anew; they are meant to be read.
func TestBadInput(t *testing.T) {
	here, err := filepath.Abs("testdata/bad")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(here, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, file := range files {
		golden, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		head, cases := readMistakes(string(golden))
		count += len(cases)
		t.Run(filepath.Base(file), func(t *testing.T) {
			got := head
			folder := badFolder(t)
			for _, c := range cases {
				got += "\n" + c.String() + "= " + c.message(t, folder) + "\n"
			}
			if *update { // a message that breaks the promise is written too, and fails
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			} else if got != string(golden) {
				t.Error(firstDifference(string(golden), got))
			}
		})
	}
	if count < leastMistakes {
		t.Errorf("%d cases, want %d", count, leastMistakes)
	}
}

func readMistakes(text string) (head string, cases []mistaken) {
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		mark, rest, _ := strings.Cut(line, " ")
		switch {
		case mark == "$" || mark == "$~":
			cases = append(cases, mistaken{command: rest, inLine: mark == "$"})
		case mark == "|":
			c := &cases[len(cases)-1]
			c.text, c.hasText = c.text+rest+"\n", true
		case mark == "#" && len(cases) == 0:
			head += line + "\n"
		}
	}
	return head, cases
}

func (c *mistaken) String() string {
	mark := "$~ "
	if c.inLine {
		mark = "$ "
	}
	out := mark + c.command + "\n"
	for line := range strings.Lines(c.text) {
		out += strings.TrimSuffix("| "+strings.TrimSuffix(line, "\n"), " ") + "\n"
	}
	return out
}

// message runs the command in the folder and holds what it says to the promise:
// one short line, with the place and the remedy; exit 2, nothing printed,
// nothing written.
func (c *mistaken) message(t *testing.T, folder string) string {
	t.Helper()
	words := shellWords(t, c.command)
	name := ""
	for _, w := range words {
		if strings.HasPrefix(w, "bad.") && c.hasText {
			name = w
			if err := os.WriteFile(filepath.Join(folder, w), []byte(c.text), 0o644); err != nil {
				t.Fatal(err)
			}
			defer os.Remove(filepath.Join(folder, w))
		}
	}
	before := listing(t, folder)
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), append([]string{"fewtubes"}, words...), &stdout, &stderr)
	text := strings.TrimSuffix(stderr.String(), "\n")
	wrong := func(format string, args ...any) {
		t.Helper()
		t.Errorf("%s\n%s: %s", c, text, fmt.Sprintf(format, args...))
	}
	if code != exitMistake || stdout.Len() > 0 {
		wrong("exit code %d, printed %q", code, stdout.String())
	}
	if after := listing(t, folder); after != before {
		wrong("the folder changed from\n%s\nto\n%s", before, after)
	}
	bounded.Refusal(t, errors.New(text), "fewtubes: ")
	if place := c.place(words, name); !place.MatchString(text) {
		wrong("it does not say where: %v", place)
	}
	if !strings.Contains(text, "; ") {
		wrong("it does not say how to mend it")
	}
	return text
}

// place is what a message must say: the line of the file the case brings, or
// the file, or the flag or the argument, or the command.
func (c *mistaken) place(words []string, name string) *regexp.Regexp {
	switch {
	case name != "" && c.inLine:
		return regexp.MustCompile(regexp.QuoteMeta(name) + `:\d+: `)
	case name != "":
		return regexp.MustCompile(regexp.QuoteMeta(name) + ": ")
	}
	var any []string
	for _, w := range words {
		any = append(any, regexp.QuoteMeta(w), regexp.QuoteMeta(strings.Trim(strconv.Quote(w), `"`)))
	}
	return regexp.MustCompile(strings.Join(any, "|"))
}

// shellWords parts a command at blanks, but for those within quotes.
func shellWords(t *testing.T, command string) (words []string) {
	t.Helper()
	for _, m := range regexp.MustCompile(`'([^']*)'|("[^"]*")|(\S+)`).FindAllStringSubmatch(command, -1) {
		word := m[1] + m[3]
		if m[2] != "" {
			var err error
			if word, err = strconv.Unquote(m[2]); err != nil {
				t.Fatalf("%s: %v", command, err)
			}
		}
		words = append(words, word)
	}
	return words
}

// badFolder is where the commands run, with sound files and spoilt pictures.
func badFolder(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	put := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, ending := range []string{"jpg", "png", "webp", "tif", "heic"} {
		data, err := os.ReadFile("internal/photo/testdata/srgb." + ending)
		if err != nil {
			t.Fatal(err)
		}
		put("cut."+ending, data[:len(data)*2/3])
		if ending == "jpg" {
			put("head.jpg", data[:20])
		}
	}
	put("ok.toml", []byte("format = 1\n[[target]]\nname = \"wet mud\"\ncolour = \"lab(38 4 9)\"\n"))
	put("page.html", []byte("precious\n"))
	put("text.jpg", []byte("not a picture\n"))
	put("empty.png", nil)
	put("binary.toml", []byte("format = 1\x00\xff\xfe\n"))
	put("large.toml", bytes.Repeat([]byte("# filler\n"), 1<<19))
	put("readings.csv", soundReadings())
	put("photo.png", grey(t, 128, 255))
	put("black.png", grey(t, 0, 255))
	put("clear.png", grey(t, 128, 0))
	put("huge.png", pngHead(50_000, 50_000))
	put("bomb.png", pngHead(13_000, 13_000))
	put("zero.png", pngHead(0, 10))
	if err := os.Mkdir(filepath.Join(folder, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	return folder
}

// soundReadings hold a white and a blue of made-up spectra.
func soundReadings() []byte {
	header, white, blue := "sample", "titanium-white", "ultramarine-blue"
	for nm := 400; nm <= 700; nm += 10 {
		header += fmt.Sprintf(",%d", nm)
		white += ",0.9"
		blue += fmt.Sprintf(",%.2f", 0.5-float64(nm-400)/700)
	}
	return []byte(header + "\n" + white + "\n" + blue + "\n")
}

func grey(t *testing.T, value, alpha uint8) []byte {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, 40, 30))
	for y := range 30 {
		for x := range 40 {
			img.SetNRGBA(x, y, color.NRGBA{value, value, value, alpha})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pngHead only promises a picture.
func pngHead(w, h uint32) []byte {
	chunk := binary.BigEndian.AppendUint32([]byte("IHDR"), w)
	chunk = binary.BigEndian.AppendUint32(chunk, h)
	chunk = append(chunk, 8, 2, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), chunk...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(chunk))
}

// listing is every file of a folder with its size.
func listing(t *testing.T, folder string) (out string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		out += fmt.Sprintln(e.Name(), info.Size(), info.ModTime())
	}
	return out
}

func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("line %d\nwant %s\ngot  %s\n(go test -update writes what is said now)", i+1, a[i], b[i])
		}
	}
	return "one is longer"
}
