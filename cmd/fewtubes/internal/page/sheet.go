package page

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/packing"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/solver"
)

// mostCharted keeps a sheet to what a person would paint.
const mostCharted = 13

const asPDF = "application/pdf"

// chart is the practice sheet of a palette as PDF.
func (s *Server) chart(w http.ResponseWriter, r *http.Request) {
	all := s.stock()
	tubes, err := paletteOf(all, strings.Split(r.URL.Query().Get("palette"), ","))
	if err == nil && (len(tubes) < 2 || len(tubes) > mostCharted) {
		err = errCharted
	}
	if err != nil {
		fail(w, err)
		return
	}
	paper, err := sheet.ParsePaper(r.URL.Query().Get("paper"))
	if err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	made, err := inTurn(s, p, nil, func(context.Context) ([]byte, error) {
		made, err := sheet.NewChart("Practice chart", tubes, colour.D65(), all.Surface(film.AsDried)).PDF(paper)
		if err != nil {
			err = &trouble{http.StatusInternalServerError, err.Error()}
		}
		return made, err
	})
	if err != nil {
		p.fail(err)
		return
	}
	p.file("practice-chart.pdf", asPDF, made)
}

var errCharted = fmt.Errorf("a practice sheet takes 2 to %d tubes", mostCharted)

// chartToLearn is the sheet of the mixtures that would teach most about the palette.
func chartToLearn(ctx context.Context, q *sceneQuestion) (any, error) {
	tubes, err := q.tubes()
	if err == nil && (len(tubes) < 2 || len(tubes) > mostCharted) {
		err = errCharted
	}
	if err != nil {
		return nil, err
	}
	by, ok := readings.ParseSeenBy(q.SeenBy)
	if !ok {
		return nil, errors.New("a colour is read by an instrument, from a chip or by a camera")
	}
	paper, err := sheet.ParsePaper(q.Paper)
	if err != nil {
		return nil, err
	}
	record, err := q.box.record(q.Palette)
	if err != nil {
		return nil, err
	}
	made, err := learnt.ToPaint(ctx, tubes, record, learnt.Common(tubes, false), by.Noise())
	if err != nil {
		return nil, err
	}
	if len(made.Told) == 0 {
		return nil, errors.New("nothing about these tubes is in doubt; there is nothing to learn")
	}
	data, err := sheet.NewToPaint(learnt.SheetTitle, tubes, made.Parts, made.Words, made.Within, colour.D65(), q.all.Surface(film.AsDried)).PDF(paper)
	return &madeFile{"swatches-to-learn-from.pdf", asPDF, data}, err
}

// paletteOf finds tubes by id, each once.
func paletteOf(all *catalog.Catalogue, ids []string) (out []catalog.Tube, err error) {
	for _, id := range ids {
		tube, err := all.Get(strings.TrimSpace(id))
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(out, func(t catalog.Tube) bool { return t.ID == tube.ID }) {
			out = append(out, tube)
		}
	}
	return out, nil
}

// mixed mixes the scene from its palette, as the commands do that are given one.
func (q *sceneQuestion) mixed(ctx context.Context) (*solver.Problem, *solver.Palette, error) {
	tubes, err := q.tubes()
	if err != nil {
		return nil, nil, err
	}
	p := q.scene.Problem(q.all)
	var ids []string
	for i := range tubes {
		ids = append(ids, tubes[i].ID)
	}
	p.Tubes = slices.DeleteFunc(p.Tubes, func(t catalog.Tube) bool { return !slices.Contains(ids, t.ID) })
	p.Limits, p.MostPalettes = solver.Limits{Keep: ids}, 1
	a, err := solver.Choose(ctx, p, nil)
	if err != nil {
		return nil, nil, err
	}
	if len(a.Palettes) == 0 {
		return nil, nil, errors.New("these tubes cannot be mixed from")
	}
	return &p, &a.Palettes[0], nil
}

// title heads a sheet.
func (q *sceneQuestion) title() string {
	if q.scene.Title == "" {
		return "The scene"
	}
	return q.scene.Title
}

// thumbnails are the photographs of the scene with their marks.
func (q *sceneQuestion) thumbnails(ctx context.Context) ([]sheet.Thumbnail, *values.Grey) {
	return sheet.Thumbnails(&q.scene, func(i int) (*photo.Picture, error) {
		d := q.photos[q.Scene.Photos[i].ID]
		if d == nil {
			return nil, errors.New("it is not held")
		}
		return d.decode(ctx, sheet.ThumbnailSize)
	})
}

