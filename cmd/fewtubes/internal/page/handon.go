package page

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
)

// A scene is handed on as one file: a zip of the scene, its pictures painted anew
// in sRGB, so that nothing but their light is in it, and the palettes set aside.
const (
	handedSize    = 2000 // longer side of a picture, pixels
	handedQuality = 92
)

// namedPalettes are palettes set aside.
type namedPalettes struct {
	Held []namedPalette `json:"held"`
}

// keptState reads a scene that is kept, as the page has it and with the text it was
// opened from.
func (s *Server) keptState(id string) (st state, doc *kept.Document, err error) {
	doc, err = s.scenes.Read(id)
	if err == nil {
		err = json.Unmarshal(doc.Scene, &st)
	}
	return st, doc, err
}

// sceneFile is a scene as a file, with the comments of the one it was opened from.
func (s *Server) sceneFile(w http.ResponseWriter, r *http.Request) {
	st, doc, err := s.keptState(r.PathValue("id"))
	if err != nil {
		keeping(w, nil, err)
		return
	}
	sc, err := st.scene()
	if err != nil {
		fail(w, err)
		return
	}
	text := scene.Format(sc)
	if len(doc.Opened) > 0 {
		text, _ = scene.Update(doc.Opened, sc)
	}
	w.Header().Set("Content-Type", "application/toml")
	attached(w, doc.ID+".toml")
	_, _ = w.Write(text)
}

func attached(w http.ResponseWriter, name string) {
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
}

// handOn is a scene and its pictures as one file. What tells of its painter stays
// here: names that hold a date, comments, and, unless ticked, the box and prices.
func (s *Server) handOn(w http.ResponseWriter, r *http.Request) {
	st, doc, err := s.keptState(r.PathValue("id"))
	if err != nil {
		keeping(w, nil, err)
		return
	}
	var aside namedPalettes
	_ = json.Unmarshal(doc.Scene, &aside) // none, where they are not what belongs there
	withBox := r.URL.Query().Get("box") == "1"
	if !withBox {
		st.Limits.Own, st.Limits.Only, st.Limits.Budget = nil, nil, nil
	}
	plainNames(&st)
	ids := make([]string, len(st.Photos))
	for i := range st.Photos {
		ids[i] = st.Photos[i].ID
		st.Photos[i].File = fmt.Sprintf("pictures/%d.jpg", i+1)
	}
	sc, err := st.scene()
	if err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	data, err := inTurn(s, p, decoding, func(ctx context.Context) ([]byte, error) {
		return s.handed(ctx, sc, ids, aside, withBox)
	})
	if err != nil {
		p.fail(err)
		return
	}
	w.Header().Set("Content-Type", "application/zip")
	attached(w, doc.ID+".zip")
	_, _ = w.Write(data)
}

