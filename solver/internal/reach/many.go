package reach

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Many are targets too many to be asked about one by one, such as the cells of a
// picture. They are asked about all at once: what one is mixed of often serves those
// around it, for other palettes too.
type Many struct {
	mixer     *gamut.Mixer
	targets   []colour.Lab
	tolerance float64
	groups    []group
	of        []int // the group of each target
}

// group are targets within a small cube of CIELAB, and mixes found for them.
type group struct {
	targets []int
	mixes   []found
}

type found struct {
	lab   colour.Lab
	tubes set.Set
}

const (
	cube      = 6.0 // side of a group, CIELAB
	mostFound = 200 // mixes kept for a group
	passes    = 16  // in which the groups are gone through
)

// NewMany asks a mixer about targets, all within one tolerance.
func NewMany(mixer *gamut.Mixer, targets []colour.Lab, tolerance float64) *Many {
	m := &Many{mixer: mixer, targets: targets, tolerance: tolerance, of: make([]int, len(targets))}
	key := func(i int) [3]int {
		c := targets[i]
		return [3]int{int(math.Floor(c.L / cube)), int(math.Floor(c.A / cube)), int(math.Floor(c.B / cube))}
	}
	ids := make([]int, len(targets))
	for i := range ids {
		ids[i] = i
	}
	slices.SortFunc(ids, func(i, j int) int {
		a, b := key(i), key(j)
		return cmp.Or(slices.Compare(a[:], b[:]), cmp.Compare(i, j))
	})
	for k, i := range ids {
		if k == 0 || key(i) != key(ids[k-1]) {
			m.groups = append(m.groups, group{})
		}
		g := len(m.groups) - 1
		m.groups[g].targets, m.of[i] = append(m.groups[g].targets, i), g
	}
	return m
}

// Lab is the colour of a target, Tolerance what all are to be reached within.
func (m *Many) Lab(t int) colour.Lab { return m.targets[t] }
func (m *Many) Tolerance() float64   { return m.tolerance }

// Group is the group of a target.
func (m *Many) Group(t int) int { return m.of[t] }

// Known is what there is to learn of one of the targets.
func (m *Many) Known(t int) *Known {
	return NewKnown(Unlisted(m.mixer, m.targets), t, m.mixer.Len())
}

// Near is how near a palette comes to each target, at a quick look: where that is within
// the tolerance, with some mix that is.
func (m *Many) Near(ctx context.Context, palette set.Set) ([]gamut.Mix, error) {
	out := make([]gamut.Mix, len(m.targets))
	parallel.Each(len(m.groups), func(k int) {
		for _, t := range m.groups[k].targets {
			if ctx.Err() == nil {
				out[t] = m.near(t, palette)
			}
		}
	})
	return out, ctx.Err()
}

// Missed is a target that a palette misses at a quick look, and by how much.
type Missed struct {
	Target int
	DE     float64
}

// Missed are targets that a palette misses: all of those of any weight, or, once they
// weigh more than is enough, some.
func (m *Many) Missed(ctx context.Context, palette set.Set, weights []int, enough int) (missed []Missed, err error) {
	weight := 0
	for pass := range passes {
		var ks []int
		for k := pass; k < len(m.groups); k += passes {
			ks = append(ks, k)
		}
		lists := make([][]Missed, len(ks))
		parallel.Each(len(ks), func(i int) {
			for _, t := range m.groups[ks[i]].targets {
				if weights[t] == 0 || ctx.Err() != nil {
					continue
				}
				if mix := m.near(t, palette); mix.DE > m.tolerance {
					lists[i] = append(lists[i], Missed{t, mix.DE})
				}
			}
		})
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for _, list := range lists {
			missed = append(missed, list...)
			for _, t := range list {
				weight += weights[t.Target]
			}
		}
		if weight > enough {
			break
		}
	}
	return missed, nil
}

// near is for one goroutine of each group at a time.
func (m *Many) near(t int, palette set.Set) gamut.Mix {
	if palette.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	if lab, ok := m.served(t, palette); ok {
		return gamut.Mix{Lab: lab, DE: colour.DE2000(lab, m.targets[t])}
	}
	mix, within := m.mixer.Within(m.targets[t], palette, m.tolerance, gamut.Quick)
	if within {
		m.Learn(t, &mix)
	}
	return mix
}

// served is a known mix of a palette that serves a target.
func (m *Many) served(t int, palette set.Set) (colour.Lab, bool) {
	for i := range m.groups[m.of[t]].mixes {
		f := &m.groups[m.of[t]].mixes[i]
		if f.tubes.SubsetOf(palette) && colour.DE2000(f.lab, m.targets[t]) <= m.tolerance {
			return f.lab, true
		}
	}
	return colour.Lab{}, false
}

// Learn keeps a mix found for a target.
func (m *Many) Learn(t int, mix *gamut.Mix) {
	g := &m.groups[m.of[t]]
	if len(g.mixes) == mostFound {
		g.mixes = slices.Delete(g.mixes, 0, mostFound/4)
	}
	g.mixes = append(g.mixes, found{mix.Lab, set.Of(m.mixer.Len(), mix.Paints...)})
}

// Asked is whether some tubes reach a target.
type Asked struct {
	Target int
	Tubes  set.Set
}

// Reach answers all that is asked at a quick look.
func (m *Many) Reach(ctx context.Context, asked []Asked) ([]bool, error) {
	return m.reach(ctx, asked, func(t int, tubes set.Set) (gamut.Mix, bool) {
		return m.mixer.Within(m.targets[t], tubes, m.tolerance, gamut.Quick)
	})
}

// clearly is more than a thorough search, which stops short of a verdict's, was ever
// behind it (0.70, gamut/MIXING.md), CIEDE2000.
const clearly = 1.0

// Ensured answers all that is asked thoroughly, where it is close with the effort of a
// verdict.
func (m *Many) Ensured(ctx context.Context, asked []Asked) ([]bool, error) {
	return m.reach(ctx, asked, func(t int, tubes set.Set) (gamut.Mix, bool) {
		mix, within := m.mixer.Within(m.targets[t], tubes, m.tolerance, gamut.Search)
		if within || mix.DE > m.tolerance+clearly {
			return mix, within
		}
		return m.mixer.Within(m.targets[t], tubes, m.tolerance, gamut.Verdict)
	})
}

func (m *Many) reach(ctx context.Context, asked []Asked, search func(t int, tubes set.Set) (gamut.Mix, bool)) ([]bool, error) {
	out, mixes := make([]bool, len(asked)), make([]*gamut.Mix, len(asked))
	parallel.Each(len(asked), func(i int) {
		a := &asked[i]
		if ctx.Err() != nil || a.Tubes.Len() == 0 {
			return
		}
		if _, out[i] = m.served(a.Target, a.Tubes); out[i] {
			return
		}
		var mix gamut.Mix
		if mix, out[i] = search(a.Target, a.Tubes); out[i] {
			mixes[i] = &mix
		}
	})
	for i, mix := range mixes {
		if mix != nil {
			m.Learn(asked[i].Target, mix)
		}
	}
	return out, ctx.Err()
}
