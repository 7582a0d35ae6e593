package photo

import (
	"image"

	"fewtubes/gamut/colour"

	"github.com/kovidgoyal/imaging/prism/meta/icc"
)

// lightsOf asks a profile that is no curves and matrix for the light of the
// pixels: each of them where they are few, else a table. All is asked here,
// where a profile may trip its reader.
func lightsOf(p *icc.Profile, img image.Image) (lights, error) {
	light, err := lightOf(p, 3)
	if err != nil {
		return nil, err
	}
	if size := img.Bounds().Size(); size.X*size.Y < tableSide*tableSide*tableSide {
		return each(img, light)
	}
	return newTable(light)
}

// singly holds the light of every code in a picture.
type singly map[[3]uint8]colour.LinearRGB

func each(img image.Image, light func(r, g, b float64) colour.LinearRGB) (singly, error) {
	size, read, found := img.Bounds().Size(), rows(img), singly{}
	row := make([]uint8, 4*size.X)
	for y := range size.Y {
		read(y, row)
		for at := row; len(at) > 0; at = at[4:] {
			code := [3]uint8(at)
			if _, known := found[code]; known {
				continue
			}
			c := light(float64(code[0])/255, float64(code[1])/255, float64(code[2])/255)
			if !c.Lab().Finite() {
				return nil, errProfile
			}
			found[code] = c
		}
	}
	return found, nil
}

func (s singly) at(r, g, b uint8) (lr, lg, lb float64) {
	c := s[[3]uint8{r, g, b}]
	return c.R, c.G, c.B
}

// table is linear light at every fifth code of the three channels and straight
// between them: asking the profile for every pixel takes ten times as long.
type table struct {
	node [tableSide * tableSide * tableSide][3]float32
}

const (
	tableStep = 5 // codes
	tableSide = 255/tableStep + 1
)

// place is where each code lies between the nodes.
var place = func() (p [256]struct {
	node int
	past float64 // 0..1 of the way to the next
}) {
	for v := range p {
		p[v].node = min(v/tableStep, tableSide-2)
		p[v].past = float64(v-tableStep*p[v].node) / tableStep
	}
	return p
}()

func newTable(light func(r, g, b float64) colour.LinearRGB) (*table, error) {
	const most = tableSide - 1
	t := new(table)
	for i := range t.node {
		r, g, b := i/(tableSide*tableSide), i/tableSide%tableSide, i%tableSide
		c := light(float64(r)/most, float64(g)/most, float64(b)/most)
		if !c.Lab().Finite() {
			return nil, errProfile
		}
		t.node[i] = [3]float32{float32(c.R), float32(c.G), float32(c.B)}
	}
	return t, nil
}

// at goes from a node towards its opposite by the channel that is farthest on
// first, which picks the tetrahedron that holds the colour.
func (t *table) at(r, g, b uint8) (lr, lg, lb float64) {
	type leg struct {
		past float64
		step int
	}
	x, y, z := &place[r], &place[g], &place[b]
	i, j, k := leg{x.past, tableSide * tableSide}, leg{y.past, tableSide}, leg{z.past, 1}
	if i.past < j.past {
		i, j = j, i
	}
	if j.past < k.past {
		j, k = k, j
	}
	if i.past < j.past {
		i, j = j, i
	}
	at := x.node*tableSide*tableSide + y.node*tableSide + z.node
	n0 := &t.node[at]
	n1 := &t.node[at+i.step]
	n2 := &t.node[at+i.step+j.step]
	n3 := &t.node[at+tableSide*tableSide+tableSide+1]
	w0, w1, w2, w3 := 1-i.past, i.past-j.past, j.past-k.past, k.past
	sum := func(c int) float64 {
		return float64(w0*float64(n0[c])) + float64(w1*float64(n1[c])) + float64(w2*float64(n2[c])) + float64(w3*float64(n3[c]))
	}
	return sum(0), sum(1), sum(2)
}
