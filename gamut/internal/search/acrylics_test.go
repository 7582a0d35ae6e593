package search

import (
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
)

func acrylics(t testing.TB) []film.Paint {
	_, paints := samples.Acrylics(t, "../../testdata/acrylics.csv")
	return paints
}

// dry are paints in dry films under daylight.
func dry(paints []film.Paint, limit int) *Paints { return New(paints, film.Dry, colour.D65(), limit) }

func acrylicMixer(t testing.TB) *Paints { return dry(acrylics(t), 4) }
