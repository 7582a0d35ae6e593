package learnt

import (
	"context"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/gamut/film"
)

// Telling chooses mixtures of some tubes, not painted yet, that would teach most about others beside what a
// record taught, and says within what nine in ten of them are foretold.
func Telling(ctx context.Context, tubes []catalog.Tube, record *owntubes.Lesson, asked *Mixtures, noise float64, n int) (trials *Mixtures, told []film.Telling, within []float64, err error) {
	trials = Common(tubes, true)
	trials.List = slices.DeleteFunc(trials.List, func(m film.Mixture) bool { return record.Holds(tubes, &m) })
	among, about := record.Among(tubes, trials.List), record.Among(tubes, asked.List)
	if told, err = record.Learnt.Telling(ctx, among, about, noise, n); err != nil {
		return nil, nil, nil, err
	}
	for _, one := range told {
		within = append(within, record.Learnt.Foretell(&among[one.Mixture]).Within)
	}
	return trials, told, within, nil
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
func ToPaint(ctx context.Context, tubes []catalog.Tube, record *owntubes.Lesson, asked *Mixtures, noise float64) (*Sheet, error) {
	out := &Sheet{}
	var err error
	if out.Trials, out.Told, out.Within, err = Telling(ctx, tubes, record, asked, noise, mostTelling); err != nil {
		return nil, err
	}
	for _, one := range out.Told {
		row := make([]int, len(tubes))
		for k, a := range out.Trials.List[one.Mixture].Amounts {
			row[k] = int(a)
		}
		out.Parts, out.Words = append(out.Parts, row), append(out.Words, out.Trials.inSentence(one.Mixture))
	}
	return out, nil
}
