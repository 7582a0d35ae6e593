package page

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/repaint"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/grid"
)

// Bounds of painted pictures.
const (
	widthStep   = 160 // pixels: a window being resized does not ask for each width
	mostPaints  = 24  // in the palette painted with
	mostLooked  = 2   // photographs looked at and kept, some 70 MB each
	mostPainted = 24  // pictures kept, coded
)

// painting is about all painted pictures: one is painted at a time, on all
// processors.
const painting about = "painting"

// paintedView is a way to look at a photograph through a palette.
type paintedView func(context.Context, *repaint.Painting, float64) (*image.RGBA, error)

var paintedViews = map[string]paintedView{
	"painted": func(ctx context.Context, p *repaint.Painting, _ float64) (*image.RGBA, error) { return p.Image(ctx) },
	"misses": func(ctx context.Context, p *repaint.Painting, tolerance float64) (*image.RGBA, error) {
		return p.Hatched(ctx, tolerance)
	},
	"greys": func(ctx context.Context, p *repaint.Painting, _ float64) (*image.RGBA, error) { return p.Greys(ctx) },
}

// paintedRequest is what a painted picture depends on.
type paintedRequest struct {
	looking
	palette   string // ids, ascending
	view      string
	tolerance float64
	light     string
	surface   film.View
	paints    int
	box       string // its revision
}

// looking is a photograph as it is painted, whatever with.
type looking struct {
	photo  string
	width  int
	values values.Curve // the zero curve: as seen
}

// looked is a photograph whose codes are known, so that another palette asks for its
// own mixes alone.
type looked struct {
	of     looking
	photo  *repaint.Photograph
	region *grid.Region

	with    paintedRequest // its painting: whatever the view and the tolerance
	painted *repaint.Painting
}

// paintedStore keeps what was looked at and painted last, the newest at the end.
type paintedStore struct {
	mu       sync.Mutex
	looked   []*looked
	pictures []paintedPicture
}

type paintedPicture struct {
	of   paintedRequest
	jpeg []byte
}

// again finds an entry and makes it the newest.
func again[T any](list []T, is func(T) bool) (T, bool) {
	i := slices.IndexFunc(list, is)
	if i < 0 {
		var none T
		return none, false
	}
	one := list[i]
	copy(list[i:], list[i+1:])
	list[len(list)-1] = one
	return one, true
}

// keep adds one and drops the oldest beyond so many.
func keep[T any](list []T, one T, most int) []T {
	list = append(list, one)
	return slices.Delete(list, 0, max(0, len(list)-most))
}

// drop lets what was looked at and painted of photographs go.
func (p *paintedStore) drop(photos []string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.looked = slices.DeleteFunc(p.looked, func(l *looked) bool { return slices.Contains(photos, l.of.photo) })
	p.pictures = slices.DeleteFunc(p.pictures, func(o paintedPicture) bool { return slices.Contains(photos, o.of.photo) })
}

// painted is a photograph as a palette would paint it, what of it that misses, or
// its values, as JPEG at the size shown.
func (s *Server) painted(w http.ResponseWriter, r *http.Request) {
	p := newReply(w, r)
	d, err := s.photograph(p, r.PathValue("id"))
	if err != nil {
		p.fail(err)
		return
	}
	box := s.box.now()
	q, err := readPainted(r.URL.Query())
	if err != nil {
		p.fail(err)
		return
	}
	q.photo, q.box = d.ID, box.revision
	q.width = min((q.width+widthStep-1)/widthStep*widthStep, d.picture.w)
	tubes, err := knownTubes(box.all, strings.Split(q.palette, ","))
	if err == nil && len(tubes) > mostPaints {
		err = fmt.Errorf("a picture is painted with 1 to %d tubes", mostPaints)
	}
	if err != nil {
		p.fail(err)
		return
	}
	slices.Sort(tubes)
	q.palette = strings.Join(tubes, ",")
	paints, err := box.all.GetEach(tubes)
	if err != nil {
		p.fail(err)
		return
	}
	sight, err := sightOf(box.all, q.light, string(q.surface))
	if err != nil {
		p.fail(err)
		return
	}
	sight.PaintsPerMix = q.paints
	var films []film.Paint
	for _, t := range paints {
		films = append(films, t.Paint)
	}
	data := s.paintings.picture(q)
	if data == nil {
		data, err = inTurn(s, p, painting, func(ctx context.Context) ([]byte, error) { return s.paint(ctx, d, q, films, sight) })
	}
	if err != nil {
		p.fail(err)
		return
	}
	p.jpeg(data)
}

