package sheet

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
)

// orderOfWork says how to go about the scene. All of it is common practice, no
// source.
func (h *Handout) orderOfWork() []string {
	dark, light := h.extremes()
	order := []string{
		"Mix every pile before painting, each to its value first; compare piles side by side and against the scene.",
	}
	switch own, exact := h.letsDown(); {
	case own:
		order = append(order, "Where a recipe says 1:10 or the like, let the strong tinter down for that mix first: one part of it in ten of the paint named.")
	case exact:
		order = append(order, "Where a recipe says 1:10 or 1:5, let the strong tinter down first: one part of it in ten, or five, of the paint named; twice means that pile once more, one part in as many.")
	}
	if dark.Name != "" && dark.Name != light.Name {
		order = append(order, fmt.Sprintf("Lay in the darks first and thin, beginning with %s (v %.1f); keep the lightest light, %s (v %.1f), for last and thickest.",
			dark.Name, dark.Target.Lab.L/10, light.Name, light.Target.Lab.L/10))
	}
	if names := h.planeNames(); len(names) > 1 {
		order = append(order, fmt.Sprintf("Then from the light down and the far to the near: %s. Edges and contrasts grow stronger as you come forward.", strings.Join(names, ", ")))
	}
	return append(order, h.drying()...)
}

// letsDown reports whether a recipe lets a tube down for itself, by hand or exactly.
func (h *Handout) letsDown() (own, exact bool) {
	for _, p := range h.Planes {
		for _, m := range p.Mixes {
			own = own || m.own
			exact = exact || m.LetDown && !m.byHand
		}
	}
	return own, exact
}

// extremes are the darkest and the lightest colour of the scene.
func (h *Handout) extremes() (dark, light Mix) {
	first := true
	for _, p := range h.Planes {
		for _, m := range p.Mixes {
			if first || m.Target.Lab.L < dark.Target.Lab.L {
				dark = m
			}
			if first || m.Target.Lab.L > light.Target.Lab.L {
				light = m
			}
			first = false
		}
	}
	return dark, light
}

func (h *Handout) planeNames() (names []string) {
	for _, p := range h.Planes {
		if p.Name != "" {
			names = append(names, p.Name)
		}
	}
	return names
}

// drying puts fast driers under and slow ones over.
func (h *Handout) drying() []string {
	var fast, slow []string
	for _, t := range h.Tubes {
		switch t.Drying {
		case "fast":
			fast = append(fast, catalog.InSentence(t.Name))
		case "slow":
			slow = append(slow, catalog.InSentence(t.Name))
		}
	}
	words := "Fat over lean: each layer no leaner than the one below."
	if len(fast) > 0 {
		words += fmt.Sprintf(" Fast driers belong in the first layers: %s.", strings.Join(fast, ", "))
	}
	switch {
	case 2*len(slow) > len(h.Tubes):
		words += " Most of this palette dries slowly: keep the first layers thin and give them time."
	case len(slow) > 0:
		words += fmt.Sprintf(" Slow driers belong in the last, or thin: %s.", strings.Join(slow, ", "))
	}
	if slices.ContainsFunc(h.Tubes, func(t catalog.Tube) bool { return slices.Contains(t.Pigments, "PW4") }) {
		words += " Zinc white can make a film brittle over the years: keep it out of the lower layers and of thick ones."
	}
	return []string{words}
}
