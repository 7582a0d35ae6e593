package report

import (
	"cmp"
	"runtime"
	"slices"
	"sync"

	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
)

// LetDown is a recipe in whole parts that lets strong paints down first, given
// where plain parts are too coarse.
type LetDown struct {
	Piles []Pile     `json:"piles"`
	Lab   Lab        `json:"lab"`
	DE    Hundredths `json:"de"`

	recipe letdown.Recipe
}

// Pile is an ingredient: a tube, or a tube let down once or twice in another.
type Pile struct {
	Tube  string  `json:"tube"`
	In    string  `json:"in,omitempty"`
	Times int     `json:"times"`           // let down: 0, 1 or 2
	Ratio int     `json:"ratio,omitempty"` // parts of In to one of Tube, each time
	Parts float64 `json:"parts"`

	Prepared string `json:"prepared,omitempty"` // id, where it is prepared for the whole palette
}

// letDownNote says how a recipe with let-down paints is read.
const letDownNote = "Where a recipe says 1:10 or 1:5, let the strong paint down first: one part of it in ten, or five, of the paint named; twice means one part of that pile in as many once more."

// letDown adds recipes to the mixes of a palette that whole parts spoil.
func (c *Choice) letDown(p *Palette) {
	opt := gamut.Options{Surface: c.problem.Surface, Light: c.problem.Light}
	find := func(id string) (*film.Paint, bool) {
		t := c.tube(id)
		return &t.Paint, t.IsWhite()
	}
	places := make(chan struct{}, runtime.GOMAXPROCS(0)) // so that few are under way when whoever asked goes
	var all sync.WaitGroup                               // each search takes milliseconds, and a painter waits for the sum
	for i := range p.Targets {
		t := &p.Targets[i]
		if !t.Coarse() && t.PartsDE <= t.DE+letdown.MayLose {
			continue
		}
		all.Go(func() {
			places <- struct{}{}
			defer func() { <-places }()
			if c.left() {
				return
			}
			r, err := letdown.Find(c.problem.Targets[i].Lab, t.Shares, c.problem.MaxPartsTotal, opt, find)
			if err != nil || !r.LetsDown() || !(r.DE < float64(t.PartsDE)) {
				return // the plain recipe stands with the difference it has
			}
			t.LetDown = newLetDown(r, float64(t.Tolerance))
			if t.LetDown.DE < t.DE { // whatever it stands for, it is a mix of these tubes
				t.MixLab, t.DE, t.Shares = t.LetDown.Lab, t.LetDown.DE, r.Shares()
			}
		})
	}
	all.Wait()
}

func newLetDown(r letdown.Recipe, tolerance float64) *LetDown {
	out := &LetDown{Lab: shownLab(r.Lab), DE: shownDE(r.DE, tolerance, r.DE <= tolerance), recipe: r}
	for k, pile := range r.Piles {
		q := Pile{Tube: pile.Tube, In: pile.In, Ratio: pile.Ratio, Parts: float64(r.Parts[k])}
		switch {
		case pile.Twice:
			q.Times = 2
		case pile.In != "":
			q.Times = 1
		}
		out.Piles = append(out.Piles, q)
	}
	return out
}

// paint is what a pile of the recipe is, per volume.
func (c *Choice) paint(p Pile) film.Paint { return tubeList(c.problem.Tubes).paint(p) }

// paint is a tube, or a tube let down, per volume.
func (l tubeList) paint(p Pile) film.Paint {
	out := l.tube(p.Tube).Paint
	for range p.Times {
		strong := out
		share := 1 / float64(p.Ratio+1)
		film.Mix(&out, []film.Paint{strong, l.tube(p.In).Paint}, []float64{share, 1 - share})
	}
	return out
}

// piles are the ingredients of the recipe shown, largest part first.
func (t Target) piles() []Pile {
	if t.byHand != nil {
		return pilesOf(t.byHand)
	}
	var out []Pile
	for _, p := range t.Parts {
		out = append(out, Pile{Tube: p.ID, Parts: p.Parts})
	}
	if t.LetDown != nil {
		out = slices.Clone(t.LetDown.Piles)
	}
	slices.SortStableFunc(out, func(a, b Pile) int { return cmp.Compare(b.Parts, a.Parts) })
	return out
}
