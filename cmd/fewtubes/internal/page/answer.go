package page

import (
	"context"
	"net/http"
	"time"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"
)

// pause is how long an answer stands before the lessons with it are worked
// out: a painter still changing limits does not wait for them.
const pause = 300 * time.Millisecond

type answerRequest struct {
	Scene   state    `json:"scene"`
	Palette []string `json:"palette"` // the tubes to check; empty: choose
}

// shownAnswer is an answer ready for the page: what it draws, and the whole report.
type shownAnswer struct {
	*report.Plan
	HTML string `json:"html"`
}

func newShown(doc *report.Choice) (*shownAnswer, error) {
	html, err := doc.Fragment()
	return &shownAnswer{doc.Plan(), string(html)}, err
}

// answer streams how the choice goes (events "progress"), the answer (event
// "answer") and the same once more with what there is to learn from it (event
// "lessons"), besides what every reply may say.
func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	var q answerRequest
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	a, err := s.asking(r.Context(), &q.Scene)
	if err != nil {
		fail(w, err)
		return
	}
	p := newStream(w, r)
	err = s.show(p, a, "answer", func(session *solver.Session) error {
		return a.choose(r.Context(), session, q.Palette, p.out)
	})
	if err == nil {
		err = paused(r.Context(), pause)
	}
	if err == nil {
		err = s.show(p, a, "lessons", func(session *solver.Session) error { return a.learn(r.Context(), session) })
	}
	if err != nil {
		p.fail(err)
	}
}

// show sends the document as it is after f. It is drawn in the same turn and sent
// after it: who takes it slowly holds no place.
func (s *Server) show(p *reply, a *asking, kind string, f func(*solver.Session) error) error {
	var shown *shownAnswer
	err := s.hold(p, a, func(session *solver.Session) error {
		err := f(session)
		if err == nil {
			shown, err = newShown(a.doc)
		}
		return err
	})
	if err == nil {
		p.out.send(kind, shown)
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
	held    *heldSession

	chosen *solver.Answer  // nil where a palette was checked
	kept   *solver.Palette // the palette checked
	missed []solver.Miss   // by it
	doc    *report.Choice
}

// asking finds the session that knows the colours already, or a new one.
func (s *Server) asking(ctx context.Context, from *state) (*asking, error) {
	sc, err := from.scene()
	if err != nil {
		return nil, err
	}
	box := s.box.now()
	a := &asking{problem: sc.Problem(box.all)}
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

func (a *asking) learn(ctx context.Context, session *solver.Session) error {
	if a.kept == nil {
		if err := a.doc.Loosen(ctx, session, &a.problem); err != nil {
			return err
		}
	}
	var learned *report.Learned
	var err error
	switch {
	case a.kept != nil:
		learned, err = report.LearnKept(ctx, session, &a.problem, a.kept, a.missed)
		if err == nil {
			err = learned.DoubtKept(ctx, session, a.kept, solver.UsualDraws)
		}
	case len(a.chosen.Palettes) > 0:
		learned, err = report.LearnChosen(ctx, session, &a.problem, a.chosen)
		if err == nil {
			err = learned.DoubtChosen(ctx, session, a.chosen, solver.UsualDraws)
		}
	}
	if err != nil || learned == nil {
		return err
	}
	a.doc.Teach(learned)
	return a.doc.AddSlices(ctx)
}
