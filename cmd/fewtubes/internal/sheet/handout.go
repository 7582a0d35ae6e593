package sheet

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// Handout is the class sheet of a scene: on one page the scene, its values, the
// palette and the order of work, on another the recipes plane by plane.
type Handout struct {
	Title    string
	Munsell  bool        // colours carry their Munsell notation instead of the value alone
	Pictures []Thumbnail // may be none
	Values   values.Grey // of the scene, with
	Plans    []values.Alternative
	Tubes    []catalog.Tube
	Mass     []Swatch
	Planes   []Plane
	Order    []string // of work, one sentence or two each
	leftOut  []string // names of colours, of the smallest areas, that found no room on the page
}

// Plane is the mixes of one plane of the scene, base by base, darkest first.
type Plane struct {
	Name  string // as in the scene file; empty: the target names none
	Mixes []Mix
}

// planeOrder is the order planes are painted in: from the light down and the
// far to the near (common practice, no source).
var planeOrder = []string{"sky", "distance", "middle", "foreground", ""}

// NewHandout works out the sheet of a palette found for the problem, with the
// nearest recipes in parts.
func NewHandout(title string, p *solver.Problem, palette *solver.Palette) *Handout {
	return newHandout(title, p, palette, func(e easel, tubes map[string]catalog.Tube, i int) Mix {
		return newMix(e, tubes, &palette.Targets[i], p.Targets[i].Tolerance)
	})
}

// NewHandoutByHand is NewHandout with the recipes a hand makes.
func NewHandoutByHand(ctx context.Context, title string, p *solver.Problem, palette *solver.Palette, m hand.Measures) (*Handout, error) {
	plan, err := hand.New(ctx, p, palette.Tubes, m)
	if err != nil {
		return nil, err
	}
	h := newHandout(title, p, palette, func(_ easel, tubes map[string]catalog.Tube, i int) Mix {
		return mixByHand(tubes, &p.Targets[i], &plan.Recipes[i])
	})
	h.prepare(plan)
	return h, nil
}

func newHandout(title string, p *solver.Problem, palette *solver.Palette, mix func(e easel, tubes map[string]catalog.Tube, i int) Mix) *Handout {
	e := easel{p.Light, p.Surface}
	h := &Handout{Title: title}
	byID := map[string]catalog.Tube{}
	for _, t := range p.Tubes {
		if slices.Contains(palette.Tubes, t.ID) {
			h.Tubes = append(h.Tubes, t)
		}
	}
	h.Tubes = plainNames(h.Tubes)
	for i, t := range h.Tubes {
		byID[t.ID] = t
		h.Mass = append(h.Mass, e.swatch(h.Tubes[i:i+1], []int{1}))
	}
	planes := map[string][]Mix{}
	for i := range palette.Targets {
		m := mix(e, byID, i)
		m.No, m.area = i+1, p.Targets[i].Area
		planes[p.Targets[i].Plane] = append(planes[p.Targets[i].Plane], m)
	}
	for _, name := range planeOrder {
		if mixes := planes[name]; len(mixes) > 0 {
			slices.SortStableFunc(mixes, func(a, b Mix) int {
				return cmp.Or(cmp.Compare(a.base, b.base), cmp.Compare(a.Target.Lab.L, b.Target.Lab.L))
			})
			h.Planes = append(h.Planes, Plane{name, mixes})
		}
	}
	h.Order = h.orderOfWork()
	if p.Surface.View() == film.NoGlare {
		h.Order = append(h.Order, "The recipes are for a picture varnished when it is dry, or lit so that no glare is seen: until then the darks look lighter.")
	}
	return h
}

// note is what stands behind the name of a colour: its value or its notation.
func (h *Handout) note(m *Mix) string {
	note := fmt.Sprintf("v %.1f", m.Target.Lab.L/10)
	if h.Munsell {
		notation, inside := m.Target.Lab.Munsell()
		note = notation.String()
		if !inside {
			note = "about " + note
		}
	}
	if m.Target.Clipped || m.Mixed.Clipped {
		return "(" + note + ") *"
	}
	return "(" + note + ")"
}

func (h *Handout) clone() *Handout {
	c := *h
	c.Planes = slices.Clone(h.Planes)
	for i := range c.Planes {
		c.Planes[i].Mixes = slices.Clone(c.Planes[i].Mixes)
	}
	return &c
}

// keep drops the colours of the smallest areas until at most n are left.
func (h *Handout) keep(n int) {
	for h.count() > n {
		plane, mix := 0, 0
		for i := range h.Planes {
			for j := range h.Planes[i].Mixes {
				if h.Planes[i].Mixes[j].area <= h.Planes[plane].Mixes[mix].area {
					plane, mix = i, j
				}
			}
		}
		p := &h.Planes[plane]
		h.leftOut = append(h.leftOut, p.Mixes[mix].Name)
		if p.Mixes = slices.Delete(p.Mixes, mix, mix+1); len(p.Mixes) == 0 {
			h.Planes = slices.Delete(h.Planes, plane, plane+1)
		}
	}
}

func (h *Handout) count() (n int) {
	for _, p := range h.Planes {
		n += len(p.Mixes)
	}
	return n
}
