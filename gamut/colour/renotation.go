package colour

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"fewtubes/gamut/portable"
)

//go:embed data/munsell_renotation.csv
var renotationCSV string

// The renotation (Newhall, Nickerson, Judd, J. Opt. Soc. Am. 33:385, 1943) as
// points a*, b* under illuminant C: 40 hues from 2.5R by 2.5, values 1 to 9,
// chromas 2, 4, ... as far as the study went.
//
// Between the points, chroma is linear along a hue, hue is linear in polar
// a*b* between neighbouring hues, and value is linear between neighbouring
// planes; lightness is exact at every value (MunsellY). Neutrals are those of
// illuminant C. Beyond the last chroma a hue goes on in the direction of its
// last step. Above value 9 the plane of 9 stands, below 1 that of 1 shrinks
// with the value.
type renotation [hueCount][9][]point

const (
	hueCount   = 40
	hueStep    = 2.5
	chromaStep = 2
)

type point struct{ a, b float64 }

var renotationData = sync.OnceValue(readRenotation)

// Lab is the colour under D65, carried over from illuminant C by the Bradford
// transform (Adapt), as CIELAB against the white of D65. inside is false where
// the renotation has no data around it and the result is extrapolated.
func (m Munsell) Lab() (c Lab, inside bool) {
	p, inside := renotationData().at(m)
	y := MunsellY(m.Value)
	c = XYZ{Y: y}.Lab(IlluminantC)
	c.A, c.B = p.a, p.b
	white := D65().White
	return Adapt(c.XYZ(IlluminantC), IlluminantC, white).Lab(white), inside
}

// Munsell is the notation of a colour given against the white of D65; the
// inverse of Munsell.Lab. inside is false where it is extrapolated.
func (c Lab) Munsell() (m Munsell, inside bool) {
	white := D65().White
	x := Adapt(c.XYZ(white), white, IlluminantC)
	lab := x.Lab(IlluminantC)
	m.Value = munsellValue(x.Y)
	r := renotationData()
	m.Hue, m.Chroma = r.find(m.Value, point{lab.A, lab.B})
	_, inside = r.at(m)
	return m, inside
}

// mostChroma is where the data end for the hue and value, by bisection.
func (m Munsell) mostChroma() float64 {
	low, high := 0.0, 60.0
	for high-low > 0.01 {
		m.Chroma = (low + high) / 2
		if _, inside := renotationData().at(m); inside {
			low = m.Chroma
		} else {
			high = m.Chroma
		}
	}
	return math.Floor(float64(10*low)+0.2) / 10
}

// at finds a*, b* under illuminant C.
func (r *renotation) at(m Munsell) (p point, inside bool) {
	inside = m.Value >= 1 && m.Value <= 9 || m.Chroma == 0
	shrink := min(m.Value, 1)
	v := min(max(m.Value, 1), 9) - 1
	low := min(int(v), 7)
	t := v - float64(low)
	if t < 1 {
		q, ok := r.plane(low, m.Hue, m.Chroma)
		p, inside = point{(1 - t) * q.a, (1 - t) * q.b}, inside && ok
	}
	if t > 0 {
		q, ok := r.plane(low+1, m.Hue, m.Chroma)
		p, inside = point{p.a + float64(t*q.a), p.b + float64(t*q.b)}, inside && ok
	}
	return point{shrink * p.a, shrink * p.b}, inside
}

// plane interpolates in the plane of value v+1.
func (r *renotation) plane(v int, hue, chroma float64) (point, bool) {
	at := math.Mod(hue/hueStep+hueCount-1, hueCount) // 2.5R is line 0
	i := int(at)
	t := at - float64(i)
	p, inside := along(r[i%hueCount][v], chroma)
	if t == 0 {
		return p, inside
	}
	q, ok := along(r[(i+1)%hueCount][v], chroma)
	return between(p, q, t), inside && ok
}

// along goes out along one hue line to a chroma.
func along(line []point, chroma float64) (p point, inside bool) {
	step := float64(chroma / chromaStep)
	i := min(int(step), len(line)-1)
	t := step - float64(i)
	var from point
	if i > 0 {
		from = line[i-1]
	}
	to := line[i]
	return point{from.a + float64(t*(to.a-from.a)), from.b + float64(t*(to.b-from.b))}, step <= float64(len(line))
}

// between goes the share t of the way from p to q round the neutral.
func between(p, q point, t float64) point {
	cp, cq := portable.Hypot(p.a, p.b), portable.Hypot(q.a, q.b)
	hp := portable.Atan2(p.b, p.a)
	turn := math.Remainder(portable.Atan2(q.b, q.a)-hp, 2*math.Pi)
	c := cp + float64(t*(cq-cp))
	sin, cos := portable.Sincos(hp + float64(t*turn))
	return point{c * cos, c * sin}
}

func readRenotation() *renotation {
	rd := csv.NewReader(strings.NewReader(renotationCSV))
	rd.Comment, rd.FieldsPerRecord = '#', -1
	rows, err := rd.ReadAll()
	if err != nil || len(rows) != 1+hueCount*9 {
		panic(fmt.Sprintf("colour: embedded renotation: %d rows, %v", len(rows), err))
	}
	var r renotation
	for _, row := range rows[1:] {
		m, err := ParseMunsell(row[0] + row[1] + "/1")
		if err != nil {
			panic("colour: embedded renotation: " + err.Error())
		}
		line := make([]point, len(row)-2)
		for i, field := range row[2:] {
			line[i] = readPoint(field, MunsellY(m.Value))
		}
		hue := (int(m.Hue/hueStep) + hueCount - 1) % hueCount
		r[hue][int(m.Value)-1] = line
	}
	return &r
}

// readPoint turns a chromaticity "x y" into a*, b* at luminous reflectance Y.
func readPoint(field string, luminous float64) point {
	sx, sy, _ := strings.Cut(field, " ")
	x, errX := strconv.ParseFloat(sx, 64)
	y, errY := strconv.ParseFloat(sy, 64)
	if errX != nil || errY != nil || y <= 0 {
		panic("colour: embedded renotation: " + field)
	}
	c := XYZ{x / y * luminous, luminous, (1 - x - y) / y * luminous}.Lab(IlluminantC)
	return point{c.A, c.B}
}
