package scene

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
)

// PlaneBand says that a plane lies between two heights of a picture.
type PlaneBand struct {
	Plane    string
	From, To float64 // fractions of the height, 0 at the top

	wrong error // found when it was read, told by Check
}

// ParsePlaneBand reads a band of heights such as "distance=0:0.35".
func ParsePlaneBand(text string) (PlaneBand, error) {
	plane, heights, ok := strings.Cut(text, "=")
	from, to, ok2 := strings.Cut(heights, ":")
	if !ok || !ok2 {
		return PlaneBand{}, fmt.Errorf("%q is not a plane and its heights", plain.Short(text))
	}
	b := PlaneBand{Plane: strings.TrimSpace(plane)}
	var err1, err2 error
	b.From, err1 = strconv.ParseFloat(strings.TrimSpace(from), 64)
	b.To, err2 = strconv.ParseFloat(strings.TrimSpace(to), 64)
	if err1 != nil || err2 != nil {
		return PlaneBand{}, fmt.Errorf("the heights of %q are not numbers", plain.Short(text))
	}
	return b, b.Check()
}

// Check reports what is wrong with a band.
func (b PlaneBand) Check() error {
	if b.wrong != nil {
		return b.wrong
	}
	if !slices.Contains(Planes, b.Plane) {
		return fmt.Errorf("the plane %q is none of %s", plain.Short(b.Plane), planesInWords())
	}
	if !(b.From >= 0 && b.From < b.To && b.To <= 1) {
		return fmt.Errorf("heights %s:%s do not run downwards within 0 (top) to 1 (bottom)", number(b.From), number(b.To))
	}
	return nil
}

// String is the band as ParsePlaneBand reads it.
func (b PlaneBand) String() string {
	return fmt.Sprintf("%s=%s:%s", b.Plane, number(b.From), number(b.To))
}

// MarshalText and UnmarshalText are String and ParsePlaneBand; what is wrong is
// left to Check, which knows where the band stands.
func (b PlaneBand) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

func (b *PlaneBand) UnmarshalText(text []byte) error {
	band, err := ParsePlaneBand(string(text))
	*b = band
	b.wrong = err
	return nil
}
