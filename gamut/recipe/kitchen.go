package recipe

import (
	"cmp"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
)

// Limits are what a recipe may take.
type Limits struct {
	Total    int // parts together; 0: DefaultTotal
	Prepared int // piles prepared for all recipes together: 0 to MostPrepared
	Bases    int // that Propose may propose: 0 to MostBases

	// Hand, where it is not nil, keeps to recipes of a palette mixed by hand: what
	// serves is as ByHand has it, and nothing else is let down.
	Hand *Hand
}

// MostPrepared is the most piles that are prepared for a palette: more would not
// leave room to mix.
const MostPrepared = 3

// Kitchen is a palette at hand, with every pile that could be made of it. Of more
// than twelve tubes it uses the twelve that the nearest mixes take most, except by
// Hand. It is safe for concurrent use.
type Kitchen struct {
	wide        *wide // where there are too many tubes to count out all recipes
	tubes       int
	most        int // ingredients, and paints
	limits      Limits
	piles       pileLimits
	ingredients []Ingredient                    // tubes, then piles
	mixer       *gamut.Mixer                    // of the ingredients
	sketch      *kernel.Sketcher                // of the ingredients
	divisions   [mostIngredients + 1][]division // by number of ingredients
	volumes     [mostIngredients + 1][]kernel.Volumes
}

// NewKitchen lays out a palette. It refuses what gamut.NewMixer refuses.
// Options.PaintsPerMix counts as there, up to four.
func NewKitchen(paints []film.Paint, opt gamut.Options, limits Limits) (*Kitchen, error) {
	if limits.Hand != nil {
		return layOut(paints, limits.Hand.piles(paints), opt, limits)
	}
	if len(paints) > mostTubes {
		m, err := gamut.NewMixer(paints, opt)
		if err != nil {
			return nil, err
		}
		return &Kitchen{wide: &wide{paints, m, opt, limits}}, nil
	}
	return layOut(paints, pilesOf(paints), opt, limits)
}

// layOut is a kitchen of any number of tubes and of these piles.
func layOut(paints []film.Paint, piles []Ingredient, opt gamut.Options, limits Limits) (*Kitchen, error) {
	if limits.Total <= 0 {
		limits.Total = DefaultTotal
	}
	limits.Total = min(limits.Total, mostIngredients*mostOfOne)
	k := &Kitchen{tubes: len(paints), limits: limits, piles: anyPiles}
	if limits.Hand != nil {
		k.piles = handful
	}
	for p := range paints {
		k.ingredients = append(k.ingredients, Ingredient{Paint: p})
	}
	k.ingredients = append(k.ingredients, piles...)
	all := make([]film.Paint, len(k.ingredients))
	for i, in := range k.ingredients {
		all[i] = in.film(paints)
	}
	m, err := gamut.NewMixer(all, opt)
	if err != nil {
		return nil, err
	}
	k.mixer = m
	optics := kernel.NewOptics(opt.Surface, cmp.Or(opt.Light, colour.D65()))
	k.sketch = kernel.NewSketcher(all, &optics)
	k.most = min(m.PaintsPerMix(), mostIngredients, k.tubes)
	for n := range k.divisions {
		k.divisions[n] = divisions(n, limits.Total)
		k.volumes[n] = volumesOf(k.divisions[n])
	}
	return k, nil
}

// film is an ingredient, per volume.
func (i Ingredient) film(paints []film.Paint) film.Paint {
	if !i.LetDown() {
		return paints[i.Paint]
	}
	var out film.Paint
	n := float64(i.Ratio)
	film.Mix(&out, []film.Paint{paints[i.Paint], paints[i.Into]}, []float64{1 / (n + 1), n / (n + 1)})
	return out
}

// pilesOf are all piles of a strong paint in a weaker one, the usual ratio first.
func pilesOf(paints []film.Paint) (out []Ingredient) {
	strength := make([]float64, len(paints))
	for p := range paints {
		strength[p] = Strength(&paints[p])
	}
	for _, ratio := range Ratios {
		for strong := range paints {
			for weak := range paints {
				if portable.Compare(strength[strong], strength[weak], portable.Fine) > 0 {
					out = append(out, Ingredient{strong, weak, ratio})
				}
			}
		}
	}
	return out
}

// Strength is how much light a volume of paint takes away: its K, mean over the
// bands. In one and the same white the K/S of a tint, by which tinting strength is
// told (ASTM D4838, from memory), grows with it; whites have next to none, so a
// white is not let down in a colour.
func Strength(p *film.Paint) (mean float64) {
	for _, k := range p.K {
		mean += k / colour.Bands
	}
	return mean
}
