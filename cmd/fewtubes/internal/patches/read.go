package patches

import (
	"fmt"
	"math"
	"slices"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/colour"
)

// Patch is a swatch as it was read.
type Patch struct {
	Mark
	Lab   colour.Lab // D65
	Noise float64    // root mean square CIEDE2000: its unevenness, and what the known patches are missed by
}

// Reading is what a photograph tells.
type Reading struct {
	Patches    []Patch // the swatches
	Known      int     // patches of known colour that served
	Correction Correction
	// Median and Most are what the known patches are missed by when put right by the others,
	// CIEDE2000; by themselves where there are too few to leave one out.
	Median, Most float64
	LeftOut      []error // patches that did not serve, each an *Error
}

// What makes a patch unfit, and a picture.
const (
	inner      = 0.7   // of a patch's width and height, so that edges stay out
	clipped    = 0.985 // of full, in linear light
	mostGlare  = 0.03  // share of pixels that are clipped, or shine
	shining    = 1.6   // times the middling pixel
	mostUneven = 4.0   // CIEDE2000, root mean square over its sixteen parts
	leastLight = 0.004 // of full: darker tells nothing
	mostMissed = 6.0   // median of the known patches
	leastEdge  = 0.06  // of the steepest edges of the picture, in L*/100 from a pixel to the next but one
)

// seen is a patch in the light of the camera.
type seen struct {
	rgb   [3]float64
	parts [][3]float64
}

// Read reads the marked patches of a picture. The errors are *Error: name is that of the picture, marks
// that of the marks.
func Read(name, marksName string, p *photo.Picture, marks []Mark) (*Reading, error) {
	wrong := func(m *Mark, msg, remedy string) error {
		if m == nil {
			return &Error{File: name, Msg: msg, Remedy: remedy}
		}
		return &Error{File: marksName, Line: m.Line, Field: fmt.Sprintf("sample %q", plain.Short(m.Name)), Msg: msg, Remedy: remedy}
	}
	if edge := steepest(p); edge < leastEdge {
		return nil, wrong(nil, "it is blurred: no edge in it is sharp", "hold the camera still, or rest it on something, and focus on the patches")
	}
	out := &Reading{}
	var knownSeen, swatchSeen []seen
	var targets [][3]float64
	var swatches []Mark
	for i := range marks {
		m := &marks[i]
		s, msg, remedy := look(p, m)
		if msg != "" {
			out.LeftOut = append(out.LeftOut, wrong(m, msg, remedy))
			continue
		}
		if m.Known == nil {
			swatchSeen, swatches = append(swatchSeen, s), append(swatches, *m)
			continue
		}
		lin := m.Known.SRGB().Linear()
		knownSeen, targets = append(knownSeen, s), append(targets, [3]float64{lin.R, lin.G, lin.B})
	}
	out.Known = len(targets)
	switch {
	case out.Known == 0:
		return nil, wrong(nil, "no patch of known colour in it serves", "lay a grey card beside the swatches, and write its colour in the marks")
	case len(swatches) == 0:
		return nil, wrong(nil, "no swatch in it serves", "mark the patches you painted, without a colour")
	}
	c, misses, ok := newCorrection(knownSeen, targets)
	if !ok {
		return nil, wrong(nil, "its patches of known colour do not fit together", "look whether each is marked where it lies")
	}
	out.Correction = c.Correction
	slices.Sort(misses)
	out.Median, out.Most = misses[len(misses)/2], misses[len(misses)-1]
	if out.Median > mostMissed {
		return nil, wrong(nil, fmt.Sprintf("its known patches are missed by %.1f in the middle (CIEDE2000)", out.Median), "look whether each is marked where it lies, and lit as the others are")
	}
	for i, s := range swatchSeen {
		lab := c.lab(s.rgb)
		spread := 0.0
		for _, part := range s.parts {
			d := colour.DE2000(c.lab(part), lab)
			spread += float64(d * d / float64(len(s.parts)))
		}
		noise := math.Sqrt(spread + float64(out.Median*out.Median))
		if math.Sqrt(spread) > mostUneven {
			out.LeftOut = append(out.LeftOut, wrong(&swatches[i], fmt.Sprintf("its colour is not even (%.1f from part to part, CIEDE2000): glare, blur, a shadow or an edge lies in it", math.Sqrt(spread)),
				"mark less of it, or photograph it in even shade"))
			continue
		}
		least := leastNoise
		if c.Correction == Gains {
			least = greyNoise
		}
		out.Patches = append(out.Patches, Patch{swatches[i], lab, max(noise, least)})
	}
	if len(out.Patches) == 0 {
		return nil, out.LeftOut[0]
	}
	return out, nil
}

