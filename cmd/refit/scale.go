package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// twin is one pigment that stands both in a set of readings and among the
// acrylics, whose scale is the catalogue's.
type twin struct{ reading, acrylic string }

// twins of each scale. The paint films have a scale of their own, titanium
// white scattering 1; their twins only show how far the two agree. Its cobalt
// blue U03 is left out: a greener grade, 40 CIEDE2000 from the acrylic's.
var twins = map[string][]twin{
	"films": {{"U11", "PB29"}, {"U12", "PB15:1"}, {"U14", "PV23"}, {"Y13", "PY74"}},
	"oils":  {{"CobaltBlue", "PB28"}, {"UltramarineBlue", "PB29"}, {"BoneBlack", "PBk9"}},
	"inorganic": {
		{"cadmium orange#2", "PO20"}, {"cadmium red light#2", "PR108"}, {"bismuth vanadate yellow light", "PY184"},
		{"cobalt blue medium", "PB28"}, {"ultramarine blue dark", "PB29"}, {"ivory black genuine", "PBk9"},
	},
	"organic": {
		{"pyrrole red#2", "PR254"}, {"quinacridone red#2", "PV19"}, {"quinacridone pink#2", "PR122"},
		{"azo yellow medium#2", "PY74"}, {"phthalocyanine blue", "PB15:1"},
	},
}

// scaleNames is the order of the report.
var scaleNames = []string{"films", "oils", "inorganic", "organic"}

// findScales measures how many times the K of the acrylics each set shows: the
// geometric mean over its twins.
func findScales(p *published, log io.Writer) (map[string]float64, error) {
	sets := map[string]map[string]*film.Paint{"films": p.films, "oils": p.oils, "inorganic": p.patches, "organic": p.patches}
	scales := map[string]float64{}
	for _, name := range scaleNames {
		var logs []float64
		for _, t := range twins[name] {
			a, b := sets[name][t.reading], p.acrylics[t.acrylic]
			if a == nil || b == nil {
				return nil, fmt.Errorf("scale %s: %s or %s was not read", name, t.reading, t.acrylic)
			}
			r := absorption(a, b)
			fmt.Fprintf(log, "scale %-10s %-30s K is %6.3f times that of %s\n", name, t.reading, portable.Exp(r), t.acrylic)
			logs = append(logs, r)
		}
		mean, spread := meanAndSpread(logs)
		fmt.Fprintf(log, "scale %-10s geometric mean %.3f, each within a factor of about %.2f\n", name, portable.Exp(mean), portable.Exp(spread))
		scales[name] = portable.Exp(mean)
	}
	return scales, nil
}

// absorption is the median over bands of log(K of a / K of b), where b absorbs
// more than in its middling band: the strength a painter sees in a tint.
func absorption(a, b *film.Paint) float64 {
	sorted := slices.Clone(b.K[:])
	slices.Sort(sorted)
	middle := sorted[len(sorted)/2]
	var logs []float64
	for i := range b.K {
		if b.K[i] >= middle {
			logs = append(logs, portable.Log(a.K[i]/b.K[i]))
		}
	}
	slices.Sort(logs)
	return (logs[(len(logs)-1)/2] + logs[len(logs)/2]) / 2
}

func meanAndSpread(v []float64) (mean, spread float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		spread += (x - mean) * (x - mean) / float64(len(v)-1)
	}
	return mean, math.Sqrt(spread)
}
