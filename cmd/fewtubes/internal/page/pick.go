package page

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// swatch is a colour as the page shows it.
type swatch struct {
	Colour string `json:"colour"` // as a scene file writes it
	look
}

type look struct {
	Hex   string `json:"hex,omitempty"`
	Words string `json:"words,omitempty"`
	Value string `json:"value,omitempty"` // 0 black to 10 white
}

func newSwatch(c colour.Lab) swatch {
	c = colour.Lab{L: tenth(c.L), A: tenth(c.A), B: tenth(c.B)}
	return swatch{
		Colour: scene.Spell(c),
		look:   look{shown.Hex(c), colour.Name(c).String(), shown.Value(c.L)},
	}
}

func tenth(v float64) float64 { return math.Round(v*10)/10 + 0 }

type pickRequest struct {
	Photo  string        `json:"photo"`
	X      float64       `json:"x"` // fractions of the picture
	Y      float64       `json:"y"`
	Radius float64       `json:"radius"` // of its width
	Values *values.Curve `json:"values"` // the curve the other colours were moved by

	Palette []string `json:"palette"` // tubes to say the nearest mix of; empty: not asked
	Light   string   `json:"light"`
	Surface string   `json:"surface"`
}

// picked is what a patch shows, and what the tubes make of it.
type picked struct {
	swatch
	Chroma string `json:"chroma"`
	Lean   string `json:"lean"` // warm or cool; empty: neither
	Mix    *mixed `json:"mix,omitempty"`
}

type mixed struct {
	Hex   string `json:"hex"`
	Words string `json:"words"`
}

// pick averages a round patch of a photograph.
func (s *Server) pick(w http.ResponseWriter, r *http.Request) {
	var q pickRequest
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	d, err := s.photograph(p, q.Photo)
	if err != nil {
		p.fail(err)
		return
	}
	lab := average(d.picture, q.X, q.Y, q.Radius).Lab()
	if q.Values != nil && q.Values.Check() == nil {
		lab.L = q.Values.At(lab.L)
	}
	out := picked{swatch: newSwatch(lab), Chroma: shown.Digits(lab.LCh().C, 0), Lean: string(colour.Lean(lab))}
	if len(q.Palette) > 0 {
		if out.Mix, err = s.nearest(&q, lab); err != nil {
			p.fail(err)
			return
		}
	}
	p.json(out)
}

// nearest is the mix of some tubes nearest to a colour.
func (s *Server) nearest(q *pickRequest, want colour.Lab) (*mixed, error) {
	stock := s.stock()
	tubes, err := paletteOf(stock, q.Palette)
	if err != nil {
		return nil, err
	}
	sight, err := sightOf(stock, q.Light, q.Surface)
	if err != nil {
		return nil, err
	}
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	mixer, err := gamut.NewMixer(paints, sight)
	if err != nil {
		return nil, err
	}
	mix := mixer.Closest(want, set.Full(len(paints)), gamut.Quick)
	return &mixed{shown.Hex(mix.Lab), "mixed: " + shown.Judgement(shown.Nearest(mix.DE))}, nil
}

// average is the mean light within the circle, at least the pixel under its centre.
func average(p *still, x, y, radius float64) colour.LinearRGB {
	clamp := func(v float64, n int) int { return min(max(int(v*float64(n)), 0), n-1) }
	cx, cy := clamp(x, p.w), clamp(y, p.h)
	rad := min(max(radius, 0), 0.25) * float64(p.w)
	reach := int(rad)
	var sum colour.LinearRGB
	n := 0.0
	for py := max(0, cy-reach); py <= min(p.h-1, cy+reach); py++ {
		for px := max(0, cx-reach); px <= min(p.w-1, cx+reach); px++ {
			if portable.Hypot(float64(px-cx), float64(py-cy)) > rad && (px != cx || py != cy) {
				continue
			}
			c := p.at(px, py)
			sum.R, sum.G, sum.B, n = sum.R+c.R, sum.G+c.G, sum.B+c.B, n+1
		}
	}
	return colour.LinearRGB{R: sum.R / n, G: sum.G / n, B: sum.B / n}
}

// colours reads what was typed: a colour a line or parted by semicolons, each
// with an optional name before an equals sign.
func (s *Server) colours(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Text string `json:"text"`
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	type typed struct {
		swatch
		Name string `json:"name"`
	}
	out := []typed{}
	lines := strings.FieldsFunc(q.Text, func(r rune) bool { return r == '\n' || r == ';' })
	if len(lines) > mostTargets {
		fail(w, tooMany("colours", len(lines), mostTargets))
		return
	}
	for i, line := range lines {
		name, notation, named := strings.Cut(line, "=")
		if !named {
			name, notation = "", line
		}
		if notation = strings.TrimSpace(notation); notation == "" {
			continue
		}
		lab, err := colour.Parse(notation)
		if err != nil {
			fail(w, fmt.Errorf("line %d: %w", i+1, err))
			return
		}
		t := typed{newSwatch(lab), strings.TrimSpace(name)}
		t.Colour = notation
		out = append(out, t)
	}
	writeJSON(w, out)
}
