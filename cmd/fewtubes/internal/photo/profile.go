package photo

import (
	"bytes"
	"errors"
	"image"
	"math"
	"slices"
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"

	"github.com/kovidgoyal/imaging/prism/meta"
	"github.com/kovidgoyal/imaging/prism/meta/icc"
)

// linearizer brings coded pixels to linear light in sRGB primaries: a curve per
// channel, then, after averaging, a matrix; or a table in their stead. Colours
// outside the sRGB gamut are kept, as channels below 0 or above 1.
type linearizer struct {
	curve  [3]*[256]float64
	matrix *matrix // nil: none
	table  lights  // nil: curves and matrix
}

// matrix goes from three channels to three, row by row.
type matrix [3][3]float64

// lights is the linear light of coded pixels.
type lights interface {
	at(r, g, b uint8) (lr, lg, lb float64)
}

var unprofiled = sync.OnceValue(func() linearizer {
	var t [256]float64
	for i := range t {
		t[i] = colour.SRGB{R: float64(i) / 255}.Linear().R
	}
	return linearizer{curve: [3]*[256]float64{&t, &t, &t}}
})

// linearize chooses the way from the pixels of img to linear light.
func linearize(img image.Image, m *metadata) linearizer {
	l, err, note := unprofiled(), error(nil), ""
	switch {
	case m.profile != nil:
		l, err = byProfile(img, m.profile)
		note = noProfile
	case m.points.IsSet:
		l, err = byCodePoints(m.points)
		note = noColourSpace
	}
	if err != nil || !l.sound() {
		m.notes = append(m.notes, note)
		return unprofiled()
	}
	return l
}

// sound is whether curves and matrix give light that can be reckoned with; the
// nodes of a table are checked as they are made.
func (l *linearizer) sound() bool {
	const most = 1e6                                                // times white
	wrong := func(v float64) bool { return !(math.Abs(v) <= most) } // NaN, too
	for _, curve := range l.curve {
		if curve != nil && slices.ContainsFunc(curve[:], wrong) {
			return false
		}
	}
	return l.matrix == nil || !slices.ContainsFunc(l.matrix[:], func(row [3]float64) bool { return slices.ContainsFunc(row[:], wrong) })
}

// byProfile is the way to linear light that a profile gives.
func byProfile(img image.Image, data []byte) (l linearizer, err error) {
	defer func() {
		if recover() != nil { // a damaged profile can trip its readers
			err = errProfile
		}
	}()
	if err := checkProfile(data); err != nil {
		return l, err
	}
	p, err := icc.DecodeProfile(bytes.NewReader(data))
	if err != nil {
		return l, err
	}
	switch p.Header.DataColorSpace {
	case icc.ColorSpaceGray:
		return greyLinearizer(p)
	case icc.ColorSpaceRGB:
		if l, err := matrixLinearizer(p); err == nil {
			return l, nil
		}
		l.table, err = lightsOf(p, img)
		return l, err
	}
	return l, errProfile
}

// matrixLinearizer finds the curves and the matrix of an RGB profile by probing
// it, and leads on from its connection space by the same probe of sRGB's own
// profile, so that both share one reference white.
func matrixLinearizer(p *icc.Profile) (l linearizer, err error) {
	if !p.IsMatrixShaper() {
		return l, errors.New("no matrix profile")
	}
	from, err := probeProfile(p, &l.curve)
	if err != nil {
		return l, err
	}
	s, err := icc.DecodeProfile(bytes.NewReader(icc.Srgb_xyz_profile_data))
	if err != nil {
		return l, err
	}
	var unused [3]*[256]float64
	to, err := probeProfile(s, &unused)
	if err != nil {
		return l, err
	}
	l.matrix, err = to.into(from)
	return l, err
}

// into is the x of m x = goal.
func (m *matrix) into(goal *matrix) (*matrix, error) {
	x := new(matrix)
	for c := range 3 {
		column := []float64{goal[0][c], goal[1][c], goal[2][c]}
		rows := *m
		if !(portable.Matrix{rows[0][:], rows[1][:], rows[2][:]}).Solve(column) {
			return nil, errors.New("channels of one colour")
		}
		for k, v := range column {
			x[k][c] = v
		}
	}
	return x, nil
}

// probeProfile probes a profile up to its connection space.
func probeProfile(p *icc.Profile, curve *[3]*[256]float64) (*matrix, error) {
	t, err := p.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, 3, false)
	if err != nil {
		return nil, err
	}
	return probe(t, curve)
}

