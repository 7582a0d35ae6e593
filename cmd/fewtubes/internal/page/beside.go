package page

import (
	"context"
	"errors"
	"net/http"
	"slices"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// besideKind is a palette to put beside the one that stands, by what it asks for.
type besideKind struct {
	words string
	// lay lays it over the limits of the scene; stands is how many tubes the palette
	// that stands has. It reports whether there is anything to ask.
	lay func(l *scene.Limits, box heldBox, stands int) error

	// smallest asks how many tubes do whatever is to buy, and allows no more.
	smallest bool
}

const travelTubes = 6 // what a small box holds (common practice, no source)

var besideKinds = []besideKind{
	{words: "no cadmium", lay: func(l *scene.Limits, _ heldBox, _ int) error { return avoidToo(l, "cadmium") }},
	{words: "only my box", lay: func(l *scene.Limits, box heldBox, _ int) error {
		if !box.holds() {
			return errors.New("the box is empty; put your tubes in")
		}
		l.Only = nil
		for _, t := range box.box.Owned() {
			l.Only = append(l.Only, t.ID)
		}
		return nil
	}},
	{words: "no toxic pigment", lay: func(l *scene.Limits, _ heldBox, _ int) error { return avoidToo(l, "toxic") }},
	{words: "six for travel", lay: func(l *scene.Limits, _ heldBox, _ int) error {
		l.MaxTubes = travelTubes
		return nil
	}},
	{words: "one tube fewer", lay: func(l *scene.Limits, _ heldBox, stands int) error {
		if stands < 2 {
			return errors.New("there is no tube to leave out")
		}
		l.MaxTubes = stands - 1
		return nil
	}},
	{words: "fewest in all", smallest: true, lay: func(_ *scene.Limits, box heldBox, _ int) error {
		if !box.holds() {
			return errors.New("with an empty box the palette that stands is of the fewest in all")
		}
		return nil
	}},
}

func avoidToo(l *scene.Limits, class string) error {
	if !slices.Contains(l.Avoid, class) {
		l.Avoid = append(slices.Clone(l.Avoid), class)
	}
	return nil
}

// asItStands is the first column.
const asItStands = "as it stands"

// besideColumn is a palette as a column. Limits are the scene's with what the column
// asks for, to be taken in their place.
type besideColumn struct {
	Words  string       `json:"words"`
	Wrong  string       `json:"wrong,omitempty"` // why there is none
	Limits scene.Limits `json:"limits"`
	Tubes  []string     `json:"tubes"`
	Buy    int          `json:"buy"` // of the tubes, not in the box
	Price  shown.Cents  `json:"price"`
	Same   bool         `json:"same"` // the tubes are those that stand

	Reached int              `json:"reached"`
	Of      int              `json:"of"`
	Area    shown.Millionths `json:"area"`
	AreaOf  string           `json:"areaOf"` // as report.Plan has it
	Holds   int              `json:"holds"`
	Draws   int              `json:"draws"` // 0: it is still to be tried in plausible boxes

	palette solver.Palette
}

// besideRow is a colour that the columns do not serve alike.
type besideRow struct {
	Name   string       `json:"name"`
	Wanted string       `json:"wanted"` // #rrggbb
	Cells  []besideCell `json:"cells"`  // as the columns, without those that are wrong
}

type besideCell struct {
	Mixed  string           `json:"mixed"`
	DE     shown.Hundredths `json:"de"`
	Within bool             `json:"within"`
	Word   string           `json:"word"`
}

// beside streams a column for each palette as it is found (events "column") and then
// all of them with how sure they are and where they differ ("result").
func (s *Server) beside(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Scene   state    `json:"scene"`
		Columns []string `json:"columns"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	kinds, err := readBeside(q.Columns)
	if err != nil {
		fail(w, err)
		return
	}
	a, err := s.asking(r.Context(), &q.Scene)
	if err != nil {
		fail(w, err)
		return
	}
	box := s.box.now()
	p := newStream(w, r)
	var columns []*besideColumn
	for i, kind := range kinds {
		c := &besideColumn{Words: kind.words, Limits: q.Scene.Limits, Tubes: []string{}, Of: len(a.problem.Targets)}
		if i > 0 {
			err = kind.lay(&c.Limits, box, len(columns[0].Tubes))
		}
		if err == nil {
			err = s.hold(p, a, func(session *solver.Session) error {
				return c.choose(r.Context(), session, a, box, &q.Scene, kind.smallest)
			})
		}
		if err != nil && (i == 0 || r.Context().Err() != nil) {
			p.fail(err)
			return
		}
		if err != nil {
			c.Wrong, err = oneLine(err), nil
		}
		columns = append(columns, c)
		c.Same = i > 0 && c.Wrong == "" && slices.Equal(c.Tubes, columns[0].Tubes)
		p.out.send("column", c)
	}
	of, err := s.pictures(p, &q.Scene)
	if err != nil {
		p.fail(err)
		return
	}
	var rows []besideRow
	err = s.hold(p, a, func(session *solver.Session) error {
		rows, err = compareColumns(r.Context(), session, a, columns, &of)
		return err
	})
	if err != nil {
		p.fail(err)
		return
	}
	p.out.send("result", map[string]any{"columns": columns, "rows": rows})
}

// readBeside finds what is asked for beside the palette that stands.
func readBeside(words []string) ([]besideKind, error) {
	kinds := []besideKind{{words: asItStands}}
	if len(words) > len(besideKinds) {
		return nil, tooMany("columns", len(words)+1, len(besideKinds)+1)
	}
	for _, w := range words {
		i := slices.IndexFunc(besideKinds, func(k besideKind) bool { return k.words == w })
		if i < 0 || slices.ContainsFunc(kinds, func(k besideKind) bool { return k.words == w }) {
			return nil, errors.New("put each of no cadmium, only my box, no toxic pigment, six for travel, one tube fewer and fewest in all beside once")
		}
		kinds = append(kinds, besideKinds[i])
	}
	return kinds, nil
}

// choose finds the palette of a column under its limits.
func (c *besideColumn) choose(ctx context.Context, session *solver.Session, a *asking, box heldBox, from *state, smallest bool) error {
	p, err := c.problem(a, box, from)
	if err == nil && smallest {
		all := p.Limits
		all.FewestToBuy = false
		if err = c.take(session.ChooseWhole(ctx, all, p.Prefer, nil)); err == nil {
			c.Limits.MaxTubes = len(c.palette.Tubes)
			p, err = c.problem(a, box, from)
		}
	}
	if err == nil {
		err = c.take(session.ChooseWhole(ctx, p.Limits, p.Prefer, nil))
	}
	if err != nil {
		return err
	}
	c.Tubes, c.Price = c.palette.Tubes, shown.Cents(c.palette.Price)
	for _, t := range c.palette.Targets {
		if t.Reached {
			c.Reached++
		}
	}
	for _, id := range c.Tubes {
		if t, ok := box.all.Find(id); !ok || !t.Have && !slices.Contains(p.Limits.Own, id) {
			c.Buy++
		}
	}
	return nil
}

// problem is the scene with the column's limits, put as the scene itself is.
func (c *besideColumn) problem(a *asking, box heldBox, from *state) (p solver.Problem, err error) {
	laid := *from
	laid.Limits = c.Limits
	sc, err := laid.scene()
	if err != nil {
		return p, err
	}
	p = sc.Problem(box.all)
	p.Limits.FewestToBuy = a.problem.Limits.FewestToBuy
	return p, nil
}

// take makes the best palette of an answer the column's.
func (c *besideColumn) take(answer *solver.Answer, err error) error {
	switch {
	case err != nil:
		return err
	case len(answer.Palettes) == 0:
		return errors.New("no tube is allowed under these limits")
	}
	c.palette = answer.Palettes[0]
	return nil
}

// compareColumns fills in what takes all columns, and lists the colours that they do
// not serve alike, the largest difference first.
func compareColumns(ctx context.Context, session *solver.Session, a *asking, columns []*besideColumn, of *pictured) ([]besideRow, error) {
	var named []solver.Named
	var filled []*besideColumn
	for _, c := range columns {
		if c.Wrong == "" {
			named, filled = append(named, solver.Named{Name: c.Words, Palette: c.palette}), append(filled, c)
		}
	}
	compared, err := session.Compare(ctx, named)
	if err != nil {
		return nil, err
	}
	a.words.Limits = nil
	doc := report.NewComparison(a.words, &a.problem, compared)
	photographs, err := of.brushed(ctx, a.scene.Tolerance)
	if err != nil {
		return nil, err
	}
	for i, c := range filled {
		p := &doc.Palettes[i]
		c.Area, c.AreaOf, c.Holds, c.Draws = p.AreaReached, "areas", p.Holds, solver.UsualDraws
		if photographs.Brushed == nil {
			continue
		}
		covered, err := report.Cover(ctx, session, photographs, c.Tubes, &a.problem.Limits)
		if err != nil {
			return nil, err
		}
		c.Area, c.AreaOf = covered.Whole()
	}
	rows := []besideRow{}
	for _, d := range doc.Differ {
		row := besideRow{Name: d.Target, Wanted: shown.Hex(d.Mixes[0].Lab.Colour())}
		for _, m := range d.Mixes {
			cell := besideCell{Mixed: shown.Hex(m.MixLab.Colour()), DE: m.DE, Within: m.Reached, Word: shown.Judgement(m.DE)}
			if !m.Reached {
				cell.Word = "out of reach"
			}
			row.Cells = append(row.Cells, cell)
		}
		rows = append(rows, row)
	}
	return rows, nil
}
