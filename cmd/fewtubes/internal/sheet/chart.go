package sheet

import (
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Chart is a practice sheet: every pair of a palette in steps, each tube let
// down with white, and the greens rounded off with a red.
type Chart struct {
	Title   string
	Light   string
	Surface film.View
	Tubes   []catalog.Tube
	Mass    []Swatch // of each tube as it comes from the tube
	White   string   // name of the white the ladders use; empty: the palette has none
	Ladders []Row
	Pairs   []Row
	Red     string // name of the tube that rounds the greens off; empty: none
	Greens  []Grid
	LeftOut int // pairs that also mix to green but found no room
}

// Grid is a pair that mixes to green, in rows of more and more red.
type Grid struct {
	Rows []Row // of the same tubes: the pair, then the red
}

// Steps in parts, small enough to lay off with a palette knife.
var (
	ladderSteps = [][]int{{1, 0}, {3, 1}, {1, 1}, {1, 3}, {1, 9}, {1, 30}}
	pairSteps   = [][]int{{9, 1}, {3, 1}, {1, 1}, {1, 3}, {1, 9}}
	greenSteps  = [][]int{{15, 1}, {14, 2}, {12, 4}, {8, 8}, {4, 12}}
)

// redSixteenths are the parts of red that round off sixteen parts of green, one
// per row of a grid.
var redSixteenths = []int{0, 1, 2, 4}

// MostGreens is the number of green grids a chart holds: the pairs of highest
// chroma, so that a palette of ten tubes does not fill a book.
const MostGreens = 8

// NewChart works out the sheet of a palette of at least two tubes, in the order
// given.
func NewChart(title string, tubes []catalog.Tube, light *colour.Light, surface film.Surface) *Chart {
	e := easel{light, surface}
	tubes = plainNames(tubes)
	c := &Chart{Title: title, Light: light.Name, Surface: surface.View(), Tubes: tubes}
	for i := range tubes {
		c.Mass = append(c.Mass, e.swatch(tubes[i:i+1], []int{1}))
	}
	white := catalog.WhiteOf(tubes)
	if white >= 0 {
		c.White = tubes[white].Name
	}
	for i := range tubes {
		if white >= 0 && !tubes[i].IsWhite() {
			c.Ladders = append(c.Ladders, e.row([]catalog.Tube{tubes[i], tubes[white]}, ladderSteps))
		}
		for j := i + 1; j < len(tubes); j++ {
			if !tubes[i].IsWhite() && !tubes[j].IsWhite() {
				c.Pairs = append(c.Pairs, e.row([]catalog.Tube{tubes[i], tubes[j]}, pairSteps))
			}
		}
	}
	c.addGreens(e, white)
	return c
}

// plainNames copies the tubes and drops what a name adds in brackets where the
// rest still tells them apart: a sheet has narrow columns.
func plainNames(tubes []catalog.Tube) []catalog.Tube {
	out := slices.Clone(tubes)
	for i := range out {
		short, _, found := strings.Cut(out[i].Name, " (")
		if !found {
			continue
		}
		alone := !slices.ContainsFunc(tubes, func(t catalog.Tube) bool {
			other, _, _ := strings.Cut(t.Name, " (")
			return t.ID != out[i].ID && other == short
		})
		if alone {
			out[i].Name = short
		}
	}
	return out
}
