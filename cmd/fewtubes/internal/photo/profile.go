package photo

import (
	"bytes"
	"errors"
	"image"
	"sync"

	"fewtubes/gamut/colour"

	"github.com/kovidgoyal/imaging"
	"github.com/kovidgoyal/imaging/prism/meta"
	"github.com/kovidgoyal/imaging/prism/meta/icc"
	"gonum.org/v1/gonum/mat"
)

// linearizer brings coded pixels to linear light in sRGB primaries: a curve per
// channel, then, after averaging, a matrix. Colours outside the sRGB gamut are
// kept, as channels below 0 or above 1.
type linearizer struct {
	curve  [3]*[256]float64
	matrix *mat.Dense // 3x3; nil: none
}

var unprofiled = sync.OnceValue(func() linearizer {
	var t [256]float64
	for i := range t {
		t[i] = colour.SRGB{R: float64(i) / 255}.Linear().R
	}
	return linearizer{curve: [3]*[256]float64{&t, &t, &t}}
})

// linearize chooses the way from the pixels of img to linear light. Profiles
// that are no curves and matrix go through the profile library to 8-bit sRGB.
func linearize(img image.Image, m *metadata) (image.Image, linearizer) {
	if m.points.IsSet && m.profile == nil {
		return byCodePoints(img, m), unprofiled()
	}
	if m.profile == nil {
		return img, unprofiled()
	}
	if out, l, err := byProfile(img, m.profile); err == nil {
		return out, l
	}
	m.notes = append(m.notes, noProfile)
	return img, unprofiled()
}

// byProfile is the image with the way to linear light that a profile gives it.
func byProfile(img image.Image, data []byte) (out image.Image, l linearizer, err error) {
	defer func() {
		if recover() != nil { // a damaged profile can trip its readers
			err = errProfile
		}
	}()
	if err := checkProfile(data); err != nil {
		return nil, l, err
	}
	profile, err := icc.DecodeProfile(bytes.NewReader(data))
	if err != nil {
		return nil, l, err
	}
	if l, err := matrixLinearizer(profile); err == nil {
		return img, l, nil
	}
	out, err = imaging.ConvertToSRGB(profile, imaging.Relative, true, imaging.Clone(img))
	return out, unprofiled(), err
}

// matrixLinearizer finds the curves and the matrix of an RGB profile by probing
// it, and leads on from its connection space by the same probe of sRGB's own
// profile, so that both share one reference white.
func matrixLinearizer(p *icc.Profile) (l linearizer, err error) {
	if p.Header.DataColorSpace != icc.ColorSpaceRGB || !p.IsMatrixShaper() {
		return l, errors.New("no matrix profile")
	}
	from, err := probe(p, &l.curve)
	if err != nil {
		return l, err
	}
	s, err := icc.DecodeProfile(bytes.NewReader(icc.Srgb_xyz_profile_data))
	if err != nil {
		return l, err
	}
	var unused [3]*[256]float64
	to, err := probe(s, &unused)
	if err != nil {
		return l, err
	}
	l.matrix = new(mat.Dense)
	return l, l.matrix.Solve(to, from)
}

// probe measures the columns of a profile's matrix and the curve in front of each.
func probe(p *icc.Profile, curve *[3]*[256]float64) (*mat.Dense, error) {
	t, err := p.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, 3, false)
	if err != nil {
		return nil, err
	}
	at := func(channel int, v float64) (xyz [3]float64) {
		var in [3]float64
		in[channel] = v
		xyz[0], xyz[1], xyz[2] = t.Transform(in[0], in[1], in[2])
		return xyz
	}
	columns := mat.NewDense(3, 3, nil)
	for c := range 3 {
		zero, one := at(c, 0), at(c, 1)
		var span float64
		for k := range 3 {
			columns.Set(k, c, one[k]-zero[k])
			span += one[k] - zero[k]
		}
		if !(span > 1e-6) {
			return nil, errors.New("a channel of the profile gives no light")
		}
		curve[c] = new([256]float64)
		for i := range 256 {
			xyz := at(c, float64(i)/255)
			curve[c][i] = (xyz[0] + xyz[1] + xyz[2] - zero[0] - zero[1] - zero[2]) / span
		}
	}
	return columns, nil
}

// mixed applies the matrix to averaged channels.
func (l linearizer) mixed(v [3]float64) colour.LinearRGB {
	if l.matrix == nil {
		return colour.LinearRGB{R: v[0], G: v[1], B: v[2]}
	}
	row := func(i int) float64 {
		return l.matrix.At(i, 0)*v[0] + l.matrix.At(i, 1)*v[1] + l.matrix.At(i, 2)*v[2]
	}
	return colour.LinearRGB{R: row(0), G: row(1), B: row(2)}
}

// byCodePoints converts from primaries and transfer of ITU-T H.273. Code 2 is
// "unspecified" and taken as sRGB; still pictures marked with the curve of
// BT.709 are shown by that of sRGB.
func byCodePoints(img image.Image, m *metadata) image.Image {
	const unspecified, bt709, srgbCurve = 2, 1, 13
	c := m.points
	if c.ColorPrimaries == unspecified {
		c.ColorPrimaries = bt709
	}
	if c.TransferCharacteristics == unspecified || c.TransferCharacteristics == bt709 {
		c.TransferCharacteristics = srgbCurve
	}
	if c.ColorPrimaries == bt709 && c.TransferCharacteristics == srgbCurve {
		return img
	}
	to := meta.CodingIndependentCodePoints{ColorPrimaries: c.ColorPrimaries, TransferCharacteristics: c.TransferCharacteristics, VideoFullRange: 1, IsSet: true}.PipelineToSRGB()
	if to == nil {
		m.notes = append(m.notes, "its colour space is not known here: taken as sRGB")
		return img
	}
	out := imaging.Clone(img)
	for i := 0; i+3 < len(out.Pix); i += 4 {
		px := out.Pix[i : i+3]
		r, g, b := to.Transform(float64(px[0])/255, float64(px[1])/255, float64(px[2])/255)
		px[0], px[1], px[2] = code(r), code(g), code(b)
	}
	return out
}
