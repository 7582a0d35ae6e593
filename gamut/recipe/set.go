package recipe

// set is the ingredients of a recipe: tubes, ascending, then piles, ascending.
type set struct {
	item    [mostIngredients]int16 // places in Kitchen.ingredients
	n       uint8
	tubes   uint8 // the first so many are tubes
	firm    uint8 // a bit for each ingredient of which no touch is taken
	paints  uint8 // in it, those in piles included
	support paintsKey
}

// items are the ingredients in s, in room of the caller's.
func (s *set) items(room []int) []int {
	room = room[:0]
	for _, i := range s.item[:s.n] {
		room = append(room, int(i))
	}
	return room
}

// setsOf lists the sets that hold just these piles and any tubes beside them. A
// pile stands for its strong paint, which is not taken from the tube as well nor
// from two piles; and all of it keeps to so many paints.
func (k *Kitchen) setsOf(piles ...int16) []set {
	var base set
	strong := map[int]bool{}
	paints := map[int]bool{}
	for _, p := range piles {
		in := k.ingredients[p]
		if strong[in.Paint] {
			return nil
		}
		strong[in.Paint] = true
		paints[in.Paint], paints[in.Into] = true, true
	}
	var out []set
	var tubes []int
	var choose func(from, paintsSoFar int)
	choose = func(from, paintsSoFar int) {
		if n := len(tubes) + len(piles); n > 0 {
			s := base
			s.n, s.tubes, s.paints = uint8(n), uint8(len(tubes)), uint8(paintsSoFar)
			for i, t := range tubes {
				s.item[i] = int16(t)
			}
			for i, p := range piles {
				s.item[len(tubes)+i] = p
			}
			s.support = k.supportOf(s.item[:n])
			out = append(out, s)
		}
		if len(tubes)+len(piles) == k.most {
			return
		}
		for t := from; t < k.tubes; t++ {
			more := paintsSoFar
			if !paints[t] {
				more++
			}
			if strong[t] || more > k.most {
				continue
			}
			tubes = append(tubes, t)
			choose(t+1, more)
			tubes = tubes[:len(tubes)-1]
		}
	}
	if len(paints) <= k.most && len(piles) <= k.most {
		choose(0, len(paints))
	}
	return out
}

// setsOfPiles are the sets that hold n of these piles, given in ascending order.
func (k *Kitchen) setsOfPiles(n int, from []int16) (out []set) {
	subsets(from, n, func(piles []int16) { out = append(out, k.setsOf(piles...)...) })
	return out
}

// subsets calls with every n of the piles, in their order.
func subsets(from []int16, n int, with func([]int16)) {
	var chosen []int16
	var choose func(at int)
	choose = func(at int) {
		if len(chosen) == n {
			with(chosen)
			return
		}
		for i := at; i < len(from); i++ {
			chosen = append(chosen, from[i])
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
