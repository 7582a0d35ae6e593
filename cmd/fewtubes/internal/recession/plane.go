package recession

import (
	"math"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// ground are the planes that step back one behind the other; the sky does not.
var ground = []string{"foreground", "middle", "distance"}

// plane sums up the targets of one plane.
type plane struct {
	name              string
	targets           []int
	chroma            float64 // mean by area
	warmth            float64 // mean by area, see warmth
	darkest, lightest int     // targets
}

// planes sums up the ground planes that have targets, nearest first.
func planes(targets []scene.Target) (out []plane) {
	for _, name := range ground {
		p := plane{name: name, darkest: -1}
		var area float64
		for i := range targets {
			if targets[i].Plane == name {
				p.add(targets, i)
				area += weight(&targets[i])
			}
		}
		if len(p.targets) > 0 {
			p.chroma /= area
			p.warmth /= area
			out = append(out, p)
		}
	}
	return out
}

func (p *plane) add(targets []scene.Target, i int) {
	t := &targets[i]
	p.targets = append(p.targets, i)
	p.chroma += float64(weight(t) * t.Lab.LCh().C)
	p.warmth += float64(weight(t) * warmth(t.Lab))
	if p.darkest < 0 {
		p.darkest, p.lightest = i, i
	}
	if t.Lab.L < targets[p.darkest].Lab.L {
		p.darkest = i
	}
	if t.Lab.L > targets[p.lightest].Lab.L {
		p.lightest = i
	}
}

func (p *plane) contrast(targets []scene.Target) float64 {
	return targets[p.lightest].Lab.L - targets[p.darkest].Lab.L
}

// weight lets a target without area count a little.
func weight(t *scene.Target) float64 { return max(t.Area, 1e-6) }

// warmth is how far a colour leans to orange (CIELAB hue 60 degrees) and, below
// zero, to blue.
func warmth(c colour.Lab) float64 {
	const warmest = 60 * math.Pi / 180
	return float64(c.A*portable.Cos(warmest)) + float64(c.B*portable.Sin(warmest))
}
