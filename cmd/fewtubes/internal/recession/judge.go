package recession

import (
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

// Slack is the difference, CIEDE2000, below which nobody would say that a colour
// stands before its plane.
const Slack = 2.0

// Verdict is a colour that does not stand where its plane lies.
type Verdict struct {
	Target   *scene.Target
	SeenKM   float64    // the distance it was seen at
	PlaneKM  float64    // the distance of its plane
	Farthest float64    // km off that it can lie at most, where SeenKM is PlaneKM
	Law      colour.Lab // what the law has it at
	DE       float64    // CIEDE2000 between the two
}

// Moves reports whether the colour was seen at another distance than that of its
// plane; otherwise no surface so far off has such a colour.
func (v *Verdict) Moves() bool { return v.SeenKM != v.PlaneKM }

// Judge lists the colours that do not stand where their planes lie, in the order
// of the scene.
func (l *Law) Judge(s *scene.Scene) (out []Verdict) {
	for i := range s.Targets {
		t := &s.Targets[i]
		from, to, ok := s.WayKM(t)
		if !ok {
			continue
		}
		v := Verdict{Target: t, SeenKM: from, PlaneKM: to, Law: l.lawful(t.Lab, from, to)}
		if v.DE = colour.DE2000(t.Lab, v.Law); v.DE <= Slack {
			continue
		}
		if !v.Moves() {
			v.Farthest = l.view.Farthest(t.Lab, Slack)
		}
		out = append(out, v)
	}
	return out
}

// lawful is a colour where its plane lies, one that a surface there can have.
func (l *Law) lawful(c colour.Lab, from, to float64) colour.Lab {
	return l.view.Possible(l.view.Moved(c, from, to), to)
}

// Adjusted is a copy of the scene in which what Judge found is as the law has
// it, and nothing else is moved.
func (l *Law) Adjusted(s scene.Scene) (scene.Scene, []scene.Moved) {
	found := l.Judge(&s)
	by := map[string]*Verdict{}
	for i := range found {
		by[found[i].Target.Name] = &found[i]
	}
	out, moved := scene.Recoloured(s, func(i int, c colour.Lab) colour.Lab {
		v := by[s.Targets[i].Name]
		if v == nil {
			return c
		}
		return l.settled(v.Law, v.PlaneKM)
	})
	for i := range out.Targets {
		if by[out.Targets[i].Name] != nil {
			noteWay(&s, &out.Targets[i])
		}
	}
	return out, moved
}

// settled is a colour that stays where it is when it is looked at again, as
// another reflectance of the same colour need not. Each step is shorter; the
// airlight, which all steps lead to, stays.
func (l *Law) settled(c colour.Lab, km float64) colour.Lab {
	const close, most = 0.5, 50
	for range most {
		next := l.view.Possible(c, km)
		if colour.DE2000(c, next) <= close {
			return c
		}
		c = next
	}
	return l.Airlight
}
