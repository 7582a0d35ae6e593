package solver

import "fewtubes/catalog"

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
