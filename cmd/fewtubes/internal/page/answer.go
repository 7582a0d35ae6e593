package page

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// mostListed keeps what is sent at each change of a limit small; the command
// line lists more.
const mostListed = 24

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

// answer streams how the choice goes (events "progress") and then the answer
// (event "answer") or what is wrong (event "trouble").
func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	var q answerRequest
	if err := readJSON(w, r, &q); err != nil {
		fail(w, badRequest(err))
		return
	}
	sc, err := q.Scene.scene()
	if err != nil {
		fail(w, badRequest(err))
		return
	}
	events := newEvents(w)
	if len(s.busy) == cap(s.busy) {
		events.send("progress", map[string]any{"waiting": true})
	}
	release, err := s.turn(r.Context())
	if err != nil {
		return
	}
	defer release()
	doc, err := s.ask(r.Context(), &sc, q.Palette, func(p solver.Progress) {
		events.send("progress", map[string]int{"atLeast": p.AtLeast, "atMost": p.AtMost, "cuts": p.Cuts})
	})
	if err != nil {
		events.send("trouble", err.Error())
		return
	}
	html, err := doc.Fragment()
	if err != nil {
		events.send("trouble", err.Error())
		return
	}
	events.send("answer", shownAnswer{string(html), doc})
}

// ask puts the scene to the session that knows its colours already, or to a new one.
func (s *Server) ask(ctx context.Context, sc *scene.Scene, palette []string, watch func(solver.Progress)) (*report.Choice, error) {
	p := sc.Problem(s.stock.Tubes())
	p.Surface = film.Dry
	p.MostPalettes = mostListed
	held, err := s.asked.session(&p)
	if err != nil {
		return nil, err
	}
	held.mu.Lock()
	defer held.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	words := report.Scene{Title: sc.Title, Tolerance: sc.Tolerance, Limits: report.LimitWords(&p.Limits)}
	if len(palette) > 0 {
		words.Limits = nil
		own := slices.Clone(p.Limits.Own)
		chosen, missed, err := held.session.Check(palette, own)
		if err != nil {
			return nil, err
		}
		return report.NewCheck(words, &p, chosen, missed), nil
	}
	a, err := held.session.Choose(ctx, p.Limits, p.Prefer, watch)
	if err != nil {
		return nil, err
	}
	return report.NewChoice(words, &p, a), nil
}

// events writes server-sent events (WHATWG HTML, section 9.2).
type events struct {
	w     http.ResponseWriter
	flush func()
}

func newEvents(w http.ResponseWriter) *events {
	w.Header().Set("Content-Type", "text/event-stream")
	e := &events{w: w, flush: func() {}}
	if f, ok := w.(http.Flusher); ok {
		e.flush = f.Flush
	}
	return e
}

func (e *events) send(kind string, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		kind, data = "trouble", []byte(`"the answer could not be written down"`)
	}
	fmt.Fprintf(e.w, "event: %s\ndata: %s\n\n", kind, data)
	e.flush()
}
