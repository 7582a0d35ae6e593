package learnt

import (
	"context"
	"fmt"
	"strings"

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

// SheetTitle heads the sheet of mixtures to paint.
const SheetTitle = "Swatches to learn from"

// mostTelling mixtures stand on it.
const mostTelling = 6

// Sheet is the mixtures that would teach most, to be painted and read.
type Sheet struct {
	Trials *Mixtures      // they were chosen from
	Told   []film.Telling // the most telling first; none where nothing is in doubt
	Within []float64      // what nine in ten of each are foretold within, CIEDE2000
	Parts  [][]int        // of the tubes, in their order
	Words  []string
}

// ToPaint chooses for some tubes the mixtures that would teach most about those asked for,
// read with so much noise, CIEDE2000.
func ToPaint(ctx context.Context, tubes []catalog.Tube, all *catalog.Catalogue, asked *Mixtures, noise float64) (*Sheet, error) {
	out := &Sheet{}
	var err error
	if out.Trials, out.Told, out.Within, err = Telling(ctx, tubes, all, asked, noise, mostTelling); err != nil {
		return nil, err
	}
	for _, one := range out.Told {
		row := make([]int, len(tubes))
		var names []string
		for k, a := range out.Trials.List[one.Mixture].Amounts {
			if row[k] = int(a); row[k] > 0 {
				names = append(names, fmt.Sprintf("%d %s", row[k], catalog.InSentence(tubes[k].Name)))
			}
		}
		out.Parts, out.Words = append(out.Parts, row), append(out.Words, strings.Join(names, " + "))
	}
	return out, nil
}
