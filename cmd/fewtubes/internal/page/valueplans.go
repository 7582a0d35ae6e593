package page

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"
	"net/http"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/fitting"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/recession"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/air"
	"fewtubes/gamut/colour"
)

// aboutScene reads a question about a scene, to be answered in its turn; pictured: with
// the scene's photographs.
func (s *Server) aboutScene(answer func(context.Context, *sceneQuestion) (any, error), pictured bool) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		box := s.box.now()
		q := sceneQuestion{all: box.all, box: box}
		if err := s.readJSON(w, r, &q.sceneRequest); err != nil {
			fail(w, err)
			return
		}
		p := newReply(w, r)
		err := q.read(s, p, pictured)
		if err != nil {
			p.fail(err)
			return
		}
		doc, err := inTurn(s, p, q.about(), func(ctx context.Context) (any, error) { return answer(ctx, &q) })
		switch file, ok := doc.(*madeFile); {
		case err != nil:
			p.fail(err)
		case ok:
			p.file(file.name, file.kind, file.data)
		default:
			p.json(doc)
		}
	}
}

// madeFile is an answer to be kept as a file.
type madeFile struct {
	name, kind string
	data       []byte
}

// sceneRequest is what is asked of a scene besides its palette; each question reads its
// own fields.
type sceneRequest struct {
	Scene    state      `json:"scene"`
	Palette  []string   `json:"palette"`
	Levels   int        `json:"levels"`   // of a plan
	Photo    string     `json:"photo"`    // whose values are planned; empty: the colours of the scene
	Painting string     `json:"painting"` // that is compared with it
	Hue      string     `json:"hue"`
	Size     [2]float64 `json:"size"` // cm
	Coats    int        `json:"coats"`
	Paper    string     `json:"paper"`
	Munsell  bool       `json:"munsell"`
	Bases    int        `json:"bases"` // to propose
	SeenBy   string     `json:"seenBy"`
}

// sceneQuestion is one that was read.
type sceneQuestion struct {
	sceneRequest
	all    *catalog.Catalogue
	box    heldBox
	scene  scene.Scene
	photos map[string]*dropped // by id, those it names
}

// read checks the scene and fetches the photographs named, and of the scene's those that
// are held or kept.
func (q *sceneQuestion) read(s *Server, p *reply, pictured bool) (err error) {
	if q.scene, err = q.Scene.scene(); err != nil {
		return err
	}
	if n := len(q.Palette); n > mostEntries {
		return tooMany("tubes", n, mostEntries)
	}
	if q.Hue != "" {
		q.scene.Air = new(*cmp.Or(q.scene.Air, &scene.Air{}))
		if q.scene.Air.Hue, err = air.ParseHue(q.Hue); err != nil {
			return err
		}
	}
	q.photos = map[string]*dropped{}
	for _, id := range []string{q.Photo, q.Painting} {
		if id == "" {
			continue
		}
		if q.photos[id], err = s.photograph(p, id); err != nil {
			return err
		}
	}
	for _, photo := range q.Scene.Photos {
		if !pictured || photo.ID == "" || q.photos[photo.ID] != nil || len(q.photos) >= mostPhotos {
			continue
		}
		if d, err := s.photograph(p, photo.ID); err == nil {
			q.photos[photo.ID] = d
		}
	}
	return nil
}

// about is what the queue runs one of at a time: photographs are decoded anew.
func (q *sceneQuestion) about() any {
	if len(q.photos) > 0 {
		return decoding
	}
	return nil
}

// tubes are those of the palette.
func (q *sceneQuestion) tubes() ([]catalog.Tube, error) {
	tubes, err := paletteOf(q.all, q.Palette)
	if err == nil && len(tubes) == 0 {
		err = errors.New("there is no palette yet")
	}
	return tubes, err
}

// pngOfGreys is a picture in greys, coded.
func pngOfGreys(img image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := png.Encode(&b, img)
	return b.Bytes(), err
}

// valuePlan is a picture in few flat values.
type valuePlan struct {
	Name     string       `json:"name"`
	Picture  []byte       `json:"picture"` // PNG
	Levels   []valueLevel `json:"levels"`  // lightest first
	Dark     string       `json:"dark"`    // the largest dark, % of the picture
	Light    string       `json:"light"`
	Together bool         `json:"together"` // one large dark and one large light
}

type valueLevel struct {
	Value string `json:"value"` // 0 black to 10 white
	From  string `json:"from"`  // where it begins; empty: at the dark end
	Share string `json:"share"` // % of the picture
	Hex   string `json:"hex"`
}

func percent(share float64) string { return fmt.Sprintf("%.0f", 100*share) }

