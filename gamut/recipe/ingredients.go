package recipe

import "slices"

// ingredients are those of a recipe: tubes, ascending, then piles, ascending.
type ingredients struct {
	item   [mostIngredients]int16 // places in Kitchen.ingredients
	n      uint8
	tubes  uint8 // the first so many are tubes
	firm   uint8 // a bit for each ingredient of which no touch is taken
	paints support
}

// support is the paints of a set, those in its piles included, ascending; a place
// that is not taken is -1.
type support [mostIngredients]int16

func supportOf(paints []int16) support {
	s := support{-1, -1, -1, -1}
	copy(s[:], paints)
	return s
}

func (s support) list() []int16 {
	for n, p := range s {
		if p < 0 {
			return s[:n]
		}
	}
	return s[:]
}

// items are the ingredients in s, in room of the caller's.
func (s *ingredients) items(room []int) []int {
	room = room[:0]
	for _, i := range s.item[:s.n] {
		room = append(room, int(i))
	}
	return room
}

// supports lists the paints that one recipe may hold together: any up to so many
// that a hand mixes, but for one.
func (k *Kitchen) supports(without int) (out []support) {
	var tubes []int16
	for t := range k.tubes {
		if t != without {
			tubes = append(tubes, int16(t))
		}
	}
	for n := 1; n <= k.most; n++ {
		subsets(tubes, n, func(chosen []int16) {
			if k.limits.Hand.mixes(chosen) {
				out = append(out, supportOf(chosen))
			}
		})
	}
	return out
}

// straight is the set of the tubes of a support.
func (s support) straight() ingredients {
	n := len(s.list())
	return ingredients{item: s, n: uint8(n), tubes: uint8(n), paints: s}
}

// setsOf lists the sets of a support that hold n of these piles, given in
// ascending order. A pile stands for its strong paint, which is taken neither from
// the tube as well nor from two piles.
func (k *Kitchen) setsOf(paints support, n int, piles []int16) (out []ingredients) {
	all := paints.list()
	inside := slices.DeleteFunc(slices.Clone(piles), func(p int16) bool {
		in := k.ingredients[p]
		return !slices.Contains(all, int16(in.Paint)) || !slices.Contains(all, int16(in.Into))
	})
	subsets(inside, n, func(piles []int16) {
		var missing, spare []int16 // tubes of the support that the piles do not hold, and those they are let down in
		for _, p := range all {
			strong, weak := k.holds(piles, p)
			switch {
			case strong > 1:
				return
			case strong == 1:
			case weak:
				spare = append(spare, p)
			default:
				missing = append(missing, p)
			}
		}
		for more := 0; more <= min(len(spare), k.most-n-len(missing)); more++ {
			subsets(spare, more, func(beside []int16) {
				tubes := slices.Sorted(slices.Values(slices.Concat(missing, beside)))
				s := ingredients{n: uint8(len(tubes) + n), tubes: uint8(len(tubes)), paints: paints}
				copy(s.item[:], slices.Concat(tubes, piles))
				out = append(out, s)
			})
		}
	})
	return out
}

// holds tells of how many piles a paint is the strong one, and whether it is the
// weak one of any.
func (k *Kitchen) holds(piles []int16, paint int16) (strong int, weak bool) {
	for _, p := range piles {
		in := k.ingredients[p]
		if in.Paint == int(paint) {
			strong++
		}
		weak = weak || in.Into == int(paint)
	}
	return strong, weak
}

// subsets calls with every n of the items, in their order.
func subsets(items []int16, n int, with func([]int16)) {
	var chosen []int16
	var choose func(from int)
	choose = func(from int) {
		if len(chosen) == n {
			with(chosen)
			return
		}
		for i := from; i < len(items); i++ {
			chosen = append(chosen, items[i])
			choose(i + 1)
			chosen = chosen[:len(chosen)-1]
		}
	}
	choose(0)
}

// allPiles are the places of every pile that can be made.
func (k *Kitchen) allPiles() (out []int16) {
	for p := k.tubes; p < len(k.ingredients); p++ {
		out = append(out, int16(p))
	}
	return out
}
