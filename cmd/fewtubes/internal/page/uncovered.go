package page

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
)

const (
	standsFor    = 10.0 // CIEDE2000 up to which a colour stands for a part of a picture (common practice, no source)
	worthAWord   = 0.03 // of a picture
	coveredEvery = 8    // pixels looked at, each way
)

// thirds are the parts of a picture, in rows from the top.
var thirds = [9]string{"upper left", "top", "upper right", "left", "middle", "right", "lower left", "bottom", "lower right"}

// uncovered says for how much of each picture no colour of a scene stands, and where
// most of that lies; empty where that is next to nothing. The pictures are those of
// the scene's photographs.
func uncovered(pictures []*photo.Picture, sc *scene.Scene) string {
	var out []string
	for i, p := range pictures {
		var bare [9]int
		all, missed := 0, 0
		for y := coveredEvery / 2; y < p.H; y += coveredEvery {
			for x := coveredEvery / 2; x < p.W; x += coveredEvery {
				lab := p.At(x, y).Lab()
				if curve := sc.Photos[i].Values; curve != nil {
					lab.L = curve.At(lab.L)
				}
				all++
				if !stoodFor(lab, sc.Targets) {
					missed++
					bare[y*3/p.H*3+x*3/p.W]++
				}
			}
		}
		if all == 0 || float64(missed) < worthAWord*float64(all) {
			continue
		}
		where := 0
		for k := range bare {
			if bare[k] > bare[where] {
				where = k
			}
		}
		of := "the picture"
		if len(pictures) > 1 {
			of = sc.Photos[i].Name
		}
		out = append(out, fmt.Sprintf("No colour stands for about %s %% of %s, most of it at the %s.", shown.Digits(100*float64(missed)/float64(all), 0), of, thirds[where]))
	}
	return strings.Join(out, " ")
}

func stoodFor(lab colour.Lab, targets []scene.Target) bool {
	for i := range targets {
		if colour.DE2000(lab, targets[i].Lab) <= standsFor {
			return true
		}
	}
	return false
}
