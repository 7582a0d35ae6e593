package sheet

import (
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// addGreens finds the pairs that mix to green and rounds each off with red.
func (c *Chart) addGreens(e easel, white int) {
	red := redOf(c.Tubes, e, white)
	if red >= 0 {
		c.Red = c.Tubes[red].Name
	}
	pairs := c.greenPairs(e, red)
	if len(pairs) > MostGreens {
		c.LeftOut = len(pairs) - MostGreens
		pairs = pairs[:MostGreens]
	}
	for _, p := range pairs {
		c.Greens = append(c.Greens, e.grid(c.Tubes, p, red))
	}
}

// greenPair is two tubes by index and the highest chroma among their greens.
type greenPair struct {
	i, j   int
	chroma float64
}

// greenPairs lists the pairs, other than with a white or the red, whose mixes
// read as a green, highest chroma first.
func (c *Chart) greenPairs(e easel, red int) (pairs []greenPair) {
	for i := range c.Tubes {
		for j := i + 1; j < len(c.Tubes); j++ {
			if i == red || j == red || c.Tubes[i].IsWhite() || c.Tubes[j].IsWhite() {
				continue
			}
			p := greenPair{i: i, j: j}
			greens := 0
			for _, parts := range greenSteps {
				s := e.swatch([]catalog.Tube{c.Tubes[i], c.Tubes[j]}, parts)
				if isGreen(s.Lab) {
					greens++
					p.chroma = max(p.chroma, s.Lab.LCh().C)
				}
			}
			if greens > len(greenSteps)/2 {
				pairs = append(pairs, p)
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b greenPair) int { return portable.Compare(b.chroma, a.chroma, portable.Fine) })
	return pairs
}

func isGreen(c colour.Lab) bool {
	return c.LCh().C >= 5 && colour.Name(c).Hue.IsGreen()
}

// redOf picks the tube that dulls green best: the one of highest chroma whose
// tint is a red or an orange-red, else a red-violet, else an orange; -1 if none.
func redOf(tubes []catalog.Tube, e easel, white int) int {
	best, rank, chroma := -1, 0, 0.0
	for i := range tubes {
		if tubes[i].IsWhite() {
			continue
		}
		s := e.swatch(tubes[i:i+1], []int{1})
		if white >= 0 {
			s = e.swatch([]catalog.Tube{tubes[i], tubes[white]}, []int{1, 3})
		}
		r := map[colour.Hue]int{colour.Red: 3, colour.OrangeRed: 3, colour.RedViolet: 2, colour.Orange: 1}[colour.Name(s.Lab).Hue]
		if C := s.Lab.LCh().C; r > rank || r == rank && r > 0 && portable.Compare(C, chroma, portable.Fine) > 0 {
			best, rank, chroma = i, r, C
		}
	}
	return best
}

// grid lays the steps of a pair across and the parts of red down, the lighter
// tube of the pair first because it is taken in the larger part.
func (e easel) grid(tubes []catalog.Tube, p greenPair, red int) (g Grid) {
	used := []catalog.Tube{tubes[p.i], tubes[p.j]}
	if e.swatch(used, []int{1, 0}).Lab.L < e.swatch(used, []int{0, 1}).Lab.L {
		used[0], used[1] = used[1], used[0]
	}
	reds := redSixteenths[:1]
	if red >= 0 {
		used, reds = append(used, tubes[red]), redSixteenths
	}
	for _, r := range reds {
		steps := make([][]int, len(greenSteps))
		for k, s := range greenSteps {
			steps[k] = lowest([]int{s[0], s[1], r}[:len(used)])
		}
		g.Rows = append(g.Rows, e.row(used, steps))
	}
	return g
}

// lowest divides parts by their common factor.
func lowest(parts []int) []int {
	g := 0
	for _, n := range parts {
		for a, b := n, g; ; a, b = b, a%b {
			if b == 0 {
				g = a
				break
			}
		}
	}
	if g < 2 {
		return parts
	}
	out := make([]int, len(parts))
	for i, n := range parts {
		out[i] = n / g
	}
	return out
}
