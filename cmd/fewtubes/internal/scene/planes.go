package scene

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/values"
)

// PlaneShape says where a plane lies in a picture: between two heights, or
// within corners.
type PlaneShape struct {
	Plane    string
	From, To float64        // fractions of the height, 0 at the top
	Corners  []values.Point // three or more; empty: the heights hold

	wrong error // found when it was read, told by Check
}

// mostCorners is more than anybody sets by hand.
const mostCorners = 100

// ParsePlaneShape reads heights such as "distance=0:0.35", or corners such as
// "distance=0,0.3 0.5,0.25 1,0.4 1,0.5 0,0.5".
func ParsePlaneShape(text string) (PlaneShape, error) {
	plane, where, ok := strings.Cut(text, "=")
	b := PlaneShape{Plane: strings.TrimSpace(plane)}
	if ok && strings.Contains(where, ",") {
		var err error
		if b.Corners, err = values.ParseCorners(where); err != nil {
			return PlaneShape{}, err
		}
		return b, b.Check()
	}
	from, to, ok2 := strings.Cut(where, ":")
	if !ok || !ok2 {
		return PlaneShape{}, fmt.Errorf("%q is not a plane and its heights", plain.Short(text))
	}
	var err1, err2 error
	b.From, err1 = strconv.ParseFloat(strings.TrimSpace(from), 64)
	b.To, err2 = strconv.ParseFloat(strings.TrimSpace(to), 64)
	if err1 != nil || err2 != nil {
		return PlaneShape{}, fmt.Errorf("the heights of %q are not numbers", plain.Short(text))
	}
	return b, b.Check()
}

// Check reports what is wrong with a shape.
func (b PlaneShape) Check() error {
	if b.wrong != nil {
		return b.wrong
	}
	if !slices.Contains(Planes, b.Plane) {
		return fmt.Errorf("the plane %q is none of %s", plain.Short(b.Plane), planesInWords())
	}
	if len(b.Corners) > 0 {
		return b.checkCorners()
	}
	if !(b.From >= 0 && b.From < b.To && b.To <= 1) {
		return fmt.Errorf("heights %s:%s do not run downwards within 0 (top) to 1 (bottom)", number(b.From), number(b.To))
	}
	return nil
}

func (b PlaneShape) checkCorners() error {
	switch n := len(b.Corners); {
	case n < 3:
		return errors.New("a plane has three corners or more")
	case n > mostCorners:
		return fmt.Errorf("a plane has at most %d corners", mostCorners)
	}
	for _, p := range b.Corners {
		if !(p.X >= 0 && p.X <= 1 && p.Y >= 0 && p.Y <= 1) {
			return fmt.Errorf("corner %s,%s lies beyond the picture, whose width and height are 0 to 1", number(p.X), number(p.Y))
		}
	}
	return nil
}

// Holds reports whether a place lies within the shape, fractions of width and
// height.
func (b PlaneShape) Holds(x, y float64) bool {
	if len(b.Corners) == 0 {
		return y >= b.From && y <= b.To
	}
	inside, p := false, b.Corners[len(b.Corners)-1]
	for _, q := range b.Corners {
		if (p.Y > y) != (q.Y > y) && x < p.X+float64((q.X-p.X)*((y-p.Y)/(q.Y-p.Y))) {
			inside = !inside
		}
		p = q
	}
	return inside
}

// PlaneAt is the plane at a place of a picture, empty where no shape holds it;
// where shapes overlap the first wins.
func PlaneAt(shapes []PlaneShape, x, y float64) string {
	for _, b := range shapes {
		if b.Holds(x, y) {
			return b.Plane
		}
	}
	return ""
}

// String is the shape as ParsePlaneShape reads it.
func (b PlaneShape) String() string {
	if len(b.Corners) == 0 {
		return fmt.Sprintf("%s=%s:%s", b.Plane, number(b.From), number(b.To))
	}
	corners := make([]string, len(b.Corners))
	for i, p := range b.Corners {
		corners[i] = number(p.X) + "," + number(p.Y)
	}
	return b.Plane + "=" + strings.Join(corners, " ")
}

// MarshalText and UnmarshalText are String and ParsePlaneShape; what is wrong is
// left to Check, which knows where the shape stands.
func (b PlaneShape) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

func (b *PlaneShape) UnmarshalText(text []byte) error {
	shape, err := ParsePlaneShape(string(text))
	*b = shape
	b.wrong = err
	return nil
}
