package certain

import "fewtubes/gamut/certain/check"

// trim leaves out of a proof the limits and cuts that no later step leans on.
func (p *cone) trim(steps []check.Step) []check.Step {
	t := &trimmer{p: p, leans: make([][]int, len(steps)), needed: make([]bool, len(steps))}
	t.cell(steps, 0, stand{})
	for i := len(steps) - 1; i >= 0; i-- {
		switch s := &steps[i]; {
		case s.Action == check.Empty, s.Action == check.Split, s.Action == check.Move && len(s.Terms) == 0:
			t.needed[i] = true // the last are what every cut wants to be there
		}
		if t.needed[i] {
			for _, j := range t.leans[i] {
				t.needed[j] = true
			}
		}
	}
	return t.kept(steps)
}

type trimmer struct {
	p      *cone
	leans  [][]int // of each step, on which earlier ones
	needed []bool
}

// stand is the step that set each limit, as things stand in a cell.
type stand [check.CutRow][bands]int

// cell notes what the steps of a cell lean on and returns where it ends.
func (t *trimmer) cell(steps []check.Step, at int, now stand) int {
	var cuts []int
	for i := at; i < len(steps); i++ {
		s := &steps[i]
		for _, term := range s.Terms {
			if term.Row == check.CutRow {
				t.leans[i] = append(t.leans[i], cuts[term.Index])
			} else {
				t.leans[i] = append(t.leans[i], now[term.Row][term.Index])
			}
		}
		switch s.Action {
		case check.Move:
			now[s.Limit][s.Band] = i
		case check.MakeCut:
			t.leans[i] = t.planes(s.Cut, &now)
			cuts = append(cuts, i)
		case check.Empty:
			return i + 1
		case check.Split:
			first, second := now, now
			first[check.MostR][s.Band], second[check.LeastR][s.Band] = i, i
			return t.cell(steps, t.cell(steps, i+1, first), second)
		}
	}
	return len(steps)
}

// planes are the limits that go into a cut: both of R under a chord, that at
// the hinge over a tangent, and one of S.
func (t *trimmer) planes(c *check.Cut, now *stand) (out []int) {
	for b, plane := range c.Planes {
		over := t.p.weight[c.Face][b] < 0
		if over || plane.High {
			out = append(out, now[check.LeastR][b])
		}
		if over || !plane.High {
			out = append(out, now[check.MostR][b])
		}
		if over != plane.High {
			out = append(out, now[check.MostS][b])
		} else {
			out = append(out, now[check.LeastS][b])
		}
	}
	return out
}

// kept are the steps that are needed, their cuts counted anew.
func (t *trimmer) kept(steps []check.Step) (out []check.Step) {
	var number []int
	made := 0
	for i, s := range steps {
		if s.Action == check.MakeCut {
			number = append(number, made)
			if t.needed[i] {
				made++
			}
		}
		if !t.needed[i] {
			continue
		}
		for k := range s.Terms {
			if term := &s.Terms[k]; term.Row == check.CutRow {
				term.Index = number[term.Index]
			}
		}
		out = append(out, s)
		if s.Action == check.Split || s.Action == check.Empty {
			number, made = nil, 0
		}
	}
	return out
}
