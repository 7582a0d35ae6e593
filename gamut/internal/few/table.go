package few

import (
	"context"
	"math"
	"slices"
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/set"
)

// wide is a palette of so many paints that every mesh is laid out for it at once.
const wide = 40

// Table knows for some colours which sets of paints reach them, where a mix holds
// few paints: then there are few enough sets to look at each, once for all
// palettes. What it lists comes as near as it says; that it lists everything rests
// on measured margins, so a proof asks Within of gamut.Mixer besides. It serves any number
// of goroutines, and its answers do not depend on what was asked before.
type Table struct {
	m       *search.Paints
	meshes  func() *meshes
	rows    []tableRow
	redrawn *Table // of the paints as they stood; nil: these are
}

// mostTabled is how many paints a table may have, by paints in a mix: 400 make
// 80 000 pairs, 120 make 280 000 triples, of some 400 bytes each and 8 for each
// target.
var mostTabled = [...]int{1: 4000, 2: 400, 3: 120}

// NewTable is a table of what reaches the targets, or nil where the paints, or those
// of one mix, are too many for one.
func NewTable(m *search.Paints, targets []colour.Lab) *Table {
	if m.Limit() >= len(mostTabled) || m.Len() > mostTabled[m.Limit()] {
		return nil
	}
	t := newTable(m, len(targets))
	for i := range t.rows {
		t.rows[i].target = targets[i]
	}
	return t
}

func newTable(m *search.Paints, targets int) *Table {
	return &Table{m: m, meshes: sync.OnceValue(func() *meshes { return newMeshes(m) }), rows: make([]tableRow, targets)}
}

// Redrawn is a table of the same targets for the same paints with other K and S.
func (t *Table) Redrawn(paints []film.Paint) *Table {
	out := newTable(t.m.Redrawn(paints), len(t.rows))
	out.redrawn = t
	for i := range out.rows {
		out.rows[i].target = t.rows[i].target
	}
	return out
}

// vicinity is a box around what lies within a distance of a target.
func (t *Table) vicinity(target int, distance float32) labBox {
	if t.redrawn == nil {
		return vicinity(t.rows[target].target, float64(distance))
	}
	r := &t.redrawn.rows[target]
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.askedAbout(t.redrawn, target, distance).near
}

// Reaches is a set of paints of a palette, ascending, that comes within a distance,
// in CIEDE2000, of a target; nil when there is none.
func (t *Table) Reaches(target int, palette set.Set, distance float64) (held []int) {
	l, done := t.look(context.Background(), target, distance)
	defer done()
	if palette.Len() > wide {
		l.meshes.layAll()
	}
	_ = l.through(palette.Members(), func(found []int) bool {
		held = slices.Clone(found)
		return false
	})
	return held
}

// Nearest is the nearest mix of some paints, ascending and no more than one mix may
// hold, to a target.
func (t *Table) Nearest(target int, paints []int) search.Mix {
	l, done := t.look(context.Background(), target, 0)
	defer done()
	l.closeIn(paints)
	return l.Mix(l.tableRow.target)
}

// tableRow is what is known of one target.
type tableRow struct {
	mu      sync.Mutex
	target  colour.Lab
	alone   []float64 // per paint: its distance; below 0: not looked at; nil before the first look
	pairs   []known   // by pairAt
	triples []known   // by tripleAt
	asked   map[float32]*askedAt
	nearby  *prospects // nil: not asked for
	scratch *pieces
}

// askedAt is what is kept of a distance that was asked about.
type askedAt struct {
	near    labBox  // of what is within it
	palette set.Set // whose promise was asked for last
	promise []int   // of it; nil: not asked for
}

// mostAsked is how many distances are kept for a target.
const mostAsked = 32

// known is what is known of the nearest mix of a set of paints, in CIEDE2000: that
// it comes within so much, and no nearer than so much.
type known struct{ within, beyond float32 }

// plainly is what a mix has to be within a distance by, so that it is so too when
// its colour is worked out the plain way.
const plainly = 1e-6

// elsewhereNearer is the CIEDE2000 by which a set may come nearer than where the
// first of its mixes within a distance leads to.
const elsewhereNearer = 0.25

