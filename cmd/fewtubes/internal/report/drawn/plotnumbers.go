package drawn

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/gamut/portable"
)

// numbered is a mark of a plot and the number beside it; 0 for a mark without one
// that others keep clear of.
type numbered struct {
	number int
	at     point
}

// number writes the numbers beside their marks, each where there is room between
// all marks and the numbers before it. One that finds none close by stands farther
// off, at the end of a line. The radius of a mark and the size of the type are in
// units of the drawing. Once left, if any, says so the drawing is of no use.
func number(b *strings.Builder, marks []numbered, radius, size float64, left func() bool) {
	var taken []point
	for _, m := range marks {
		taken = append(taken, m.at)
	}
	var words strings.Builder
	for _, m := range marks {
		if left != nil && left() {
			return
		}
		if m.number == 0 {
			continue
		}
		at, led := roomBeside(m.at, taken, radius, size)
		taken = append(taken, at)
		if led {
			away := portable.Hypot(at.a-m.at.a, at.b-m.at.b)
			right, down := (at.a-m.at.a)/away, (at.b-m.at.b)/away
			fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1f" class="lead"/>`, m.at.a+float64(radius*right), m.at.b+float64(radius*down), at.a-float64(size*0.6*right), at.b-float64(size*0.6*down))
		}
		fmt.Fprintf(&words, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="%.0f">%d</text>`, at.a, at.b+float64(size*0.36), size, m.number)
	}
	b.WriteString(words.String())
}

// roomBeside tries circles around a mark and takes the first place with room
// enough, else the one with most; led says that it lies too far off to do without
// a line.
func roomBeside(mark point, taken []point, radius, size float64) (at point, led bool) {
	at, room := mark, -1.0
	for i, gap := range []float64{0.73, 1.45, 2.6, 3.9, 5.2} {
		for k := range 24 {
			sin, cos := portable.Sincos(float64(k)*math.Pi/12 - math.Pi/4)
			try := point{mark.a + float64((radius+float64(gap*size))*cos), mark.b + float64((radius+float64(gap*size))*sin)}
			if min(try.a, try.b) < size || max(try.a, try.b) > plotSize-size {
				continue
			}
			if r := nearestTo(try, taken); r > room+0.5 {
				at, room, led = try, r, i > 1
			}
			if room > 1.05*size {
				return at, led
			}
		}
	}
	return at, led
}

// nearestTo is the distance to the nearest of some points; a number of two figures
// is wider than high.
func nearestTo(q point, all []point) float64 {
	near := math.Inf(1)
	for _, p := range all {
		near = min(near, portable.Hypot(0.75*(p.a-q.a), p.b-q.b))
	}
	return near
}
