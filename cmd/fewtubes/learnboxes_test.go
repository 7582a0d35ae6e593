package main

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Thirty boxes of the demo's palette, drawn from the doubt: after the six swatches that chart
// --learn names, read by an instrument, the literal recipe for a colour of the scene that the box
// can reach is within the tolerance far more often; six swatches chosen by chance teach less.
func TestSixSwatchesTeachABox(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	const boxes, six = 30, 6
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	s, err := scene.Read("../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	var tubes []catalog.Tube
	for _, id := range []string{"titanium-white", "hansa-yellow-medium", "quinacridone-magenta", "prussian-blue", "transparent-yellow-oxide"} {
		tube, err := all.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		tubes = append(tubes, tube)
	}
	asked, err := learnt.ForScene(&s, tubes, all)
	if err != nil {
		t.Fatal(err)
	}
	noise := readings.Instrument.Noise()
	lesson, err := owntubes.New("").TeachAmong(all, idsOf(tubes))
	if err != nil {
		t.Fatal(err)
	}
	trials, told, _, err := learnt.Telling(context.Background(), tubes, lesson, asked, noise, six)
	if err != nil {
		t.Fatal(err)
	}
	surface, whole := all.Surface(film.AsDried), set.Full(len(tubes))
	labOf := func(paints []film.Paint, m *film.Mixture) colour.Lab {
		var mix film.Paint
		film.Mix(&mix, paints, m.Amounts)
		seen := mix.Masstone(surface)
		return colour.D65().Lab(&seen)
	}
	priors := make([]film.Prior, len(tubes))
	nominal := make([]film.Paint, len(tubes))
	for i := range tubes {
		priors[i], nominal[i] = film.Prior{Paint: tubes[i].Paint, Doubt: tubes[i].Doubt, White: tubes[i].IsWhite()}, tubes[i].Paint
	}
	drawn, rng := catalog.NewBoxes(tubes), rand.New(rand.NewPCG(22, 6))
	truth := make([]film.Paint, len(tubes))
	met, n := map[string]int{}, 0
	for box := 1; box <= boxes; box++ {
		drawn.Draw(box, truth)
		mixer := func(paints []film.Paint) *gamut.Mixer {
			m, err := gamut.NewMixer(paints, gamut.Options{Surface: surface})
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		learn := func(choice []int) []film.Paint {
			var swatches []film.Swatch
			for _, i := range choice {
				m := trials.List[i]
				lab := labOf(truth, &m)
				off := func() float64 { return rng.NormFloat64() * noise / math.Sqrt(3) }
				swatches = append(swatches, film.Swatch{Mixture: m, Seen: colour.Lab{L: lab.L + off(), A: lab.A + off(), B: lab.B + off()}, Noise: noise})
			}
			l, err := film.Learn(context.Background(), swatches, priors, film.DefaultLearn(all.Scale()))
			if err != nil {
				t.Fatal(err)
			}
			paints := make([]film.Paint, len(tubes))
			for p := range paints {
				paints[p] = l.Paints[p].Paint
			}
			return paints
		}
		var chosen []int
		for _, one := range told {
			chosen = append(chosen, one.Mixture)
		}
		boxesAs := map[string]*gamut.Mixer{"untaught": mixer(nominal), "six chosen": mixer(learn(chosen)), "six by chance": mixer(learn(rng.Perm(len(trials.List))[:six]))}
		real := mixer(truth)
		for _, target := range s.Targets {
			if real.Closest(target.Lab, whole, gamut.Quick).DE > s.Tolerance {
				continue // no recipe of this box does it
			}
			n++
			for what, m := range boxesAs {
				mix := m.Closest(target.Lab, whole, gamut.Search)
				if colour.DE2000(real.Evaluate(mix.Paints, mix.Shares), target.Lab) <= s.Tolerance {
					met[what]++
				}
			}
		}
	}
	share := func(what string) float64 { return float64(met[what]) / float64(n) }
	t.Logf("%d colours: untaught %.2f, six by chance %.2f, six chosen %.2f", n, share("untaught"), share("six by chance"), share("six chosen"))
	if share("six chosen") < 0.8 || share("six chosen") <= share("six by chance") || share("untaught") > 0.5 {
		t.Errorf("untaught %.2f, six by chance %.2f, six chosen %.2f", share("untaught"), share("six by chance"), share("six chosen"))
	}
}