// toPack is how much paint the picture takes.
func toPack(ctx context.Context, q *sceneQuestion) (any, error) {
	job := packing.Job{WidthCM: q.Size[0], HeightCM: q.Size[1], Coats: q.Coats, FilmMM: packing.DefaultFilmMM, Waste: packing.DefaultWaste}
	if err := job.Check(); err != nil {
		return nil, err
	}
	p, palette, err := q.mixed(ctx)
	if err != nil {
		return nil, err
	}
	plan, err := hand.New(ctx, p, palette.Tubes, hand.Usual())
	if err != nil {
		return nil, err
	}
	for i := range plan.Recipes {
		palette.Targets[i].Shares = plan.Recipes[i].Shares()
	}
	return packing.New(q.scene.Title, job, p, palette)
}

// lid is the card for the lid of the box.
func lid(ctx context.Context, q *sceneQuestion) (any, error) {
	p, palette, err := q.mixed(ctx)
	if err != nil {
		return nil, err
	}
	card, err := sheet.NewLid(ctx, q.title(), p, palette, hand.Usual(), tubelist.List(p.Tubes).Short(palette.Tubes))
	if err != nil {
		return nil, err
	}
	card.Pictures, _ = q.thumbnails(ctx)
	data, err := card.PDF()
	return &madeFile{"lid.pdf", asPDF, data}, err
}

// handout is the class sheet.
func handout(ctx context.Context, q *sceneQuestion) (any, error) {
	paper, err := sheet.ParsePaper(q.Paper)
	if err != nil {
		return nil, err
	}
	if q.Levels < 2 || q.Levels > 5 {
		return nil, errors.New("a plan has 2 to 5 values")
	}
	p, palette, err := q.mixed(ctx)
	if err != nil {
		return nil, err
	}
	page, err := sheet.NewHandoutByHand(ctx, q.title(), p, palette, hand.Usual())
	if err != nil {
		return nil, err
	}
	page.Munsell = q.Munsell
	var grey *values.Grey
	if page.Pictures, grey = q.thumbnails(ctx); grey == nil {
		blocks := q.scene.Mosaic()
		grey = &blocks
	}
	page.Values, page.Plans = *grey, values.Alternatives(*grey, q.Levels)
	data, err := page.PDF(paper)
	return &madeFile{"class.pdf", asPDF, data}, err
}

// pocket is the cards for the phone.
func pocket(ctx context.Context, q *sceneQuestion) (any, error) {
	p, palette, err := q.mixed(ctx)
	if err != nil {
		return nil, err
	}
	cards, err := sheet.NewPocket(ctx, q.title(), p, palette, hand.Usual(), tubelist.List(p.Tubes).Short(palette.Tubes))
	if err != nil {
		return nil, err
	}
	var files []inZip
	pictures, err := cards.Pictures(ctx)
	for _, f := range pictures {
		files = append(files, inZip{f.Name, f.PNG})
	}
	if err != nil {
		return nil, err
	}
	data, err := archived(files)
	return &madeFile{"pocket.zip", "application/zip", data}, err
}

// bases proposes mixes that lie ready, and the colours made from each.
func bases(ctx context.Context, q *sceneQuestion) (any, error) {
	p, palette, err := q.mixed(ctx)
	if err != nil {
		return nil, err
	}
	m := hand.Usual()
	m.Propose = recipe.MostBases
	plan, err := hand.New(ctx, p, palette.Tubes, m)
	if err != nil {
		return nil, err
	}
	type use struct {
		Target string `json:"target"`
		Words  string `json:"words"`
	}
	type base struct {
		Words string `json:"words"`
		Uses  []use  `json:"uses"`
	}
	out := struct {
		Bases   []base `json:"bases"`
		With    int    `json:"with"` // tubes and piles in hand, with the bases and without
		Without int    `json:"without"`
	}{[]base{}, plan.Gain.With, plan.Gain.Without}
	name := tubelist.List(p.Tubes).Name
	for i := range plan.Bases {
		b := base{plan.Bases[i].Of.Words(name), []use{}}
		for _, u := range plan.Bases[i].Uses {
			b.Uses = append(b.Uses, use{p.Targets[u.Target].Name, plan.Recipes[u.Target].Words(name)})
		}
		out.Bases = append(out.Bases, b)
	}
	return out, nil
}
