package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
	"fewtubes/gamut/portable"
)

const coveragePath = "cmd/refit/tables/doubt.csv"

const coverageHead = `# Whether the doubt of a tube is as wide as makers differ. Each line is one pigment of two makers: "tube" as one of them has it, "against" the
# other. masstone, tint: CIEDE2000 between them (the tint at the strength where it is nearest); strength: how many times as strong.
# k_shape, scattering, s_shape: the spread that all other pairs of the kind ask for; drawn_*: what half and nine tenths of
# the tubes drawn with it lie within. inside: where this pair falls, 50, 90 or beyond. k_level, s_level: what "against" has more of ln K
# and ln S, the mean over 400-700 nm. Written by the refit command: do not edit.
`

// makerPair is one pigment of two makers.
type makerPair struct {
	kind    string // measured or chart
	id      string
	against string
	base    *film.Paint
	apart   likeness
	k, s    float64 // what the other has more of ln K and ln S, the mean over 400-700 nm
}

func newMakerPair(kind, id, against string, base, other, white *film.Paint) makerPair {
	p := makerPair{kind: kind, id: id, against: against, base: base, apart: likenessTo(newSwatch(other, white), base, white)}
	n := 0.0
	for b := range base.K {
		if nm := colour.StartNM + b*colour.StepNM; nm >= 400 && nm <= 700 {
			p.k, p.s, n = p.k+portable.Log(other.K[b]/base.K[b]), p.s+portable.Log(other.S[b]/base.S[b]), n+1
		}
	}
	p.k, p.s = p.k/n, p.s/n
	return p
}

// makers are the sets by who made the paints.
var makers = [][]string{{berns, okumura}, {films}, {oils}}

// makerPairs are the pigments of the derivations that two makers have.
func (d *deriver) makerPairs() (measured, onChart []makerPair, err error) {
	white := d.done[scaleTube]
	for _, s := range d.order {
		if s.method != "readings" || s.id == scaleTube {
			continue
		}
		var paints []*film.Paint
		var names []string
		for _, sets := range makers {
			p, name, err := d.ofMaker(s, sets)
			if err != nil {
				return nil, nil, err
			}
			if p != nil {
				paints, names = append(paints, p), append(names, name)
			}
		}
		for i := range paints {
			for j := i + 1; j < len(paints); j++ {
				measured = append(measured, newMakerPair("measured", s.id, names[j], paints[i], paints[j], white))
			}
		}
		if s.onChart() == nil || len(paints) == 0 {
			continue
		}
		patch, err := d.withoutIts(s).foretold(s, slices.Concat(makers...))
		if err != nil {
			return nil, nil, err
		}
		like, err := d.foretold(s, []string{chart})
		if err != nil {
			return nil, nil, err
		}
		onChart = append(onChart, newMakerPair("chart", s.id, listed(d.foretoldFrom(s, []string{chart})), &patch, &like, white))
	}
	return measured, onChart, nil
}

// ofMaker is the mean of a maker's paints of a pigment; nil if there is none.
func (d *deriver) ofMaker(s derivation, sets []string) (*film.Paint, string, error) {
	var paints []*film.Paint
	var from []source
	for _, r := range slices.Concat(s.readings, s.otherwise) {
		if slices.Contains(sets, r.set) {
			p, err := d.reading(r, s.group)
			if err != nil {
				return nil, "", err
			}
			paints, from = append(paints, p), append(from, r)
		}
	}
	if len(paints) == 0 {
		return nil, "", nil
	}
	m := meanPaint(paints)
	return &m, listed(from), nil
}

// The spreads tried: shapes of K, and scattering and shape of S, the two in the
// proportion that trials found for each kind. Strength is read off the pairs.
var (
	kShapes     = []float64{0.10, 0.13, 0.16, 0.20, 0.25, 0.32, 0.40, 0.50, 0.65, 0.80}
	multiples   = []float64{1, 0.75, 1.25}
	proportions = map[string]doubt.Spread{"measured": {Scattering: 0.4, SShape: 0.4}, "chart": {Scattering: 0.3, SShape: 0.4}}
)

// quantiles are what half and nine tenths of drawn tubes lie within, CIEDE2000.
type quantiles struct{ masstone, tint [2]float64 }

// drawnTubes of each pair for each spread.
const drawnTubes = 100

