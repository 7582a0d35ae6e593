package solver

import (
	"context"
	"math"
	"runtime"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Frailty is a way in which a reach may not hold at the easel.
type Frailty string

const (
	OnAHair      Frailty = "hair"      // within 0.3 of the tolerance
	OnAnEstimate Frailty = "estimated" // a tube of the mix is estimated
	OnATrace     Frailty = "trace"     // a share under 2 %, hard to mix by hand
)

// Fragile is a target that a palette reaches on such terms.
type Fragile struct {
	Target string
	Why    Frailty
	Tube   string  // the estimated tube, or the one of small share; else empty
	By     float64 // tolerance less difference, or the share
}

const (
	hair = 0.3 // CIEDE2000

	// Trace is the share by volume below which a tube is hard to measure.
	Trace = 0.02
)

// Sensitivity lists what is fragile about a palette, in the order of targets.
func (s *Session) Sensitivity(p *Palette) []Fragile {
	out := []Fragile{}
	for t := range p.Targets {
		o := &p.Targets[t]
		if !o.Reached {
			continue
		}
		if spare := s.problem.Targets[t].Tolerance - o.DE; spare < hair {
			out = append(out, Fragile{o.Target, OnAHair, "", spare})
		}
		for _, share := range o.Shares {
			if s.tube(share.ID).Basis == catalog.Estimated {
				out = append(out, Fragile{o.Target, OnAnEstimate, share.ID, share.Fraction})
			}
			if share.Fraction < Trace {
				out = append(out, Fragile{o.Target, OnATrace, share.ID, share.Fraction})
			}
		}
	}
	return out
}

// Drift is how the mix for a target changes from the problem's light to a
// second one, each seen against its own white.
type Drift struct {
	Target string
	From   colour.Lab // under the problem's light
	To     colour.Lab // under the second
	Miss   colour.Miss
}

// Drifts follows a palette's mixes under a second light, in the order of
// targets, and names the two whose shifts in CIELAB are most unlike: colours
// whose relation changes most. apart is 0, 0 when there are fewer than two.
func (s *Session) Drifts(p *Palette, second *colour.Light) (drifts []Drift, apart [2]int) {
	other := s.problem
	other.Light = second
	for i := range p.Targets {
		o := &p.Targets[i]
		if len(o.Shares) == 0 {
			continue
		}
		d := Drift{Target: o.Target, From: o.Mix, To: seen(&other, s.tube, o.Shares)}
		d.Miss = colour.Direction(d.To, d.From)
		drifts = append(drifts, d)
	}
	most := -1.0
	for i := range drifts {
		for j := range i {
			if gap := unlike(&drifts[j], &drifts[i]); portable.Compare(gap, most, portable.Fine) > 0 {
				most, apart = gap, [2]int{j, i}
			}
		}
	}
	return drifts, apart
}

// unlike is the CIELAB distance between two shifts.
func unlike(a, b *Drift) float64 {
	l := a.To.L - a.From.L - b.To.L + b.From.L
	x := a.To.A - a.From.A - b.To.A + b.From.A
	y := a.To.B - a.From.B - b.To.B + b.From.B
	return math.Sqrt(float64(l*l) + float64(x*x) + float64(y*y))
}

// Varnished is a target out of reach for the glare of the surface alone.
type Varnished struct {
	Target  string            `json:"-"`
	DE      colour.Hundredths `json:"de"`      // of the nearest mix seen without glare, within the tolerance
	Palette bool              `json:"palette"` // the palette comes that near; else all allowed tubes together
}

// Varnished asks which of the targets that a palette misses are reached where no
// glare is seen: by the palette, or, where all the tubes that the limits allow
// miss them with glare, by all of these. By hand it asks nothing.
func (s *Session) Varnished(ctx context.Context, limits Limits, palette []string, missed []Miss) (out []Varnished, err error) {
	if s.problem.Surface.View() == film.NoGlare || len(missed) == 0 || s.hand != nil {
		return nil, nil
	}
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	own, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	var near [2]*gamut.Mixer // of the palette and of all allowed tubes, when asked
	for _, m := range missed {
		target := &s.problem.Targets[s.targetIndex(m.Target)]
		for i, tubes := range []set.Set{own, r.Allowed} {
			if i == 1 && !m.Beyond {
				break
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if near[i] == nil {
				opt := gamut.Options{Surface: s.problem.Surface.Viewed(film.NoGlare), Light: s.problem.Light, PaintsPerMix: s.problem.PaintsPerMix}
				if near[i], err = gamut.NewMixer(s.paints(tubes), opt); err != nil {
					return nil, err
				}
			}
			runtime.Gosched()
			mix := near[i].Closest(target.Lab, set.Full(near[i].Len()), gamut.Search)
			if de := colour.DE2000(near[i].Evaluate(mix.Paints, mix.Shares), target.Lab); de <= target.Tolerance {
				out = append(out, Varnished{target.Name, colour.Hundredths(de), i == 0})
				break
			}
		}
	}
	return out, nil
}
