package page

import (
	"context"
	"net/http"
	"slices"
	"time"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// pause is how long an answer stands before the lessons with it are worked
// out: a painter still changing limits does not wait for them.
const pause = 300 * time.Millisecond

// answer streams how the choice goes (events "progress") and the answer as the page
// draws it ("answer"); then the whole report ("report"), what loosening a limit would
// bring ("loosen"), and what there is to learn from the answer: how sure it is
// ("sure") and the report with all lessons. What comes later holds the fields that
// are new. Besides there is what every reply may say.
func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	q, a, err := s.readAsked(w, r)
	if err != nil {
		fail(w, err)
		return
	}
	p := newStream(w, r)
	ctx := r.Context()
	err = s.tell(p, a, "answer", func(session *solver.Session) (any, error) {
		err := a.choose(ctx, session, q.Palette, p.out)
		if err != nil {
			return nil, err
		}
		drawn := a.doc.Plan()
		if slices.ContainsFunc(q.Scene.Photos, statePhoto.isHere) {
			drawn.Area = "" // it is to be looked at
		}
		return drawn, nil
	})
	whole := func(*solver.Session) (any, error) {
		html, err := a.doc.Fragment()
		return map[string]string{"html": string(html)}, err
	}
	if err == nil {
		err = s.tell(p, a, "report", whole)
	}
	if err == nil {
		err = paused(ctx, pause)
	}
	if err == nil && a.kept == nil {
		err = s.tell(p, a, "loosen", func(session *solver.Session) (any, error) {
			found, err := a.doc.Loosen(ctx, session, &a.problem)
			return map[string]any{"loosen": found}, err
		})
	}
	var of pictured // fetched only now: what was kept may have to be decoded again
	if err == nil {
		of, err = s.pictures(p, &q.Scene)
	}
	if err == nil {
		err = s.tell(p, a, "sure", func(session *solver.Session) (any, error) {
			err := a.learn(ctx, session)
			if err == nil && len(a.doc.Palettes) > 0 {
				err = a.look(ctx, session, &of)
			}
			return a.doc.Plan(), err
		})
	}
	if err == nil {
		err = s.tell(p, a, "lessons", whole)
	}
	if err != nil {
		p.fail(err)
	}
}

// tell sends what f gives. It is made in one turn and sent after it: who takes it
// slowly holds no place.
func (s *Server) tell(p *reply, a *asking, kind string, f func(*solver.Session) (any, error)) error {
	var told any
	err := s.hold(p, a, func(session *solver.Session) (err error) {
		told, err = f(session)
		return err
	})
	if err == nil {
		p.out.send(kind, told)
	}
	return err
}

// paused waits, or less long where the context ends.
func paused(ctx context.Context, d time.Duration) error {
	select {
	case <-time.After(d):
		return nil
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

// asking is a scene put to the solver, as the commands put it.
type asking struct {
	problem solver.Problem
	words   report.Scene
	scene   scene.Scene
	box     heldBox
	held    *heldSession

	chosen *solver.Answer  // nil where a palette was checked
	kept   *solver.Palette // the palette checked
	missed []solver.Miss   // by it
	doc    *report.Choice
}

// asks is a question about a palette of the scene.
type asks struct {
	Scene   state    `json:"scene"`
	Palette []string `json:"palette"` // to check; empty: the one to choose
}

// readAsked reads a question and finds its session.
func (s *Server) readAsked(w http.ResponseWriter, r *http.Request) (q asks, a *asking, err error) {
	if err = s.readJSON(w, r, &q); err == nil {
		a, err = s.asking(r.Context(), &q.Scene)
	}
	return q, a, err
}

// asking finds the session that knows the colours already, or a new one.
func (s *Server) asking(ctx context.Context, from *state) (*asking, error) {
	sc, err := from.scene()
	if err != nil {
		return nil, err
	}
	box := s.box.now()
	a := &asking{problem: sc.Problem(box.all), scene: sc, box: box}
	a.problem.Limits.FewestToBuy = box.holds()
	a.words = report.Scene{Measures: hand.Usual(), Title: sc.Title, Tolerance: sc.Tolerance, Limits: report.LimitWords(&a.problem.Limits),
		Left: func() bool { return ctx.Err() != nil }}
	a.held, err = s.asked.session(&a.problem, box.revision)
	return a, err
}

// hold runs f when it is its turn and the session is free.
func (s *Server) hold(p *reply, a *asking, f func(*solver.Session) error) error {
	release, err := s.turn(p, a.held)
	if err != nil {
		return err
	}
	defer release()
	session, err := a.held.session()
	if err != nil {
		return err
	}
	return f(session)
}

func (a *asking) choose(ctx context.Context, session *solver.Session, palette []string, out *events) error {
	p := &a.problem
	if len(palette) > 0 {
		a.words.Limits = nil
		kept, missed, err := session.Check(ctx, palette, p.Limits.Own)
		if err != nil {
			return err
		}
		a.kept, a.missed, a.doc = &kept, missed, report.NewCheck(a.words, p, kept, missed)
		return ctx.Err()
	}
	chosen, err := session.ChooseWhole(ctx, p.Limits, p.Prefer, func(p solver.Progress) {
		out.send("progress", map[string]int{"atLeast": p.AtLeast, "atMost": p.AtMost, "cuts": p.Cuts})
	})
	if err != nil {
		return err
	}
	a.chosen, a.doc = chosen, report.NewChoice(a.words, p, chosen)
	return ctx.Err()
}

// look adds what the best palette reaches of the photographs.
func (a *asking) look(ctx context.Context, session *solver.Session, of *pictured) error {
	photographs, err := of.brushed(ctx, a.scene.Tolerance)
	if err == nil {
		a.doc.Covered, err = report.Cover(ctx, session, photographs, a.doc.Palettes[0].Tubes, &a.problem.Limits)
	}
	return err
}

func (a *asking) learn(ctx context.Context, session *solver.Session) error {
	var learned *report.Learned
	var err error
	switch {
	case a.kept != nil:
		learned, err = report.LearnKept(ctx, session, &a.problem, a.kept, a.missed)
		if err == nil {
			err = learned.DoubtKept(ctx, session, a.kept, solver.UsualDraws, false)
		}
	case len(a.chosen.Palettes) > 0:
		learned, err = report.LearnChosen(ctx, session, &a.problem, a.chosen)
		if err == nil {
			err = learned.DoubtChosen(ctx, session, a.chosen, solver.UsualDraws, false)
		}
	}
	if err != nil || learned == nil {
		return err
	}
	a.doc.Teach(learned)
	return a.doc.AddSlices(ctx)
}
