package kept

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"fewtubes/cmd/fewtubes/internal/infile"
)

var photoID = regexp.MustCompile(`^[0-9a-f]{16}$`)

// MostPhoto is the most a photograph may hold, bytes.
const MostPhoto = 64 << 20

// FileName is the name of a photograph as every file system takes it.
func FileName(name string) string {
	const most = 100 // bytes
	name = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_. ()", r) {
			return r
		}
		return '-'
	}, name)
	ext := filepath.Ext(name)
	if len(ext) > 10 {
		ext = ""
	}
	base := strings.Trim(strings.TrimSuffix(name, ext), ". ")
	for len(base)+len(ext) > most {
		_, size := utf8.DecodeLastRuneInString(base)
		base = base[:len(base)-size]
	}
	if base == "" || !filepath.IsLocal(base) {
		base = "photograph"
	}
	return base + strings.TrimRight(ext, ". ")
}

// PhotoFile is where a photograph lies beside the scene file, with slashes.
func PhotoFile(id, name string) string { return "photos/" + id + "/" + FileName(name) }

// PhotoOf is the id of a photograph that lies beside the scene file, or empty.
func PhotoOf(file string) string {
	parts := strings.Split(file, "/")
	if len(parts) == 3 && parts[0] == "photos" && photoID.MatchString(parts[1]) {
		return parts[1]
	}
	return ""
}

// KeepPhoto keeps a photograph and its thumbnail with a scene.
func (s *Store) KeepPhoto(scene, id, name string, data, thumb []byte) error {
	if err := s.known(scene); err != nil {
		return err
	}
	if !photoID.MatchString(id) {
		return ErrNone
	}
	folder := filepath.Join(s.folder(scene), "photos", id)
	thumbs := filepath.Join(s.folder(scene), "thumbs")
	made := errors.Join(os.MkdirAll(folder, private), os.MkdirAll(thumbs, private))
	if made != nil {
		return made
	}
	if file, _ := onlyFile(folder); file == "" {
		if err := s.create(filepath.Join(folder, FileName(name)), data); err != nil {
			return errors.Join(err, os.Remove(folder))
		}
	}
	if len(thumb) == 0 {
		return nil
	}
	return s.replace(filepath.Join(thumbs, id+".jpg"), thumb)
}

// Photo is a photograph of any scene, removed or not, and its name.
func (s *Store) Photo(id string) (name string, data []byte, err error) {
	folder := s.photoFolder(id)
	if folder == "" {
		return "", nil, fs.ErrNotExist
	}
	name, err = onlyFile(folder)
	if err != nil {
		return "", nil, err
	}
	data, err = infile.Read(filepath.Join(folder, name), MostPhoto)
	return name, data, err
}

// Thumb is the thumbnail of a photograph of any scene, removed or not.
func (s *Store) Thumb(id string) ([]byte, error) {
	if !photoID.MatchString(id) {
		return nil, fs.ErrNotExist
	}
	for _, in := range []string{s.scenes(), s.removed()} {
		found, _ := filepath.Glob(filepath.Join(escape(in), "*", "thumbs", id+".jpg"))
		if len(found) > 0 {
			return infile.Read(found[0], MostPhoto)
		}
	}
	return nil, fs.ErrNotExist
}

// photoFolder is where any scene, removed or not, keeps a photograph, or empty.
func (s *Store) photoFolder(id string) string {
	if !photoID.MatchString(id) {
		return ""
	}
	for _, in := range []string{s.scenes(), s.removed()} {
		found, _ := filepath.Glob(filepath.Join(escape(in), "*", "photos", id))
		for _, folder := range found {
			if file, _ := onlyFile(folder); file != "" {
				return folder
			}
		}
	}
	return ""
}

// escape keeps a path from being a pattern.
func escape(path string) string {
	if filepath.Separator == '\\' {
		return path // nothing escapes there, and no path holds a star
	}
	return regexp.MustCompile(`[*?\[\\]`).ReplaceAllString(path, `\$0`)
}

// onlyFile is the name of the photograph in its folder.
func onlyFile(folder string) (string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return "", err
	}
	for _, e := range entries {
		if e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") {
			return e.Name(), nil
		}
	}
	return "", fs.ErrNotExist
}

// CopyPhotos gives one scene what another has, by links where there are any: no
// photograph is ever changed.
func (s *Store) CopyPhotos(from, to string) error {
	if err := errors.Join(s.known(from), s.known(to)); err != nil {
		return err
	}
	entries, err := os.ReadDir(filepath.Join(s.folder(from), "photos"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, e := range entries {
		name, none := onlyFile(filepath.Join(s.folder(from), "photos", e.Name()))
		if none != nil || !photoID.MatchString(e.Name()) {
			continue
		}
		err = errors.Join(err,
			s.linkOrCopy(from, to, filepath.Join("photos", e.Name(), name)),
			s.linkOrCopy(from, to, filepath.Join("thumbs", e.Name()+".jpg")))
	}
	return err
}

func (s *Store) linkOrCopy(from, to, file string) error {
	a, b := filepath.Join(s.folder(from), file), filepath.Join(s.folder(to), file)
	if err := os.MkdirAll(filepath.Dir(b), private); err != nil {
		return err
	}
	if os.Link(a, b) == nil {
		return nil
	}
	data, err := infile.Read(a, MostPhoto)
	if errors.Is(err, fs.ErrNotExist) { // a thumbnail may be missing
		return nil
	}
	if err != nil {
		return err
	}
	return s.replace(b, data)
}
