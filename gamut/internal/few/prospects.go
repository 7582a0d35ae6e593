package few

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
)

// A failing set is grown paint by paint, so what is asked is whether one paint more
// brings a colour within a distance. Of the triples it stands in most lie far off,
// and of the others the first that comes near says yes; so most triples are never
// looked at closely.

// prospects are the triples that may come within a box of CIELAB.
type prospects struct {
	box  labBox
	with [][][2]uint8 // per paint: the two others of each, ascending
}

// Brings reports whether a paint more brings a palette, of which no set comes within a
// distance, in CIEDE2000, of a target, so near.
func (t *Table) Brings(target int, palette set.Set, paint int, distance float64) bool {
	l, done := t.look(context.Background(), target, distance)
	defer done()
	if l.reachesAlone(paint) {
		return true
	}
	if len(l.pairs) == 0 {
		return false
	}
	for _, i := range palette.Members() {
		if i != paint && l.pairReaches(min(i, paint), max(i, paint)) {
			return true
		}
	}
	if len(l.triples) == 0 {
		return false
	}
	var open [][2]uint8
	for _, o := range l.mayReach().with[paint] {
		if i, j := int(o[0]), int(o[1]); palette.Has(i) && palette.Has(j) {
			switch k := &l.triples[tripleAt(sorted(i, j, paint))]; {
			case k.within <= l.distance:
				return true
			case k.beyond < l.distance:
				open = append(open, o)
			}
		}
	}
	for _, o := range open {
		if l.tripleReaches(sorted(int(o[0]), int(o[1]), paint)) {
			return true
		}
	}
	return false
}

// Promise tells per paint in how many sets of paints of a palette it stands that may
// come within a distance, in CIEDE2000, of a target: triples by a quick look. The
// error is the context's.
func (t *Table) Promise(ctx context.Context, target int, palette set.Set, distance float64) ([]int, error) {
	l, done := t.look(ctx, target, distance)
	defer done()
	if l.promise == nil || !slices.Equal(l.palette, palette) {
		l.palette, l.promise = palette.Clone(), l.promiseOf(palette)
	}
	return l.promise, ctx.Err()
}

func (l *looking) promiseOf(palette set.Set) []int {
	out := make([]int, len(l.alone))
	var rest []int
	for _, i := range palette.Members() {
		if !l.reachesAlone(i) {
			rest = append(rest, i)
		} else {
			out[i]++
		}
	}
	if len(l.pairs) == 0 {
		return out
	}
	for b, j := range rest {
		for _, i := range rest[:b] {
			if l.pairReaches(i, j) {
				out[i]++
				out[j]++
			}
		}
	}
	if len(l.triples) == 0 {
		return out
	}
	among := set.Of(len(l.alone), rest...)
	nearby := l.mayReach()
	for _, k := range rest {
		for _, o := range nearby.with[k] {
			i, j := int(o[0]), int(o[1])
			if j > k || !among.Has(i) || !among.Has(j) || l.paired(i, j) || l.paired(i, k) || l.paired(j, k) {
				continue
			}
			if nearby.box == l.near || l.meets(l.meshes.triple(i, j, k).frames[:]) {
				out[i]++
				out[j]++
				out[k]++
			}
		}
	}
	return out
}

// mayReach are the triples that may come within the distance, and others.
func (l *looking) mayReach() *prospects {
	if l.nearby != nil && l.nearby.box.holds(&l.near) {
		return l.nearby
	}
	l.meshes.layAll()
	n := len(l.alone)
	p := &prospects{l.near, make([][][2]uint8, n)}
	for k := range uint8(n) {
		for j := range k {
			for i := range j {
				if l.meets(l.meshes.triple(int(i), int(j), int(k)).frames[:]) {
					p.with[i] = append(p.with[i], [2]uint8{j, k})
					p.with[j] = append(p.with[j], [2]uint8{i, k})
					p.with[k] = append(p.with[k], [2]uint8{i, j})
				}
			}
		}
	}
	l.nearby = p
	return p
}

// meets reports whether a mesh may come within the distance.
func (l *looking) meets(frames []frame) bool {
	for b := range frames {
		if frames[b].box.meets(&l.near) {
			return true
		}
	}
	return false
}

// sorted are three paints in ascending order, the first two of which are so.
func sorted(i, j, paint int) (int, int, int) {
	switch {
	case paint < i:
		return paint, i, j
	case paint < j:
		return i, paint, j
	}
	return i, j, paint
}
