package page

import (
	"context"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/values"
)

// pictured are the photographs of a scene that are to be looked at beside its answer.
type pictured struct {
	photos []statePhoto
	held   []*dropped
}

// pictures fetches the photographs of a scene that are held or kept; the others are left out.
func (s *Server) pictures(p *reply, from *state) (out pictured, err error) {
	for _, photo := range from.Photos[:min(len(from.Photos), mostPhotos)] {
		if !photo.isHere() {
			continue
		}
		if d, err := s.photograph(p, photo.ID); err == nil {
			out.photos, out.held = append(out.photos, photo), append(out.held, d)
		} else if p.r.Context().Err() != nil {
			return out, context.Cause(p.r.Context())
		}
	}
	return out, nil
}

// brushed looks at the photographs as a broad brush lays them in, values moved as the
// scene has them.
func (of *pictured) brushed(ctx context.Context, tolerance float64) (*report.Photographs, error) {
	out := &report.Photographs{Tolerance: tolerance}
	var sources []sample.Source
	var curves []*values.Curve
	for i, d := range of.held {
		picture, err := d.sampling(ctx)
		if err != nil {
			return nil, err
		}
		photo := &of.photos[i]
		out.Names = append(out.Names, photo.Name)
		sources = append(sources, sample.Source{Name: photo.Name, File: photo.File, Picture: picture, Crop: photo.Crop})
		curves = append(curves, photo.Values)
	}
	var err error
	if len(sources) > 0 {
		out.Brushed, err = sample.Brush(ctx, sources, curves, sample.UsualBrush)
	}
	return out, err
}
