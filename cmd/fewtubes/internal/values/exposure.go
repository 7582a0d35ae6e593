package values

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/portable"
)

// Card is a grey card in a photograph: a round patch, fractions as in a scene file.
type Card struct {
	X, Y, Radius float64
}

// CardLuminance is that of the usual grey card, 18 % (common practice, no source).
const CardLuminance = 0.18

// ParseCard reads x,y or x,y,radius.
func ParseCard(text string) (c Card, err error) {
	fields := strings.Split(text, ",")
	if len(fields) != 2 && len(fields) != 3 {
		return c, fmt.Errorf("two or three numbers are wanted, %d found; write x,y or x,y,radius as in 0.5,0.9,0.02", len(fields))
	}
	v := [3]float64{2: 0.01}
	for i, f := range fields {
		if v[i], err = strconv.ParseFloat(strings.TrimSpace(f), 64); err != nil {
			return c, fmt.Errorf("%q is not a number; write x,y or x,y,radius as in 0.5,0.9,0.02", plain.Short(f))
		}
		if !(v[i] >= 0 && v[i] <= 1) {
			return c, fmt.Errorf("%q is no fraction of the picture; write 0 to 1", plain.Short(f))
		}
	}
	if v[2] == 0 {
		return c, errors.New("a card of radius 0 covers nothing; write a part of the width such as 0.02")
	}
	return Card{v[0], v[1], v[2]}, nil
}

// CardGain is the factor on linear light that brings a grey card to 18 %.
func CardGain(p *photo.Picture, c Card) (float64, error) {
	r := float64(c.Radius * float64(p.W))
	cx, cy := float64(c.X*float64(p.W)), float64(c.Y*float64(p.H))
	var sum float64
	n := 0
	for y := max(0, int(cy-r)); y <= min(p.H-1, int(cy+r)); y++ {
		for x := max(0, int(cx-r)); x <= min(p.W-1, int(cx+r)); x++ {
			if portable.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy) <= max(r, 1) {
				sum += luminance(p, y*p.W+x)
				n++
			}
		}
	}
	if n == 0 || sum/float64(n) < 0.005 {
		return 0, errors.New("there is no grey card there, the place is black; look where it lies and give x,y as fractions")
	}
	if sum/float64(n) > 0.95 {
		return 0, errors.New("there is no grey card there, the place is white; look where it lies and give x,y as fractions")
	}
	return CardLuminance / (sum / float64(n)), nil
}

// PercentileGain is the factor on the light of a painting that brings it nearest
// to the exposure of its reference: the median ratio of their luminances at
// every tenth of their order. One factor is all an exposure can be, so a
// difference in contrast stays.
func PercentileGain(reference, painting *photo.Picture) float64 {
	a, b := deciles(reference), deciles(painting)
	var ratios []float64
	for i := range a {
		if a[i] > 1e-4 && b[i] > 1e-4 {
			ratios = append(ratios, a[i]/b[i])
		}
	}
	if len(ratios) == 0 {
		return 1
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2]
}

func deciles(p *photo.Picture) (d [9]float64) {
	all := make([]float64, len(p.Pix))
	for i := range p.Pix {
		all[i] = luminance(p, i)
	}
	slices.Sort(all)
	for i := range d {
		d[i] = all[(i+1)*(len(all)-1)/10]
	}
	return d
}

// luminance of linear sRGB, 0..1 (IEC 61966-2-1).
func luminance(p *photo.Picture, i int) float64 {
	c := p.Pix[i]
	return max(0, float64(0.2126*c.R)+float64(0.7152*c.G)+float64(0.0722*c.B))
}