// probe measures the columns of the matrix in t and the curve in front of each.
func probe(t *icc.Pipeline, curve *[3]*[256]float64) (*matrix, error) {
	at := func(channel int, v float64) [3]float64 {
		var in [3]float64
		in[channel] = v
		x, y, z := t.Transform(in[0], in[1], in[2])
		return [3]float64{rounded(x), rounded(y), rounded(z)}
	}
	columns := new(matrix)
	for c := range 3 {
		zero, one := at(c, 0), at(c, 1)
		var span float64
		for k := range 3 {
			columns[k][c] = one[k] - zero[k]
			span += one[k] - zero[k]
		}
		if !(span > 1e-6) {
			return nil, errors.New("a channel gives no light")
		}
		curve[c] = new([256]float64)
		for i := range 256 {
			xyz := at(c, float64(i)/255)
			curve[c][i] = (xyz[0] + xyz[1] + xyz[2] - zero[0] - zero[1] - zero[2]) / span
		}
	}
	return columns, nil
}

// at is the light of one coded pixel, in the primaries that are averaged.
func (l *linearizer) at(r, g, b uint8) (lr, lg, lb float64) {
	if l.table != nil {
		return l.table.at(r, g, b)
	}
	return l.curve[0][r], l.curve[1][g], l.curve[2][b]
}

// mixed applies the matrix to averaged channels.
func (l linearizer) mixed(v [3]float64) colour.LinearRGB {
	if l.matrix == nil {
		return colour.LinearRGB{R: v[0], G: v[1], B: v[2]}
	}
	row := func(i int) float64 {
		m := &l.matrix[i]
		return float64(m[0]*v[0]) + float64(m[1]*v[1]) + float64(m[2]*v[2])
	}
	return colour.LinearRGB{R: row(0), G: row(1), B: row(2)}
}

// byCodePoints is the way to linear light of primaries and transfer of ITU-T
// H.273. Code 2 is "unspecified" and taken as sRGB; still pictures marked with
// the curve of BT.709 are shown by that of sRGB.
func byCodePoints(c meta.CodingIndependentCodePoints) (l linearizer, err error) {
	const unspecified, bt709, srgbCurve = 2, 1, 13
	if c.ColorPrimaries == unspecified {
		c.ColorPrimaries = bt709
	}
	if c.TransferCharacteristics == unspecified || c.TransferCharacteristics == bt709 {
		c.TransferCharacteristics = srgbCurve
	}
	if c.ColorPrimaries == bt709 && c.TransferCharacteristics == srgbCurve {
		return unprofiled(), nil
	}
	const linear = 2 // the library's name for no curve at all
	t := c.PipelineTo(meta.CodingIndependentCodePoints{ColorPrimaries: bt709, TransferCharacteristics: linear, VideoFullRange: 1, IsSet: true})
	if t == nil {
		return l, errors.New("no such code points")
	}
	l.matrix, err = probe(t, &l.curve)
	return l, err
}

// greyLinearizer reads the curve of a profile for grey pictures.
func greyLinearizer(p *icc.Profile) (l linearizer, err error) {
	light, err := lightOf(p, 1)
	if err != nil {
		return l, err
	}
	l.curve = [3]*[256]float64{{}, {}, {}}
	for i := range 256 {
		c := light(float64(i)/255, 0, 0)
		l.curve[0][i], l.curve[1][i], l.curve[2][i] = c.R, c.G, c.B
	}
	return l, nil
}

// lightOf is a profile's whole way from channels of 0..1 to linear light, black
// to black.
func lightOf(p *icc.Profile, channels int) (func(r, g, b float64) colour.LinearRGB, error) {
	t, err := p.CreateTransformerToSRGB(icc.RelativeColorimetricRenderingIntent, true, channels, false, false, true)
	if err != nil {
		return nil, err
	}
	return func(r, g, b float64) colour.LinearRGB {
		r, g, b = t.Transform(r, g, b)
		return colour.SRGB{R: rounded(r), G: rounded(g), B: rounded(b)}.Linear()
	}, nil
}

// rounded drops the bits in which the profile library's powers and sums differ
// from processor to processor; far finer than a photograph can show.
func rounded(v float64) float64 {
	const steps = 1 << 32
	return float64(math.Round(v*steps) / steps)
}
