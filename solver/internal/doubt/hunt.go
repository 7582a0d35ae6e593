package doubt

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// Hunt looks for palettes that hold in most boxes, with proof. It is the loop of
// package choice with a target in a box where that has a target: the cover proposes a
// palette that misses in few enough boxes by the cuts known, the palette is tried in
// the boxes, and where it misses in more, cuts are grown that say why. A cut is a
// failing set of a target, the boxes in which it fails, and in each of those a clause:
// one tube of the others, or the box is missed. Where it fails in more boxes than may
// be missed, one clause says all.
type Hunt struct {
	b      *Boxes
	core   *choice.Core // what is known as the tubes stand
	rules  *cover.Rules
	judged []int
	n      int            // boxes
	mixers []*gamut.Mixer // per box
	known  []*reach.Known // per target and box; nil: nothing yet
	cuts   []*cut
	byT    [][]*cut // per target
	often  []int    // per box: palettes that missed in it
	begun  bool     // the cuts of the tubes as they stand are in
	stop   int      // the most boxes that cuts were tested to fail in more than
	firm   bool     // palettes have to reach what is judged as the tubes stand, too

	// Rounds are those spent; where they come to Most a question is given up. A round
	// takes some hundredths of a second.
	Rounds, Most int
}

// stands reports whether a palette reaches what is judged as the tubes stand, where it
// has to; where it does not, there are new cuts that say so.
func (h *Hunt) stands(ctx context.Context, palette set.Set) (bool, error) {
	if !h.firm {
		return true, nil
	}
	missing := make([]bool, len(h.judged))
	errs := make([]error, len(h.judged))
	parallel.Each(len(h.judged), func(i int) {
		t := h.judged[i]
		missing[i], errs[i] = h.core.Known[t].Explain(ctx, palette, h.rules.Allowed, h.b.Tolerance[t])
	})
	if err := cmp.Or(errs...); err != nil || !slices.Contains(missing, true) {
		return err == nil, err
	}
	for _, c := range h.standing() {
		c.firm = true
	}
	return false, nil
}

// standing are the cuts of the tubes as they stand.
func (h *Hunt) standing() (cuts []*cut) {
	for _, t := range h.judged {
		for _, f := range h.core.Known[t].Failings {
			if f.Best > h.b.Tolerance[t] {
				cuts = append(cuts, h.cutOf(t, set.Intersection(f.Set, h.rules.Allowed)))
			}
		}
	}
	return cuts
}

// Surest is, of the palettes of so many tubes that reach all that is judged as the
// tubes stand, the one that holds in most boxes, from some that are known; and how few
// boxes any misses in: no fewer than least. Unless all are asked about, it is one of
// those known.
func (h *Hunt) Surest(ctx context.Context, known []set.Set, size int, all bool) (palette set.Set, missed, least int, err error) {
	h.firm = true
	b := bounded{missed: h.n + 1}
	for _, p := range known {
		tr, err := h.try(ctx, p, b.missed, gamut.Search, 1)
		if err != nil {
			return nil, 0, 0, err
		}
		if tr.tried == h.n && tr.missed < b.missed {
			b.palette, b.missed = p, tr.missed
		}
	}
	h.Most = h.Rounds + mostRounds
	for all && b.missed > 0 && b.least < b.missed { // palettes are few here, so from the loose side
		p, missed, _, err := h.Within(ctx, size, b.missed-1)
		switch {
		case errors.Is(err, ErrUnsettled):
			return b.palette, b.missed, b.least, nil
		case err != nil:
			return nil, 0, 0, err
		case p == nil:
			b.least = b.missed
		default:
			b.palette, b.missed = p, missed
		}
	}
	return b.palette, b.missed, b.least, nil
}

// cost is that of a round: among many tubes a question about a tube more takes the SAT
// solver several times as long.
func (h *Hunt) cost(size int) int {
	const easy = 5
	if !h.many() || size <= easy {
		return 1
	}
	return 1 << min(size-easy, 10)
}

// many says that there are too many tubes to settle every question about them.
func (h *Hunt) many() bool { return h.rules.Allowed.Len() > 24 }

// loosest is the part of the boxes up to which it is settled in how many are missed:
// where more may be, cuts have to be tested in more, and bind less.
const loosest = 4

// dearest is the cost from which no question about the best of a size is asked: where
// few boxes may be missed, the SAT solver may look for minutes for so large a palette.
const dearest = 2

// ErrUnsettled says that a question was given up.
var ErrUnsettled = errors.New("doubt: given up")

// cut is a failing set of a target and the boxes in which it fails.
type cut struct {
	firm   bool // binds whatever may be missed
	target int
	tubes  set.Set // fails
	near   gamut.Near
	fails  []bool // per box
	tried  []bool // per box
	count  int    // boxes in which it fails
}

