package recipe_test

import (
	"math"
	"math/bits"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// oracle goes through recipes one by one, in plain code that shares nothing with
// the package but its constants, each mixed by package film.
type oracle struct {
	paints []film.Paint
	most   int // ingredients, and paints
	total  int // parts
}

// mix is the colour of so many quarters of ingredients.
func (o *oracle) mix(items []recipe.Ingredient, quarters []float64) colour.Lab {
	amounts := make([]float64, len(o.paints))
	for i, in := range items {
		amounts[in.Paint] += quarters[i] / float64(in.Ratio+1)
		if in.Ratio > 0 {
			amounts[in.Into] += quarters[i] * float64(in.Ratio) / float64(in.Ratio+1)
		}
	}
	var sum film.Paint
	film.Mix(&sum, o.paints, amounts)
	seen := sum.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

// found is a recipe of the oracle.
type found struct {
	items    []recipe.Ingredient
	quarters []float64
	paints   int
	total    float64 // quarters
	lab      colour.Lab
}

// each calls with every recipe of n of these piles, beside any tubes. A touch is
// taken of what touchable says.
func (o *oracle) each(piles []recipe.Ingredient, n int, touchable func(recipe.Ingredient) bool, with func(f *found)) {
	var all []recipe.Ingredient
	for p := range o.paints {
		all = append(all, recipe.Ingredient{Paint: p})
	}
	all = append(all, piles...)
	for choice := range 1 << len(all) {
		if bits.OnesCount(uint(choice)) > o.most {
			continue
		}
		var items []recipe.Ingredient
		held, strong := map[int]bool{}, map[int]bool{}
		letDown, twice := 0, false
		for i, in := range all {
			if choice>>i&1 == 0 {
				continue
			}
			items = append(items, in)
			twice = twice || strong[in.Paint]
			strong[in.Paint] = strong[in.Paint] || in.LetDown()
			held[in.Paint] = true
			if in.LetDown() {
				letDown++
				held[in.Into] = true
			}
		}
		for _, in := range items {
			twice = twice || (!in.LetDown() && strong[in.Paint])
		}
		if len(items) == 0 || len(held) > o.most || letDown != n || twice {
			continue
		}
		o.divide(&found{items: items, paints: len(held)}, touchable, with)
	}
}

func (o *oracle) divide(f *found, touchable func(recipe.Ingredient) bool, with func(f *found)) {
	if len(f.quarters) == len(f.items) {
		touches, wholes := 0, 0.0
		for _, q := range f.quarters {
			if q == 1 {
				touches++
			} else {
				wholes += q
			}
		}
		if touches > 2 || (touches > 0 && wholes < 16) {
			return
		}
		f.total = wholes + float64(touches)
		f.lab = o.mix(f.items, f.quarters)
		with(f)
		return
	}
	sum := 0.0
	for _, q := range f.quarters {
		sum += q
	}
	try := func(q float64) {
		if sum+q <= float64(4*o.total) {
			f.quarters = append(f.quarters, q)
			o.divide(f, touchable, with)
			f.quarters = f.quarters[:len(f.quarters)-1]
		}
	}
	if touchable(f.items[len(f.quarters)]) {
		try(1)
	}
	for n := 1.0; n <= 8; n++ {
		try(4 * n)
	}
}

// serves reports whether a recipe comes within a tolerance, and with half or twice
// its touches within one unit more.
func (o *oracle) serves(f *found, target colour.Lab, tolerance float64) (de float64, ok bool) {
	if de = colour.DE2000(f.lab, target); de > tolerance {
		return de, false
	}
	for choice := range 1 << len(f.items) {
		strayed := slices.Clone(f.quarters)
		touches := false
		for i, q := range strayed {
			if q != 1 {
				continue
			}
			touches = true
			if strayed[i] = 0.5; choice>>i&1 == 1 {
				strayed[i] = 2
			}
		}
		if !touches {
			break
		}
		if colour.DE2000(o.mix(f.items, strayed), target) > tolerance+1 {
			return de, false
		}
	}
	return de, true
}

// tally is what serves a target: by paints and quarters, the least difference.
type tally map[[2]int]float64

func (t tally) add(f *found, de float64) {
	key := [2]int{f.paints, int(f.total)}
	if old, ok := t[key]; !ok || de < old {
		t[key] = de
	}
}

// plainest is what the rule asks for: the fewest paints within two thirds of the
// tolerance, else within it; then the fewest quarters within half a unit of the
// nearest of as many paints.
func (t tally) plainest(tolerance float64) (paints, quarters int, ok bool) {
	for _, limit := range []float64{tolerance * 2 / 3, tolerance} {
		for n := 1; n <= 4; n++ {
			nearest := math.Inf(1)
			for key, de := range t {
				if key[0] == n {
					nearest = min(nearest, de)
				}
			}
			if nearest > limit {
				continue
			}
			fewest := math.MaxInt
			for key, de := range t {
				if key[0] == n && de <= min(nearest+0.5, limit) {
					fewest = min(fewest, key[1])
				}
			}
			return n, fewest, true
		}
	}
	return 0, 0, false
}

// piles are all that may be made: a strong paint in a weaker one.
func (o *oracle) piles() (out []recipe.Ingredient) {
	for s := range o.paints {
		for w := range o.paints {
			if recipe.Strength(&o.paints[s]) > recipe.Strength(&o.paints[w]) {
				for _, ratio := range []int{5, 10, 30} {
					out = append(out, recipe.Ingredient{Paint: s, Into: w, Ratio: ratio})
				}
			}
		}
	}
	return out
}
