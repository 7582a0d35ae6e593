package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/doubt"
)

// Landing is where a recipe, measured out to the letter, comes out in plausible boxes,
// and how to steer it.
type Landing struct {
	Median float64    // CIEDE2000 to the target
	Nine   float64    // nine in ten boxes come within it
	Low    colour.Lab // the recipe a standard deviation to one side, where it varies most
	High   colour.Lab // and to the other
	Last   string     // tube of the recipe that steers best along that line
	Other  string     // tube of the palette that leads the other way; empty: none does
}

// steered is the volume of a tube, beside 1 of the recipe, by which it is seen where it
// leads.
const steered = 0.05

// Landings tries recipes, one for each target, in volumes of a palette's tubes, in boxes
// 1..draws.
func (s *Session) Landings(ctx context.Context, palette []string, recipes [][]Share, draws int) ([]Landing, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	paints, volumes := make([][]int, len(recipes)), make([][]float64, len(recipes))
	for t, shares := range recipes {
		for _, share := range shares {
			paints[t], volumes[t] = append(paints[t], s.index.place[share.ID]), append(volumes[t], share.Fraction)
		}
	}
	landed := make([][]colour.Lab, draws)
	err = s.boxes().Each(ctx, held, 1, draws, func(box int, m *gamut.Mixer, _ []film.Paint) {
		at, meter := make([]colour.Lab, len(recipes)), m.Meter()
		for t := range recipes {
			if len(paints[t]) > 0 {
				at[t] = meter.Lab(paints[t], volumes[t])
			}
		}
		landed[box-1] = at
	})
	if err != nil {
		return nil, err
	}
	out := make([]Landing, len(recipes))
	for t := range recipes {
		if len(paints[t]) == 0 {
			continue
		}
		of := make([]colour.Lab, draws)
		for n := range of {
			of[n] = landed[n][t]
		}
		out[t] = s.landing(t, held, paints[t], volumes[t], of)
	}
	return out, nil
}

func (s *Session) landing(t int, palette set.Set, paints []int, volumes []float64, landed []colour.Lab) (out Landing) {
	far := make([]float64, len(landed))
	for n, lab := range landed {
		far[n] = colour.DE2000(lab, s.problem.Targets[t].Lab)
	}
	slices.Sort(far)
	out.Median, out.Nine = far[(len(far)-1)/2], far[(len(far)*9+9)/10-1]
	middle, line, deviation := mainLine(landed)
	out.Low, out.High = along(middle, line, -deviation), along(middle, line, deviation)

	meter := s.mixer.Meter()
	stands := meter.Lab(paints, volumes)
	leads := func(tube int) float64 {
		return dot(minus(meter.Lab(append(slices.Clone(paints), tube), append(slices.Clone(volumes), steered)), stands), line)
	}
	last, most := -1, 0.0
	for _, i := range paints {
		if by := leads(i); last < 0 || portable.Compare(math.Abs(by), math.Abs(most), portable.Fine) > 0 {
			last, most = i, by
		}
	}
	other, opposite := -1, 0.0
	for _, i := range palette.Members() {
		if by := leads(i); by*most < 0 && portable.Compare(math.Abs(by), math.Abs(opposite), portable.Fine) > 0 {
			other, opposite = i, by
		}
	}
	out.Last = s.index.id(last)
	if other >= 0 {
		out.Other = s.index.id(other)
	}
	return out
}

// mainLine is the mean of some colours, the direction in which they vary most, of length
// 1, and their standard deviation along it: the first eigenvector of their covariance,
// by power iteration.
func mainLine(of []colour.Lab) (middle colour.Lab, line [3]float64, deviation float64) {
	n := float64(len(of))
	for _, c := range of {
		middle.L, middle.A, middle.B = middle.L+c.L/n, middle.A+c.A/n, middle.B+c.B/n
	}
	var cov [3][3]float64
	for _, c := range of {
		d := minus(c, middle)
		for i := range d {
			for j := range d {
				cov[i][j] += float64(d[i]*d[j]) / n
			}
		}
	}
	const turns = 50
	line = [3]float64{0.8, 0.36, 0.48}
	for range turns {
		next := [3]float64{dot(cov[0], line), dot(cov[1], line), dot(cov[2], line)}
		size := math.Sqrt(dot(next, next))
		if size == 0 {
			return middle, line, 0
		}
		for i := range next {
			line[i] = next[i] / size
		}
		deviation = math.Sqrt(size)
	}
	return middle, line, deviation
}

func along(from colour.Lab, line [3]float64, by float64) colour.Lab {
	return colour.Lab{L: from.L + float64(line[0]*by), A: from.A + float64(line[1]*by), B: from.B + float64(line[2]*by)}
}

func minus(a, b colour.Lab) [3]float64 { return [3]float64{a.L - b.L, a.A - b.A, a.B - b.B} }

func dot(a, b [3]float64) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}

// ShareKnown is the number of boxes 1..draws in which a palette holds where some of its
// tubes are known better than the problem knows them.
func (s *Session) ShareKnown(ctx context.Context, p *Palette, known []catalog.Tube, draws int) (int, error) {
	b := s.boxes()
	b.Tubes = slices.Clone(b.Tubes)
	for _, t := range known {
		if i, ok := s.index.place[t.ID]; ok {
			b.Tubes[i] = t
		}
	}
	holds, err := b.Shares(ctx, []*doubt.Held{s.held(p)}, 1, draws)
	if err != nil {
		return 0, err
	}
	return holds[0], nil
}
