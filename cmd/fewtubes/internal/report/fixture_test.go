package report

import (
	"math"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// The fixture is invented: five paints of simple shape and a few colours, with
// the nearest mixes found by trying all recipes of up to eight parts.

// edge is a paint that absorbs a below the wavelength nm and next to nothing
// above it (or the other way round when width is negative).
func edge(nm, width, a, s float64) (p film.Paint) {
	for b := range p.K {
		x := (float64(colour.StartNM+colour.StepNM*b) - nm) / width
		p.K[b] = 0.004 + a/(1+math.Exp(x))
		p.S[b] = s
	}
	return p
}

func fixtureTubes() []catalog.Tube {
	tube := func(id, name, pigment string, basis catalog.Basis, price int, p film.Paint, hazards ...string) catalog.Tube {
		return catalog.Tube{
			ID: id, Name: name, Pigments: []string{pigment}, Basis: basis, Paint: p, Price: price, SizeML: 37,
			Hazards: hazards, Lightfastness: "I", Opacity: "opaque", Drying: "medium", Density: 1.5, Band: 1,
			Source: "invented for the test",
		}
	}
	return []catalog.Tube{
		tube("titanium-white", "Titanium white", "PW6", catalog.Measured, 850, edge(395, 8, 0.3, 1)),
		tube("warm-yellow", "Warm yellow", "PY35", catalog.Measured, 1790, edge(500, 9, 2.2, 0.5), "cadmium"),
		tube("earth-red", "Earth red", "PR101", catalog.Fitted, 780, edge(585, 16, 1.6, 0.35)),
		tube("deep-blue", "Deep blue", "PB29", catalog.Measured, 1150, edge(495, -14, 1.9, 0.12)),
		tube("cool-green", "Cool green", "PG50", catalog.Estimated, 2140, edge(560, -18, 0.9, 0.3), "cobalt"),
	}
}

func fixtureProblem() *solver.Problem {
	target := func(name, plane, text string, area float64) solver.Target {
		lab, err := colour.Parse(text)
		if err != nil {
			panic(err)
		}
		return solver.Target{Name: name, Lab: lab, Plane: plane, Area: area, Tolerance: 6}
	}
	return &solver.Problem{
		Tubes: fixtureTubes(),
		Targets: []solver.Target{
			target("glitter on the creek", "middle", "lab(88 -1 6)", 0.05),
			target("wet mud", "foreground", "lab(42 3 10)", 0.3),
			target("samphire", "foreground", "lab(48 -8 28)", 0.2),
			target("far saltings <&>", "distance", "lab(62 -4 8)", 0.15),
			target("low cloud", "sky", "lab(74 0 -2)", 0.25),
			target("buoy", "middle", "lab(48 62 48)", 0.01),
			target("ebb channel", "middle", "lab(55 -3 -10)", 0.04),
		},
		Limits:  solver.Limits{MaxTubes: 5},
		Surface: film.Dry, Light: colour.D65(), PaintsPerMix: 3,
	}
}

func fixtureAnswer(p *solver.Problem) *solver.Answer {
	best, other := fixturePalette(p, 0, 1, 2, 3, 4), fixturePalette(p, 0, 1, 2, 4)
	return &solver.Answer{
		Status:   solver.SomeMissed,
		Minimum:  solver.Minimum{Tubes: 5, Proof: "search"},
		Palettes: []solver.Palette{best, other},
		Capped:   true,
		Needs: []solver.Need{
			{Target: "samphire", OneOf: []string{"warm-yellow"}, BestDE: 11.234, Proof: "search"},
			{Target: "ebb channel", OneOf: []string{"deep-blue", "cool-green"}, BestDE: 9.1, Proof: "search"},
		},
		Unreachable: []solver.Miss{{Target: "buoy", BestDE: best.Targets[5].DE, Words: "not enough chroma by 9.0", Beyond: true}},
	}
}

func fixturePalette(p *solver.Problem, ids ...int) solver.Palette {
	out := solver.Palette{}
	for _, i := range ids {
		out.Tubes = append(out.Tubes, p.Tubes[i].ID)
		out.Price += p.Tubes[i].Price
	}
	reachable := 0
	for _, t := range p.Targets {
		o := nearestRecipe(p, t, ids)
		out.Targets = append(out.Targets, o)
		out.WorstOfAllDE = max(out.WorstOfAllDE, o.DE)
		if t.Name != "buoy" {
			out.WorstDE = max(out.WorstDE, o.DE)
			out.MeanDE += o.DE
			reachable++
		}
	}
	out.MeanDE /= float64(reachable)
	return out
}

const mostParts = 8

// nearestRecipe tries every recipe of at most mostParts parts.
func nearestRecipe(p *solver.Problem, t solver.Target, ids []int) solver.Outcome {
	best := solver.Outcome{Target: t.Name, Lab: t.Lab, DE: math.Inf(1)}
	var paints []film.Paint
	for _, i := range ids {
		paints = append(paints, p.Tubes[i].Paint)
	}
	amounts := make([]float64, len(ids))
	var try func(k, left int)
	try = func(k, left int) {
		if k == len(ids) {
			if left == mostParts {
				return
			}
			var mix film.Paint
			film.Mix(&mix, paints, amounts)
			seen := mix.Masstone(p.Surface)
			lab := p.Light.Lab(&seen)
			if de := colour.DE2000(lab, t.Lab); de < best.DE {
				best.Mix, best.DE, best.PartsDE = lab, de, de
				best.Shares, best.Parts = nil, nil
				for j, a := range amounts {
					if a > 0 {
						id := p.Tubes[ids[j]].ID
						best.Shares = append(best.Shares, solver.Share{ID: id, Fraction: a / float64(mostParts-left)})
						best.Parts = append(best.Parts, solver.Part{ID: id, Parts: int(a)})
					}
				}
			}
			return
		}
		for n := 0; n <= left; n++ {
			amounts[k] = float64(n)
			try(k+1, left-n)
		}
		amounts[k] = 0
	}
	try(0, mostParts)
	best.Reached = best.DE <= t.Tolerance
	return best
}

func fixture() *Choice {
	p := fixtureProblem()
	return NewChoice(Scene{Title: "Salt marsh at ebb tide", Tolerance: 6, Limits: []string{"at most 5 tubes"}}, p, fixtureAnswer(p))
}
