package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fewtubes/cmd/fewtubes/internal/atomicfile"

	"github.com/urfave/cli/v2"
)

// origin is what a page or drawing answers: a command about a scene. Written
// without --force, its file is known again as this program's own and is written
// anew; nil has no such file.
//
// A scene is the same when its file lies at the same place as seen from the page
// and has the same title; what is in it may have changed. The mark at the end of
// a file holds that and the digest of all before it, so that a file is known
// only where not a byte of it was touched.
type origin struct{ command, scene, title string }

// mark is the last line of a file that holds data besides: a comment of HTML and
// XML (https://www.w3.org/TR/xml, section 2.5), in which nothing of the user's
// stands.
func (o *origin) mark(path string, data []byte) []byte {
	digest := func(text []byte) string {
		sum := sha256.Sum256(text)
		return hex.EncodeToString(sum[:16])
	}
	scene := strings.Join([]string{o.command, seenFrom(path, o.scene), o.title}, "\x00")
	return fmt.Appendf(nil, "<!-- fewtubes wrote this for one scene (%s) and, while nothing in it (%s) is changed, "+
		"writes it anew for the same scene without asking. Once anything is changed, this line too, it stays until the force flag is given. -->\n",
		digest([]byte(scene)), digest(data))
}

// seenFrom is a file's place as seen from another's folder, links followed.
func seenFrom(path, file string) string {
	real := func(name string) string {
		if full, err := filepath.Abs(name); err == nil {
			name = full
		}
		if followed, err := filepath.EvalSymlinks(name); err == nil {
			name = followed
		}
		return name
	}
	file = real(file)
	if near, err := filepath.Rel(real(filepath.Dir(path)), file); err == nil {
		file = near
	}
	return filepath.ToSlash(file)
}

// mostKnown is more than any page takes, bytes.
const mostKnown = 64 << 20

// wrote reports whether a file is this program's earlier answer, whole and
// untouched. A link is not followed, and what cannot be read is not known.
func (o *origin) wrote(path string) bool {
	if o == nil || path == "" {
		return false
	}
	info, err := os.Lstat(path)
	if err != nil || info.Mode().Type() != 0 || info.Size() > mostKnown {
		return false
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return false
	}
	end := len(data) - len(o.mark(path, nil)) // each mark is as long
	return end >= 0 && string(data[end:]) == string(o.mark(path, data[:end]))
}

// check is checkOutput that lets the earlier answer pass.
func (o *origin) check(c *cli.Context, path string, inputs ...string) error {
	return checkOutput(path, c.Bool("force") || o.wrote(path), inputs...)
}

// write writes a file with its mark, in the place of the earlier answer, which it
// says, or as writeOutput does. An answer cut short takes no other's place.
func (o *origin) write(c *cli.Context, path string, data []byte) error {
	if o == nil {
		return writeOutput(c, path, data)
	}
	data = append(data[:len(data):len(data)], o.mark(path, data)...)
	if c.Bool("force") || c.Context.Err() != nil || !o.wrote(path) {
		return writeOutput(c, path, data)
	}
	err := outputTrouble(path, atomicfile.Replace(path, data))
	if err == nil {
		fmt.Fprintf(c.App.ErrWriter, "fewtubes: rewrote %s, which was this scene's earlier answer\n", oneLine(path))
	}
	return err
}
