package page

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"path"
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
	d.jpeg, err = d.picture.encode(ctx, coded)
	return d, err
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
		d.greys, err = d.picture.encode(ctx, func(px colour.LinearRGB) [3]uint8 { return colour.Lab{L: px.Lab().L}.SRGB().RGB8() })
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

// addPhoto takes the bytes of a photograph; its name comes in the query and is
// only ever shown, never opened.
func (s *Server) addPhoto(w http.ResponseWriter, r *http.Request) {
	p := newReply(w, r)
	data, release, err := s.intake.body(w, r, mostUpload)
	if err != nil {
		release()
		fail(w, err)
		return
	}
	name := plainName(r.URL.Query().Get("name"))
	sum := sha256.Sum256(data)
	id := hex.EncodeToString(sum[:8])
	d, err := s.photos.get(id)
	if err == nil {
		release()
	} else {
		d, err = s.decoded(p, id, name, data, release)
	}
	if err != nil {
		p.fail(err)
		return
	}
	p.json(map[string]any{
		"id": id, "file": name, "width": d.picture.w, "height": d.picture.h, "notes": append([]string{}, d.picture.notes...),
	})
}

// decoded decodes a photograph and keeps it. The room of its bytes is given back
// when they are kept, or when its decoder is done with them.
func (s *Server) decoded(p *reply, id, name string, data []byte, release func()) (*dropped, error) {
	free, err := s.turn(p, decoding)
	if err != nil {
		release()
		return nil, err
	}
	return inPlace(p.r.Context(), func() { free(); release() }, func(ctx context.Context) (*dropped, error) {
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
	d, err := s.photos.get(r.PathValue("id"))
	if err != nil {
		fail(w, err)
		return
	}
	data := d.jpeg
	if r.URL.Query().Has("greys") {
		p := newReply(w, r)
		if data, err = inTurn(s, p, nil, d.inGreys); err != nil {
			p.fail(err)
			return
		}
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	_, _ = w.Write(data)
}
