package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const (
	learningPath   = "cmd/refit/tables/learning.csv"
	modelErrorPath = "cmd/refit/tables/model_error.csv"
	clearPath      = "cmd/refit/tables/clear.csv"
)

const learningHead = `# What swatches read as colours alone teach (film.Learn), priors made without the set. films: nine acrylic paints and their white (Levinson,
# Berdahl, Akbari, 2005), taught every choice of their masstones and 1:4 tints over white and over black, or half of those swatches drawn
# by chance, asked 1:9 tints over both grounds ("tint") and 1:1 mixtures as computed from the full readings ("computed"). oils: five
# weighed oils (M. Geldof et al., Heritage Science 6:17, 2018, CC0), taught every choice of so many of
# their samples over white, asked the others, with zinc white ("tint") or bone black ("mixed"). noise: of the readings, root mean
# square CIEDE2000, 8 times drawn; 0: as read. untaught, taught: CIEDE2000, median and mean; not_worse: share of the choices whose mean is no
# worse than untaught; inside: share of the colours within what nine in ten are said to lie within, computed ones without the error of the
# model, which they do not have. Written by the refit command: do not edit.
`

const modelErrorHead = `# The error of the film model, estimated with each paint left out: of the errors tried the least under which 85 % of the other paints'
# colours lie inside "nine in ten", of films and of oils, and where the colours of the paint left out then fall. Sets and kinds as in
# learning.csv, every choice taught, readings as they are. all: from every paint. Written by the refit command: do not edit.
`

const clearHead = `# How many times as thick as it was measured a film without white looks (film.LearnOptions.Clear): masstones of the films of learning.csv over
# white and over black, beside all their tints, thicknesses almost free. others: the median of the other paints' films. all: of every
# paint's. Written by the refit command: do not edit.
`

// pupils are the paint films that a catalogue made without them knows by another
// maker's tube of the same pigment, and two by that of a like one.
var pupils = map[string]string{
	"B13": "burnt-sienna", "R03": "red-oxide", "R09": "naphthol-red", "U03": "cobalt-teal", "U11": "ultramarine-blue",
	"U12": "phthalo-blue-green-shade", "U14": "dioxazine-violet", "Y01": "mars-yellow", "Y13": "hansa-yellow-medium",
}

// class is some paints that learn together.
type class struct {
	names    []string
	priors   []film.Prior
	swatches []film.Swatch
}

// priorWithout is a tube as it would be known without a set.
func (d *deriver) priorWithout(id, set string) (film.Prior, error) {
	s := d.steps[id]
	p, err := d.withoutIts(s).foretold(s, []string{set})
	if err != nil {
		return film.Prior{}, fmt.Errorf("%s: %w", id, err)
	}
	basis := catalog.Measured
	if from := d.foretoldFrom(s, []string{set}); from[0].set == chart {
		basis = catalog.Estimated
	}
	return film.Prior{Paint: p, Doubt: basis.Doubt()}, nil
}

// filmClass are the acrylic films, the white first.
func (d *deriver) filmClass() (*class, error) {
	c := &class{}
	tubes := []string{scaleTube}
	c.names = []string{filmsWhite}
	for _, code := range filmCodes {
		if id := pupils[code]; id != "" {
			c.names, tubes = append(c.names, code), append(tubes, id)
		}
	}
	for i, id := range tubes {
		p, err := d.priorWithout(id, films)
		if err != nil {
			return nil, err
		}
		p.White = i == 0
		c.priors = append(c.priors, p)
	}
	for _, r := range d.films {
		s := film.Swatch{Name: r.Name, Seen: labOf(film.Level(r.Seen, &r.Have))}
		s.Ground, s.Micrometres = r.Backing, r.Thickness
		if c.named(&s, filmCodes, r.Amounts) {
			c.swatches = append(c.swatches, s)
		}
	}
	return c, nil
}

