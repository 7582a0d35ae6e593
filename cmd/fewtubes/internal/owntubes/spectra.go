package owntubes

import (
	"fmt"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// check says what is wrong with K and S, under which key, and how to mend it;
// empty if nothing.
func (f *Film) check() (key, msg, remedy string) {
	end := f.Start + f.Step*(len(f.K)-1)
	switch {
	case len(f.K) != len(f.S):
		return "k", fmt.Sprintf("%d values of k but %d of s", len(f.K), len(f.S)), "give one of each for every wavelength"
	case f.Step < 1 || f.Step > 20:
		return "wavelengths", fmt.Sprintf("a step of %d nm is none", f.Step), "write 1 to 20"
	case f.Start < 300 || f.Start > 400 || end < 700 || end > 2500:
		return "wavelengths", fmt.Sprintf("k and s run from %d to %d nm", f.Start, end), "start at 300 to 400 and reach 700"
	}
	for i := range f.K {
		nm := f.Start + i*f.Step
		if k := f.K[i]; !(k > 0 && k <= film.CeilK) {
			return "k", fmt.Sprintf("%v at %d nm is out of range", k, nm), fmt.Sprintf("write a number over 0, at most %g", film.CeilK)
		}
		if s := f.S[i]; !(s > 0 && s <= film.CeilS) {
			return "s", fmt.Sprintf("%v at %d nm is out of range", s, nm), fmt.Sprintf("write a number over 0, at most %g", film.CeilS)
		}
	}
	return "", "", ""
}

// paint is K and S at the bands: the catalogue's splines where the values stand
// at its nodes, else straight lines between the logarithms. Beyond the ends
// both are held level.
func (f *Film) paint() (p film.Paint) {
	if f.Start == film.NodeStartNM && f.Step == film.NodeStepNM && len(f.K) == film.NodeCount {
		return film.FromNodes(&film.Nodes{K: [film.NodeCount]float64(f.K), S: [film.NodeCount]float64(f.S)})
	}
	for b := range p.K {
		nm := float64(colour.StartNM + b*colour.StepNM)
		p.K[b], p.S[b] = f.at(f.K, nm, film.FloorK), f.at(f.S, nm, film.FloorS)
	}
	return p
}

func (f *Film) at(v []float64, nm, floor float64) float64 {
	x := (nm - float64(f.Start)) / float64(f.Step)
	x = min(max(x, 0), float64(len(v)-1))
	i := min(int(x), len(v)-2)
	u := x - float64(i)
	return max(portable.Exp(float64((1-u)*portable.Log(v[i]))+float64(u*portable.Log(v[i+1]))), floor)
}
