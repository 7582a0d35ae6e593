package readings

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Density knows the density of a tube in g/ml; 0: not known.
type Density func(tube string) float64

// ForFit turns the samples into what film.Fit takes, with the tubes in the
// order of Tubes. Densities in the file go before those known. Where each is
// true, every film not named has a thickness of its own, otherwise all share one.
func (set *Set) ForFit(known Density, each bool) (tubes []string, out []film.Reading, err error) {
	tubes = set.Tubes()
	if len(tubes) > maxTubes {
		return nil, nil, set.wrong(0, "", fmt.Sprintf("%d tubes are more than the %d fitted at once", len(tubes), maxTubes), "split the file by tubes")
	}
	density := set.Densities()
	charts := set.charts()
	for i := range set.Samples {
		s := &set.Samples[i]
		if len(s.Parts) == 0 {
			continue
		}
		r := film.Reading{Name: s.Name, Amounts: make([]float64, len(tubes)), Seen: s.Seen, Have: s.Have, Thickness: s.Thickness, Film: s.Film}
		for _, p := range s.Parts {
			volume := p.Amount
			if s.ByWeight && len(s.Parts) > 1 {
				d := density[p.Tube]
				if d == 0 {
					d = known(p.Tube)
				}
				if d == 0 {
					return nil, nil, set.wrong(s.Line, fmt.Sprintf("sample %q", clip(s.Name)), "it is weighed, and the density of "+p.Tube+" is not known", "write it once in g/ml, as in 2 g "+p.Tube+" @1.6")
				}
				volume /= d
			}
			k, _ := slices.BinarySearch(tubes, p.Tube)
			r.Amounts[k] = volume
		}
		if s.Backing != Opaque {
			chart := charts[s.Backing]
			if chart == nil {
				return nil, nil, set.wrong(s.Line, fmt.Sprintf("sample %q", clip(s.Name)), fmt.Sprintf("it lies over %s, and the bare chart was not read", s.Backing), fmt.Sprintf("add a reading called bare %s", s.Backing))
			}
			r.Backing = chart
			if each && r.Film == "" && r.Thickness == 0 {
				r.Film = mixture(s.Parts)
			}
		}
		out = append(out, r)
	}
	if len(out) == 0 {
		return nil, nil, set.wrong(0, "", "it holds bare charts only", "add readings of paint")
	}
	return tubes, out, nil
}

// mixture names a recipe whatever it lies over, so that one film read over
// white and over black has one thickness.
func mixture(parts []Part) string {
	var words []string
	for _, p := range parts {
		words = append(words, fmt.Sprintf("%g %s", p.Amount, p.Tube))
	}
	return strings.Join(words, " + ")
}

// Densities are those the file states in g/ml, the first for each tube.
func (set *Set) Densities() map[string]float64 {
	out := map[string]float64{}
	for _, s := range set.Samples {
		for _, p := range s.Parts {
			if p.Density > 0 && out[p.Tube] == 0 {
				out[p.Tube] = p.Density
			}
		}
	}
	return out
}

// charts are the means of the bare readings of each backing, level beyond the
// bands read.
func (set *Set) charts() map[Backing]*colour.Spectrum {
	out := map[Backing]*colour.Spectrum{}
	count := map[Backing]float64{}
	for _, s := range set.Samples {
		if len(s.Parts) > 0 || s.Backing == Opaque {
			continue
		}
		if out[s.Backing] == nil {
			out[s.Backing] = new(colour.Spectrum)
		}
		count[s.Backing]++
		for b, v := range film.Level(s.Seen, &s.Have) {
			out[s.Backing][b] += v
		}
	}
	for b, s := range out {
		for i := range s {
			s[i] /= count[b]
		}
	}
	return out
}