// named gives a swatch its amounts by the names of the class; false where it holds others.
func (c *class) named(s *film.Swatch, names []string, amounts []float64) bool {
	s.Amounts = make([]float64, len(c.names))
	for i, a := range amounts {
		if a == 0 {
			continue
		}
		k := slices.Index(c.names, names[i])
		if k < 0 {
			return false
		}
		s.Amounts[k] = a
	}
	return true
}

// seats are the weighed oils that a catalogue made without them knows, by tube.
var seats = map[string]string{
	"ViridianGreen": "viridian", "UltramarineBlue": "ultramarine-blue", "CobaltBlue": "cobalt-blue", "PrussianBlue": "prussian-blue", "Vermillion": "vermilion",
}

// oilFilm is what a film of the oils is taken for, in micrometres: it was not published.
const oilFilm = 100

// oilClasses are the oils by coloured paint, each with zinc white and bone black. No other
// set has that white: it is known as it was fitted, and in doubt as a measured tube is.
func (d *deriver) oilClasses() (out []*class, err error) {
	black, err := d.priorWithout("ivory-black", oils)
	if err != nil {
		return nil, err
	}
	white := film.Prior{Paint: *d.done["zinc-white"], Doubt: catalog.Measured.Doubt(), White: true}
	for _, name := range oilComponents {
		if seats[name] == "" {
			continue
		}
		p, err := d.priorWithout(seats[name], oils)
		if err != nil {
			return nil, err
		}
		c := &class{names: []string{name, "ZincWhite", "BoneBlack"}, priors: []film.Prior{p, white, black}}
		for _, o := range d.samples {
			ground := o.seen[bare[paintOverWhite]]
			s := film.Swatch{Name: o.name, Seen: labOf(o.seen[paintOverWhite]), Noise: instrument}
			s.Ground, s.Micrometres = &ground, oilFilm
			if c.named(&s, oilComponents, o.volumes) && s.Amounts[0] > 0 {
				c.swatches = append(c.swatches, s)
			}
		}
		out = append(out, c)
	}
	return out, nil
}

// instrument is the noise of a reading as it is, CIEDE2000.
const instrument = 0.5

// answered is one colour asked of a class.
type answered struct {
	paint, kind              string
	untaught, taught, within float64
}

// lesson is what a class was asked after being taught.
type lesson struct {
	set, taught string
	noise       float64
	asked       []answered
	choices     int
	worse       int
}

