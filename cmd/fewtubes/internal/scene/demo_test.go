package scene

import (
	"math"
	"path/filepath"
	"testing"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/colour"
)

const demo = "../../../../testdata/salt-marsh.toml"

// Every colour of the demo that is said to be somewhere in a picture is there.
func TestDemoColoursAreInItsPictures(t *testing.T) {
	const nearEnough = 5 // CIEDE2000, of a pixel
	s, err := Read(demo)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Targets) < 18 || len(s.Photos) != 2 {
		t.Errorf("%d targets, %d photographs", len(s.Targets), len(s.Photos))
	}
	pictures := map[string]*photo.Picture{}
	for _, p := range s.Photos {
		if pictures[p.Name], err = photo.Open(filepath.Join(filepath.Dir(demo), p.File), 0); err != nil {
			t.Fatal(err)
		}
	}
	for _, target := range s.Targets {
		if target.At == nil {
			continue
		}
		if de := nearestIn(pictures[target.At.Photo], target.At, target.Lab); de > nearEnough {
			t.Errorf("%s: the nearest pixel at its place is %.1f away", target.Name, de)
		}
	}
}

func nearestIn(p *photo.Picture, at *Spot, want colour.Lab) float64 {
	best := math.Inf(1)
	r := at.Radius * float64(p.W)
	cx, cy := at.X*float64(p.W), at.Y*float64(p.H)
	for y := int(cy - r); y <= int(cy+r); y++ {
		for x := int(cx - r); x <= int(cx+r); x++ {
			if x >= 0 && y >= 0 && x < p.W && y < p.H {
				best = min(best, colour.DE2000(p.At(x, y).Lab(), want))
			}
		}
	}
	return best
}
