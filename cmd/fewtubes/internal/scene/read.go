package scene

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/pelletier/go-toml/v2"
)

// format is the only version of the file there is.
const format = 1

// largestFile is far beyond any scene a person writes.
const largestFile = 4 << 20 // bytes

// Read reads and checks a scene file. A file that cannot be read gives an
// *fs.PathError, one that is wrong an *Error.
func Read(path string) (Scene, error) {
	data, err := Text(path)
	if err != nil {
		return Scene{}, err
	}
	return Parse(path, data)
}

// Text is what a file holds, or of one far too long the beginning.
func Text(path string) ([]byte, error) { return infile.Read(path, largestFile) }

// byteOrderMark is put before UTF-8 by some editors on Windows.
var byteOrderMark = []byte("\ufeff")

// document is a scene in its file.
type document struct {
	Format *int64 `toml:"format"`
	Scene
}

// Parse reads and checks the text of a scene file; name stands in the errors,
// each an *Error.
func Parse(name string, data []byte) (Scene, error) {
	if len(data) > largestFile {
		return Scene{}, &Error{File: name, Msg: "over 4 MB is no scene file", Remedy: "name a .toml file"}
	}
	data = bytes.TrimPrefix(data, byteOrderMark)
	if !tomltext.IsText(data) {
		return Scene{}, &Error{File: name, Msg: "it is not UTF-8 text", Remedy: "name a scene file, which an editor saves as plain text"}
	}
	if tomltext.TooManyKeys(data) {
		return Scene{}, &Error{File: name, Msg: "it holds over a thousand different keys", Remedy: "name a scene file, with the keys of one alone"}
	}
	var d document
	dec := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		return Scene{}, decodeError(name, err)
	}
	s := d.Scene
	s.file, s.at = name, indexLines(data)
	if d.Format == nil {
		return Scene{}, s.wrong("format", "the format is missing", "begin the file with format = 1")
	}
	if *d.Format != format {
		return Scene{}, s.wrong("format", fmt.Sprintf("format %d is not known here", *d.Format), "this program reads format = 1")
	}
	if err := s.complete(); err != nil {
		return Scene{}, err
	}
	return s, s.Check()
}

// decodeError puts what the TOML decoder found wrong into our words.
func decodeError(name string, err error) error {
	t := tomltext.Explain(err)
	if t.Unknown {
		t.Msg += meant(t.Key)
		under, key, _ := strings.Cut(strings.ToLower(t.Key), ".")
		switch {
		case under == "limits":
			t.Remedy = "use one of " + strings.Join(limitKeys, ", ")
		case slices.Contains(limitKeys, under) || slices.Contains(limitKeys, key):
			t.Remedy = "write it under [limits]"
		}
	}
	return &Error{File: name, Line: t.Line, Field: t.Key, Msg: t.Msg, Remedy: t.Remedy}
}

// limitKeys are the keys of limits.
var limitKeys = []string{"max-tubes", "budget", "avoid", "keep", "never", "only", "own", "at-most-one", "paints-per-mix", "prefer"}

// meant suggests the key that is a common slip for this one.
func meant(key string) string {
	last := strings.ToLower(key[strings.LastIndexByte(key, '.')+1:])
	slips := map[string]string{
		"color": "colour", "colors": "colour", "targets": "target", "photos": "photo", "limit": "limits",
		"max_tubes": "max-tubes", "maxtubes": "max-tubes", "paints_per_mix": "paints-per-mix", "by_hand": "by-hand",
		"at_most_one": "at-most-one", "prefers": "prefer", "preference": "prefer", "path": "file", "weight": "area", "tol": "tolerance",
	}
	if right, ok := slips[last]; ok {
		return fmt.Sprintf(" (did you mean %q?)", right)
	}
	return ""
}
