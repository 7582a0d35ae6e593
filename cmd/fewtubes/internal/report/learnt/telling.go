package learnt

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/gamut/film"
)

// Telling chooses mixtures of some tubes that would teach most about others, and says within what
// nine in ten of them are foretold.
func Telling(ctx context.Context, tubes []catalog.Tube, all *catalog.Catalogue, asked *Mixtures, noise float64, n int) (trials *Mixtures, told []film.Telling, within []float64, err error) {
	trials = Common(tubes, true)
	priors := make([]film.Prior, len(tubes))
	for i := range tubes {
		priors[i] = PriorOf(&tubes[i])
	}
	l, err := film.Learn(ctx, nil, priors, film.DefaultLearn(all.Scale()))
	if err != nil {
		return nil, nil, nil, err
	}
	if told, err = l.Telling(ctx, trials.List, asked.List, noise, n); err != nil {
		return nil, nil, nil, err
	}
	for _, one := range told {
		within = append(within, l.Foretell(&trials.List[one.Mixture]).Within)
	}
	return trials, told, within, nil
}

// PriorOf is a tube as it is known.
func PriorOf(t *catalog.Tube) film.Prior {
	doubt := t.Doubt
	if len(t.Parts) > 0 {
		doubt = t.Basis.Doubt()
	}
	return film.Prior{Paint: t.Paint, Doubt: doubt, White: t.IsWhite()}
}
