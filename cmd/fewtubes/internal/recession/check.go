package recession

import (
	"fmt"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
)

// slack is the difference, in units of CIELAB, below which nobody would speak
// of a rule as broken.
const slack = 2.0

// Check lists the rules that the targets break, in the order of the rules and
// from near to far. Targets without a plane are left aside, and so is every
// rule that would need a plane that has no targets.
func Check(targets []scene.Target) []Warning {
	ps := planes(targets)
	var out []Warning
	pairs := func(broken func(near, far *plane) (Warning, bool)) {
		for i := 1; i < len(ps); i++ {
			if w, bad := broken(&ps[i-1], &ps[i]); bad {
				out = append(out, w)
			}
		}
	}
	pairs(chromaFalls)
	pairs(func(near, far *plane) (Warning, bool) { return darksLighten(targets, near, far) })
	pairs(huesCool)
	for i := range ps {
		if w, bad := groundStaysLight(targets, &ps[i]); bad {
			out = append(out, w)
		}
	}
	if len(ps) > 1 && ps[0].name == "foreground" {
		out = append(out, inFront(targets, ps)...)
	}
	return out
}

func chromaFalls(near, far *plane) (Warning, bool) {
	return Warning{ChromaFalls, far.name, fmt.Sprintf("%s has more chroma on the whole (%.0f) than %s (%.0f): it comes forward; grey it.",
		the(far.name), far.chroma, the(near.name), near.chroma)}, far.chroma > near.chroma+slack
}

func darksLighten(targets []scene.Target, near, far *plane) (Warning, bool) {
	d, n := &targets[far.darkest], &targets[near.darkest]
	return Warning{DarksLighten, far.name, fmt.Sprintf("%s in %s (value %.1f) is darker than any dark of %s (%.1f): lighten it.",
		d.Name, the(far.name), d.Lab.L/10, the(near.name), n.Lab.L/10)}, d.Lab.L < n.Lab.L-slack
}

func huesCool(near, far *plane) (Warning, bool) {
	return Warning{HuesCool, far.name, fmt.Sprintf("%s is warmer on the whole (%+.0f) than %s (%+.0f): turn it towards blue.",
		the(far.name), far.warmth, the(near.name), near.warmth)}, far.warmth > near.warmth+slack
}

// groundStaysLight holds the lightest colour of each ground plane against the
// middle of all values of the scene.
func groundStaysLight(targets []scene.Target, p *plane) (Warning, bool) {
	lights := make([]float64, len(targets))
	for i := range targets {
		lights[i] = targets[i].Lab.L
	}
	middle := float64((slices.Min(lights) + slices.Max(lights)) / 2)
	light := &targets[p.lightest]
	return Warning{GroundStaysLight, p.name, fmt.Sprintf("the lightest colour of %s, %s (value %.1f), is below the middle of the scene (%.1f): ground under an open sky is lighter.",
		the(p.name), light.Name, light.Lab.L/10, middle/10)}, light.Lab.L < middle-slack
}

func inFront(targets []scene.Target, ps []plane) (out []Warning) {
	front := &ps[0]
	for i := range ps[1:] {
		p := &ps[i+1]
		d, f := &targets[p.darkest], &targets[front.darkest]
		if d.Lab.L < f.Lab.L-slack {
			out = append(out, Warning{DarkestInFront, p.name, fmt.Sprintf("the strongest dark is %s in %s (value %.1f), not in the foreground (%.1f).",
				d.Name, the(p.name), d.Lab.L/10, f.Lab.L/10)})
		}
	}
	for i := range ps[1:] {
		p := &ps[i+1]
		if wide := p.contrast(targets); wide > front.contrast(targets)+slack {
			out = append(out, Warning{ContrastInFront, p.name, fmt.Sprintf("%s has the wider contrast (%.1f of value) than the foreground (%.1f).",
				the(p.name), wide/10, front.contrast(targets)/10)})
		}
	}
	return out
}

// the names a plane within a sentence.
func the(plane string) string {
	switch plane {
	case "middle":
		return "the middle plane"
	}
	return "the " + plane
}
