package main

import (
	"context"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/solver"
)

// lookedAt are the scene's photographs once they have been looked at, which goes on
// beside the choice of a palette.
type lookedAt struct {
	done   chan struct{}
	photos report.Photographs
	err    error
}

// look begins to look at the photographs of a scene.
func (q *question) look(ctx context.Context) *lookedAt {
	l := &lookedAt{done: make(chan struct{}), photos: report.Photographs{Tolerance: q.scene.Tolerance}}
	go func() {
		defer close(l.done)
		l.err = l.read(ctx, q.scene.Photos, q.from.scene)
	}()
	return l
}

func (l *lookedAt) read(ctx context.Context, photos []scene.Photo, beside string) error {
	var sources []sample.Source
	var curves []*values.Curve
	for _, p := range photos {
		p.File = besideScene(beside, p.File)
		source, curve, err := brushSource(ctx, &p, sample.UsualBrush)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			l.photos.Unread = append(l.photos.Unread, report.Unread{Name: p.Name, Why: plain.Clean(asMistake(err).Error())})
			continue
		}
		l.photos.Names = append(l.photos.Names, p.Name)
		sources, curves = append(sources, source), append(curves, curve)
	}
	if len(sources) == 0 {
		return nil
	}
	var err error
	l.photos.Brushed, err = sample.Brush(ctx, sources, curves, sample.UsualBrush)
	return err
}

// brushSource opens a photograph to be looked at with a brush of some width, and finds the curve that
// moves its values.
func brushSource(ctx context.Context, p *scene.Photo, brush float64) (s sample.Source, curve *values.Curve, err error) {
	whole, err := photo.OpenWhole(ctx, p.File)
	if err != nil {
		return s, nil, err
	}
	picture, err := whole.Averaged(ctx, sample.SizeFor(whole.W, whole.H, brush))
	if err != nil {
		return s, nil, err
	}
	s = sample.Source{Name: p.Name, File: p.File, Picture: picture, Planes: p.Planes, Crop: p.Crop}
	if err := s.Check(); err != nil {
		return s, nil, err
	}
	return s, movedBy(ctx, p, s), ctx.Err()
}

// movedBy is the curve that moves the values of a photograph: as the scene says where it
// was sampled, else as sample would.
func movedBy(ctx context.Context, p *scene.Photo, s sample.Source) *values.Curve {
	if p.Targets > 0 {
		return p.Values
	}
	return sample.Fitted(ctx, s)
}

// cover says what a palette reaches of the photographs, and what it would with all the
// tubes that limits allow.
func (l *lookedAt) cover(ctx context.Context, session *solver.Session, palette []string, limits *solver.Limits) (c report.Covered, err error) {
	if <-l.done; l.err != nil {
		return c, l.err
	}
	return report.Cover(ctx, session, &l.photos, palette, limits)
}