// readPainted reads the question, but for the photograph.
func readPainted(asked url.Values) (q paintedRequest, err error) {
	q.palette, q.view, q.surface = asked.Get("palette"), asked.Get("view"), film.View(asked.Get("surface"))
	q.light = cmp.Or(asked.Get("light"), colour.D65().Name)
	if strings.Count(q.palette, ",") > mostEntries {
		return q, tooMany("tubes", strings.Count(q.palette, ","), mostEntries)
	}
	if paintedViews[q.view] == nil {
		return q, errors.New("ask for the view painted, misses or greys")
	}
	if q.width, err = strconv.Atoi(asked.Get("w")); err != nil || q.width < 1 || q.width > 1<<16 {
		return q, errors.New("say how wide the picture is shown, as in w=960")
	}
	q.tolerance, q.paints = scene.DefaultTolerance, 0
	if text := asked.Get("tolerance"); text != "" {
		if q.tolerance, err = strconv.ParseFloat(text, 64); err != nil || !(q.tolerance > 0 && q.tolerance <= 100) {
			return q, errors.New("the tolerance is a difference over 0")
		}
	}
	if text := asked.Get("paints"); text != "" {
		if q.paints, err = strconv.Atoi(text); err != nil || q.paints < 0 || q.paints > mostPaints {
			return q, fmt.Errorf("a mix holds 1 to %d paints", mostPaints)
		}
	}
	if text := asked.Get("values"); text != "" {
		if err = json.Unmarshal([]byte(text), &q.values); err == nil {
			err = q.values.Check()
		}
	}
	return q, err
}

// picture is one painted before, or nil.
func (p *paintedStore) picture(q paintedRequest) []byte {
	p.mu.Lock()
	defer p.mu.Unlock()
	one, _ := again(p.pictures, func(o paintedPicture) bool { return o.of == q })
	return one.jpeg
}

// paint is for who has the turn.
func (s *Server) paint(ctx context.Context, d *dropped, q paintedRequest, films []film.Paint, sight gamut.Options) ([]byte, error) {
	l, err := s.paintings.look(ctx, d, q.looking)
	if err != nil {
		return nil, err
	}
	painted, err := l.paint(ctx, q, films, sight)
	if err != nil {
		return nil, err
	}
	img, err := paintedViews[q.view](ctx, painted, q.tolerance)
	if err != nil {
		return nil, err
	}
	data, err := repaint.JPEG(ctx, img)
	if err != nil {
		return nil, err
	}
	s.paintings.mu.Lock()
	defer s.paintings.mu.Unlock()
	s.paintings.pictures = keep(s.paintings.pictures, paintedPicture{q, data}, mostPainted)
	return data, nil
}

// paint is the photograph painted, or what it was painted last where another view of
// that is asked for.
func (l *looked) paint(ctx context.Context, q paintedRequest, films []film.Paint, sight gamut.Options) (*repaint.Painting, error) {
	if q.view, q.tolerance = "", 0; l.painted != nil && l.with == q {
		return l.painted, nil
	}
	mixer, err := gamut.NewMixer(films, sight)
	if err != nil {
		return nil, err
	}
	painted, err := l.photo.Paint(ctx, mixer, l.region)
	if err == nil {
		l.with, l.painted = q, painted
	}
	return painted, err
}

// look finds the codes of a photograph at a size, or has them still.
func (p *paintedStore) look(ctx context.Context, d *dropped, q looking) (*looked, error) {
	p.mu.Lock()
	l, ok := again(p.looked, func(l *looked) bool { return l.of == q })
	if !ok { // room first: two are as much as is held
		p.looked = slices.Delete(p.looked, 0, max(0, len(p.looked)-mostLooked+1))
	}
	p.mu.Unlock()
	if ok {
		return l, nil
	}
	whole, err := d.picture.sized(ctx, q.width)
	if err != nil {
		return nil, err
	}
	l = &looked{of: q, photo: &repaint.Photograph{Whole: whole}}
	if q.values != (values.Curve{}) {
		l.photo.Curve = &q.values
	}
	if err := l.photo.Look(ctx); err != nil {
		return nil, err
	}
	if l.region, err = l.photo.Region(ctx); err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.looked = keep(p.looked, l, mostLooked)
	return l, nil
}

// sized is the picture averaged to a width, as a photograph.
func (s *still) sized(ctx context.Context, width int) (*photo.Whole, error) {
	img, err := s.image(ctx, coded)
	if err != nil {
		return nil, err
	}
	whole, err := photo.WholeOf(img)
	if err != nil || width >= s.w {
		return whole, err
	}
	longest := width
	if s.h > s.w {
		longest = max(1, (width*s.h+s.w/2)/s.w)
	}
	small, err := whole.Averaged(ctx, longest)
	if err != nil {
		return nil, err
	}
	if img, err = newStill(small).image(ctx, coded); err != nil {
		return nil, err
	}
	return photo.WholeOf(img)
}
