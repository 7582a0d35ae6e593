package page

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// reply is where the answer to one question goes: a plain response or, for who
// accepts a stream and has to wait for a turn, a stream of events: how many stand
// before ("queue"), that the turn has come ("turn"), and the answer ("result"),
// or what is wrong ("trouble"), or that the program was stopped ("stopped").
type reply struct {
	r       *http.Request
	out     *events
	accepts bool
	always  bool // a stream whether there is a wait or not
}

func newReply(w http.ResponseWriter, r *http.Request) *reply {
	return &reply{r: r, out: &events{w: w}, accepts: strings.Contains(r.Header.Get("Accept"), "text/event-stream")}
}

// newStream is a reply that is a stream in any case.
func newStream(w http.ResponseWriter, r *http.Request) *reply {
	p := newReply(w, r)
	p.accepts, p.always = true, true
	return p
}

// waits tells how many stand before.
func (p *reply) waits(before int) {
	if p.accepts {
		p.out.send("queue", map[string]int{"before": before})
	}
}

// turn tells that the wait, if there was one, is over.
func (p *reply) turn() {
	if p.out.begun {
		p.out.send("turn", struct{}{})
	}
}

// json sends a value as the whole answer.
func (p *reply) json(v any) {
	if p.out.begun {
		p.out.send("result", v)
		return
	}
	writeJSON(p.out.w, v)
}

// document sends a report and the same numbers as the command's JSON.
func (p *reply) document(doc document) {
	html, err := doc.Fragment()
	if err != nil {
		p.fail(&trouble{http.StatusInternalServerError, err.Error()})
		return
	}
	p.json(map[string]string{"html": string(html)})
}

// document is what the commands report, as a part of the page.
type document interface{ Fragment() ([]byte, error) }

// file sends a file to be kept under a name; in a stream it comes in base64.
func (p *reply) file(name, kind string, data []byte) {
	if p.out.begun {
		p.out.send("result", map[string]any{"file": name, "kind": kind, "data": data})
		return
	}
	h := p.out.w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = p.out.w.Write(data)
}

// jpeg sends a picture; in a stream it comes in base64.
func (p *reply) jpeg(data []byte) {
	if p.out.begun {
		p.out.send("result", map[string]any{"jpeg": data})
		return
	}
	p.out.w.Header().Set("Content-Type", "image/jpeg")
	_, _ = p.out.w.Write(data)
}

// fail says what is wrong; to who has left, nothing.
func (p *reply) fail(err error) {
	cause := context.Cause(p.r.Context())
	switch stopped := errors.Is(cause, errStopped); {
	case stopped && p.out.begun:
		p.out.send("stopped", errStopped.text)
	case stopped, errors.Is(err, errFull) && !p.out.begun:
		fail(p.out.w, cmp.Or(cause, err))
	case cause != nil:
	case p.out.begun, p.always:
		p.out.send("trouble", oneLine(err))
	default:
		fail(p.out.w, err)
	}
}

// encoded is what leaves as JSON, held to finite numbers.
func encoded(v any) ([]byte, error) {
	if err := shown.Finite(v); err != nil {
		return nil, err
	}
	return json.Marshal(v)
}

// events writes server-sent events (WHATWG HTML, section 9.2).
type events struct {
	w     http.ResponseWriter
	begun bool
}

// send tells what happened; to nil, nothing.
func (e *events) send(kind string, v any) {
	if e == nil {
		return
	}
	data, err := encoded(v)
	if err != nil {
		kind, data = "trouble", []byte(`"the answer could not be written down"`)
	}
	if !e.begun {
		e.begun = true
		e.w.Header().Set("Content-Type", "text/event-stream")
	}
	fmt.Fprintf(e.w, "event: %s\ndata: %s\n\n", kind, data)
	if f, ok := e.w.(http.Flusher); ok {
		f.Flush()
	}
}