// NewHunt draws boxes 1..n. core knows what was learnt of the tubes as they stand.
func NewHunt(ctx context.Context, b *Boxes, core *choice.Core, rules *cover.Rules, judged []int, n int) (*Hunt, error) {
	h := &Hunt{
		b: b, core: core, rules: rules, judged: judged, n: n, mixers: make([]*gamut.Mixer, n),
		known: make([]*reach.Known, n*len(b.Targets)), byT: make([][]*cut, len(b.Targets)), often: make([]int, n),
	}
	err := b.Each(ctx, rules.Allowed, 1, n, func(box int, m *gamut.Mixer, _ []film.Paint) { h.mixers[box-1] = m })
	return h, err
}

// abreast is how many boxes are worked on between two looks at whether that will do.
const abreast = 32

// inChunks calls f for boxes in an order, in parallel, until enough says so.
func inChunks(boxes []int, f func(box int), enough func() bool) {
	for len(boxes) > 0 && !enough() {
		now := boxes[:min(abreast, len(boxes))]
		boxes = boxes[len(now):]
		parallel.Each(len(now), func(i int) { f(now[i]) })
	}
}

// explained is how many targets missed in a box are worth knowing to explain them.
const explained = 4

// trial is a palette tried in boxes.
type trial struct {
	misses []set.Set // per box: targets missed; nil: not tried
	tried  int
	missed int // boxes
}

// try tries a palette in boxes, those first that palettes missed most, until it has
// missed more than so many. With a quick look it may seem to miss more than it does. In
// a box no more is asked once so many targets are missed.
func (h *Hunt) try(ctx context.Context, palette set.Set, stop int, e gamut.Effort, most int) (*trial, error) {
	near := h.near(palette)
	order := set.Full(h.n).Members()
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(h.often[b], h.often[a]) })
	out := &trial{misses: make([]set.Set, h.n)}
	seen := 0
	look := func() bool {
		for ; seen < len(order) && out.misses[order[seen]] != nil; seen++ {
			if out.tried++; out.misses[order[seen]].Len() > 0 {
				out.missed++
			}
		}
		return ctx.Err() != nil || out.missed > stop
	}
	inChunks(order, func(box int) {
		missed := set.New(len(h.b.Targets))
		for _, t := range h.judged {
			if missed.Len() < most && h.misses(palette, near[t], t, box, e) {
				missed.Add(t)
			}
		}
		out.misses[box] = missed
	}, look)
	look()
	for box, m := range out.misses {
		if m != nil && m.Len() > 0 {
			h.often[box]++
		}
	}
	return out, ctx.Err()
}

// misses answers from what is known of a target in a box, else mixes.
func (h *Hunt) misses(palette set.Set, near gamut.Near, t, box int, e gamut.Effort) bool {
	if h.isExplained(palette, t, box) {
		return true
	}
	if k := h.known[t*h.n+box]; k != nil && k.KnownToReach(palette, h.b.Tolerance[t]) {
		return false
	}
	return !h.mixers[box].Remixes(h.b.Targets[t], palette, near, h.b.Tolerance[t], e)
}

// isExplained reports whether a cut says that a palette misses a target in a box.
func (h *Hunt) isExplained(palette set.Set, t, box int) bool {
	return slices.ContainsFunc(h.byT[t], func(c *cut) bool { return c.fails[box] && palette.SubsetOf(c.tubes) })
}

// cutOf is the cut of a failing set, a new one unless there is one.
func (h *Hunt) cutOf(t int, tubes set.Set) *cut {
	for _, c := range h.byT[t] {
		if c.tubes.Equal(tubes) {
			return c
		}
	}
	c := &cut{target: t, tubes: tubes, fails: make([]bool, h.n), tried: make([]bool, h.n)}
	if tubes.Len() > 0 {
		mix := reach.Alone(h.core.Oracle, t, tubes)
		c.near = h.b.Mixer.Near(&mix)
	}
	h.cuts = append(h.cuts, c)
	h.byT[t] = append(h.byT[t], c)
	return c
}

// test looks in which of some boxes a cut fails, until it does in more than stop.
func (h *Hunt) test(c *cut, boxes []int, stop int) {
	boxes = slices.DeleteFunc(slices.Clone(boxes), func(box int) bool { return c.tried[box] })
	t := c.target
	inChunks(boxes, func(box int) {
		c.tried[box] = true
		c.fails[box] = c.tubes.Len() == 0 || !h.mixers[box].Remixes(h.b.Targets[t], c.tubes, c.near, h.b.Tolerance[t], gamut.Search)
	}, func() bool {
		c.recount()
		return c.count > stop
	})
	c.recount()
}

