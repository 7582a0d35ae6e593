package solver

import (
	"fewtubes/catalog"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// order is what a preference comes to: weights whose sum is made least, exactly,
// among the smallest palettes; none for accuracy, which is no sum over tubes.
//
//   - price: hundredths, owned tubes 0
//   - hazards: how many hazard classes the tubes carry, each tube counted
//   - lightfastness: fewest tubes of the worst class, then of the next; a tube
//     of unknown class counts as III
func (p Preference) order(tubes []catalog.Tube) choice.Order {
	each := func(weight func(t *catalog.Tube, size int) int) choice.Order {
		return choice.Order{Name: string(p), Weigh: func(_ *cover.Rules, size int) []int {
			out := make([]int, len(tubes))
			for i := range tubes {
				out[i] = weight(&tubes[i], size)
			}
			return out
		}}
	}
	switch p {
	case Price:
		return choice.Order{Name: string(p), Weigh: func(r *cover.Rules, _ int) []int { return r.Weights }}
	case FewestHazards:
		return each(func(t *catalog.Tube, _ int) int { return len(t.Hazards) })
	case Lightfast:
		return each(func(t *catalog.Tube, size int) int { return fading(t.Lightfastness, size) })
	}
	return choice.Order{Name: string(p)}
}

// fading weighs a lightfastness class so that no number of better tubes in a
// palette of the size outweighs a worse one.
func fading(class string, size int) int {
	weight := 1
	for _, c := range []string{"II", "III", "IV", "V"} {
		if class == c {
			return weight
		}
		weight *= size + 1
	}
	if class == "I" {
		return 0
	}
	return size + 1
}

// drawbacks weighs a tube one for being toxic and one for being fugitive
// (catalog.Classes).
func drawbacks(tubes []catalog.Tube) []int {
	out := make([]int, len(tubes))
	for i := range tubes {
		for _, class := range []string{"toxic", "fugitive"} {
			if tubes[i].InClass(class) {
				out[i]++
			}
		}
	}
	return out
}
