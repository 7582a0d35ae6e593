package recipe

import (
	"cmp"
	"slices"

	"fewtubes/gamut/internal/kernel"
)

const (
	mostIngredients = 4  // of a recipe: four lose nothing against more
	mostOfOne       = 8  // parts; more are counted wrong
	mostTouches     = 2  // of a recipe
	touchInto       = 16 // quarters of other paints that a touch goes into at least

	// DefaultTotal is the most parts in a recipe when no limit is given.
	DefaultTotal = 12
)

// division is so many quarters of each ingredient of a set.
type division struct {
	quarters [mostIngredients]uint8
	touches  uint8 // a bit for each ingredient that is a touch
	total    uint8 // quarters
}

// divisions lists every way to divide n ingredients into at most total parts,
// the fewest first: whole parts without a common factor, up to mostOfOne of each,
// and touches.
func divisions(n, total int) []division {
	var out []division
	var d division
	var place func(at, wholes int)
	place = func(at, wholes int) {
		if at == n {
			if measurable(&d, n) {
				out = append(out, d)
			}
			return
		}
		for q := 4; q <= min(4*mostOfOne, 4*total-int(d.total)); q += 4 {
			d.add(at, q)
			place(at+1, wholes+q)
			d.take(at)
		}
		if int(d.total)+touch <= 4*total {
			d.add(at, touch)
			d.touches |= 1 << at
			place(at+1, wholes)
			d.touches &^= 1 << at
			d.take(at)
		}
	}
	place(0, 0)
	slices.SortStableFunc(out, func(a, b division) int { return cmp.Compare(a.total, b.total) })
	return out
}

// volumesOf puts divisions side by side.
func volumesOf(list []division) []kernel.Volumes {
	all := make([][kernel.Sketched]float32, len(list))
	for at, d := range list {
		for i, q := range d.quarters {
			all[at][i] = float32(q)
		}
	}
	return kernel.SideBySide(all)
}

func (d *division) add(at, quarters int) {
	d.quarters[at] = uint8(quarters)
	d.total += uint8(quarters)
}

func (d *division) take(at int) {
	d.total -= d.quarters[at]
	d.quarters[at] = 0
}

// measurable tells whether a hand would measure it so.
func measurable(d *division, n int) bool {
	touches, wholes, factor := 0, 0, 0
	for _, q := range d.quarters[:n] {
		if q == touch {
			touches++
		} else {
			wholes += int(q)
		}
		for a := int(q); a != 0; {
			factor, a = a, factor%a
		}
	}
	if touches == 0 {
		return factor == 4
	}
	return touches <= mostTouches && wholes >= touchInto
}
