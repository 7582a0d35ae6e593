package sample

import (
	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
)

// WorkingSize is the longer side, pixels, to which pictures are averaged before
// they are sampled: a leaf ten pixels wide in a phone's picture still shows.
const WorkingSize = 640

// Options say how to sample.
type Options struct {
	Targets   int                // how many colours, over all pictures; >= 1
	Planes    []scene.PlaneShape // the same for every picture; may be empty
	FitValues bool               // move values into what paint can show
	Curve     *values.Curve      // move them by this instead; may be nil

	// Stock are tubes of which a palette is chosen for the colours, to see to it that it
	// covers the pictures; nil: that is not looked at.
	Stock *catalog.Catalogue
}

// Source is a picture, what it is called and what is known of it.
type Source struct {
	Name, File string
	Picture    *photo.Picture
	Planes     []scene.PlaneShape // empty: those of the options
	Distances  scene.Distances
	Crop       []float64 // as of scene.Photo
}

// cover is how much of a pixel counts, 0..1.
func (s *Source) cover(i int) float64 {
	if len(s.Crop) == 4 {
		x, y := s.place(i)
		if x < s.Crop[0] || x > s.Crop[2] || y < s.Crop[1] || y > s.Crop[3] {
			return 0
		}
	}
	return s.Picture.CoverAt(i)
}

// Check says that nothing of the picture counts, if that is so.
func (s *Source) Check() error {
	for i := range s.Picture.Pix {
		if s.cover(i) > 0 {
			return nil
		}
	}
	return &scene.Error{File: s.File, Msg: "no pixel lies within its crop", Remedy: "crop less of it"}
}

// place is the middle of a pixel, in fractions.
func (s *Source) place(i int) (x, y float64) {
	return (float64(i%s.Picture.W) + 0.5) / float64(s.Picture.W), (float64(i/s.Picture.W) + 0.5) / float64(s.Picture.H)
}

func (s *Source) planes(o *Options) []scene.PlaneShape {
	if len(s.Planes) > 0 {
		return s.Planes
	}
	return o.Planes
}
