package hand

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// sevenTubes are a landscape painter's: two yellows, an earth, a red, two blues
// or greens and white (common practice, no source).
var sevenTubes = []string{
	"titanium-white", "hansa-yellow-medium", "yellow-ochre", "burnt-sienna", "ultramarine-blue", "phthalo-green-blue-shade", "quinacridone-magenta",
}

func demo(t testing.TB) *solver.Problem {
	t.Helper()
	s, err := scene.Read("../../../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p := s.Problem(all)
	return &p
}

var ochreBase = BaseOf{{"yellow-ochre", 3}, {"ultramarine-blue", 1}, {"titanium-white", 2}}

// Every mix that is printed, read back from its words and put together anew; and what is
// handled, counted from the words.
func TestBasesAreWhatTheyPrint(t *testing.T) {
	p := demo(t)
	paints := map[string]film.Paint{}
	for _, tube := range p.Tubes {
		paints[tube.ID] = tube.Paint
	}
	id := func(id string) string { return id }
	for _, m := range []Measures{
		{Parts: 12, Prepared: 3, Bases: []BaseOf{ochreBase}},
		{Parts: 12, Prepared: 3, Propose: 3},
		{Parts: 12, Propose: 3},
	} {
		usual := m
		usual.Bases, usual.Propose = nil, 0
		alone, err := New(t.Context(), p, sevenTubes, usual)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := New(t.Context(), p, sevenTubes, m)
		if err != nil {
			t.Fatal(err)
		}
		ready := map[string]film.Paint{}
		for i := range plan.Bases {
			ready[plan.Bases[i].Short()] = mixture(t, plan.Bases[i].Of.Words(id), paints)
		}
		for i := range plan.Prepared {
			pile := &plan.Prepared[i]
			ready[pile.short(id)] = mixture(t, strings.Replace(pile.Words(id), " in ", " + ", 1), paints)
		}
		fromBase := 0
		for i, r := range plan.Recipes {
			words := r.Words(id)
			if r.Own {
				continue
			}
			if strings.Contains(words, " base ") {
				fromBase++
				if !r.Within {
					t.Errorf("%s is beyond the tolerance", words)
				}
			}
			sum := mixture(t, words, paints, ready)
			seen := sum.Masstone(p.Surface)
			lab := p.Light.Lab(&seen)
			if de := colour.DE2000(lab, p.Targets[i].Lab); math.Abs(de-r.DE) > 1e-6 {
				t.Errorf("%s: %s comes to %v, said %v", p.Targets[i].Name, words, de, r.DE)
			}
		}
		uses := 0
		for _, b := range plan.Bases {
			uses += len(b.Uses)
		}
		if uses != fromBase || fromBase == 0 {
			t.Errorf("%d mixes from bases, %d listed under them", fromBase, uses)
		}
		with, without := inHand(plan), inHand(alone)
		if plan.Gain != (Gain{true, with, without}) {
			t.Errorf("said %+v, counted %d and %d", plan.Gain, with, without)
		}
		if m.Propose > 0 && with >= without {
			t.Errorf("bases proposed for nothing: %d, %d without", with, without)
		}
		t.Logf("%d bases, %d mixes from them: %d in hand, %d without", len(plan.Bases), fromBase, with, without)
	}
}

// inHand counts from words what is taken with the knife.
func inHand(p *Plan) (n int) {
	id := func(id string) string { return id }
	for i := range p.Recipes {
		words := p.Recipes[i].Words(id)
		n += strings.Count(words, " + ") + 1
		n += len(letDownForm.FindAllString(words, -1))
	}
	for i := range p.Prepared {
		n += strings.Count(p.Prepared[i].Words(id), " in ") + 1
	}
	for _, b := range p.Bases {
		n += strings.Count(b.Of.Words(id), " + ") + 1
	}
	return n
}

// letDownForm is a let-down for one recipe alone.
var letDownForm = regexp.MustCompile(`\d [a-z-]+ \(1:\d+ in|of [a-z-]+ \(1:\d+ in`)

var (
	partForm  = regexp.MustCompile(`^(\d+|a touch of|two touches of|three touches of) (.*)$`)
	asideForm = regexp.MustCompile(` \(too much: [^)]*\)$`)
)

// mixture is a recipe in words, read back.
func mixture(t *testing.T, words string, known ...map[string]film.Paint) (out film.Paint) {
	t.Helper()
	touches := map[string]float64{"a touch of": 0.25, "two touches of": 0.5, "three touches of": 0.75}
	var paints []film.Paint
	var parts []float64
	total := 0.0
	for term := range strings.SplitSeq(words, " + ") {
		match := partForm.FindStringSubmatch(asideForm.ReplaceAllString(term, ""))
		if match == nil {
			t.Fatalf("%q is no part", term)
		}
		n, isTouch := touches[match[1]]
		if !isTouch {
			whole, err := strconv.Atoi(match[1])
			if err != nil {
				t.Fatal(err)
			}
			n = float64(whole)
		}
		paint, err := find(match[2], known)
		if err != nil {
			t.Fatal(err)
		}
		paints, parts, total = append(paints, paint), append(parts, n), total+n
	}
	for i := range parts {
		parts[i] /= total
	}
	film.Mix(&out, paints, parts)
	return out
}

func find(name string, known []map[string]film.Paint) (film.Paint, error) {
	for _, k := range known {
		if p, ok := k[name]; ok {
			return p, nil
		}
	}
	return film.Paint{}, fmt.Errorf("%q is nothing that lies ready", name)
}

// A base made of nothing in the palette is refused, and one that serves nothing costs nothing.
func TestBasesThatDoNotServe(t *testing.T) {
	p, palette := problem(t)
	m := Usual()
	m.Bases = []BaseOf{{{"cobalt-blue", 1}, {"titanium-white", 1}}}
	if _, err := New(t.Context(), p, palette, m); err == nil {
		t.Error("cobalt blue is not in the palette")
	}
	m.Bases = []BaseOf{{{"prussian-blue", 8}, {"quinacridone-magenta", 8}}}
	p.Targets = p.Targets[2:3] // near white
	plan, err := New(t.Context(), p, palette, m)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Bases) != 1 || len(plan.Bases[0].Uses) != 0 || plan.Gain.With != plan.Gain.Without {
		t.Errorf("%+v", plan)
	}
	// All colours from a base leave nothing to plan.
	m.Bases = []BaseOf{{{"titanium-white", 5}, {"transparent-yellow-oxide", 1}}}
	p.Targets[0].Lab, p.Targets[0].Tolerance = colour.Lab{L: 82, A: 5, B: 30}, 30
	if _, err := New(t.Context(), p, palette, m); err != nil {
		t.Error(err)
	}
}

func BenchmarkBases(b *testing.B) {
	p := demo(b)
	for b.Loop() {
		if _, err := New(b.Context(), p, sevenTubes, Measures{Parts: 12, Prepared: 3, Propose: 3}); err != nil {
			b.Fatal(err)
		}
	}
}
