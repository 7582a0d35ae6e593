package scene

import "math"

// usualShares are the parts of a landscape its planes take, percent (common
// practice, no source).
var usualShares = map[string]float64{"sky": 30, "distance": 10, "middle": 25, "foreground": 35}

// completeAreas gives a target whose area is not written one by its plane: the
// mean of those written in its plane or, where there is none, its part of the
// plane's usual share of the picture. Without a plane it is the mean of all that
// are written, or an even part of the picture. A scene of neither areas nor planes
// has targets of one weight.
func (s *Scene) completeAreas(written func(i int) bool) {
	sum, count, unwritten := map[string]float64{}, map[string]float64{}, map[string]float64{}
	var whole, all, planes float64
	for i := range s.Targets {
		t := &s.Targets[i]
		if t.Plane != "" {
			planes++
		}
		if !written(i) {
			unwritten[t.Plane]++
			continue
		}
		sum[t.Plane] += t.Area
		count[t.Plane]++
		whole += t.Area
		all++
	}
	if all == 0 {
		whole = 100
	}
	for i := range s.Targets {
		t := &s.Targets[i]
		switch {
		case written(i):
		case all == 0 && planes == 0:
			t.Area = defaultArea
		case t.Plane == "" && all > 0:
			t.Area = someArea(whole / all)
		case t.Plane == "":
			t.Area = someArea(whole / float64(len(s.Targets)))
		case count[t.Plane] > 0:
			t.Area = someArea(sum[t.Plane] / count[t.Plane])
		default:
			t.Area = someArea(usualShares[t.Plane] * whole / 100 / unwritten[t.Plane])
		}
	}
}

// someArea is written to a tenth, and within what an area may be.
func someArea(v float64) float64 {
	if !(v >= 0) || v > largestArea {
		return v // for Check to refuse what it comes from
	}
	if v == 0 {
		return 0
	}
	return max(0.1, math.Round(v*10)/10)
}