func (c *cut) recount() {
	c.count = 0
	for _, fails := range c.fails {
		if fails {
			c.count++
		}
	}
}

// begin takes over the cuts of the tubes as they stand: most of them fail in most
// boxes.
func (h *Hunt) begin(ctx context.Context, stop int) error {
	fresh := h.standing()
	for _, c := range fresh {
		c.firm = h.firm
	}
	for _, c := range fresh {
		if ctx.Err() != nil {
			break
		}
		h.harden(c, stop)
	}
	return ctx.Err()
}

// glance is in how many boxes a cut is looked at before it is known whether it is
// worth more.
const glance = 64

// harden tests a cut until it fails in more boxes than may be missed, or it is unlikely to.
func (h *Hunt) harden(c *cut, stop int) {
	all := set.Full(h.n).Members()
	h.test(c, all[:min(glance, h.n)], stop)
	tried := 0
	for _, was := range c.tried {
		if was {
			tried++
		}
	}
	if c.count > stop || c.count*h.n < tried*stop/2 {
		return
	}
	h.test(c, all, stop)
}

// grownAtOnce is how many failing sets are grown in a round.
const grownAtOnce = 4

// job is a target to explain in a box.
type job struct{ t, box int }

// explain grows cuts for what a palette misses, those targets first that it misses in
// most boxes, and tests them in the boxes in which it did, and in others while they
// fail.
func (h *Hunt) explain(ctx context.Context, palette set.Set, tr *trial, stop int) error {
	boxes := make([][]int, len(h.b.Targets)) // per target: in which it is missed and no cut says so
	for box, missed := range tr.misses {
		for _, t := range missed.Members() {
			if !h.isExplained(palette, t, box) {
				boxes[t] = append(boxes[t], box)
			}
		}
	}
	order := slices.DeleteFunc(slices.Clone(h.judged), func(t int) bool { return len(boxes[t]) == 0 })
	if len(order) == 0 {
		return errNoProgress
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(boxes[b]), len(boxes[a])) })
	var jobs []job
	for i := 0; len(jobs) < grownAtOnce && i < grownAtOnce; i++ {
		for _, t := range order {
			if i < len(boxes[t]) && len(jobs) < grownAtOnce {
				jobs = append(jobs, job{t, boxes[t][i*len(boxes[t])/grownAtOnce]})
			}
		}
	}
	jobs = distinct(jobs)
	missing := make([]bool, len(jobs))
	grown := make([][]reach.Failing, len(jobs))
	errs := make([]error, len(jobs))
	for _, j := range jobs {
		if at := j.t*h.n + j.box; h.known[at] == nil {
			h.known[at] = reach.NewKnown(reach.Unlisted(h.mixers[j.box], h.b.Targets), j.t, len(h.b.Tubes))
		}
	}
	parallel.Each(len(jobs), func(i int) {
		k := h.known[jobs[i].t*h.n+jobs[i].box]
		before := len(k.Failings)
		missing[i], errs[i] = k.Explain(ctx, palette, h.rules.Allowed, h.b.Tolerance[jobs[i].t])
		grown[i] = k.Failings[before:]
	})
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	if !slices.Contains(missing, true) {
		return errReached
	}
	for i, j := range jobs {
		for _, f := range grown[i] {
			if f.Best <= h.b.Tolerance[j.t] {
				continue
			}
			c := h.cutOf(j.t, f.Set)
			c.tried[j.box], c.fails[j.box] = true, true
			if h.test(c, boxes[j.t], stop); c.count > stop || 2*c.count < len(boxes[j.t]) {
				continue
			}
			h.harden(c, stop)
		}
	}
	return ctx.Err()
}

func distinct(jobs []job) (out []job) {
	for _, j := range jobs {
		if !slices.Contains(out, j) {
			out = append(out, j)
		}
	}
	return out
}

// errReached says that what a palette seemed to miss at a quick look it reaches.
var errReached = errors.New("doubt: reached after all")

var errNoProgress = errors.New("solver: internal: a palette misses a box that no new cut explains")

