package check_test

import (
	"math/big"
	"sync"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
)

// oracle replays the steps of a certificate in rational arithmetic alone, paint
// by paint and as the package comment words it. It shares nothing with the
// checker but the certificate.
type oracle struct {
	*check.Certificate
	light *colour.Light
	// Steps before the first and from the last on are taken as proved.
	first, last int
	cuts        map[int]func() []*big.Rat // of steps before the first, shared by replays of one proof
}

func (o *oracle) asked(i int) bool { return o.first <= i && i < o.last }

// replayed is a cell of the replay.
type replayed struct {
	limits map[check.Row][]*big.Rat // nil: not set
	cuts   []func() []*big.Rat      // worked out when first asked for
}

func rat(x float64) *big.Rat {
	r := new(big.Rat)
	if r.SetFloat64(x) == nil {
		return nil
	}
	return r
}
func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

var one = big.NewRat(1, 1)

// holds reports whether every step follows and no cell is left.
func (o *oracle) holds() bool {
	first := replayed{limits: map[check.Row][]*big.Rat{}}
	for _, row := range []check.Row{check.MostR, check.LeastR, check.MostS, check.LeastS} {
		first.limits[row] = make([]*big.Rat, colour.Bands)
	}
	for b := range colour.Bands { // true of every mix
		first.limits[check.MostR][b], first.limits[check.LeastR][b], first.limits[check.LeastS][b] = one, new(big.Rat), new(big.Rat)
	}
	open := []replayed{first}
	for i := range o.Steps {
		if len(open) == 0 {
			return false
		}
		s, at := &o.Steps[i], &open[len(open)-1]
		switch s.Action {
		case check.MakeCut:
			in := at.copied()
			cut := sync.OnceValue(func() []*big.Rat { return o.cut(&in, s.Cut) })
			if i < o.first {
				if o.cuts[i] == nil {
					o.cuts[i] = cut
				}
				cut = o.cuts[i]
			}
			if i == o.first && cut() == nil {
				return false
			}
			at.cuts = append(at.cuts, cut)
		case check.Move:
			if o.asked(i) && !o.moves(at, s) {
				return false
			}
			at.limits[s.Limit][s.Band] = rat(s.Value)
		case check.Split:
			other, ok := map[check.Row]check.Row{check.MostR: check.LeastR, check.MostS: check.LeastS}[s.Limit]
			if !ok || !inRange(s) {
				return false
			}
			half := at.copied()
			half.limits[s.Limit][s.Band] = rat(s.Value)
			at.limits[other][s.Band], at.cuts = rat(s.Value), nil
			open = append(open, half)
		case check.Empty:
			if o.asked(i) && !o.empties(at, s) {
				return false
			}
			open = open[:len(open)-1]
		}
	}
	return len(open) == 0
}

func (r *replayed) copied() replayed {
	out := replayed{limits: map[check.Row][]*big.Rat{}}
	for row, l := range r.limits {
		out.limits[row] = append([]*big.Rat(nil), l...)
	}
	return out
}

// limit is the coefficient of paint p in the row of a limit.
func (o *oracle) limit(row check.Row, b, p int, x *big.Rat) *big.Rat {
	k, s, n := rat(o.Paints[p].K[b]), rat(o.Paints[p].S[b]), rat(o.Norms[p])
	switch row {
	case check.MostR: // (1-v)^2 S <= 2 v K
		return sub(mul(mul(big.NewRat(2, 1), x), k), mul(mul(sub(one, x), sub(one, x)), s))
	case check.LeastR:
		return sub(mul(mul(sub(one, x), sub(one, x)), s), mul(mul(big.NewRat(2, 1), x), k))
	case check.MostS:
		return sub(mul(x, n), s)
	}
	return sub(s, mul(x, n))
}

// sum is the sum of multiplier times row for paint p; nil: it has no meaning.
func (o *oracle) sum(at *replayed, terms []check.Term, p int) *big.Rat {
	out := new(big.Rat)
	for _, t := range terms {
		m := rat(t.Times)
		switch {
		case m == nil || m.Sign() < 0:
			return nil
		case t.Row == check.CutRow:
			if t.Index >= len(at.cuts) || at.cuts[t.Index]() == nil {
				return nil
			}
			out = add(out, mul(m, at.cuts[t.Index]()[p]))
		default:
			if t.Index >= colour.Bands || at.limits[t.Row][t.Index] == nil {
				return nil
			}
			out = add(out, mul(m, o.limit(t.Row, t.Index, p, at.limits[t.Row][t.Index])))
		}
	}
	return out
}

