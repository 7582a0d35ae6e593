package values

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Point is a place in a picture, fractions of its width and height from the top left.
type Point struct{ X, Y float64 }

// Quad are four corners: top left, top right, bottom right, bottom left.
type Quad [4]Point

// Whole is the picture to its edges.
var Whole = Quad{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

// ParseQuad reads four corners as x,y fractions parted by blanks or semicolons,
// such as "0.1,0.1 0.9,0.12 0.92,0.88 0.08,0.9".
func ParseQuad(text string) (q Quad, err error) {
	corners := cornerFields(text)
	if len(corners) != 4 {
		return q, fmt.Errorf("four corners are wanted, %d found; write them as in \"0.1,0.1 0.9,0.12 0.92,0.88 0.08,0.9\"", len(corners))
	}
	places, err := ParseCorners(text)
	if err != nil {
		return q, fmt.Errorf("%w; write it as in 0.1,0.9", err)
	}
	copy(q[:], places)
	return q, q.Check()
}

func cornerFields(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\t' })
}

// ParseCorners reads any number of corners as x,y parted by blanks or semicolons.
func ParseCorners(text string) (corners []Point, err error) {
	for _, f := range cornerFields(text) {
		x, y, ok := strings.Cut(f, ",")
		var p Point
		var err1, err2 error
		p.X, err1 = strconv.ParseFloat(x, 64)
		p.Y, err2 = strconv.ParseFloat(y, 64)
		if !ok || err1 != nil || err2 != nil {
			return nil, fmt.Errorf("%q is not a corner", plain.Short(f))
		}
		corners = append(corners, p)
	}
	return corners, nil
}

// Check refuses corners that lie outside the picture, in a line, crossed over
// or counted the wrong way round.
func (q Quad) Check() error {
	for _, p := range q {
		if !(p.X >= 0 && p.X <= 1 && p.Y >= 0 && p.Y <= 1) {
			return fmt.Errorf("corner %v,%v lies outside the picture; write fractions of its width and height, 0 to 1", p.X, p.Y)
		}
	}
	for i := range q {
		a, b, c := q[i], q[(i+1)%4], q[(i+2)%4]
		if turn := float64((b.X-a.X)*(c.Y-b.Y)) - float64((b.Y-a.Y)*(c.X-b.X)); !(turn > 1e-4) {
			return errors.New("the corners do not go round a picture; give them as top left, top right, bottom right, bottom left")
		}
	}
	return nil
}

// area is by the shoelace formula, a fraction of the picture.
func (q Quad) area() (a float64) {
	for i := range q {
		p, r := q[i], q[(i+1)%4]
		a += float64(p.X*r.Y) - float64(r.X*p.Y)
	}
	return a / 2
}

// proportion is about the width over the height of what lies between the
// corners, in a picture of w by h pixels; perspective falsifies it somewhat.
func (q Quad) proportion(w, h int) float64 {
	side := func(a, b Point) float64 {
		return portable.Hypot((a.X-b.X)*float64(w), (a.Y-b.Y)*float64(h))
	}
	return (side(q[0], q[1]) + side(q[3], q[2])) / (side(q[0], q[3]) + side(q[1], q[2]))
}

// Corners looks for a painting photographed on an even ground: what the ground,
// followed inwards from the rim of the photograph, does not reach, if it fills
// four corners. It reports false when there is none; the painting may then fill
// the photograph.
func Corners(p *photo.Picture) (Quad, bool) {
	const (
		least   = 0.15 // of the photograph
		fullest = 0.985
		filled  = 0.95 // of the four-cornered shape, and as much of the painting within it
	)
	ground, like := rim(p)
	if like > 10 { // CIEDE2000; no even ground
		return Whole, false
	}
	isGround := make([]bool, len(p.Pix))
	for i, c := range p.Pix {
		isGround[i] = colour.DE2000(c.Lab(), ground) < like
	}
	patch := largestPatch(outside(isGround, p.W, p.H), p.W, p.H)
	share := float64(len(patch)) / float64(p.W*p.H)
	if share < least || share > fullest {
		return Whole, false
	}
	q := extremes(patch, p.W, p.H)
	if q.Check() != nil || q.area() < least {
		return Whole, false
	}
	inside := 0
	for _, i := range patch {
		if q.holds(Point{(float64(i%p.W) + 0.5) / float64(p.W), (float64(i/p.W) + 0.5) / float64(p.H)}) {
			inside++
		}
	}
	if float64(inside) < filled*max(float64(len(patch)), q.area()*float64(p.W*p.H)) {
		return Whole, false
	}
	return q, true
}

// holds reports whether a place lies within the corners.
func (q Quad) holds(p Point) bool {
	for i := range q {
		a, b := q[i], q[(i+1)%4]
		if float64((b.X-a.X)*(p.Y-a.Y))-float64((b.Y-a.Y)*(p.X-a.X)) < 0 {
			return false
		}
	}
	return true
}

// outside is the mask of what the ground does not reach from the rim.
func outside(ground []bool, w, h int) []bool {
	mask := make([]bool, len(ground))
	var reached []int
	for i := range mask {
		x, y := i%w, i/w
		mask[i] = true
		if ground[i] && (x == 0 || y == 0 || x == w-1 || y == h-1) {
			mask[i] = false
			reached = append(reached, i)
		}
	}
	for k := 0; k < len(reached); k++ {
		for _, i := range beside(reached[k], w, h) {
			if i >= 0 && mask[i] && ground[i] {
				mask[i] = false
				reached = append(reached, i)
			}
		}
	}
	return mask
}

// beside are the pixels left, right, above and below; -1 outside the picture.
func beside(i, w, h int) (out [4]int) {
	out = [4]int{i - 1, i + 1, i - w, i + w}
	x, y := i%w, i/w
	for k, off := range [4]bool{x == 0, x == w-1, y == 0, y == h-1} {
		if off {
			out[k] = -1
		}
	}
	return out
}

// rim is the colour of the outermost pixels, and the CIEDE2000 within which a
// pixel is like it: a little more than nearly all of the rim keeps, so that a
// sky only somewhat like the ground is not taken for it.
func rim(p *photo.Picture) (ground colour.Lab, like float64) {
	var edge []colour.Lab
	for x := range p.W {
		edge = append(edge, p.At(x, 0).Lab(), p.At(x, p.H-1).Lab())
	}
	for y := range p.H {
		edge = append(edge, p.At(0, y).Lab(), p.At(p.W-1, y).Lab())
	}
	order := func(share float64, of func(colour.Lab) float64) float64 {
		v := make([]float64, len(edge))
		for i, c := range edge {
			v[i] = of(c)
		}
		slices.Sort(v)
		return v[int(share*float64(len(v)-1))]
	}
	ground = colour.Lab{
		L: order(0.5, func(c colour.Lab) float64 { return c.L }),
		A: order(0.5, func(c colour.Lab) float64 { return c.A }),
		B: order(0.5, func(c colour.Lab) float64 { return c.B }),
	}
	spread := order(0.97, func(c colour.Lab) float64 { return colour.DE2000(c, ground) })
	return ground, 4 + float64(1.3*spread)
}

// largestPatch lists the pixels of the largest connected part of a mask.
func largestPatch(mask []bool, w, h int) (largest []int) {
	seen := make([]bool, len(mask))
	for start := range mask {
		if !mask[start] || seen[start] {
			continue
		}
		seen[start] = true
		patch := []int{start}
		for k := 0; k < len(patch); k++ {
			for _, i := range beside(patch[k], w, h) {
				if i >= 0 && mask[i] && !seen[i] {
					seen[i] = true
					patch = append(patch, i)
				}
			}
		}
		if len(patch) > len(largest) {
			largest = patch
		}
	}
	return largest
}

// extremes are the outermost pixels along the diagonals: the corners of any
// four-cornered patch that is turned by less than half a right angle.
func extremes(patch []int, w, h int) (q Quad) {
	for i, sign := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		far := slices.MaxFunc(patch, func(a, b int) int {
			reach := func(k int) float64 { return float64(sign[0]*float64(k%w)) + float64(sign[1]*float64(k/w)) }
			return cmp.Compare(reach(a), reach(b))
		})
		// The outer edge of the pixel, not its middle.
		x, y := float64(far%w)+0.5+float64(sign[0]/2), float64(far/w)+0.5+float64(sign[1]/2)
		q[i] = Point{math.Max(0, x/float64(w)), math.Max(0, y/float64(h))}
	}
	return q
}
