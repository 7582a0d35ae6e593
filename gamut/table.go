package gamut

import (
	"context"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/few"
	"fewtubes/gamut/set"
)

// Table knows for some colours which sets of paints reach them, where a mix holds
// few paints: then there are few enough sets to look at each, once for all
// palettes. What it lists comes as near as it says; that it lists everything rests
// on measured margins, so a proof asks Within of Mixer besides. It serves any number
// of goroutines, and its answers do not depend on what was asked before.
type Table struct{ t *few.Table }

// Table is a table of what reaches the targets, or nil where the mixer's paints,
// or those of one mix, are too many for one.
func (m *Mixer) Table(targets []colour.Lab) *Table {
	if t := few.NewTable(m.search, targets); t != nil {
		return &Table{t}
	}
	return nil
}

// Redrawn is a table of the same targets for the same paints with other K and S, as
// Mixer has it.
func (t *Table) Redrawn(paints []film.Paint) *Table { return &Table{t.t.Redrawn(paints)} }

// Reaches is a set of paints of a palette, ascending, that comes within a distance,
// in CIEDE2000, of a target; nil when there is none.
func (t *Table) Reaches(target int, palette set.Set, distance float64) (held []int) {
	return t.t.Reaches(target, palette, distance)
}

// Brings reports whether a paint more brings a palette, of which no set comes within a
// distance, in CIEDE2000, of a target, so near.
func (t *Table) Brings(target int, palette set.Set, paint int, distance float64) bool {
	return t.t.Brings(target, palette, paint, distance)
}

// Promise tells per paint in how many sets of paints of a palette it stands that may
// come within a distance, in CIEDE2000, of a target: triples by a quick look. It is
// shared: leave it as it is. The error is the context's.
func (t *Table) Promise(ctx context.Context, target int, palette set.Set, distance float64) ([]int, error) {
	return t.t.Promise(ctx, target, palette, distance)
}

// Nearest is the nearest mix of some paints, ascending and no more than one mix may
// hold, to a target.
func (t *Table) Nearest(target int, paints []int) Mix { return Mix(t.t.Nearest(target, paints)) }
