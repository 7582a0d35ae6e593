package page

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/gamut/colour"
)

const (
	shownSize  = 1600 // longer side, pixels, of the picture on the page
	mostPhotos = 16   // held in memory

	// mostPhotoMemory is what they may hold together, bytes; the newest is kept
	// whatever it takes.
	mostPhotoMemory = 1 << 30
)

// dropped is a photograph the page was given.
type dropped struct {
	ID, Name string
	data     []byte // as it came
	picture  *still // at the size it is shown
	jpeg     []byte // the same, coded

	mu      sync.Mutex     // of what is made when first asked for
	greys   []byte         // its values, coded
	sampled *photo.Picture // at the size colours are sampled from
}

func newDropped(ctx context.Context, id, name string, data []byte) (*dropped, error) {
	if photo.Bulk(data) > mostDecoded {
		return nil, errBulky
	}
	picture, err := photo.DecodeContext(ctx, name, data, shownSize)
	if err != nil {
		return nil, err
	}
	d := &dropped{ID: id, Name: name, data: data, picture: newStill(picture)}
	d.jpeg, err = d.picture.encode(ctx, coded, shownQuality)
	return d, err
}

// decode is the picture anew, its longer side of at most so many pixels.
func (d *dropped) decode(ctx context.Context, longest int) (*photo.Picture, error) {
	return photo.DecodeContext(ctx, d.Name, d.data, longest)
}

// sampling is the picture at the size the sample command uses, so that both
// find the same colours.
func (d *dropped) sampling(ctx context.Context) (*photo.Picture, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	var err error
	if d.sampled == nil {
		d.sampled, err = photo.DecodeContext(ctx, d.Name, d.data, sample.WorkingSize)
	}
	return d.sampled, err
}

// inGreys is the picture's values as JPEG: L* as equal channels.
func (d *dropped) inGreys(ctx context.Context) ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	var err error
	if d.greys == nil {
		d.greys, err = d.picture.encode(ctx, func(px colour.LinearRGB) [3]uint8 { return colour.Lab{L: px.Lab().L}.SRGB().RGB8() }, shownQuality)
	}
	return d.greys, err
}

// bytes is about what it holds once it has been shown and sampled.
func (d *dropped) bytes() int {
	const pixel, coded, sampled = 12, 2, 32
	return len(d.data) + len(d.picture.pix)*(pixel+coded) + sample.WorkingSize*sample.WorkingSize*sampled
}

// photoStore keeps the photographs used last, by the hash of their bytes.
type photoStore struct {
	mu    sync.Mutex
	byID  map[string]*dropped
	order []string // least recently used first
	held  int      // bytes, about
}

func newPhotoStore() *photoStore { return &photoStore{byID: map[string]*dropped{}} }

func (s *photoStore) put(d *dropped) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.byID[d.ID] == nil {
		s.byID[d.ID] = d
		s.order = append(s.order, d.ID)
		s.held += d.bytes()
	}
	for len(s.order) > mostPhotos || s.held > mostPhotoMemory && len(s.order) > 1 {
		s.held -= s.byID[s.order[0]].bytes()
		delete(s.byID, s.order[0])
		s.order = s.order[1:]
	}
}

func (s *photoStore) get(id string) (*dropped, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	d := s.byID[id]
	if d == nil {
		return nil, &trouble{http.StatusNotFound, "the page no longer holds this photograph: drop it again"}
	}
	for i, other := range s.order {
		if other == id {
			s.order = append(append(s.order[:i:i], s.order[i+1:]...), id)
			break
		}
	}
	return d, nil
}

// drop lets photographs go.
func (s *photoStore) drop(ids []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, id := range ids {
		if d := s.byID[id]; d != nil {
			s.held -= d.bytes()
			delete(s.byID, id)
			s.order = slices.DeleteFunc(s.order, func(other string) bool { return other == id })
		}
	}
}

