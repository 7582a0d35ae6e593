package page

import (
	"context"
	"fmt"
	"io"
	"net/http"

	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// state is a scene as the page holds it in its address.
type state struct {
	Title     string        `json:"title"`
	Tolerance float64       `json:"tolerance"`
	Light     string        `json:"light"`
	Surface   film.View     `json:"surface,omitempty"`
	Limits    stateLimits   `json:"limits"`
	Photos    []statePhoto  `json:"photos"`
	Targets   []stateTarget `json:"targets"`
}

type stateLimits struct {
	MaxTubes     int        `json:"maxTubes,omitempty"`
	Budget       *float64   `json:"budget,omitempty"`
	Avoid        []string   `json:"avoid,omitempty"`
	Keep         []string   `json:"keep,omitempty"`
	Never        []string   `json:"never,omitempty"`
	Only         []string   `json:"only,omitempty"`
	Own          []string   `json:"own,omitempty"`
	AtMostOne    [][]string `json:"atMostOne,omitempty"`
	PaintsPerMix int        `json:"paintsPerMix,omitempty"`
	Prefer       string     `json:"prefer,omitempty"`
}

type statePhoto struct {
	Name    string        `json:"name"`
	File    string        `json:"file"`
	ID      string        `json:"id,omitempty"` // where the page holds it
	Targets int           `json:"targets,omitempty"`
	Planes  []string      `json:"planes,omitempty"`
	Values  *values.Curve `json:"values,omitempty"`
}

type stateTarget struct {
	Name      string     `json:"name"`
	Colour    string     `json:"colour"`
	Hex       string     `json:"hex,omitempty"`
	Words     string     `json:"words,omitempty"`
	Value     string     `json:"value,omitempty"`
	Plane     string     `json:"plane,omitempty"`
	Area      float64    `json:"area"`
	Tolerance float64    `json:"tolerance,omitempty"`
	At        *stateSpot `json:"at,omitempty"`
}

type stateSpot struct {
	Photo  string  `json:"photo"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Radius float64 `json:"radius"`
}

// scene checks the state and makes it what the commands work on.
func (s *state) scene() (scene.Scene, error) {
	out := scene.Scene{Title: s.Title, Tolerance: s.Tolerance, Light: s.Light, Surface: s.Surface}
	if err := s.bounded(); err != nil {
		return out, err
	}
	l := s.Limits
	out.Limits = scene.Limits{
		MaxTubes: l.MaxTubes, Budget: l.Budget, Avoid: l.Avoid, Keep: l.Keep, Never: l.Never, Only: l.Only,
		Own: l.Own, AtMostOne: l.AtMostOne, PaintsPerMix: l.PaintsPerMix, Prefer: solver.Preference(l.Prefer),
	}
	for _, p := range s.Photos {
		made := scene.Photo{Name: p.Name, File: p.File, Targets: p.Targets, Values: p.Values}
		for _, text := range p.Planes {
			band, err := scene.ParsePlaneBand(text)
			if err != nil {
				return out, err
			}
			made.Planes = append(made.Planes, band)
		}
		out.Photos = append(out.Photos, made)
	}
	for _, t := range s.Targets {
		lab, err := colour.Parse(t.Colour)
		if err != nil {
			return out, fmt.Errorf("%s: %w", t.Name, err)
		}
		made := scene.Target{Name: t.Name, Colour: t.Colour, Lab: lab, Plane: t.Plane, Area: t.Area, Tolerance: t.Tolerance}
		if t.At != nil {
			made.At = &scene.Spot{Photo: t.At.Photo, X: t.At.X, Y: t.At.Y, Radius: t.At.Radius}
		}
		out.Targets = append(out.Targets, made)
	}
	return out, out.Check()
}

// newState is a scene as the page shows it.
func newState(sc *scene.Scene) state {
	l := sc.Limits
	out := state{Title: sc.Title, Tolerance: sc.Tolerance, Light: sc.Light, Surface: sc.Surface, Photos: []statePhoto{}, Targets: []stateTarget{}}
	out.Limits = stateLimits{
		MaxTubes: l.MaxTubes, Budget: l.Budget, Avoid: l.Avoid, Keep: l.Keep, Never: l.Never, Only: l.Only,
		Own: l.Own, AtMostOne: l.AtMostOne, PaintsPerMix: l.PaintsPerMix, Prefer: string(l.Prefer),
	}
	for _, p := range sc.Photos {
		made := statePhoto{Name: p.Name, File: p.File, Targets: p.Targets, Values: p.Values}
		for _, b := range p.Planes {
			made.Planes = append(made.Planes, b.String())
		}
		out.Photos = append(out.Photos, made)
	}
	for _, t := range sc.Targets {
		look := newSwatch(t.Lab)
		made := stateTarget{Name: t.Name, Colour: t.Colour, Hex: look.Hex, Words: look.Words, Value: look.Value,
			Plane: t.Plane, Area: t.Area, Tolerance: t.Tolerance}
		if t.At != nil {
			made.At = &stateSpot{t.At.Photo, t.At.X, t.At.Y, t.At.Radius}
		}
		out.Targets = append(out.Targets, made)
	}
	return out
}

// open reads a scene file that was dropped on the page.
func (s *Server) open(w http.ResponseWriter, r *http.Request) {
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostText))
	if err != nil {
		fail(w, err)
		return
	}
	var opened state
	err = s.unfold(r.Context(), func() error {
		sc, err := scene.Parse(plainName(r.URL.Query().Get("name")), data)
		opened = newState(&sc)
		return err
	})
	if err != nil {
		fail(w, badRequest(err))
		return
	}
	writeJSON(w, opened)
}

// anewHeader says that a scene could not be put into the text it came from, so
// that its comments are gone.
const anewHeader = "Fewtubes-Written-Anew"

// save is the state as a scene file, within the text it was opened from.
func (s *Server) save(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Scene    state  `json:"scene"`
		Original string `json:"original"` // the file it was opened from, comments and all
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, badRequest(err))
		return
	}
	sc, err := q.Scene.scene()
	if err != nil {
		fail(w, badRequest(err))
		return
	}
	text, kept := scene.Format(sc), true
	if q.Original != "" {
		err = s.unfold(r.Context(), func() error {
			text, kept = scene.Update([]byte(q.Original), sc)
			return nil
		})
	}
	if err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/toml")
	if !kept {
		w.Header().Set(anewHeader, "1")
	}
	_, _ = w.Write(text)
}

// mostSuggested is more than anyone lays out.
const mostSuggested = 60

// suggest samples the photographs as the sample command does.
func (s *Server) suggest(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Photos    []statePhoto `json:"photos"`
		Targets   int          `json:"targets"`
		Planes    []string     `json:"planes"`
		FitValues bool         `json:"fitValues"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, badRequest(err))
		return
	}
	if q.Targets < 1 || q.Targets > mostSuggested || len(q.Photos) == 0 {
		fail(w, badRequest(fmt.Errorf("ask for 1 to %d colours of at least one photograph", mostSuggested)))
		return
	}
	if err := boundedSuggestion(q.Photos, q.Planes); err != nil {
		fail(w, badRequest(err))
		return
	}
	o := sample.Options{Targets: q.Targets, FitValues: q.FitValues}
	for _, text := range q.Planes {
		band, err := scene.ParsePlaneBand(text)
		if err != nil {
			fail(w, badRequest(err))
			return
		}
		o.Planes = append(o.Planes, band)
	}
	var held []*dropped
	for _, p := range q.Photos {
		d, err := s.photos.get(p.ID)
		if err != nil {
			fail(w, err)
			return
		}
		held = append(held, d)
	}
	p := newReply(w, r)
	sc, err := inTurn(s, p, decoding, func(ctx context.Context) (sc scene.Scene, err error) {
		var sources []sample.Source
		for i, d := range held {
			picture, err := d.sampling(ctx)
			if err != nil {
				return sc, err
			}
			sources = append(sources, sample.Source{Name: q.Photos[i].Name, File: q.Photos[i].File, Picture: picture})
		}
		return sample.Sample(ctx, sources, o)
	})
	if err != nil {
		p.fail(err)
		return
	}
	out := newState(&sc)
	for i := range out.Photos {
		out.Photos[i].ID = q.Photos[i].ID
	}
	p.json(out)
}