// noisy reads swatches with an error of a root mean square of de; 0: as they are.
func noisy(swatches []film.Swatch, de float64, seed uint64) []film.Swatch {
	rng := rand.New(rand.NewPCG(seed, 22))
	out := slices.Clone(swatches)
	for i := range out {
		s := &out[i]
		if s.Noise = max(de, instrument); de > 0 {
			s.Seen = astray(s.Seen, [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, de)
		}
	}
	return out
}

// astray moves a colour by v, whose components have a mean square of 1, so that the root mean square
// of the difference is de.
func astray(c colour.Lab, v [3]float64, de float64) colour.Lab {
	root := colour.Metric(c)
	for i := 2; i >= 0; i-- {
		v[i] *= de / math.Sqrt(3)
		for k := i + 1; k < 3; k++ {
			v[i] -= float64(root[k][i] * v[k])
		}
		v[i] /= root[i][i]
	}
	return colour.Lab{L: c.L + v[0], A: c.A + v[1], B: c.B + v[2]}
}

// teach asks a class before and after it was taught and adds the answers to the lesson.
func (d *deriver) teach(ctx context.Context, to *lesson, c *class, taught, asked []film.Swatch, kind func(*film.Swatch) (paint, kind string), model film.ModelError) error {
	opt := film.DefaultLearn(d.scale)
	opt.Model = model
	var learnt [2]*film.Learnt
	for i, swatches := range [][]film.Swatch{nil, taught} {
		var err error
		if learnt[i], err = film.Learn(ctx, swatches, c.priors, opt); err != nil {
			return err
		}
	}
	var sum [2]float64
	for i := range asked {
		a := answered{}
		a.paint, a.kind = kind(&asked[i])
		f := learnt[1].Foretell(&asked[i].Mixture)
		a.untaught = colour.DE2000(learnt[0].Foretell(&asked[i].Mixture).Lab, asked[i].Seen)
		a.taught, a.within = colour.DE2000(f.Lab, asked[i].Seen), f.Within
		if a.kind == "computed" {
			a.within = f.WithinBeside(0)
		}
		sum[0], sum[1] = sum[0]+a.untaught, sum[1]+a.taught
		to.asked = append(to.asked, a)
	}
	to.choices++
	if sum[1] > sum[0]+1e-9 {
		to.worse++
	}
	return nil
}

// Films that are taught: masstones and tints, over white and over black.
var taughtFilms = []string{"masstone R_over_white", "masstone R_over_black", "1-to-4 R_over_white", "1-to-4 R_over_black"}

// choiceOf names a choice of taughtFilms.
func choiceOf(choice int) string {
	over := []string{"", "white", "black", "both grounds"}
	masstone, tint := over[choice&3], over[choice>>2]
	switch {
	case tint == "":
		return "masstone, " + masstone
	case masstone == "":
		return "1:4 tint, " + tint
	case masstone == tint:
		return "masstone and 1:4 tint, " + tint
	}
	return "masstone, " + masstone + "; 1:4 tint, " + tint
}

var filmNoises = []float64{0, 2, 3}

// noiseDraws of each noise, and halfDraws of half of the films.
const noiseDraws, halfDraws = 8, 16

// taughtIn are the films of a choice.
func (c *class) taughtIn(choice int) (out []film.Swatch) {
	for _, s := range c.swatches {
		for k, name := range taughtFilms {
			if choice>>k&1 == 1 && strings.HasSuffix(s.Name, name) {
				out = append(out, s)
			}
		}
	}
	return out
}

// filmQuestions are the tints and mixtures asked of the films.
func (d *deriver) filmQuestions(c *class) (asked []film.Swatch) {
	for _, s := range c.swatches {
		if strings.Contains(s.Name, "1-to-9") {
			asked = append(asked, s)
		}
	}
	for i := 1; i < len(c.names); i++ {
		for j := i + 1; j < len(c.names); j++ {
			s := film.Swatch{Name: c.names[i] + " " + c.names[j]}
			s.Amounts = make([]float64, len(c.names))
			s.Amounts[i], s.Amounts[j] = 1, 1
			var mix film.Paint
			film.Mix(&mix, []film.Paint{*d.sets[films][c.names[i]], *d.sets[films][c.names[j]]}, []float64{0.5, 0.5})
			s.Seen = labOf(mix.Masstone(film.Dry))
			asked = append(asked, s)
		}
	}
	return asked
}

// filmKind of a question: the tints are films, the mixtures are opaque.
func filmKind(s *film.Swatch) (paint, kind string) {
	if s.Ground == nil {
		return s.Name, "computed"
	}
	return s.Name[:3], "tint"
}

// filmLesson teaches a choice of the films.
func (d *deriver) filmLesson(ctx context.Context, c *class, choice int, noise float64, model film.ModelError) (*lesson, error) {
	to := &lesson{set: films, taught: choiceOf(choice), noise: noise}
	draws := 1
	if noise > 0 {
		draws = noiseDraws
	}
	for n := range draws {
		if err := d.teach(ctx, to, c, noisy(c.taughtIn(choice), noise, uint64(n)), d.filmQuestions(c), filmKind, model); err != nil {
			return nil, err
		}
	}
	return to, nil
}

// halfLesson teaches half of the films, drawn by chance.
func (d *deriver) halfLesson(ctx context.Context, c *class, noise float64, model film.ModelError) (*lesson, error) {
	to := &lesson{set: films, taught: "half by chance", noise: noise}
	all := c.taughtIn(1<<len(taughtFilms) - 1)
	for n := range halfDraws {
		var taught []film.Swatch
		for _, i := range rand.New(rand.NewPCG(uint64(n), 23)).Perm(len(all))[:len(all)/2] {
			taught = append(taught, all[i])
		}
		if err := d.teach(ctx, to, c, noisy(taught, noise, uint64(n)), d.filmQuestions(c), filmKind, model); err != nil {
			return nil, err
		}
	}
	return to, nil
}

// mostOils of a paint's samples are taught.
const mostOils = 3

// oilLesson teaches every choice of n samples of each paint.
func (d *deriver) oilLesson(ctx context.Context, classes []*class, n int, model film.ModelError) (*lesson, error) {
	to := &lesson{set: oils, taught: fmt.Sprintf("%d of the samples", n)}
	for _, c := range classes {
		kind := func(s *film.Swatch) (string, string) {
			if s.Amounts[2] > 0 {
				return c.names[0], "mixed"
			}
			return c.names[0], "tint"
		}
		for choice := range 1 << len(c.swatches) {
			var taught, asked []film.Swatch
			for i, s := range c.swatches {
				if choice>>i&1 == 1 {
					taught = append(taught, s)
				} else if s.Amounts[1]+s.Amounts[2] > 0 {
					asked = append(asked, s)
				}
			}
			if len(taught) != n || len(asked) == 0 {
				continue
			}
			if err := d.teach(ctx, to, c, taught, asked, kind, model); err != nil {
				return nil, err
			}
		}
	}
	return to, nil
}

// lessons are all of them; where plain, those that teach something, readings as they are.
func (d *deriver) lessons(ctx context.Context, model film.ModelError, plain bool) (out []*lesson, err error) {
	add := func(l *lesson, e error) {
		out, err = append(out, l), errors.Join(err, e)
	}
	c, err := d.filmClass()
	if err != nil {
		return nil, err
	}
	for choice := 1; choice < 1<<len(taughtFilms); choice++ {
		for _, noise := range filmNoises {
			if noise == 0 || !plain {
				add(d.filmLesson(ctx, c, choice, noise, model))
			}
		}
	}
	classes, err := d.oilClasses()
	if err != nil {
		return nil, err
	}
	for n := range mostOils + 1 {
		if n > 0 || !plain {
			add(d.oilLesson(ctx, classes, n, model))
		}
	}
	if !plain {
		for _, noise := range filmNoises {
			add(d.halfLesson(ctx, c, noise, model))
		}
	}
	return out, err
}

func learningCSV(lessons []*lesson) ([]byte, error) {
	records := [][]string{strings.Split("set,taught,noise,asked,colours,untaught,untaught_mean,taught_median,taught_mean,not_worse,inside", ",")}
	for _, l := range lessons {
		for _, kind := range []string{"tint", "mixed", "computed"} {
			var before, after []float64
			inside := 0.0
			for _, a := range l.asked {
				if a.kind != kind {
					continue
				}
				before, after = append(before, a.untaught), append(after, a.taught)
				if a.taught <= a.within {
					inside++
				}
			}
			if len(after) == 0 {
				continue
			}
			two := func(v float64) string { return fmt.Sprintf("%.2f", v) }
			records = append(records, []string{
				l.set, l.taught, fmt.Sprintf("%g", l.noise), kind, fmt.Sprint(len(after)), two(median(before)), two(mean(before)), two(median(after)), two(mean(after)),
				two(1 - float64(l.worse)/float64(l.choices)), two(inside / float64(len(after))),
			})
		}
	}
	return csvText(learningHead, records)
}

// leastInside is the share of colours that "nine in ten" must hold for.
const leastInside = 0.85

// errorsTried of a tint and of a mixture of coloured paints.
var errorsTried = []film.ModelError{{Tint: 1, Mixed: 3}, {Tint: 1.5, Mixed: 4}, {Tint: 2, Mixed: 5}, {Tint: 2.5, Mixed: 6}, {Tint: 3, Mixed: 7}, {Tint: 3.5, Mixed: 8}, {Tint: 4, Mixed: 9}}

// modelErrorCSV is the table of the errors chosen without each paint.
func (d *deriver) modelErrorCSV(ctx context.Context) ([]byte, error) {
	tried := make([][]*lesson, len(errorsTried))
	for i, model := range errorsTried {
		model.Alone = film.PublishedError.Alone
		lessons, err := d.lessons(ctx, model, true)
		if err != nil {
			return nil, err
		}
		tried[i] = lessons
	}
	records := [][]string{strings.Split("kind,left_out,error,colours,inside", ",")}
	for _, kind := range []string{"tint", "mixed"} {
		of := func(e film.ModelError) float64 {
			if kind == "tint" {
				return e.Tint
			}
			return e.Mixed
		}
		share := func(i int, set string, keep func(string) bool) (inside, n float64) {
			for _, l := range tried[i] {
				for _, a := range l.asked {
					if a.kind == kind && (set == "" || l.set == set) && keep(a.paint) {
						n++
						if a.taught <= a.within {
							inside++
						}
					}
				}
			}
			return inside, n
		}
		choose := func(keep func(string) bool) int {
			return slices.IndexFunc(errorsTried, func(e film.ModelError) bool {
				for _, set := range []string{films, oils} {
					if inside, n := share(slices.Index(errorsTried, e), set, keep); inside < leastInside*n {
						return false
					}
				}
				return true
			})
		}
		var paints []string
		for _, l := range tried[0] {
			for _, a := range l.asked {
				if a.kind == kind && !slices.Contains(paints, a.paint) {
					paints = append(paints, a.paint)
				}
			}
		}
		sum, all := 0.0, 0.0
		for _, p := range paints {
			i := choose(func(name string) bool { return name != p })
			inside, n := share(i, "", func(name string) bool { return name == p })
			sum, all = sum+inside, all+n
			records = append(records, []string{kind, p, fmt.Sprintf("%g", of(errorsTried[i])), fmt.Sprint(n), fmt.Sprintf("%.2f", inside/n)})
		}
		i := choose(func(string) bool { return true })
		records = append(records, []string{kind, "all", fmt.Sprintf("%g", of(errorsTried[i])), fmt.Sprint(all), fmt.Sprintf("%.2f", sum/all)})
	}
	return csvText(modelErrorHead, records)
}

// almostFree is the spread of the thickness of films that tell it themselves.
const almostFree = 2

// clearCSV is the table of how thick films without white look.
func (d *deriver) clearCSV(ctx context.Context) ([]byte, error) {
	c, err := d.filmClass()
	if err != nil {
		return nil, err
	}
	opt := film.DefaultLearn(d.scale)
	opt.Clear, opt.Thickness = 1, almostFree
	swatches := noisy(c.swatches, 0, 0)
	l, err := film.Learn(ctx, swatches, c.priors, opt)
	if err != nil {
		return nil, err
	}
	ratios := map[string]map[string]float64{} // by paint and ground
	for i, s := range swatches {
		if paint, over, ok := strings.Cut(s.Name, "-masstone R_over_"); ok && paint != filmsWhite {
			if ratios[paint] == nil {
				ratios[paint] = map[string]float64{}
			}
			ratios[paint][over] = l.Swatches[i].Micrometres / s.Micrometres
		}
	}
	without := func(paint string) string {
		var others []float64
		for name, of := range ratios {
			if name != paint {
				others = append(others, of["white"], of["black"])
			}
		}
		return fmt.Sprintf("%.2f", median(others))
	}
	two := func(v float64) string { return fmt.Sprintf("%.2f", v) }
	records := [][]string{strings.Split("paint,white,black,others", ",")}
	for _, paint := range c.names[1:] {
		records = append(records, []string{paint, two(ratios[paint]["white"]), two(ratios[paint]["black"]), without(paint)})
	}
	return csvText(clearHead, append(records, []string{"all", "", "", without("")}))
}
