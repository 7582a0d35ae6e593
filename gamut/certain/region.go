package certain

import (
	"context"
	"math"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/certain/tolerance"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Region is a convex body of tristimulus values that surely holds every colour
// within a tolerance of a target. It is worth keeping where several sets of
// paints are asked about one target. Its faces are scaled so that one unit is about one CIEDE2000.
type Region struct {
	target colour.Lab
	white  colour.XYZ
	tol    float64
	faces  []check.Face
	frame  frame
}

// frame takes directions in which the tolerance region is nearly a ball to
// normals in tristimulus space.
type frame struct {
	root [3][3]float64 // lower Cholesky factor of the local metric in Lab
	back [3][3]float64 // d(Lab)/d(XYZ)
}

func newFrame(t colour.Lab, white colour.XYZ) frame {
	return frame{root: colour.Metric(t), back: t.Slopes(white)}
}

// normal is the direction u of the ball as a normal in XYZ.
func (f *frame) normal(u [3]float64) (n [3]float64) {
	var lab [3]float64
	for i := range 3 {
		for j := range 3 {
			lab[i] += float64(f.root[i][j] * u[j])
		}
	}
	for k := range 3 {
		for i := range 3 {
			n[k] += float64(lab[i] * f.back[i][k])
		}
	}
	return n
}

// facing is the normal in XYZ of the surface of equal CIEDE2000 to t at c.
func facing(t, c colour.Lab, white colour.XYZ) (n [3]float64) {
	const h = 1e-3
	back := c.Slopes(white)
	for i, d := range []colour.Lab{{L: h}, {A: h}, {B: h}} {
		up := colour.DE2000(t, colour.Lab{L: c.L + d.L, A: c.A + d.A, B: c.B + d.B})
		down := colour.DE2000(t, colour.Lab{L: c.L - d.L, A: c.A - d.A, B: c.B - d.B})
		for k := range n {
			n[k] += float64((up - down) / (2 * h) * back[i][k])
		}
	}
	return n
}

const (
	nearSlack  = 0.003 // the same of a face towards a named colour
	firstSlack = 0.02  // of the tolerance, beyond the sampled height of a face
	samples    = 1500
	maxBoxes   = 400_000
)

// spread is how many directions the faces of a region look in.
const spread = 40

// NewRegion bounds {c: CIEDE2000(c, target) <= tol} under the light. Colours
// near to which the bound should be close, such as the nearest mixes of a
// search, may be named. Heights of faces come from sampled boundary points plus
// a slack; it is then proved that no colour of the region lies beyond a face,
// and the slack of a face that cannot be proved is doubled. The error is
// ErrUnbounded where that leads nowhere, or the context's.
func NewRegion(ctx context.Context, target colour.Lab, light *colour.Light, tol float64, near ...colour.Lab) (*Region, error) {
	r := &Region{target: target, white: light.White, tol: tol, frame: newFrame(target, light.White)}
	edge := r.boundary()
	var nominal, slack []float64
	add := func(n [3]float64, room float64) {
		h := math.Inf(-1)
		for _, p := range edge {
			h = max(h, float64(n[0]*p.X)+float64(n[1]*p.Y)+float64(n[2]*p.Z))
		}
		nominal, slack = append(nominal, h), append(slack, room)
		r.faces = append(r.faces, check.Face{Normal: n, Height: h + float64(room)})
	}
	for _, u := range sphere(spread) {
		add(r.frame.normal(u), firstSlack*tol)
	}
	for _, c := range near {
		if c.Finite() && c != target {
			add(facing(target, c, light.White), nearSlack*tol)
		}
	}
	const doublings = 12
	for range doublings {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		bad, ok := tolerance.Holds(ctx, target, light.White, tol, r.faces, maxBoxes)
		if ok {
			return r, nil
		}
		for j := range r.faces {
			if bad[j] {
				slack[j] *= 2
				r.faces[j].Height = nominal[j] + slack[j]
			}
		}
	}
	return nil, ErrUnbounded
}

// answers reports whether the region is the one a claim needs.
func (r *Region) answers(c *check.Claim, light *colour.Light) bool {
	return r.target == c.Target && r.tol == c.Tolerance && r.white == light.White
}

// boundary samples colours at exactly tol from the target.
func (r *Region) boundary() []colour.XYZ {
	out := make([]colour.XYZ, 0, samples)
	for i := range samples {
		z := 1 - (float64(2*float64(i))+1)/samples
		s, c := portable.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		u := [3]float64{math.Sqrt(1-float64(z*z)) * c, math.Sqrt(1-float64(z*z)) * s, z}
		d := r.frame.lab(u)
		at := func(x float64) colour.Lab {
			return colour.Lab{L: r.target.L + float64(x*d[0]), A: r.target.A + float64(x*d[1]), B: r.target.B + float64(x*d[2])}
		}
		lo, hi := 0.0, r.tol
		for colour.DE2000(r.target, at(hi)) < r.tol && hi < 1000 {
			lo, hi = hi, hi*1.5
		}
		for range 20 {
			if mid := (lo + hi) / 2; colour.DE2000(r.target, at(mid)) < r.tol {
				lo = mid
			} else {
				hi = mid
			}
		}
		out = append(out, at(hi).XYZ(r.white))
	}
	return out
}

// lab is the step in Lab that leads one unit in direction u of the ball.
func (f *frame) lab(u [3]float64) (d [3]float64) {
	for i := 2; i >= 0; i-- {
		v := u[i]
		for k := i + 1; k < 3; k++ {
			v -= float64(f.root[k][i] * d[k])
		}
		d[i] = v / f.root[i][i]
	}
	return d
}