// look opens a row for looking within a distance; done closes it.
func (t *Table) look(ctx context.Context, target int, distance float64) (l *looking, done func()) {
	r := &t.rows[target]
	r.mu.Lock()
	distance -= plainly
	d := t.m.Descent(r.target)
	if r.scratch == nil {
		r.scratch = new(pieces)
	}
	l = &looking{tableRow: r, pieces: r.scratch, ctx: ctx, meshes: t.meshes(), distance: float32(distance), closer: closer{Descent: &d, enough: distance}}
	l.aimAt(r.target)
	if r.alone == nil {
		l.begun(t.m.Len())
	}
	l.askedAt = r.askedAbout(t, target, l.distance)
	return l, func() {
		d.Close()
		r.mu.Unlock()
	}
}

// askedAbout is what is kept of a distance.
func (r *tableRow) askedAbout(t *Table, target int, distance float32) *askedAt {
	a := r.asked[distance]
	if a == nil {
		a = &askedAt{near: t.vicinity(target, distance)}
		if r.asked == nil || len(r.asked) == mostAsked {
			r.asked = map[float32]*askedAt{}
		}
		r.asked[distance] = a
	}
	return a
}

// begun lays out what is known of so many paints: nothing.
func (l *looking) begun(n int) {
	l.alone = make([]float64, n)
	l.pairs, l.triples = make([]known, len(l.meshes.pairs)), make([]known, len(l.meshes.triples))
	for _, k := range [][]known{l.pairs, l.triples} {
		for i := range k {
			k[i].within = float32(math.Inf(1))
		}
	}
	for i := range l.alone {
		l.alone[i] = -1
	}
}

// reachesAlone reports whether a paint comes within the distance.
func (l *looking) reachesAlone(i int) bool {
	if l.alone[i] < 0 {
		if l.near.beyond(&l.meshes.single[i]) != 0 {
			return false
		}
		l.Begin([]int{i})
		l.alone[i] = l.Take([]float64{1})
	}
	return float32(l.alone[i]) <= l.distance
}

// looking is a look at one row.
type looking struct {
	*tableRow
	ctx      context.Context
	meshes   *meshes
	distance float32 // what is known is known of distances so rounded
	*askedAt
	set [3]int
	closer
	*pieces
}

// through visits the least sets among some paints, ascending, that come within the
// distance, until visit returns false.
func (l *looking) through(paints []int, visit func(set []int) bool) error {
	var rest []int
	for _, i := range paints {
		if !l.reachesAlone(i) {
			rest = append(rest, i)
		} else if l.set[0] = i; !visit(l.set[:1]) {
			return nil
		}
	}
	if len(l.pairs) == 0 {
		return nil
	}
	for b, j := range rest {
		if err := l.ctx.Err(); err != nil {
			return err
		}
		for _, i := range rest[:b] {
			if l.pairReaches(i, j) && !visit(l.set[:2]) {
				return nil
			}
		}
	}
	if len(l.triples) == 0 {
		return nil
	}
	for c, k := range rest {
		for b, j := range rest[:c] {
			if err := l.ctx.Err(); err != nil {
				return err
			}
			if l.paired(j, k) {
				continue
			}
			for _, i := range rest[:b] {
				if l.paired(i, k) || l.paired(i, j) {
					continue
				}
				if l.tripleReaches(i, j, k) && !visit(l.set[:]) {
					return nil
				}
			}
		}
	}
	return nil
}

// paired reports whether a pair that was looked at comes within the distance.
func (l *looking) paired(i, j int) bool { return l.pairs[pairAt(i, j)].within <= l.distance }

func (l *looking) pairReaches(i, j int) bool {
	l.set = [3]int{i, j}
	return l.reaches(&l.pairs[pairAt(i, j)], l.set[:2])
}

func (l *looking) tripleReaches(i, j, k int) bool {
	l.set = [3]int{i, j, k}
	return l.reaches(&l.triples[tripleAt(i, j, k)], l.set[:])
}

// reaches reports whether a set of paints comes within the distance, by what is
// known or by a look.
func (l *looking) reaches(k *known, paints []int) bool {
	switch {
	case k.within <= l.distance:
		return true
	case k.beyond >= l.distance:
		return false
	}
	if l.comeWithin(paints) {
		l.settleBest()
		k.within, k.beyond = min(float32(l.bound), l.distance), float32(l.bound-elsewhereNearer)
		return true
	}
	k.beyond = l.distance
	return false
}