// handed writes the file; entries bear no time.
func (s *Server) handed(ctx context.Context, sc scene.Scene, ids []string, aside namedPalettes, withBox bool) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	add := func(name string, method uint16, data []byte) error {
		out, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method})
		if err == nil {
			_, err = out.Write(data)
		}
		return err
	}
	if err := add(kept.HandedScene, zip.Deflate, scene.Format(sc)); err != nil {
		return nil, err
	}
	for i, id := range ids {
		if id == "" {
			continue
		}
		picture, err := s.lightAlone(ctx, id)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			err = add(sc.Photos[i].File, zip.Store, picture)
		}
		if err != nil {
			return nil, err
		}
	}
	if len(aside.Held) > 0 {
		text, err := json.Marshal(aside)
		if err == nil {
			err = add(kept.HandedAside, zip.Deflate, text)
		}
		if err != nil {
			return nil, err
		}
	}
	if withBox {
		text, err := os.ReadFile(filepath.Join(s.scenes.Dir(), kept.HandedBox))
		if err == nil {
			err = add(kept.HandedBox, zip.Deflate, text)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// lightAlone is a kept photograph as a JPEG that holds nothing but its picture,
// upright: no place, time or device, no profile, no second picture.
func (s *Server) lightAlone(ctx context.Context, id string) ([]byte, error) {
	name, data, err := s.scenes.Photo(id)
	if err != nil {
		return nil, err
	}
	if photo.Bulk(data) > mostDecoded {
		return nil, errBulky
	}
	picture, err := photo.DecodeContext(ctx, name, data, handedSize)
	if err != nil {
		return nil, err
	}
	return newStill(picture).encode(ctx, coded, handedQuality)
}

// dated is a name that may hold a time, as cameras number their pictures.
var dated = regexp.MustCompile(`[0-9]{4}`)

// plainNames gives photographs with such a name another, in the marks on them, too.
func plainNames(st *state) {
	taken := map[string]bool{}
	for _, p := range st.Photos {
		taken[p.Name] = true
	}
	for i := range st.Photos {
		p := &st.Photos[i]
		if !dated.MatchString(p.Name) {
			continue
		}
		n := i + 1
		for taken[fmt.Sprintf("picture %d", n)] {
			n++
		}
		was := p.Name
		p.Name = fmt.Sprintf("picture %d", n)
		taken[p.Name] = true
		for j := range st.Targets {
			if at := st.Targets[j].At; at != nil && at.Photo == was {
				at.Photo = p.Name
			}
		}
	}
}

// asideOf reads palettes set aside, and holds them to what a person sets aside.
func asideOf(text []byte) ([]namedPalette, error) {
	if text == nil {
		return nil, nil
	}
	var all namedPalettes
	if err := strictly(text, &all); err != nil {
		return nil, fmt.Errorf("%s: %w", kept.HandedAside, err)
	}
	return all.Held, boundedAside(all.Held)
}

// boundedAside holds palettes set aside to what a person sets aside.
func boundedAside(palettes []namedPalette) error {
	s := state{}
	if len(palettes) > mostEntries {
		return tooMany("palettes set aside", len(palettes), mostEntries)
	}
	for _, p := range palettes {
		s.Limits.AtMostOne = append(s.Limits.AtMostOne, append([]string{p.Name}, p.Tubes...))
	}
	return s.bounded()
}

// openFile keeps a scene file, or a scene that was handed on with its pictures, as a
// scene of its own.
func (s *Server) openFile(w http.ResponseWriter, r *http.Request) {
	p := newReply(w, r)
	data, release, err := s.intake.body(w, r, mostUpload)
	defer release()
	if err != nil {
		fail(w, err)
		return
	}
	name := plainName(r.URL.Query().Get("name"))
	in := kept.Handed{Text: data}
	if bytes.HasPrefix(data, []byte("PK")) {
		in, err = kept.ReadHanded(data)
	} else if len(data) > mostText {
		err = &trouble{http.StatusRequestEntityTooLarge, "that is more than a scene file holds"}
	}
	var id string
	if err == nil {
		id, err = s.openHanded(p, name, in)
	}
	var file *fs.PathError
	if errors.As(err, &file) {
		err = fullDisk(file)
	}
	if err != nil {
		p.fail(err)
		return
	}
	p.json(map[string]string{"id": id})
}

// openHanded keeps the pictures first: a scene that is kept has them.
func (s *Server) openHanded(p *reply, name string, in kept.Handed) (id string, err error) {
	var st state
	err = s.unfold(p.r.Context(), func() error {
		sc, err := scene.Parse(name, in.Text)
		st = newState(&sc)
		return err
	})
	if err == nil {
		err = st.bounded()
	}
	if err != nil {
		return "", err
	}
	aside, err := asideOf(in.Aside)
	if err != nil {
		return "", err
	}
	pictures := map[string]*dropped{}
	claimed := 0
	defer func() { s.intake.release(claimed) }()
	for i := range st.Photos {
		photo := &st.Photos[i]
		f := in.Files[photo.File]
		if f == nil || len(pictures) == mostPhotos {
			continue
		}
		data, err := kept.Unzipped(f, mostUpload)
		if err == nil && !s.intake.claim(len(data)) {
			err = errCrowded
		}
		if err != nil {
			return "", err
		}
		claimed += len(data)
		d, err := s.handedPicture(p, f.Name, data)
		if err != nil {
			return "", err
		}
		photo.ID, photo.File = d.ID, path.Base(strings.ReplaceAll(photo.File, `\`, "/"))
		pictures[d.ID] = d
	}
	more := map[string]json.RawMessage{}
	if len(aside) > 0 {
		if more["held"], err = json.Marshal(aside); err != nil {
			return "", err
		}
	}
	raw, err := merged(more, st)
	if err != nil {
		return "", err
	}
	if id, err = s.createScene(raw, in.Text); err != nil {
		return "", err
	}
	for _, photo := range st.Photos {
		if d := pictures[photo.ID]; d != nil {
			err = errors.Join(err, s.keepPhoto(p.r.Context(), id, photo.File, d))
		}
	}
	if err != nil {
		_, _ = s.scenes.Forget(id) // nothing half opened
	}
	return id, err
}

// handedPicture takes a picture of such a file in as if it had been dropped.
func (s *Server) handedPicture(p *reply, name string, data []byte) (*dropped, error) {
	return s.decoded(p, photoID(data), func() {}, func() (string, []byte, error) { return plainName(name), data, nil })
}
