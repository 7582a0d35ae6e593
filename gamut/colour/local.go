package colour

import "math"

// Metric is the lower Cholesky factor of the quadratic form that CIEDE2000 comes to
// near c: for a small difference d in L*, a*, b* the components of its transpose
// times d are along lightness and two directions of colour, and their squares sum to the square
// of the difference.
func Metric(c Lab) (root [3][3]float64) {
	const h = 0.25
	at := func(v [3]float64) float64 {
		d := DE2000(c, Lab{L: c.L + v[0], A: c.A + v[1], B: c.B + v[2]})
		return float64(d * d)
	}
	var m [3][3]float64
	for i := range 3 {
		for j := range 3 {
			var p, q [3]float64
			p[i] += h
			p[j] += h
			q[i] += h
			q[j] -= h
			if i == j {
				m[i][j] = at([3]float64{0: float64(p[0] / 2), 1: float64(p[1] / 2), 2: float64(p[2] / 2)}) / (h * h)
				continue
			}
			m[i][j] = (at(p) - at(q)) / (4 * h * h)
		}
	}
	return cholesky(m)
}

func cholesky(m [3][3]float64) (l [3][3]float64) {
	for i := range 3 {
		for j := range i + 1 {
			v := m[i][j]
			for k := range j {
				v -= float64(l[i][k] * l[j][k])
			}
			if i == j {
				l[i][i] = math.Sqrt(max(v, 1e-3))
			} else {
				l[i][j] = v / l[j][j]
			}
		}
	}
	return l
}

// Slopes are d(L*,a*,b*)/d(X,Y,Z) at c.
func (c Lab) Slopes(white XYZ) [3][3]float64 {
	w := [3]float64{white.X, white.Y, white.Z}
	fy := (c.L + 16) / 116
	f := [3]float64{fy + c.A/500, fy, fy - c.B/200}
	var d [3]float64
	for k := range d {
		d[k] = 1 / (w[k] * slopeOfCube(f[k]))
	}
	return [3][3]float64{
		{0, 116 * d[1], 0},
		{500 * d[0], -500 * d[1], 0},
		{0, 200 * d[1], -200 * d[2]},
	}
}

// slopeOfCube is the slope of the inverse of f of CIE 015, section 8.2.1.
func slopeOfCube(f float64) float64 {
	const knee = 6.0 / 29
	return 3 * max(f, knee) * max(f, knee)
}
