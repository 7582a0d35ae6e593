package report

import (
	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
)

// letDown adds recipes to the mixes of a palette that whole parts spoil.
func (c *Choice) letDown(p *Palette) {
	opt := gamut.Options{Surface: c.problem.Surface, Light: c.problem.Light}
	parallel.Each(len(p.Targets), func(i int) { // each search takes milliseconds, and a painter waits for the sum
		t := &p.Targets[i]
		if !t.Coarse() && t.PartsDE <= t.DE+letdown.MayLose {
			return
		}
		if c.left() {
			return
		}
		r := letdown.Nearer(float64(t.PartsDE), c.problem.Targets[i].Lab, t.Shares, c.problem.MaxPartsTotal, opt, c.tube)
		if r == nil {
			return // the plain recipe stands with the difference it has
		}
		tolerance := float64(t.Tolerance)
		t.LetDown = piles.NewLetDown(*r, shown.DE(r.DE, tolerance, r.DE <= tolerance))
		if t.LetDown.DE < t.DE { // whatever it stands for, it is a mix of these tubes
			t.MixLab, t.DE, t.Shares = t.LetDown.Lab, t.LetDown.DE, r.Shares()
		}
	})
}
