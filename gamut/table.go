package gamut

import (
	"context"

	"fewtubes/gamut/colour"
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

// Reaches is a set of paints of a palette, ascending, that comes within a distance,
// in CIEDE2000, of a target; nil when there is none.
func (t *Table) Reaches(target int, palette set.Set, distance float64) (held []int) {
	return t.t.Reaches(target, palette, distance)
}

// Within lists the least sets of paints of a palette that come within a distance, in
// CIEDE2000, of a target: of a set that holds another, only that other is listed.
// Each is ascending, and those of few paints come first. The lists are shared: leave
// them as they are. The error is the context's.
func (t *Table) Within(ctx context.Context, target int, palette set.Set, distance float64) ([][]int, error) {
	return t.t.Within(ctx, target, palette, distance)
}

// Nearest is the nearest mix of some paints, ascending and no more than one mix may
// hold, to a target.
func (t *Table) Nearest(target int, paints []int) Mix { return Mix(t.t.Nearest(target, paints)) }
