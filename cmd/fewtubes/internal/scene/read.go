package scene

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// format is the only version of the file there is.
const format = 1

// largestFile is far beyond any scene a person writes.
const largestFile = 4 << 20 // bytes

// Read reads and checks a scene file. A file that cannot be read gives an
// *fs.PathError, one that is wrong an *Error.
func Read(path string) (Scene, error) {
	f, err := os.Open(path)
	if err != nil {
		return Scene{}, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	if err != nil {
		return Scene{}, err
	}
	return Parse(path, data)
}

// byteOrderMark is put before UTF-8 by some editors on Windows.
var byteOrderMark = []byte("\ufeff")

// Parse reads and checks the text of a scene file; name stands in the errors,
// each an *Error.
func Parse(name string, data []byte) (Scene, error) {
	if len(data) > largestFile {
		return Scene{}, &Error{File: name, Msg: "over 4 MB is no scene file", Remedy: "name a .toml file"}
	}
	data = bytes.TrimPrefix(data, byteOrderMark)
	var d document
	dec := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		return Scene{}, decodeError(name, data, err)
	}
	s := Scene{file: name, at: indexLines(data)}
	if d.Format == nil {
		return Scene{}, s.wrong("format", "the format is missing", "begin the file with format = 1")
	}
	if *d.Format != format {
		return Scene{}, s.wrong("format", fmt.Sprintf("format %d is not known here", *d.Format), "this program reads format = 1")
	}
	if err := s.take(&d); err != nil {
		return Scene{}, err
	}
	return s, s.Check()
}

// decodeError puts what the TOML decoder found wrong into our words.
func decodeError(name string, data []byte, err error) error {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) && len(strict.Errors) > 0 {
		first := &strict.Errors[0]
		line, _ := first.Position()
		key := first.Key()
		return &Error{File: name, Line: line, Field: strings.Join(key, "."),
			Msg: "unknown key" + meant(key), Remedy: "correct or remove it"}
	}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		line, _ := wrong.Position()
		return &Error{File: name, Line: line, Field: strings.Join(wrong.Key(), "."),
			Msg: strings.TrimPrefix(wrong.Error(), "toml: ")}
	}
	return &Error{File: name, Msg: strings.TrimPrefix(err.Error(), "toml: ")}
}

// meant suggests the key that is a common slip for this one.
func meant(key toml.Key) string {
	if len(key) == 0 {
		return ""
	}
	last := strings.ToLower(key[len(key)-1])
	slips := map[string]string{
		"color": "colour", "colors": "colour", "targets": "target", "photos": "photo", "limit": "limits",
		"max_tubes": "max-tubes", "maxtubes": "max-tubes", "paints_per_mix": "paints-per-mix",
		"at_most_one": "at-most-one", "path": "file", "weight": "area", "tol": "tolerance",
	}
	if right, ok := slips[last]; ok {
		return fmt.Sprintf(" (did you mean %q?)", right)
	}
	return ""
}
