package doubt

import (
	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// lists know what sets of some tubes reach in a box where a mix holds few paints; nil:
// that is to be searched.
type lists struct {
	table *gamut.Table // of those tubes, numbered among themselves
	tubes []int
}

// mostListed is of how many tubes lists are kept.
const mostListed = 40

func (b *Boxes) lists(tubes set.Set) *lists {
	if tubes.Len() > mostListed {
		return nil
	}
	l := &lists{tubes: tubes.Members()}
	if l.table = b.Mixer.Only(l.tubes).Table(b.Targets); l.table == nil {
		return nil
	}
	return l
}

// in are the lists of a box: nil where there are none.
func (l *lists) in(drawn []film.Paint) *gamut.Table {
	if l == nil {
		return nil
	}
	return l.table.Redrawn(drawn)
}

// among is a palette by the numbers of the lists.
func (l *lists) among(palette set.Set) set.Set {
	if l == nil {
		return nil
	}
	out := set.New(len(l.tubes))
	for k, i := range l.tubes {
		if palette.Has(i) {
			out.Add(k)
		}
	}
	return out
}