// valuePlans parts a photograph, or the colours of the scene, into few flat values.
func valuePlans(ctx context.Context, q *sceneQuestion) (any, error) {
	if q.Levels < 2 || q.Levels > 5 {
		return nil, errors.New("a plan has 2 to 5 values")
	}
	grey := q.scene.Mosaic()
	if d := q.photos[q.Photo]; d != nil {
		picture, err := d.decode(ctx, values.CompareSize)
		if err != nil {
			return nil, err
		}
		grey = values.Greys(picture).Squinted()
	}
	out := struct {
		Picture []byte      `json:"picture"`
		Plans   []valuePlan `json:"plans"`
	}{Plans: []valuePlan{}}
	var err error
	if out.Picture, err = pngOfGreys(grey.Image()); err != nil {
		return nil, err
	}
	for _, a := range values.Alternatives(grey, q.Levels) {
		plan := valuePlan{Name: a.Name, Dark: percent(a.Dark), Light: percent(a.Light), Together: a.Together()}
		if plan.Picture, err = pngOfGreys(a.Plan.Flatten(grey).Image()); err != nil {
			return nil, err
		}
		for k, l := range slices.Backward(a.Plan.Levels) {
			level := valueLevel{Value: shown.Value(l), Share: percent(a.Shares[k]), Hex: shown.Hex(colour.Lab{L: l})}
			if k > 0 {
				level.From = shown.Value(a.Plan.Bounds[k-1])
			}
			plan.Levels = append(plan.Levels, level)
		}
		out.Plans = append(out.Plans, plan)
	}
	return out, nil
}

// board compares a painting's values with those of its reference.
func board(ctx context.Context, q *sceneQuestion) (any, error) {
	var pictures [2]*photo.Picture
	for i, id := range []string{q.Photo, q.Painting} {
		d := q.photos[id]
		if d == nil {
			return nil, errors.New("a comparison takes the reference and a photograph of the painting")
		}
		var err error
		if pictures[i], err = d.decode(ctx, values.CompareSize); err != nil {
			return nil, err
		}
	}
	const columns, rows, levels = 4, 3, 4 // as the values command has them
	o := values.Options{Columns: columns, Rows: rows, Levels: levels}
	v, err := values.Compare(pictures[0], pictures[1], o)
	if err != nil {
		return nil, err
	}
	picture, err := pngOfGreys(v.Board())
	return map[string]any{"picture": picture, "lines": lines(v.ZoneSentences() + v.StretchSentence())}, err
}

// lines of a text, without the sentences that tell of a command's flags.
func lines(text string) []string {
	out := []string{}
	for line := range strings.Lines(text) {
		kept := slices.DeleteFunc(strings.SplitAfter(strings.TrimSpace(line), ". "), func(s string) bool { return strings.Contains(s, "--") })
		if said := strings.TrimSpace(strings.Join(kept, "")); said != "" {
			out = append(out, said)
		}
	}
	return out
}

// changed is what a law or a fit makes of the scene.
type changed struct {
	Lines   []string      `json:"lines"`
	Moved   []movedColour `json:"moved"`
	Targets []stateTarget `json:"targets"` // of the scene then
	Picture string        `json:"picture,omitempty"`
}

type movedColour struct {
	Name  string `json:"name"`
	From  string `json:"from"` // #rrggbb
	To    string `json:"to"`
	Words string `json:"words"`
}

func newChanged(text string, s *scene.Scene, moved []scene.Moved) changed {
	out := changed{Lines: lines(text), Moved: []movedColour{}, Targets: newState(s).Targets}
	for _, m := range moved {
		out.Moved = append(out.Moved, movedColour{m.Name, shown.Hex(m.From), shown.Hex(m.To), m.Words()})
	}
	return out
}

// wide is a width at which no line of a text is broken.
var wide = terminal.Style{Width: math.MaxInt32}

// throughAir judges whether the colours stand where their planes lie, and says what each
// would be as the air has it.
func throughAir(_ context.Context, q *sceneQuestion) (any, error) {
	law, err := recession.NewLaw(&q.scene)
	if err != nil {
		return nil, err
	}
	found := law.Judge(&q.scene)
	adjusted, moved := law.Adjusted(q.scene)
	out := newChanged(law.Text(&q.scene, wide)+recession.JudgedText(found, wide), &adjusted, moved)
	out.Picture = string(law.Picture(&q.scene, found))
	return out, nil
}

// putBack moves every colour from where it was seen to where its plane lies.
func putBack(_ context.Context, q *sceneQuestion) (any, error) {
	law, err := recession.NewLaw(&q.scene)
	if err != nil {
		return nil, err
	}
	painted, moved := law.PutBack(q.scene)
	return newChanged(law.Text(&q.scene, wide), &painted, moved), nil
}

// fit moves the values of the scene into what the palette shows, and its chroma into what
// it mixes.
func fit(_ context.Context, q *sceneQuestion) (any, error) {
	tubes, err := q.tubes()
	if err != nil {
		return nil, err
	}
	f, err := fitting.Into(q.scene, q.all, tubes)
	return newChanged(f.Words, &f.Scene, f.Moved), err
}