// Least noises of a photograph: with a card of colours, and with greys alone, which tell nothing of
// how the camera sees colours.
const leastNoise, greyNoise = 1.0, 3.0

// look reads the inner part of a mark; msg says why it does not serve.
func look(p *photo.Picture, m *Mark) (s seen, msg, remedy string) {
	const side = 4 // parts along each side
	x0, x1 := span(m.Left, m.Width, p.W)
	y0, y1 := span(m.Top, m.Height, p.H)
	if x1-x0 < 2*side || y1-y0 < 2*side {
		return s, "it is too few pixels", "photograph it nearer, or mark more of it"
	}
	var light []float64
	full := 0
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			c := p.At(x, y)
			light = append(light, luminous(c))
			if max(c.R, c.G, c.B) > clipped {
				full++
			}
		}
	}
	sorted := slices.Sorted(slices.Values(light))
	middle := sorted[len(sorted)/2]
	glare := 0
	for _, v := range light {
		if v > float64(shining*middle)+0.02 {
			glare++
		}
	}
	n := float64(len(light))
	switch {
	case middle < leastLight:
		return s, "it is too dark to read", "give the photograph more light"
	case float64(full) > mostGlare*n:
		return s, "it is brighter than the photograph can hold", "expose less, or turn it out of the glare"
	case float64(glare) > mostGlare*n:
		return s, "glare lies on it", "turn it out of the glare, and photograph it in shade"
	}
	for j := range side {
		for i := range side {
			part := mean(p, x0+(x1-x0)*i/side, x0+(x1-x0)*(i+1)/side, y0+(y1-y0)*j/side, y0+(y1-y0)*(j+1)/side)
			s.parts = append(s.parts, part)
			for k := range part {
				s.rgb[k] += part[k] / (side * side)
			}
		}
	}
	return s, "", ""
}

// span is where the inner part of a mark begins and ends, in pixels.
func span(from, size float64, pixels int) (int, int) {
	margin := float64(size * (1 - inner) / 2)
	first, last := from+margin, from+size-margin
	return int(math.Round(first * float64(pixels))), int(math.Round(last * float64(pixels)))
}

func mean(p *photo.Picture, x0, x1, y0, y1 int) (sum [3]float64) {
	n := float64((x1 - x0) * (y1 - y0))
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			c := p.At(x, y)
			sum[0] += c.R / n
			sum[1] += c.G / n
			sum[2] += c.B / n
		}
	}
	return sum
}

// luminous is Y of linear sRGB (IEC 61966-2-1).
func luminous(c colour.LinearRGB) float64 {
	return float64(0.2126*c.R) + float64(0.7152*c.G) + float64(0.0722*c.B)
}

// steepest is how steep the steepest thousandth of the picture's rows and columns is, in L*/100
// from a pixel to the next but one.
func steepest(p *photo.Picture) float64 {
	light := func(x, y int) float64 {
		c := p.At(x, y)
		v := max(luminous(c), 0)
		return colour.XYZ{X: v, Y: v, Z: v}.Lab(colour.XYZ{X: 1, Y: 1, Z: 1}).L / 100
	}
	var steps []float64
	stride := max(1, p.W*p.H/400_000)
	at := 0
	for y := 0; y < p.H-2; y++ {
		for x := 0; x < p.W-2; x++ {
			if at++; at%stride != 0 {
				continue
			}
			v := light(x, y)
			steps = append(steps, max(math.Abs(light(x+2, y)-v), math.Abs(light(x, y+2)-v)))
		}
	}
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[len(steps)-1-len(steps)/1000]
}