func inRange(s *check.Step) bool {
	return s.Value > 0 && (s.Value < 1 || s.Limit == check.MostS || s.Limit == check.LeastS)
}

func (o *oracle) moves(at *replayed, s *check.Step) bool {
	if !inRange(s) {
		return false
	}
	for p := range o.Paints {
		sum := o.sum(at, s.Terms, p)
		if sum == nil || sub(o.limit(s.Limit, s.Band, p, rat(s.Value)), sum).Sign() < 0 {
			return false
		}
	}
	return true
}

func (o *oracle) empties(at *replayed, s *check.Step) bool {
	for p := range o.Paints {
		if sum := o.sum(at, s.Terms, p); sum == nil || sum.Sign() >= 0 {
			return false
		}
	}
	return true
}

// cut is height N - sum weight R, every R replaced by its plane; nil: it has no
// meaning.
func (o *oracle) cut(at *replayed, c *check.Cut) []*big.Rat {
	if c.Face < 0 || c.Face >= len(o.Faces) {
		return nil
	}
	out := make([]*big.Rat, len(o.Paints))
	for p := range out {
		out[p] = mul(rat(o.Faces[c.Face].Height), rat(o.Norms[p]))
	}
	for b := range colour.Bands {
		w := new(big.Rat)
		for k, n := range o.Faces[c.Face].Normal {
			w = add(w, mul(rat(n), rat(o.light.Weights[k][b])))
		}
		if w.Sign() == 0 {
			continue
		}
		most, least := at.limits[check.MostR][b], at.limits[check.LeastR][b]
		if most == nil || least == nil || at.limits[check.MostS][b] == nil || at.limits[check.LeastS][b].Sign() == 0 ||
			least.Sign() == 0 || most.Cmp(one) == 0 || least.Cmp(most) > 0 {
			return nil
		}
		slope, value, hinge := o.plane(most, least, w.Sign() < 0, c.Planes[b])
		if slope == nil {
			return nil
		}
		s := at.limits[check.LeastS][b]
		if (w.Sign() < 0) != c.Planes[b].High {
			s = at.limits[check.MostS][b]
		}
		for p := range out {
			above := sub(rat(o.Paints[p].K[b]), mul(hinge, rat(o.Paints[p].S[b])))
			r := add(mul(value, rat(o.Norms[p])), quo(mul(slope, above), s))
			out[p] = sub(out[p], mul(w, r))
		}
	}
	return out
}

// plane is the line in q over or under R: its slope, and its value at the hinge.
func (o *oracle) plane(most, least *big.Rat, over bool, p check.Plane) (slope, value, hinge *big.Rat) {
	hinge = ratio(most)
	if p.High {
		hinge = ratio(least)
	}
	if over {
		value = o.seen(most)
		if p.High {
			value = o.seen(least)
		}
		if most.Cmp(least) == 0 {
			return o.tangent(most), value, hinge
		}
		return quo(sub(o.seen(most), o.seen(least)), sub(ratio(most), ratio(least))), value, hinge
	}
	t := rat(p.Touch)
	if t.Sign() <= 0 || t.Cmp(one) >= 0 {
		return nil, nil, nil
	}
	slope = o.tangent(t)
	return slope, add(o.seen(t), mul(slope, sub(hinge, ratio(t)))), hinge
}

// ratio is q = (1-r)^2/(2r) (Kubelka and Munk 1931).
func ratio(r *big.Rat) *big.Rat {
	return quo(mul(sub(one, r), sub(one, r)), mul(big.NewRat(2, 1), r))
}

// seen is R = k1 + (1-k1)(1-k2) r / (1-k2 r) (Saunderson 1942).
func (o *oracle) seen(r *big.Rat) *big.Rat {
	k1, k2 := rat(o.Surface.K1), rat(o.Surface.K2)
	return add(k1, quo(mul(mul(sub(one, k1), sub(one, k2)), r), sub(one, mul(k2, r))))
}

// tangent is dR/dq = (dR/dr)/(dq/dr), dq/dr = (r^2-1)/(2 r^2).
func (o *oracle) tangent(r *big.Rat) *big.Rat {
	k1, k2 := rat(o.Surface.K1), rat(o.Surface.K2)
	in := sub(one, mul(k2, r))
	dR := quo(mul(sub(one, k1), sub(one, k2)), mul(in, in))
	dq := quo(sub(mul(r, r), one), mul(big.NewRat(2, 1), mul(r, r)))
	return quo(dR, dq)
}
