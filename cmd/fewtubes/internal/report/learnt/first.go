package learnt

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// First is what the sheet would name first for a palette of a stock and a scene, read by a
// chip; nil where there is nothing to learn. record is what was taught already.
func First(ctx context.Context, session *solver.Session, p *solver.Palette, s *scene.Scene, all *catalog.Catalogue, record *owntubes.Lesson, draws int) (*report.SwatchFirst, error) {
	tubes := make([]catalog.Tube, len(p.Tubes))
	for i, id := range p.Tubes {
		var err error
		if tubes[i], err = all.Get(id); err != nil {
			return nil, err
		}
	}
	asked, err := ForScene(s, tubes, all)
	if err != nil {
		return nil, err
	}
	trials, told, _, err := Telling(ctx, tubes, record, asked, readings.Chip.Noise(), 1)
	if err != nil || len(told) == 0 {
		return nil, err
	}
	first := told[0].Mixture
	out := &report.SwatchFirst{Recipe: trials.Words(first), Words: trials.inSentence(first), Left: told[0].Left}
	seen := trials.colour(first, all)
	f := owntubes.New("")
	f.Swatches = []owntubes.Swatch{{Recipe: out.Recipe, Seen: owntubes.Notation(seen), By: string(readings.Chip)}}
	for _, t := range tubes {
		f.Tubes = append(f.Tubes, owntubes.Tube{Like: t.ID})
	}
	lesson, err := f.Teach(all)
	if err != nil {
		return nil, err
	}
	out.Holds, err = session.ShareKnown(ctx, p, lesson.After.Tubes(), draws)
	return out, err
}
