package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// tubes are n tubes: the built-in ones as far as they go, then variants of them
// as other makers would have them: of another strength (a factor of some 1.3
// either way on K, 1.15 on S) and a little off in hue (a smooth change of K and
// S of some 8 % over the spectrum). A smaller n takes built-in tubes evenly
// spread over the catalogue.
func tubes(n int) ([]catalog.Tube, error) {
	c, err := catalog.Builtin()
	if err != nil {
		return nil, err
	}
	base := c.Tubes()
	var out []catalog.Tube
	if n <= len(base) {
		for i := range n {
			out = append(out, base[i*len(base)/n])
		}
		return out, nil
	}
	rng := rand.New(rand.NewPCG(1931, uint64(n)))
	out = base
	for i := len(base); i < n; i++ {
		t := base[i%len(base)]
		t.ID = fmt.Sprintf("%s-%d", t.ID, i/len(base)+1)
		vary(&t.Paint, rng)
		out = append(out, t)
	}
	return out, nil
}

func vary(p *film.Paint, rng *rand.Rand) {
	change := func(v *[colour.Bands]float64, strength float64) {
		level := strength * rng.NormFloat64()
		var wave [3]float64
		for k := range wave {
			wave[k] = 0.08 * rng.NormFloat64() / float64(k+1)
		}
		for b := range v {
			e := level
			for k, w := range wave {
				e += w * math.Cos(math.Pi*float64(k+1)*float64(b)/(colour.Bands-1))
			}
			v[b] *= math.Exp(e)
		}
	}
	change(&p.K, math.Log(1.3))
	change(&p.S, math.Log(1.15))
}

// scene is a problem of m targets over n tubes: colours mixed from two to four
// tubes of the built-in catalogue, mostly white and earths as in a landscape.
func scene(n, m int) (solver.Problem, error) {
	p := solver.Problem{Surface: film.Dry, Light: colour.D65()}
	var err error
	if p.Tubes, err = tubes(n); err != nil {
		return p, err
	}
	from, err := tubes(min(n, 47))
	if err != nil {
		return p, err
	}
	rng := rand.New(rand.NewPCG(2000, uint64(m)))
	for i := range m {
		p.Targets = append(p.Targets, solver.Target{
			Name: fmt.Sprint("target ", i+1), Lab: mixture(from, rng), Area: 1, Tolerance: 3,
		})
	}
	return p, nil
}

// mixture is the colour of a random pile.
func mixture(from []catalog.Tube, rng *rand.Rand) colour.Lab {
	count := 2 + rng.IntN(3)
	paints, amounts := make([]film.Paint, count), make([]float64, count)
	for i, t := range rng.Perm(len(from))[:count] {
		paints[i], amounts[i] = from[t].Paint, rng.ExpFloat64()
	}
	paints[0] = from[0].Paint // a white
	amounts[0] *= 3
	var sum film.Paint
	film.Mix(&sum, paints, amounts)
	seen := sum.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}
