package page

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"io"
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
	data     []byte         // as it came
	picture  *photo.Picture // at the size it is shown
	once     [2]sync.Once
	jpeg     [2][]byte // in colour, in greys

	mu      sync.Mutex
	sampled *photo.Picture // at the size colours are sampled from; nil: not yet asked for
}

func newDropped(ctx context.Context, id, name string, data []byte) (*dropped, error) {
	if photo.Bulk(data) > mostDecoded {
		return nil, errBulky
	}
	picture, err := photo.DecodeContext(ctx, name, data, shownSize)
	if err != nil {
		return nil, err
	}
	return &dropped{ID: id, Name: name, data: data, picture: picture}, nil
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

// bytes is about what it holds once it has been shown and sampled: a pixel in
// linear light takes three floats and a cover.
func (d *dropped) bytes() int {
	const pixel, coded = 32, 2
	return len(d.data) + len(d.picture.Pix)*(pixel+coded) + sample.WorkingSize*sample.WorkingSize*pixel
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
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostUpload))
	if err != nil {
		fail(w, err)
		return
	}
	name := plainName(r.URL.Query().Get("name"))
	sum := sha256.Sum256(data)
	id := hex.EncodeToString(sum[:8])
	d, err := s.photos.get(id)
	if err != nil {
		release, err := s.queue.enter(r.Context(), decoding, nil)
		if err != nil {
			fail(w, err)
			return
		}
		defer release()
		if d, err = newDropped(r.Context(), id, name, data); err != nil {
			fail(w, badRequest(err))
			return
		}
		s.photos.put(d)
	}
	writeJSON(w, map[string]any{
		"id": id, "file": name, "width": d.picture.W, "height": d.picture.H, "notes": append([]string{}, d.picture.Notes...),
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
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	_, _ = w.Write(d.shown(r.URL.Query().Has("greys")))
}

// shown is the picture as JPEG in sRGB, or its values: L* as equal channels.
func (d *dropped) shown(greys bool) []byte {
	which, code := 0, coded
	if greys {
		which, code = 1, func(px colour.LinearRGB) [3]uint8 { return colour.Lab{L: px.Lab().L}.SRGB().RGB8() }
	}
	d.once[which].Do(func() {
		p := d.picture
		img := image.NewRGBA(image.Rect(0, 0, p.W, p.H))
		for i, px := range p.Pix {
			rgb := code(px)
			img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3] = rgb[0], rgb[1], rgb[2], 255
		}
		var b bytes.Buffer
		if jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}) == nil {
			d.jpeg[which] = b.Bytes()
		}
	})
	return d.jpeg[which]
}

// codes are the sRGB codes of linear light in steps finer than any code.
var codes = sync.OnceValue(func() *[1 << 14]uint8 {
	out := new([1 << 14]uint8)
	for i := range out {
		v := float64(i) / float64(len(out)-1)
		out[i] = colour.LinearRGB{R: v, G: v, B: v}.SRGB().RGB8()[0]
	}
	return out
})

func coded(px colour.LinearRGB) [3]uint8 {
	table := codes()
	code := func(v float64) uint8 { return table[int(min(max(v, 0), 1)*float64(len(table)-1)+0.5)] }
	return [3]uint8{code(px.R), code(px.G), code(px.B)}
}
