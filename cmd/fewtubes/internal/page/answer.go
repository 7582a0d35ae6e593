package page

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"time"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// mostSent is how many of the palettes found are sent, as many as the page
// shows; all are ranked before.
const mostSent = 13

// pause is how long an answer stands before the lessons with it are worked
// out: a painter still changing limits does not wait for them.
const pause = 300 * time.Millisecond

type answerRequest struct {
	Scene   state    `json:"scene"`
	Palette []string `json:"palette"` // the tubes to check; empty: choose
}

// shownAnswer is an answer ready for the page: the report and the same numbers
// as the command line's JSON.
type shownAnswer struct {
	HTML     string         `json:"html"`
	Document *report.Choice `json:"document"`
}

// answer streams how many questions stand before (events "queue"), how the
// choice goes (events "progress"), the answer (event
// "answer"), once more with what there is to learn from it (event "lessons"),
// or what is wrong (event "trouble"), or that the program was
// stopped (event "stopped").
func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	var q answerRequest
	if err := readJSON(w, r, &q); err != nil {
		fail(w, badRequest(err))
		return
	}
	a, err := s.asking(&q.Scene)
	if err != nil {
		fail(w, badRequest(err))
		return
	}
	events := newEvents(w)
	tell := func(err error) {
		cause := context.Cause(r.Context())
		switch {
		case errors.Is(cause, errStopped) && events.begun:
			events.send("stopped", errStopped.text)
		case errors.Is(cause, errStopped), errors.Is(err, errFull) && !events.begun:
			fail(w, cmp.Or(cause, err))
		case cause == nil:
			events.send("trouble", oneLine(err))
		}
	}
	wait := func(before int) { events.send("queue", map[string]int{"before": before}) }
	err = s.hold(r.Context(), a, wait, func(session *solver.Session) error {
		return a.choose(r.Context(), session, q.Palette, events)
	})
	if err == nil {
		err = events.answer("answer", a.doc)
	}
	if err != nil {
		tell(err)
		return
	}
	select {
	case <-time.After(pause):
	case <-r.Context().Done():
		tell(r.Context().Err())
		return
	}
	err = s.hold(r.Context(), a, wait, func(session *solver.Session) error { return a.learn(r.Context(), session) })
	if err == nil {
		err = events.answer("lessons", a.doc)
	}
	if err != nil {
		tell(err)
	}
}

// asking is a scene put to the solver, as the commands put it.
type asking struct {
	problem solver.Problem
	words   report.Scene
	held    *heldSession

	chosen *solver.Answer  // nil where a palette was checked
	kept   *solver.Palette // the palette checked
	doc    *report.Choice
}

// asking finds the session that knows the colours already, or starts one.
func (s *Server) asking(from *state) (*asking, error) {
	sc, err := from.scene()
	if err != nil {
		return nil, err
	}
	a := &asking{problem: sc.Problem(s.stock.Tubes())}
	a.problem.Surface = film.Dry
	a.words = report.Scene{Title: sc.Title, Tolerance: sc.Tolerance, Limits: report.LimitWords(&a.problem.Limits)}
	a.held, err = s.asked.session(&a.problem)
	return a, err
}

// hold runs f when it is its turn and the session is free; wait, if any, is told
// how many stand before.
func (s *Server) hold(ctx context.Context, a *asking, wait func(before int), f func(*solver.Session) error) error {
	release, err := s.queue.enter(ctx, a.held, wait)
	if err != nil {
		return err
	}
	defer release()
	if err := ctx.Err(); err != nil {
		return err
	}
	return f(a.held.session)
}

func (a *asking) choose(ctx context.Context, session *solver.Session, palette []string, events *events) error {
	p := &a.problem
	if len(palette) > 0 {
		a.words.Limits = nil
		kept, missed, err := session.Check(ctx, palette, p.Limits.Own)
		if err != nil {
			return err
		}
		a.kept, a.doc = &kept, report.NewCheck(a.words, p, kept, missed)
		return nil
	}
	chosen, err := session.Choose(ctx, p.Limits, p.Prefer, func(p solver.Progress) {
		events.send("progress", map[string]int{"atLeast": p.AtLeast, "atMost": p.AtMost, "cuts": p.Cuts})
	})
	if err != nil {
		return err
	}
	a.chosen, a.doc = chosen, report.NewChoice(a.words, p, chosen)
	return nil
}

func (a *asking) learn(ctx context.Context, session *solver.Session) error {
	var learned *report.Learned
	var err error
	switch {
	case a.kept != nil:
		learned, err = report.LearnKept(ctx, session, &a.problem, a.kept)
	case len(a.chosen.Palettes) > 0:
		learned, err = report.LearnChosen(ctx, session, &a.problem, a.chosen)
	}
	if err != nil || learned == nil {
		return err
	}
	a.doc.Teach(learned)
	return a.doc.AddSlices()
}

// events writes server-sent events (WHATWG HTML, section 9.2).
type events struct {
	w     http.ResponseWriter
	flush func()
	begun bool
}

func newEvents(w http.ResponseWriter) *events {
	w.Header().Set("Content-Type", "text/event-stream")
	e := &events{w: w, flush: func() {}}
	if f, ok := w.(http.Flusher); ok {
		e.flush = f.Flush
	}
	return e
}

func (e *events) answer(kind string, doc *report.Choice) error {
	html, err := doc.Fragment()
	if err != nil {
		return err
	}
	sent := *doc
	sent.Palettes = sent.Palettes[:min(len(sent.Palettes), mostSent)]
	e.send(kind, shownAnswer{string(html), &sent})
	return nil
}

func (e *events) send(kind string, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		kind, data = "trouble", []byte(`"the answer could not be written down"`)
	}
	e.begun = true
	fmt.Fprintf(e.w, "event: %s\ndata: %s\n\n", kind, data)
	e.flush()
}