// photoID is the hash of a photograph's bytes.
func photoID(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// addPhoto takes the bytes of a photograph; its name comes in the query and is
// only ever shown, never opened. With a scene named it is kept with that.
func (s *Server) addPhoto(w http.ResponseWriter, r *http.Request) {
	p := newReply(w, r)
	data, release, err := s.intake.body(w, r, mostUpload)
	if err != nil {
		release()
		fail(w, err)
		return
	}
	name := plainName(r.URL.Query().Get("name"))
	id := photoID(data)
	d, err := s.photos.get(id)
	if err == nil {
		release()
	} else {
		d, err = s.decoded(p, id, release, func() (string, []byte, error) { return name, data, nil })
	}
	if scene := r.URL.Query().Get("scene"); err == nil && scene != "" {
		err = s.keepPhoto(r.Context(), scene, name, d)
	}
	if err != nil {
		p.fail(err)
		return
	}
	p.json(map[string]any{
		"id": id, "file": name, "width": d.picture.w, "height": d.picture.h, "notes": append([]string{}, d.picture.notes...),
	})
}

// photograph is one that is held, or that a scene keeps.
func (s *Server) photograph(p *reply, id string) (*dropped, error) {
	d, none := s.photos.get(id)
	if none == nil {
		return d, nil
	}
	d, err := s.decoded(p, id, func() {}, func() (string, []byte, error) { return s.scenes.Photo(id) })
	if errors.Is(err, fs.ErrNotExist) {
		err = none
	}
	return d, err
}

// decoded decodes a photograph and holds it. The room of its bytes is given back
// when they are held, or when its decoder is done with them.
func (s *Server) decoded(p *reply, id string, release func(), read func() (name string, data []byte, err error)) (*dropped, error) {
	free, err := s.turn(p, decoding)
	if err != nil {
		release()
		return nil, err
	}
	return inPlace(p.r.Context(), func() { free(); release() }, func(ctx context.Context) (*dropped, error) {
		if d, err := s.photos.get(id); err == nil { // it came while this waited
			return d, nil
		}
		name, data, err := read()
		if err != nil {
			return nil, err
		}
		d, err := newDropped(ctx, id, name, data)
		if err == nil {
			s.photos.put(d)
		}
		return d, err
	})
}

// plainName keeps the last part of a file name, blanks for what would steer the
// terminal or the page that shows it.
func plainName(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.TrimSpace(plain.Clean(strings.ToValidUTF8(name, "")))
	if name == "" || name == "." || name == "/" {
		return "photograph"
	}
	if runes := []rune(name); len(runes) > 80 {
		name = string(runes[len(runes)-80:])
	}
	return name
}

func (s *Server) showPhoto(w http.ResponseWriter, r *http.Request) {
	p := newReply(w, r)
	d, err := s.photograph(p, r.PathValue("id"))
	if err != nil {
		p.fail(err)
		return
	}
	data := d.jpeg
	if r.URL.Query().Has("greys") {
		if data, err = inTurn(s, p, nil, d.inGreys); err != nil {
			p.fail(err)
			return
		}
	}
	writeJPEG(w, data)
}

// writeJPEG sends a picture that no browser stores: what the painter forgets is gone.
func writeJPEG(w http.ResponseWriter, data []byte) {
	w.Header().Set("Content-Type", "image/jpeg")
	_, _ = w.Write(data)
}

// thumbSize is the longer side of a thumbnail, pixels.
const thumbSize = 240

// keepPhoto keeps a photograph with a scene.
func (s *Server) keepPhoto(ctx context.Context, scene, name string, d *dropped) error {
	thumb, err := d.thumb(ctx)
	if err == nil {
		err = s.scenes.KeepPhoto(scene, d.ID, name, d.data, thumb)
	}
	var file *fs.PathError
	if errors.As(err, &file) {
		err = fullDisk(file)
	}
	return err
}

// thumb is the picture small.
func (d *dropped) thumb(ctx context.Context) ([]byte, error) {
	small, err := photo.DecodeContext(ctx, d.Name, d.jpeg, thumbSize)
	if err != nil {
		return nil, err
	}
	return newStill(small).encode(ctx, coded, shownQuality)
}

// showThumb sends the thumbnail of a photograph that a scene keeps.
func (s *Server) showThumb(w http.ResponseWriter, r *http.Request) {
	id := r.PathValue("id")
	if data, err := s.scenes.Thumb(id); err == nil {
		writeJPEG(w, data)
		return
	}
	p := newReply(w, r)
	d, err := s.photograph(p, id)
	var data []byte
	if err == nil {
		data, err = d.thumb(r.Context())
	}
	if err != nil {
		p.fail(err)
		return
	}
	writeJPEG(w, data)
}
