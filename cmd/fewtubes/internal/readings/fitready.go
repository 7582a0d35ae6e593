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
// order of Tubes. Densities in the file go before those known. Samples whose
// density or ground is not known are left out, unless none remains. All films whose
// thickness is not known share one, but for those named; OwnFilms gives each its own.
func (set *Set) ForFit(known Density) (tubes []string, out []film.Reading, leftOut []error, err error) {
	density := set.Densities()
	charts := set.charts()
	var usable []*Sample
	for i := range set.Samples {
		s := &set.Samples[i]
		if len(s.Parts) == 0 {
			continue
		}
		if err := set.usable(s, density, known, charts); err != nil {
			leftOut = append(leftOut, err)
			continue
		}
		usable = append(usable, s)
	}
	if len(usable) == 0 && len(leftOut) > 0 {
		return nil, nil, nil, leftOut[0]
	}
	if len(usable) == 0 {
		return nil, nil, nil, set.wrong(0, "", "it holds bare charts only", "add readings of paint")
	}
	tubes = tubesOf(usable)
	if len(tubes) > maxTubes {
		return nil, nil, nil, set.wrong(0, "", fmt.Sprintf("%d tubes are more than the %d fitted at once", len(tubes), maxTubes), "split the file by tubes")
	}
	for _, s := range usable {
		r := film.Reading{Name: s.Name, Amounts: make([]float64, len(tubes)), Backing: charts[s.Backing], Seen: s.Seen, Have: s.Have, Thickness: s.Thickness, Film: s.Film}
		for _, p := range s.Parts {
			k, _ := slices.BinarySearch(tubes, p.Tube)
			r.Amounts[k] = s.Volume(p, density, known)
		}
		out = append(out, r)
	}
	return tubes, out, leftOut, nil
}

// usable says why a sample cannot be fitted; nil if it can.
func (set *Set) usable(s *Sample, density map[string]float64, known Density, charts map[Backing]*colour.Spectrum) error {
	for _, p := range s.Parts {
		if s.Volume(p, density, known) == 0 {
			return set.wrong(s.Line, fmt.Sprintf("sample %q", clip(s.Name)), "it is weighed, and the density of "+p.Tube+" is not known", "write it once in g/ml, as in 2 g "+p.Tube+" @1.6")
		}
	}
	if s.Backing != Opaque && charts[s.Backing] == nil {
		return set.wrong(s.Line, fmt.Sprintf("sample %q", clip(s.Name)), fmt.Sprintf("it lies over %s, and the bare chart was not read", s.Backing), fmt.Sprintf("add a reading called bare %s", s.Backing))
	}
	return nil
}

// Volume of a part on a scale common to its recipe; 0 where its density is needed and
// not known. Densities written go before those known.
func (r *Recipe) Volume(p Part, density map[string]float64, known Density) float64 {
	if !r.ByWeight || len(r.Parts) == 1 {
		return p.Amount
	}
	d := density[p.Tube]
	if d == 0 {
		d = known(p.Tube)
	}
	if d == 0 {
		return 0
	}
	return p.Amount / d
}

// tubesOf lists the tubes of some samples, sorted.
func tubesOf(samples []*Sample) []string {
	var out []string
	for _, s := range samples {
		for _, p := range s.Parts {
			out = append(out, p.Tube)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// OwnFilms gives every film whose thickness is not known one of its own, common to
// the readings of one recipe, whatever they lie over. ok is false where there
// are not two such films to tell apart.
func OwnFilms(found []film.Reading) (out []film.Reading, ok bool) {
	out = slices.Clone(found)
	names := map[string]bool{}
	for i := range out {
		if r := &out[i]; r.Backing != nil && r.Thickness == 0 && r.Film == "" {
			r.Film = mixture(r.Amounts)
			names[r.Film] = true
		}
	}
	return out, len(names) > 1
}

// mixture names a recipe by its shares.
func mixture(amounts []float64) string {
	sum := 0.0
	for _, a := range amounts {
		sum += a
	}
	var words []string
	for k, a := range amounts {
		if a > 0 {
			words = append(words, fmt.Sprintf("%d:%.4g", k, a/sum))
		}
	}
	return strings.Join(words, " ")
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
