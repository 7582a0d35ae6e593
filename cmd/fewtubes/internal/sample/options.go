package sample

import (
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
}

// Source is a picture and what it is called.
type Source struct {
	Name, File string
	Picture    *photo.Picture
}
