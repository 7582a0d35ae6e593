package recession

import (
	"math"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// margin is a little less than what Check lets pass, as the adjusted colours are
// rounded.
const margin = slack - 0.5

// Adjusted is a copy of a scene whose planes step back, and what was moved for
// it. Working from near to far, each plane is changed only as far as it must be:
// its darks are lifted, its chroma is scaled down, its colours are turned
// towards blue. The foreground and the sky stay as they are, and so does a
// ground that lies too low, which is a matter of the motif.
func Adjusted(s scene.Scene) (scene.Scene, []scene.Moved) {
	if len(Check(s.Targets)) == 0 {
		return s, nil
	}
	targets := append([]scene.Target(nil), s.Targets...)
	for i := range planes(targets) {
		if i > 0 {
			stepBack(targets, i)
		}
	}
	return scene.Recoloured(s, func(i int, _ colour.Lab) colour.Lab { return targets[i].Lab })
}

// stepBack changes plane i, counted from near, to lie behind the one before it.
func stepBack(targets []scene.Target, i int) {
	ps := planes(targets)
	near, p, front := &ps[i-1], &ps[i], &ps[0]
	lowest, wide := targets[near.darkest].Lab.L, 100.0
	if front.name == "foreground" {
		lowest = max(lowest, targets[front.darkest].Lab.L)
		// The contrast of the foreground is the widest there may be.
		if wide = front.contrast(targets); p.contrast(targets) > wide+margin {
			lowest = max(lowest, targets[p.lightest].Lab.L-wide)
		}
	}
	if dark := targets[p.darkest].Lab.L; dark < lowest-margin {
		liftDarks(targets, p, dark, lowest, wide)
	}
	if p.chroma > near.chroma+margin {
		scaleChroma(targets, p, near.chroma/p.chroma)
	}
	p = &planes(targets)[i]
	if p.warmth > near.warmth+margin {
		cool(targets, p, p.warmth-near.warmth)
	}
}

// liftDarks presses the values of a plane together from below. Its lightest
// stays, unless even that is too dark; then the plane is lifted as a whole, its
// contrast no wider than allowed.
func liftDarks(targets []scene.Target, p *plane, dark, lowest, wide float64) {
	light := targets[p.lightest].Lab.L
	top := light
	if light <= lowest {
		top = min(100, lowest+min((light-dark)/4, wide))
	}
	by := 0.0
	if light > dark {
		by = (top - lowest) / (light - dark)
	}
	for _, k := range p.targets {
		targets[k].Lab.L = lowest + float64((targets[k].Lab.L-dark)*by)
	}
}

func scaleChroma(targets []scene.Target, p *plane, by float64) {
	for _, k := range p.targets {
		targets[k].Lab.A *= by
		targets[k].Lab.B *= by
	}
}

// cool moves a plane away from orange by so much warmth: first by greying its
// warm colours, whose chroma must not rise, then by turning the rest to blue.
func cool(targets []scene.Target, p *plane, by float64) {
	var warm, area float64
	for _, k := range p.targets {
		w := weight(&targets[k])
		area += w
		warm += float64(w * max(0, warmth(targets[k].Lab)))
	}
	if warm <= 0 {
		return
	}
	part := min(1, by*area/warm)
	const warmest = 60 * math.Pi / 180
	sin, cos := portable.Sincos(warmest)
	for _, k := range p.targets {
		c := &targets[k].Lab
		if w := warmth(*c); w > 0 {
			c.A -= float64(part * w * cos)
			c.B -= float64(part * w * sin)
		}
	}
}