// Within is a palette of so many tubes at most (< 0: any number) that misses in so
// many boxes at most, and in how many it does; nil where there is none. why are then
// cuts that rule it out, and blame limits together with them.
func (h *Hunt) Within(ctx context.Context, size, misses int) (palette set.Set, missed int, v *verdict, err error) {
	if !h.begun {
		h.begun = true
		if err := h.begin(ctx, misses); err != nil {
			return nil, 0, nil, err
		}
	} else if misses > h.stop { // what bound then binds no more unless it fails in more
		for _, c := range h.cuts {
			h.harden(c, misses)
		}
	}
	h.stop = max(h.stop, misses)
	v = h.verdict(misses)
	slack := max(grownAtOnce+3, misses/4)
	for {
		palette, out := v.ask(ctx, size)
		if out != cover.Satisfied {
			return nil, 0, v, out.Err(ctx)
		}
		if h.Rounds += h.cost(size); h.Most > 0 && h.Rounds > h.Most {
			return nil, 0, nil, ErrUnsettled
		}
		if done, err := h.stands(ctx, palette); err != nil {
			return nil, 0, nil, err
		} else if !done {
			continue
		}
		tr, err := h.try(ctx, palette, misses+slack, gamut.Quick, explained)
		for err == nil && tr.missed > misses && h.explainedBoxes(palette) <= misses {
			if err = h.explain(ctx, palette, tr, misses); errors.Is(err, errReached) {
				tr, err = h.try(ctx, palette, misses+slack, gamut.Search, explained) // what was found meanwhile counts
			}
		}
		if err != nil {
			return nil, 0, nil, err
		}
		if tr.missed <= misses {
			return palette, tr.missed, v, nil
		}
	}
}

// explainedBoxes counts the boxes in which the cuts say that a palette misses something.
func (h *Hunt) explainedBoxes(palette set.Set) (n int) {
	missed := make([]bool, h.n)
	for _, c := range h.cuts {
		if palette.SubsetOf(c.tubes) {
			for box, fails := range c.fails {
				if fails && !missed[box] {
					missed[box] = true
					n++
				}
			}
		}
	}
	return n
}

// verdict is a cover of the cuts of a hunt where so many boxes may be missed.
type verdict struct {
	h       *Hunt
	c       *cover.Cover
	waivers *cover.Waivers
	misses  int
	poured  []poured
}

// poured is what the cover has of a cut.
type poured struct {
	hard  bool
	joint int    // the cause that stands for its boxes; 0: none yet
	boxes []bool // joined to it
}

func (h *Hunt) verdict(misses int) *verdict {
	v := &verdict{h: h, c: cover.New(h.rules, len(h.b.Tubes), h.n, &h.core.Uses), misses: misses}
	v.waivers = v.c.WaiveMany(nil)
	return v
}

// ask asks for a palette of so many tubes at most that misses in few enough boxes by
// the cuts known.
func (v *verdict) ask(ctx context.Context, size int) (set.Set, cover.Result) {
	for i, c := range v.h.cuts {
		if i == len(v.poured) {
			v.poured = append(v.poured, poured{boxes: make([]bool, v.h.n)})
		}
		v.pour(c, &v.poured[i])
	}
	q := cover.Question{Size: size}
	if s, always := v.waivers.AtMost(v.misses); !always {
		q.On = []cover.Switch{s}
	}
	palette, _, result := v.c.Ask(ctx, &q)
	return palette, result
}

// pour gives the cover what is known of a cut.
func (v *verdict) pour(c *cut, p *poured) {
	if p.hard || c.count == 0 && !c.firm {
		return
	}
	to := &cover.Cut{OneOf: set.Minus(v.h.rules.Allowed, c.tubes)}
	if p.hard = c.firm || c.count > v.misses; p.hard {
		v.c.Add(to)
		return
	}
	if p.joint == 0 {
		p.joint = v.waivers.Joint()
		to.Cause, to.Waivable = p.joint, true
		v.c.Add(to)
	}
	for box, fails := range c.fails {
		if fails && !p.boxes[box] {
			p.boxes[box] = true
			v.waivers.Join(p.joint, box)
		}
	}
}

// bounded is a palette, the boxes in which it misses, and how few any could miss in.
type bounded struct {
	palette set.Set // nil: none is known
	missed  int
	least   int // none misses in fewer; equal to missed where that is settled
}

// best makes what is known of palettes of so many tubes tight: the palette that misses
// in fewest boxes, or, where the question is given up, how few it could be.
func (h *Hunt) best(ctx context.Context, size int, b bounded) (bounded, error) {
	if h.cost(size) > dearest {
		return b, nil
	}
	// From the strict side: where few boxes may be missed most cuts bind by themselves.
	for step := 1; b.least < b.missed; step *= 2 {
		ask := min(b.least+step-1, b.missed-1)
		if h.many() && ask > h.n/loosest {
			return b, nil
		}
		palette, missed, _, err := h.Within(ctx, size, ask)
		switch {
		case errors.Is(err, ErrUnsettled):
			return b, nil
		case err != nil:
			return b, err
		case palette == nil:
			b.least = ask + 1
		default:
			b.palette, b.missed, step = palette, missed, 1
		}
	}
	return b, nil
}
