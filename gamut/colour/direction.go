package colour

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fewtubes/gamut/portable"
)

// Fault is one way in which a mix misses its target.
type Fault string

const (
	TooDark    Fault = "too dark"
	TooLight   Fault = "too light"
	TooDull    Fault = "not enough chroma"
	TooStrong  Fault = "too much chroma"
	TooWarm    Fault = "too warm"
	TooCool    Fault = "too cool"
	TooRed     Fault = "too red"
	TooYellow  Fault = "too yellow"
	TooGreen   Fault = "too green"
	TooViolet  Fault = "too violet"
	AboutRight Fault = "about right"
)

// Brief is the fault in as few words as a painter takes.
func (f Fault) Brief() string {
	switch f {
	case TooDull:
		return "too dull"
	case TooStrong:
		return "too strong"
	}
	return string(f)
}

// Amount is a fault and its size in units of CIEDE2000.
type Amount struct {
	Fault Fault
	By    float64 // > 0
}

// Miss says how a mix differs from its target. The parts are signed, mix minus
// target, in units of CIEDE2000 (dL'/SL, dC'/SC, dH'/SH); their squares sum to
// DE squared but for the rotation term among the blues.
type Miss struct {
	DE     float64
	DL     float64  // > 0: too light
	DC     float64  // > 0: too much chroma
	DH     float64  // > 0: turned from red towards yellow, green, blue
	Faults []Amount // largest first; empty when the mix is about right
}

// justSeen is the difference below which a part is not worth a word: near the
// smallest a trained eye sees side by side (common practice, no source).
const justSeen = 0.5

// Direction describes the miss of a mix against its target. A part gets a word
// when it is at least 0.5 and a fifth of the largest. Hue is put as warm (moved
// towards 60 degrees, orange) or cool (towards 240, blue); where the move runs
// across one of these poles and so is neither, it is named by the neighbour it
// moved to. Next to a grey (chroma below 4) chroma and hue are one cast.
func Direction(mix, target Lab) Miss {
	l, c, h, _ := terms(target, mix)
	m := Miss{DE: DE2000(mix, target), DL: l, DC: c, DH: h}
	m.add(l, TooDark, TooLight)
	from, to := target.LCh(), mix.LCh()
	switch {
	case min(from.C, to.C) < 4:
		m.add(portable.Hypot(c, h), "", cast(mix, target))
	default:
		m.add(c, TooDull, TooStrong)
		m.add(math.Abs(h), "", turned(from.H, to.H))
	}
	m.keepTelling()
	return m
}

// String is the miss in a painter's words, largest fault first, such as
// "too dark by 2.1, not enough chroma by 1.0".
func (m Miss) String() string {
	if len(m.Faults) == 0 {
		return string(AboutRight)
	}
	words := make([]string, len(m.Faults))
	for i, f := range m.Faults {
		words[i] = fmt.Sprintf("%s by %.1f", f.Fault, f.By)
	}
	return strings.Join(words, ", ")
}

func (m *Miss) add(part float64, below, above Fault) {
	switch {
	case part >= justSeen:
		m.Faults = append(m.Faults, Amount{above, part})
	case part <= -justSeen:
		m.Faults = append(m.Faults, Amount{below, -part})
	}
}

// keepTelling sorts the faults and drops those the largest drowns.
func (m *Miss) keepTelling() {
	slices.SortStableFunc(m.Faults, func(a, b Amount) int { return portable.Compare(b.By, a.By, portable.Fine) })
	if len(m.Faults) > 0 {
		least := m.Faults[0].By / 5
		m.Faults = slices.DeleteFunc(m.Faults, func(a Amount) bool { return a.By < least })
	}
}

// turned names a move in hue, degrees, the short way round.
func turned(from, to float64) Fault {
	move := math.Remainder(to-from, 360)
	gain := warmth(to) - warmth(from)
	// The most a move of this size can gain is 2 sin(move/2), half way between
	// the poles; below half of that the move runs along a pole.
	if math.Abs(gain) >= math.Abs(portable.Sin(move/2*math.Pi/180)) {
		if gain > 0 {
			return TooWarm
		}
		return TooCool
	}
	warm, rising := warmth(from)+warmth(to) > 0, move > 0
	switch {
	case warm && rising:
		return TooYellow
	case warm:
		return TooRed
	case rising:
		return TooViolet
	}
	return TooGreen
}

// cast names a shift in the a*b* plane by the nearest of four directions.
func cast(mix, target Lab) Fault {
	shift := LCh{H: hueDegrees(mix.A-target.A, mix.B-target.B)}
	switch w := warmth(shift.H); {
	case w >= math.Sqrt2/2:
		return TooWarm
	case w <= -math.Sqrt2/2:
		return TooCool
	case shift.H > warmest && shift.H < warmest+180:
		return TooGreen
	}
	return TooViolet
}
