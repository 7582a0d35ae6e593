package kept

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Names in a scene that is handed on: a zip of these and of the pictures under the
// names that the scene has for them.
const (
	HandedScene = "scene.toml"
	HandedAside = "set-aside.json" // palettes
	HandedBox   = "box.toml"
)

// Bounds of one.
const (
	mostHandedFiles = 100
	mostHandedText  = MostScene // bytes of each text in it
)

// Handed is what such a file holds.
type Handed struct {
	Text  []byte               // the scene file
	Aside []byte               // nil: no palettes
	Files map[string]*zip.File // everything else, not read yet
}

var errHanded = errors.New("it is no scene that was handed on: there is no scene.toml in it")

// ReadHanded opens such a file and reads its texts.
func ReadHanded(data []byte) (in Handed, err error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return in, errHanded
	}
	if len(z.File) > mostHandedFiles {
		return in, fmt.Errorf("%d files in it are more than the %d it may hold", len(z.File), mostHandedFiles)
	}
	in.Files = map[string]*zip.File{}
	for _, f := range z.File {
		if in.Files[f.Name] != nil {
			return in, fmt.Errorf("%s is in it twice", f.Name)
		}
		in.Files[f.Name] = f
	}
	for _, text := range []struct {
		name string
		into *[]byte
	}{{HandedScene, &in.Text}, {HandedAside, &in.Aside}} {
		if f := in.Files[text.name]; f != nil {
			if *text.into, err = Unzipped(f, mostHandedText); err != nil {
				return in, err
			}
		}
	}
	if in.Text == nil {
		return in, errHanded
	}
	return in, nil
}

// Unzipped is a file of at most so many bytes.
func Unzipped(f *zip.File, most int64) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	case int64(len(data)) > most:
		return nil, fmt.Errorf("%s is larger than it may be", f.Name)
	}
	return data, nil
}
