package page

import (
	"context"
	"fmt"
	"net/http"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
)

// state is a scene as the page has it: besides what is in its file, where its
// photographs are held and what its colours look like.
type state struct {
	scene.Scene
	Photos  []statePhoto  `json:"photos"`
	Targets []stateTarget `json:"targets"`
}

type statePhoto struct {
	scene.Photo
	ID string `json:"id,omitempty"` // where the page holds it
}

// isHere reports whether the page holds it, or kept it.
func (p statePhoto) isHere() bool { return p.ID != "" }

type stateTarget struct {
	scene.Target
	look
}

// scene checks the state and makes it what the commands work on.
func (s *state) scene() (scene.Scene, error) {
	out := s.Scene
	if err := s.bounded(); err != nil {
		return out, err
	}
	out.Photos, out.Targets = nil, nil
	for _, p := range s.Photos {
		out.Photos = append(out.Photos, p.Photo)
	}
	for _, t := range s.Targets {
		out.Targets = append(out.Targets, t.Target)
	}
	if err := out.ReadColours(); err != nil {
		return out, err
	}
	return out, out.Check()
}

// newState is a scene as the page shows it.
func newState(sc *scene.Scene) state {
	out := state{Scene: *sc, Photos: []statePhoto{}, Targets: []stateTarget{}}
	for _, p := range sc.Photos {
		out.Photos = append(out.Photos, statePhoto{Photo: p})
	}
	for _, t := range sc.Targets {
		out.Targets = append(out.Targets, stateTarget{t, newSwatch(t.Lab).look})
	}
	return out
}

// mostSuggested is more than anyone lays out.
const mostSuggested = 60

// suggest samples the photographs as the sample command does.
func (s *Server) suggest(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Photos    []statePhoto       `json:"photos"`
		Targets   int                `json:"targets"`
		Planes    []scene.PlaneShape `json:"planes"`
		FitValues bool               `json:"fitValues"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	if q.Targets < 1 || q.Targets > mostSuggested || len(q.Photos) == 0 {
		fail(w, fmt.Errorf("ask for 1 to %d colours of at least one photograph", mostSuggested))
		return
	}
	if err := boundedSuggestion(q.Photos, q.Planes); err != nil {
		fail(w, err)
		return
	}
	o := sample.Options{Targets: q.Targets, FitValues: q.FitValues, Planes: q.Planes, Stock: s.stock()}
	for _, band := range q.Planes {
		if err := band.Check(); err != nil {
			fail(w, err)
			return
		}
	}
	p := newReply(w, r)
	var held []*dropped
	for _, named := range q.Photos {
		d, err := s.photograph(p, named.ID)
		if err != nil {
			p.fail(err)
			return
		}
		held = append(held, d)
	}
	bare := ""
	sc, err := inTurn(s, p, decoding, func(ctx context.Context) (sc scene.Scene, err error) {
		var sources []sample.Source
		var pictures []*photo.Picture
		for i, d := range held {
			picture, err := d.sampling(ctx)
			if err != nil {
				return sc, err
			}
			sources = append(sources, sample.Source{Name: q.Photos[i].Name, File: q.Photos[i].File, Picture: picture})
			pictures = append(pictures, picture)
		}
		if sc, err = sample.Sample(ctx, sources, o); err == nil {
			bare = uncovered(pictures, &sc)
		}
		return sc, err
	})
	if err != nil {
		p.fail(err)
		return
	}
	out := newState(&sc)
	for i := range out.Photos {
		out.Photos[i].ID = q.Photos[i].ID
	}
	p.json(struct {
		state
		Uncovered string `json:"uncovered"`
	}{out, bare})
}
