package choice

import (
	"context"
	"errors"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// Hunt is one run of the implicit hitting set under one set of limits.
type Hunt struct {
	*cover.Cover
	tubes   int
	known   []*reach.Known // per target
	rules   *cover.Rules
	demands []*Demand
	rounds  int
	cuts    []cut
	loaded  int                   // cuts ever given to the cover
	flat    bool                  // no palette comes nearer than another
	watch   func(palette set.Set) // sees every palette the cover proposes; may be nil
	area    *areaHunt             // what else is demanded; nil: nothing
}

// cut is a cut of the cover and the failing set that it comes from.
type cut struct {
	*cover.Cut
	d       *Demand
	target  int
	failing int // index in what is known of the target
}

// errRevoked says that a cut already in the cover was found wrong: the hunt
// has to start again with what is known now.
var errRevoked = errors.New("solver: a cut was revoked")

var errNoProgress = errors.New("solver: internal: a palette misses a target that no new cut explains")

// Demand is a list of targets to reach, each within its tolerance.
type Demand struct {
	targets   []int
	tolerance []float64    // per target of the problem
	Under     cover.Switch // the demand holds under it; zero: always
	forgive   bool         // targets that are waived may be missed
	loaded    [][]bool     // per target, per failing set: its cut is in the cover
}

// Hunt begins one under rules.
func (c *Core) Hunt(r *cover.Rules) *Hunt { return c.hunt(r, 0) }

// hunt is Hunt with so many causes more than targets.
func (c *Core) hunt(r *cover.Rules, causes int) *Hunt {
	h := &Hunt{Cover: cover.New(r, c.Tubes, len(c.Known)+causes, &c.Uses), tubes: c.Tubes, known: c.Known, rules: r}
	h.flat = c.ByHand
	h.Few = c.Oracle.Lists() // cuts grown on lists are the largest there are
	return h
}

// Within demands targets within one tolerance, under a switch of their own.
func (h *Hunt) Within(targets []int, tolerance float64) *Demand {
	return h.demand(&Demand{targets: targets, tolerance: slices.Repeat([]float64{tolerance}, len(h.known)), Under: h.Switch()})
}

// demand adds targets to reach.
func (h *Hunt) demand(d *Demand) *Demand {
	d.loaded = make([][]bool, len(h.known))
	h.demands = append(h.demands, d)
	return d
}

// find is a palette within the limits and the question that reaches every target
// demanded: the cover proposes, the mixer is asked, and the cuts that explain a
// miss go back to the cover.
func (h *Hunt) find(ctx context.Context, q cover.Question) (set.Set, cover.Result, error) {
	for {
		for _, d := range h.demands {
			h.load(d)
		}
		asked := h.area.asked(q)
		palette, waived, out := h.Ask(ctx, &asked)
		if out == cover.Failed && !q.Unsure {
			if h.area != nil {
				h.Spare(ctx, &asked)
			}
			return nil, out, h.ensure(ctx)
		}
		if out != cover.Satisfied {
			return nil, out, out.Err(ctx)
		}
		h.rounds++
		done, err := h.separate(ctx, palette, waived, q.On)
		if done && err == nil {
			done, err = h.area.separate(ctx, palette, waived)
		}
		if h.watch != nil {
			h.watch(palette)
		}
		if err != nil || done {
			return palette, cover.Satisfied, err
		}
	}
}

// pending counts the cuts that load would add.
func (h *Hunt) pending() int {
	n := 0
	for _, d := range h.demands {
		for _, t := range d.targets {
			for i, f := range h.known[t].Failings {
				if f.Best > d.tolerance[t] && (i >= len(d.loaded[t]) || !d.loaded[t][i]) {
					n++
				}
			}
		}
	}
	return n
}

// load gives the cover every known cut that holds at the demand's tolerances.
func (h *Hunt) load(d *Demand) {
	for _, t := range d.targets {
		for i, f := range h.known[t].Failings {
			if i == len(d.loaded[t]) {
				d.loaded[t] = append(d.loaded[t], false)
			}
			if d.loaded[t][i] || f.Best <= d.tolerance[t] {
				continue
			}
			d.loaded[t][i] = true
			h.loaded++
			c := &cover.Cut{OneOf: set.Minus(h.rules.Allowed, f.Set), Under: d.Under, Cause: t, Waivable: d.forgive}
			h.Add(c)
			h.cuts = append(h.cuts, cut{Cut: c, d: d, target: t, failing: i})
		}
	}
}

// Retry runs a computation again, knowing more, when a cut proves wrong.
func Retry(f func() error) error {
	for {
		if err := f(); err != errRevoked {
			return err
		}
	}
}
