package packing

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Job is the picture to be painted. The defaults are common practice, no
// source: the plan states them beside its figures.
type Job struct {
	WidthCM, HeightCM float64
	Coats             int
	FilmMM            float64 // of one coat, wet
	Waste             float64 // paint left on palette, knife and brush, as a fraction of what is laid
}

const (
	DefaultCoats  = 1
	DefaultFilmMM = 0.2 // direct painting; a thin first coat is about half, knife work five times as much
	DefaultWaste  = 0.3
)

// limits a painter may have meant; beyond them a figure is a slip.
const (
	mostSideCM = 1000
	mostCoats  = 20
	mostFilmMM = 10
	mostWaste  = 3
)

var sizeForm = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*(mm|cm|m|in)?$`)

// ParseSize reads a picture size such as "30x40cm", "300x400mm" or "12x16in";
// without a unit it is centimetres.
func ParseSize(text string) (widthCM, heightCM float64, err error) {
	m := sizeForm.FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if m == nil {
		return 0, 0, fmt.Errorf("size %.40q not understood; write width x height with a unit (mm, cm, m or in), as in 30x40cm", text)
	}
	unit := map[string]float64{"mm": 0.1, "": 1, "cm": 1, "m": 100, "in": 2.54}[m[3]]
	w, errW := strconv.ParseFloat(m[1], 64)
	h, errH := strconv.ParseFloat(m[2], 64)
	w, h = w*unit, h*unit
	if errW != nil || errH != nil || !(w >= 1 && w <= mostSideCM && h >= 1 && h <= mostSideCM) {
		return 0, 0, fmt.Errorf("size %.40q cannot be painted; each side goes from 1 cm to %d cm", text, mostSideCM)
	}
	return w, h, nil
}

// Check refuses figures no picture has.
func (j Job) Check() error {
	switch {
	case !(j.WidthCM > 0 && j.HeightCM > 0):
		return fmt.Errorf("size %v x %v cm: that is no picture; write each side above 0", j.WidthCM, j.HeightCM)
	case j.Coats < 1 || j.Coats > mostCoats:
		return fmt.Errorf("%d coats cover nothing; write 1 to %d", j.Coats, mostCoats)
	case !(j.FilmMM > 0 && j.FilmMM <= mostFilmMM):
		return fmt.Errorf("a film of %v mm is none; write above 0, up to %d mm", j.FilmMM, mostFilmMM)
	case !(j.Waste >= 0 && j.Waste <= mostWaste):
		return fmt.Errorf("a waste of %v is none; write it as a fraction, 0 to %d, such as 0.3 for 30 %%", j.Waste, mostWaste)
	}
	return nil
}

// laidML is the paint on the picture.
func (j Job) laidML() float64 {
	return j.WidthCM * j.HeightCM * j.FilmMM / 10 * float64(j.Coats)
}

// SqueezedML is the paint that leaves the tubes.
func (j Job) SqueezedML() float64 { return j.laidML() * (1 + j.Waste) }

// tenths rounds to one decimal.
func tenths(v float64) float64 { return math.Round(v*10) / 10 }
