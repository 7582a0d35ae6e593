package recession

import (
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/air"
	"fewtubes/gamut/colour"
)

// Law is the air of a scene, ready to be looked through.
type Law struct {
	Air      *air.Air
	Airlight colour.Lab
	From     string // the target that the airlight comes from; empty: it is written
	Hue      air.Hue
	view     *air.View
}

// NewLaw reads the air of a checked scene. Where the scene names no airlight and
// has no sky the error is a *scene.Error.
func NewLaw(s *scene.Scene) (*Law, error) {
	haze, err := s.Haze()
	if err != nil {
		return nil, err
	}
	l := &Law{Air: haze, Hue: s.HueReading()}
	if l.Airlight, l.From, err = s.Airlight(); err != nil {
		return nil, err
	}
	light, err := colour.ParseLight(s.Light)
	if err != nil {
		return nil, err
	}
	l.view = air.NewView(haze, l.Airlight, light, l.Hue)
	return l, nil
}

// PutBack is a copy of the scene with each colour moved from the distance it was
// seen at to that of its plane, which the copy notes, so that another run moves
// nothing; and what was moved by it.
func (l *Law) PutBack(s scene.Scene) (scene.Scene, []scene.Moved) {
	out, moved := scene.Recoloured(s, func(i int, c colour.Lab) colour.Lab {
		if from, to, ok := s.WayKM(&s.Targets[i]); ok {
			return l.view.Moved(c, from, to)
		}
		return c
	})
	for i := range out.Targets {
		noteWay(&s, &out.Targets[i])
	}
	return out, moved
}

// noteWay notes that a colour is as seen at the distance of its plane.
func noteWay(s *scene.Scene, t *scene.Target) {
	if _, to, ok := s.WayKM(t); ok {
		t.Seen = scene.WriteDistance(to)
	}
}
