package repaint

import (
	"context"
	"sync"

	"fewtubes/cmd/fewtubes/internal/scene"
)

// Measures say how much of a photograph a palette reaches. Shares are of what the
// crop leaves and is not transparent, 0..1.
type Measures struct {
	Within  float64 // the tolerance
	Ceiling float64 // would be with the paints asked besides
	DE      [3]float64
	Planes  []PlaneShare // in the order of scene.Planes
	Misses  []Miss       // largest first
}

// Shown are the parts of the picture of which Measures.DE says the largest
// difference, CIEDE2000.
var Shown = [3]float64{0.5, 0.95, 0.99}

// PlaneShare is what of a plane lies within the tolerance.
type PlaneShare struct {
	Plane  string
	Area   float64 // of the picture
	Within float64 // of the plane
}

// tally is what pixels add up to; all are whole numbers, which sum alike in any
// order.
type tally struct {
	off    [mostOff + 1]int // pixels by hundredths of CIEDE2000
	reach  int
	planes [][2]int // all and within
	misses [][9]spot
}

// spot is pixels of a miss in a ninth of the picture.
type spot struct{ n, x, y int }

// Measure counts the painting's pixels. reached, if not nil, says of each code whether it lies
// within reach of the other paints.
func (p *Painting) Measure(ctx context.Context, tolerance float64, reached []bool) (m Measures, err error) {
	most := hundredths(tolerance)
	misses, missOf := p.largest(most)
	var all []*tally
	var lock sync.Mutex
	w, h := p.of.Whole.W, p.of.Whole.H
	err = p.of.eachRow(ctx, func() func(y int, row []uint8) {
		t := &tally{planes: make([][2]int, len(scene.Planes)+1), misses: make([][9]spot, len(misses))}
		lock.Lock()
		all = append(all, t)
		lock.Unlock()
		return func(y int, row []uint8) {
			fy := (float64(y) + 0.5) / float64(h)
			plane := 0
			for x := range w {
				if x%planeStep == 0 {
					plane = p.of.planeAt((float64(x)+0.5)/float64(w), fy)
				}
				if row[4*x+3] < 128 || !p.of.counts((float64(x)+0.5)/float64(w), fy) {
					continue
				}
				i := p.of.index[codeOf(row[4*x:])]
				t.off[p.off[i]]++
				t.planes[plane][0]++
				if reached != nil && reached[i] {
					t.reach++
				}
				if p.off[i] <= most {
					t.planes[plane][1]++
				} else if k := missOf[i]; k != 0 {
					s := &t.misses[k-1][3*y/h*3+3*x/w]
					s.n, s.x, s.y = s.n+1, s.x+x, s.y+y
				}
			}
		}
	})
	if err != nil {
		return m, err
	}
	sum := all[0]
	for _, t := range all[1:] {
		sum.add(t)
	}
	return sum.measures(misses, w, h), nil
}

// planeStep is the number of pixels in a row that lie in one plane.
const planeStep = 8

// planeAt is the index of a plane, that of none being the last.
func (p *Photograph) planeAt(x, y float64) int {
	if len(p.Planes) > 0 {
		name := scene.PlaneAt(p.Planes, x, y)
		for k, plane := range scene.Planes {
			if name == plane {
				return k
			}
		}
	}
	return len(scene.Planes)
}

// counts reports whether a place lies within the crop.
func (p *Photograph) counts(x, y float64) bool {
	return len(p.Crop) != 4 || x >= p.Crop[0] && x <= p.Crop[2] && y >= p.Crop[1] && y <= p.Crop[3]
}

func (t *tally) add(o *tally) {
	for i, n := range o.off {
		t.off[i] += n
	}
	t.reach += o.reach
	for i, n := range o.planes {
		t.planes[i][0] += n[0]
		t.planes[i][1] += n[1]
	}
	for i := range o.misses {
		for k, s := range o.misses[i] {
			at := &t.misses[i][k]
			at.n, at.x, at.y = at.n+s.n, at.x+s.x, at.y+s.y
		}
	}
}

func (t *tally) measures(misses []Miss, w, h int) (m Measures) {
	pixels, inside := 0, 0
	for _, n := range t.planes {
		pixels, inside = pixels+n[0], inside+n[1]
	}
	if pixels == 0 {
		return m
	}
	part := func(n int) float64 { return float64(n) / float64(pixels) }
	m.Within, m.Ceiling = part(inside), part(t.reach)
	for k, share := range Shown {
		seen := 0
		for off, n := range t.off {
			if seen += n; part(seen) >= share {
				m.DE[k] = float64(off) / 100
				break
			}
		}
	}
	for k, plane := range scene.Planes {
		if n := t.planes[k]; n[0] > 0 {
			m.Planes = append(m.Planes, PlaneShare{plane, part(n[0]), float64(n[1]) / float64(n[0])})
		}
	}
	for i, miss := range misses {
		var mass spot
		pixels := 0
		for _, s := range t.misses[i] {
			pixels += s.n
			if s.n > mass.n {
				mass = s
			}
		}
		if miss.Area = part(pixels); miss.Area < leastMiss {
			continue
		}
		miss.X, miss.Y = (float64(mass.x)/float64(mass.n)+0.5)/float64(w), (float64(mass.y)/float64(mass.n)+0.5)/float64(h)
		m.Misses = append(m.Misses, miss)
	}
	return m
}