func quantilesOf(p *makerPair, spread doubt.Spread, white *film.Paint) quantiles {
	source, seen := doubt.NewSource(p.id), newSwatch(p.base, white)
	var masstones, tints []float64
	for n := range drawnTubes {
		z := source.Standard(n + 1)
		off := spread.Deviation(&z)
		var other film.Paint
		p.base.Deviate(&other, &off)
		k := likenessTo(seen, &other, white)
		masstones, tints = append(masstones, k.masstone), append(tints, k.tint)
	}
	at := func(v []float64) [2]float64 {
		slices.Sort(v)
		return [2]float64{v[drawnTubes/2], v[drawnTubes*9/10]}
	}
	return quantiles{at(masstones), at(tints)}
}

// covered is one pair with the spread the others ask for.
type covered struct {
	makerPair
	spread doubt.Spread
	drawn  quantiles
}

// coverage chooses for each pair of a kind the spread that the other pairs ask
// for: the one under which the share of them inside the drawn 50 % and 90 % is nearest
// to that, for masstone and tint together. all is the one that all pairs ask for.
func coverage(pairs []makerPair, white *film.Paint) (lines []covered, all doubt.Spread) {
	start := proportions[pairs[0].kind]
	var spreads []doubt.Spread
	var drawn [][]quantiles
	for _, k := range kShapes {
		for _, m := range multiples {
			s := doubt.Spread{Scattering: m * start.Scattering, SShape: m * start.SShape, KShape: k}
			var of []quantiles
			for i := range pairs {
				of = append(of, quantilesOf(&pairs[i], s, white))
			}
			spreads, drawn = append(spreads, s), append(drawn, of)
		}
	}
	choose := func(without int) int {
		best, least := 0, math.Inf(1)
		for i := range spreads {
			off := offCoverage(pairs, drawn[i], without)
			if off < least-1e-9 {
				best, least = i, off
			}
		}
		return best
	}
	for i, p := range pairs {
		at := choose(i)
		s := spreads[at]
		s.Strength = strengthSpread(pairs, i)
		lines = append(lines, covered{p, s, drawn[at][i]})
	}
	all = spreads[choose(-1)]
	all.Strength = strengthSpread(pairs, -1)
	return lines, all
}

// offCoverage is how far the shares of pairs inside the drawn 50 % and 90 % lie off.
func offCoverage(pairs []makerPair, drawn []quantiles, without int) (off float64) {
	var inside [2][2]float64
	n := 0.0
	for i := range pairs {
		if i == without {
			continue
		}
		n++
		for k := range 2 {
			if pairs[i].apart.masstone <= drawn[i].masstone[k] {
				inside[0][k]++
			}
			if pairs[i].apart.tint <= drawn[i].tint[k] {
				inside[1][k]++
			}
		}
	}
	for _, v := range inside {
		off += square(v[0]/n-0.5) + square(v[1]/n-0.9)
	}
	return off
}

// strengthSpread is the root mean square of log strength.
func strengthSpread(pairs []makerPair, without int) float64 {
	sum, n := 0.0, 0.0
	for i, p := range pairs {
		if i != without {
			sum += square(portable.Log(p.apart.strength))
			n++
		}
	}
	return math.Sqrt(sum / n)
}

// inside says which of the drawn quantiles v falls within.
func inside(v float64, q [2]float64) string {
	switch {
	case v <= q[0]:
		return "50"
	case v <= q[1]:
		return "90"
	}
	return "beyond"
}

func coverageCSV(lines []covered) ([]byte, error) {
	records := [][]string{strings.Split("kind,tube,against,masstone,tint,strength,strength_spread,k_shape,scattering,s_shape,"+
		"drawn_masstone_50,drawn_masstone_90,drawn_tint_50,drawn_tint_90,masstone_inside,tint_inside,k_level,s_level", ",")}
	f := func(format string, v ...float64) (out []string) {
		for _, x := range v {
			out = append(out, fmt.Sprintf(format, x))
		}
		return out
	}
	for _, l := range lines {
		record := []string{l.kind, l.id, l.against}
		record = append(record, f("%.1f", l.apart.masstone, l.apart.tint)...)
		record = append(record, f("%.2f", l.apart.strength, l.spread.Strength, l.spread.KShape, l.spread.Scattering, l.spread.SShape)...)
		record = append(record, f("%.1f", l.drawn.masstone[0], l.drawn.masstone[1], l.drawn.tint[0], l.drawn.tint[1])...)
		record = append(record, inside(l.apart.masstone, l.drawn.masstone), inside(l.apart.tint, l.drawn.tint))
		records = append(records, append(record, f("%.2f", l.k, l.s)...))
	}
	return csvText(coverageHead, records)
}

func square(x float64) float64 { return x * x }
