package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Mix is a colour of the scene and the mix for it.
type Mix struct {
	No      int // its place in the scene, from 1
	Name    string
	Target  Swatch
	Mixed   Swatch // in the parts of the recipe
	Recipe  string // in parts, largest first
	LetDown bool   // the recipe is long, as one that lets a strong tinter down first is
	DE      float64
	Reached bool   // by the parts
	Words   string // how the parts miss the colour; empty when they reach it
	area    float64
	height  float64 // mm on the sheet, see measure
	byHand  bool    // by the measures of a hand
	base    string  // that it is made from, "base 1"; empty: none
	own     bool    // something is let down for it alone
}

func newMix(e easel, tubes map[string]catalog.Tube, o *solver.Outcome, tolerance float64) Mix {
	parts := slices.Clone(o.Parts)
	slices.SortStableFunc(parts, func(a, b solver.Part) int { return cmp.Compare(b.Parts, a.Parts) })
	var used []catalog.Tube
	var amounts []int
	var words []string
	for _, part := range parts {
		used = append(used, tubes[part.ID])
		amounts = append(amounts, part.Parts)
		words = append(words, fmt.Sprintf("%d %s", part.Parts, catalog.InSentence(tubes[part.ID].Name)))
	}
	m := Mix{
		Name:   o.Target,
		Target: printed(o.Lab),
		Mixed:  e.swatch(used, amounts),
		Recipe: strings.Join(words, " + "),
		DE:     o.PartsDE,
	}
	if o.PartsDE > o.DE+letdown.MayLose {
		m.letDown(e, tubes, o)
	}
	m.Reached = m.DE <= tolerance
	if !m.Reached {
		m.Words = missWords(m.DE, m.Mixed.Lab, o.Lab)
	}
	return m
}

// letDown takes the recipe that lets strong tinters down where it comes nearer.
func (m *Mix) letDown(e easel, tubes map[string]catalog.Tube, o *solver.Outcome) {
	find := func(id string) *catalog.Tube {
		t := tubes[id]
		return &t
	}
	r := letdown.Nearer(m.DE, o.Lab, o.Shares, 0, gamut.Options{Surface: e.surface, Light: e.light}, find)
	if r == nil {
		return
	}
	m.Mixed, m.DE, m.LetDown = printed(r.Lab), r.DE, true
	m.Recipe = r.Words(func(id string) string { return catalog.InSentence(tubes[id].Name) })
}

// missWords says how a mix misses its colour.
func missWords(de float64, mixed, target colour.Lab) string {
	miss := colour.Direction(mixed, target)
	miss.Faults = miss.Faults[:min(2, len(miss.Faults))] // a narrow column holds no more
	return fmt.Sprintf("off by %.1f: %v", de, miss)
}
