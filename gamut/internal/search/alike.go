package search

import (
	"slices"
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
)

// looks are the colours of a paint in masstone and in a tint: what tells paints
// apart before anything is mixed.
type looks [2]colour.Lab

// tintShare is the scaled amount of a paint in the tint it is judged by.
const tintShare = 0.1

// looksOf are the looks of every paint; the tints are in the lightest.
func looksOf(m *Paints) (look []looks, lightest int) {
	look = make([]looks, len(m.films))
	var p kernel.Point
	for i := range look {
		p.Mix(m.bands, []int{i}, []float64{1})
		p.Colour(&m.optics)
		look[i][0] = p.Lab
		if p.Lab.L > look[lightest][0].L {
			lightest = i
		}
	}
	for i := range look {
		p.Mix(m.bands, []int{lightest, i}, []float64{1 - tintShare, tintShare})
		p.Colour(&m.optics)
		look[i][1] = p.Lab
	}
	return look, lightest
}

// alike orders the paints by how much they look like each, a row when it is
// first asked for.
type alike struct {
	look func() []looks
	rows []alikeRow
}

type alikeRow struct {
	once  sync.Once
	order []int
}

func newAlike(m *Paints) *alike {
	return &alike{
		look: sync.OnceValue(func() []looks { l, _ := looksOf(m); return l }),
		rows: make([]alikeRow, len(m.films)),
	}
}

// Alike lists the other paints, those that look most like the given one first,
// in masstone and in a tint. The list is shared: leave it as it is.
func (m *Paints) Alike(paint int) []int {
	r := &m.alike.rows[paint]
	r.once.Do(func() {
		look := m.alike.look()
		gap := make([]float64, len(look))
		for i := range look {
			gap[i] = distance76(look[i][0], look[paint][0]) + distance76(look[i][1], look[paint][1])
			if i != paint {
				r.order = append(r.order, i)
			}
		}
		slices.SortStableFunc(r.order, func(i, j int) int { return portable.Compare(gap[i], gap[j], portable.Fine) })
	})
	return r.order
}

// Settle is the mix that the slopes lead to from the one given, of the same
// paints or fewer. A search of these paints may find a nearer.
func (m *Paints) Settle(target colour.Lab, paints []int, shares []float64) Mix {
	return m.settle(target, paints, shares, false)
}

func (m *Paints) settle(target colour.Lab, paints []int, shares []float64, careful bool) Mix {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, nil)
	w.careful = careful
	w.list, w.amount = append(w.list[:0], paints...), w.amount[:0]
	for i, p := range paints {
		w.amount = append(w.amount, shares[i]*m.scale[p])
	}
	normalise(w.amount)
	w.evaluate()
	w.descend(fullLook)
	w.dropNothing()
	w.save(&w.best)
	return w.finish(target)
}
