package learnt

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Parts of a mixture that is asked for or worth painting, the first tube against white or
// against another.
var (
	tintSteps = []float64{4, 9, 20}
	pairTrial = [][2]float64{{3, 1}, {1, 1}, {1, 3}}
)

// Mixtures are some of some tubes that a painter may want.
type Mixtures struct {
	What  string // in the plural
	Tubes []catalog.Tube
	List  []film.Mixture
}

// colour of mixture i as a catalogue's tubes make it, D65.
func (m *Mixtures) colour(i int, all *catalog.Catalogue) colour.Lab {
	var mix film.Paint
	paints := make([]film.Paint, len(m.Tubes))
	for k, t := range m.Tubes {
		paints[k] = t.Paint
		if known, ok := all.Find(t.ID); ok {
			paints[k] = known.Paint
		}
	}
	film.Mix(&mix, paints, m.List[i].Amounts)
	seen := mix.Masstone(all.Surface(film.AsDried))
	return colour.D65().Lab(&seen)
}

// Words are the parts of mixture i.
func (m *Mixtures) Words(i int) string {
	var parts []string
	for k, a := range m.List[i].Amounts {
		if a > 0 {
			parts = append(parts, fmt.Sprintf("%g %s", math.Round(a*100)/100, m.Tubes[k].ID))
		}
	}
	return strings.Join(parts, " + ")
}

// inSentence are the parts of mixture i as a sentence names them.
func (m *Mixtures) inSentence(i int) string {
	var names []string
	for k, a := range m.List[i].Amounts {
		if a > 0 {
			names = append(names, fmt.Sprintf("%g %s", a, catalog.InSentence(m.Tubes[k].Name)))
		}
	}
	return strings.Join(names, " + ")
}

// Common are tints and pairs of some tubes, and where alone is asked each tube alone.
func Common(tubes []catalog.Tube, alone bool) *Mixtures {
	m := &Mixtures{What: "mixtures of these tubes", Tubes: tubes}
	add := func(i, j int, a, b float64) {
		amounts := make([]float64, len(tubes))
		amounts[i] += a
		amounts[j] += b
		m.List = append(m.List, film.Mixture{Amounts: amounts})
	}
	white := catalog.WhiteOf(tubes)
	for i := range tubes {
		if alone {
			add(i, i, 1, 0)
		}
		if tubes[i].IsWhite() {
			continue
		}
		if white >= 0 {
			for _, parts := range tintSteps {
				add(i, white, 1, parts)
			}
		}
		for j := i + 1; j < len(tubes); j++ {
			if tubes[j].IsWhite() {
				continue
			}
			for _, p := range pairTrial {
				add(i, j, p[0], p[1])
			}
		}
	}
	return m
}

// ForScene are the nearest mixes of some tubes to the colours of a scene.
func ForScene(s *scene.Scene, tubes []catalog.Tube, all *catalog.Catalogue) (*Mixtures, error) {
	light, err := colour.ParseLight(s.Light)
	if err != nil {
		return nil, err
	}
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	mixer, err := gamut.NewMixer(paints, gamut.Options{Surface: all.Surface(s.Surface), Light: light, PaintsPerMix: s.Limits.PaintsPerMix})
	if err != nil {
		return nil, err
	}
	m := &Mixtures{What: "recipes for " + s.Title, Tubes: tubes}
	if s.Title == "" {
		m.What = "recipes for the scene"
	}
	for _, t := range s.Targets {
		mix := mixer.Closest(t.Lab, set.Full(len(tubes)), gamut.Search)
		amounts := make([]float64, len(tubes))
		for k, p := range mix.Paints {
			amounts[p] = mix.Shares[k]
		}
		m.List = append(m.List, film.Mixture{Amounts: amounts})
	}
	return m, nil
}
