package refute

import (
	"context"
	"math/big"
)

// programme is the dual of a linear programme of covering: the sum of gain times y
// should be most, with the sum of use[j] times y at most room[j] >= 0 for all j and
// no y below 0. Its solution counts what is asked for, column by column.
type programme struct {
	use  [][]*big.Rat // by j, then by y
	room []*big.Rat
	gain []*big.Rat
}

// solution of a programme; where it has no bound, y is a direction in which the gain
// rises without end, and price is nil.
type solution struct {
	y     []*big.Rat
	price []*big.Rat // of each room, the solution of the covering programme
	gain  *big.Rat
}

// careful is after how many pivots the first column that gains is taken instead of
// the one that gains most, which never runs in circles (Bland, New Finite Pivoting
// Rules for the Simplex Method, Math. Oper. Res. 2, 1977).
const careful = 200

// solve is the simplex method on a table in which the columns are those that are 0.
func (p *programme) solve(ctx context.Context) (*solution, error) {
	rows, cols := len(p.room), len(p.gain)
	t := &table{basic: make([]int, rows), other: make([]int, cols), at: make([][]*big.Rat, rows+1)}
	for j := range t.at {
		t.at[j] = make([]*big.Rat, cols+1)
		for i := range t.at[j] {
			switch {
			case j < rows && i < cols:
				t.at[j][i] = new(big.Rat).Set(p.use[j][i])
			case j < rows:
				t.at[j][i] = new(big.Rat).Set(p.room[j])
			case i < cols:
				t.at[j][i] = new(big.Rat).Set(p.gain[i])
			default:
				t.at[j][i] = new(big.Rat)
			}
		}
	}
	for i := range t.other {
		t.other[i] = i
	}
	for j := range t.basic {
		t.basic[j] = cols + j
	}
	for n := 0; ; n++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		in := t.entering(n > careful)
		if in < 0 {
			return t.solution(cols), nil
		}
		out := t.leaving(in)
		if out < 0 {
			return t.direction(cols, in), nil
		}
		t.pivot(out, in)
	}
}

// table has a row for each variable above 0, and the gain last; a column for each
// that is 0, and what there is of those above 0 last.
type table struct {
	basic, other []int // y by index, then what is left of each room
	at           [][]*big.Rat
}

func (t *table) entering(first bool) int {
	gains, best := t.at[len(t.basic)], -1
	for i, v := range t.other {
		switch {
		case gains[i].Sign() <= 0:
		case best < 0:
			best = i
		case first && v < t.other[best]:
			best = i
		case !first && better(gains[i].Cmp(gains[best]), v < t.other[best]):
			best = i
		}
	}
	return best
}

// better takes what is more, and of equals the first.
func better(more int, earlier bool) bool { return more > 0 || more == 0 && earlier }

func (t *table) leaving(in int) int {
	best, least := -1, new(big.Rat)
	last := len(t.other)
	for j, v := range t.basic {
		if t.at[j][in].Sign() <= 0 {
			continue
		}
		ratio := new(big.Rat).Quo(t.at[j][last], t.at[j][in])
		if best < 0 || better(least.Cmp(ratio), v < t.basic[best]) {
			best, least = j, ratio
		}
	}
	return best
}

func (t *table) pivot(out, in int) {
	by := new(big.Rat).Inv(t.at[out][in])
	for i := range t.at[out] {
		if i != in {
			t.at[out][i].Mul(t.at[out][i], by)
		}
	}
	product := new(big.Rat)
	for j := range t.at {
		times := new(big.Rat).Set(t.at[j][in])
		if j == out || times.Sign() == 0 {
			continue
		}
		for i := range t.at[j] {
			if i != in && t.at[out][i].Sign() != 0 {
				t.at[j][i].Sub(t.at[j][i], product.Mul(times, t.at[out][i]))
			}
		}
		t.at[j][in].Mul(times, by).Neg(t.at[j][in])
	}
	t.at[out][in] = by
	t.basic[out], t.other[in] = t.other[in], t.basic[out]
}

func (t *table) solution(cols int) *solution {
	s := &solution{y: zeros(cols), price: zeros(len(t.basic)), gain: new(big.Rat).Neg(t.at[len(t.basic)][cols])}
	for j, v := range t.basic {
		if v < cols {
			s.y[v] = t.at[j][cols]
		}
	}
	for i, v := range t.other {
		if v >= cols {
			s.price[v-cols].Neg(t.at[len(t.basic)][i])
		}
	}
	return s
}

func (t *table) direction(cols, in int) *solution {
	s := &solution{y: zeros(cols)}
	if v := t.other[in]; v < cols {
		s.y[v].SetInt64(1)
	}
	for j, v := range t.basic {
		if v < cols {
			s.y[v].Neg(t.at[j][in])
		}
	}
	return s
}

func zeros(n int) []*big.Rat {
	out := make([]*big.Rat, n)
	for i := range out {
		out[i] = new(big.Rat)
	}
	return out
}
