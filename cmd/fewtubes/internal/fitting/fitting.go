// Package fitting moves the values of a scene into what a palette shows, and its chroma
// into what it mixes.
package fitting

import (
	"fmt"
	"math"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Fitted is a scene that was fitted.
type Fitted struct {
	Scene scene.Scene
	Moved []scene.Moved
	Words string // what was done, in lines
}

// leastRange is the narrowest range of L* a scene can be fitted into.
const leastRange = 5

// Narrow is the error for tubes that show no range of values; it holds L*.
type Narrow struct{ Dark, Light float64 }

func (e *Narrow) Error() string {
	return fmt.Sprintf("these tubes show values from %.1f to %.1f alone; name a dark one and a light one", e.Dark/10, e.Light/10)
}

// By moves the values of a scene by a curve.
func By(s scene.Scene, curve *values.Curve) Fitted {
	fitted, moved := scene.Revalued(s, *curve)
	return Fitted{fitted, moved, curveText(curve)}
}

// Into fits a scene to tubes of a stock. The error may be *Narrow.
func Into(s scene.Scene, stock *catalog.Catalogue, tubes []catalog.Tube) (Fitted, error) {
	box, err := newBox(s, stock, tubes)
	if err != nil {
		return Fitted{}, err
	}
	dark, light := box.values()
	if light-dark < leastRange {
		return Fitted{}, &Narrow{dark, light}
	}
	text := fmt.Sprintf("These tubes show values from %.1f to %.1f.\n", dark/10, light/10)
	from, to := s.Values()
	curve := values.ToRange(from, to, dark, light)
	if curve != nil {
		text += curveText(curve)
	} else {
		curve = &values.Curve{From: [3]float64{0, 50, 100}, To: [3]float64{0, 50, 100}}
		text += "Every value lies within what these tubes show: none was moved.\n"
	}
	revalued, _ := scene.Revalued(s, *curve)
	fitted, moved, said := box.pressed(&s, &revalued)
	return Fitted{fitted, moved, text + said}, nil
}

func curveText(curve *values.Curve) string {
	return fmt.Sprintf("The curve: %s (darkest, middle, lightest).\n", curve.Points())
}

// box are the tubes a scene is fitted to.
type box struct {
	stock *catalog.Catalogue
	mixer *gamut.Mixer
	all   set.Set
}

func newBox(s scene.Scene, stock *catalog.Catalogue, tubes []catalog.Tube) (*box, error) {
	var paints []film.Paint
	for i := range tubes {
		paints = append(paints, tubes[i].Paint)
	}
	problem := s.Problem(stock)
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: problem.Surface, Light: problem.Light, PaintsPerMix: problem.PaintsPerMix})
	if err != nil {
		return nil, err
	}
	return &box{stock, m, set.Full(m.Len())}, nil
}

// values are those of the mixes nearest to black and to white, L*.
func (b *box) values() (dark, light float64) {
	black, white := b.mixer.Closest(colour.Lab{}, b.all, gamut.Search), b.mixer.Closest(colour.Lab{L: 100}, b.all, gamut.Search)
	return black.Lab.L, white.Lab.L
}

// pressed is the scene with the colours of a revalued copy, each pressed into
// what the tubes mix, and what to say of it.
func (b *box) pressed(s, revalued *scene.Scene) (scene.Scene, []scene.Moved, string) {
	var wanted []gamut.Wanted
	for _, t := range revalued.Problem(b.stock).Targets {
		wanted = append(wanted, gamut.Wanted{Lab: t.Lab, Tolerance: t.Tolerance})
	}
	into := b.mixer.Pressed(wanted, b.all)
	pressed, turned := 0, 0
	for i, w := range wanted {
		was, is := w.Lab.LCh(), into[i].LCh()
		if into[i] != w.Lab {
			pressed++
			if math.Abs(is.L-was.L) > 0.05 || math.Abs(math.Remainder(is.H-was.H, 360))*is.C > 6 {
				turned++
			}
		}
	}
	fitted, moved := scene.Recoloured(*s, func(i int, _ colour.Lab) colour.Lab { return into[i] })
	if pressed == 0 {
		return fitted, moved, "Every colour is within reach of these tubes: no chroma was pressed.\n"
	}
	text := fmt.Sprintf("Beyond what these tubes mix: %s, whose chroma was pressed into reach.\n", shown.Counted(pressed, "colour"))
	if turned > 0 {
		text += fmt.Sprintf("Of %d of them value or hue had to give way, too, to be reached or to keep the order of chroma among like hues.\n", turned)
	}
	return fitted, moved, text
}
