package film

import (
	"context"
	"errors"
	"math"
	"testing"

	"fewtubes/gamut/colour"
)

func TestFitRefusesWhatItCannotUse(t *testing.T) {
	white := colour.Flat(0.9)
	sound := func() Reading {
		r := Reading{Name: "a", Amounts: []float64{1}, Backing: &white, Seen: colour.Flat(0.5)}
		for b := range r.Have {
			r.Have[b] = true
		}
		return r
	}
	for name, spoil := range map[string]func(*Reading){
		"no paint":          func(r *Reading) { r.Amounts = []float64{0} },
		"negative":          func(r *Reading) { r.Amounts = []float64{-1} },
		"not a number":      func(r *Reading) { r.Amounts = []float64{math.NaN()} },
		"wrong count":       func(r *Reading) { r.Amounts = []float64{1, 1} },
		"no bands":          func(r *Reading) { r.Have = [colour.Bands]bool{} },
		"too bright":        func(r *Reading) { r.Seen[4] = 3 },
		"NaN":               func(r *Reading) { r.Seen[4] = math.NaN() },
		"opaque, no anchor": func(r *Reading) { r.Backing = nil },
	} {
		r := sound()
		spoil(&r)
		if _, err := Fit(context.Background(), []Reading{r}, 1, DefaultFit()); !errors.Is(err, ErrReadings) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Fit(context.Background(), []Reading{sound()}, 1, DefaultFit()); err != nil {
		t.Errorf("sound: %v", err)
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Fit(stopped, []Reading{sound()}, 1, DefaultFit()); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// What is asked for next, by what was read and in how many bands K and S are open.
func TestNextSample(t *testing.T) {
	alone, tint := []float64{1, 0}, []float64{0.2, 0.8}
	for _, c := range []struct {
		amounts [][]float64
		k, s    int
		want    Sample
	}{
		{[][]float64{tint}, 0, 0, NeedMasstone},
		{[][]float64{alone}, 0, 3, NoSample},
		{[][]float64{alone}, 0, 4, NeedTint},
		{[][]float64{alone}, 4, 4, NeedTint},
		{[][]float64{alone, tint}, 4, 4, NeedFilm},
		{[][]float64{alone, tint}, 4, 0, NeedFilm},
		{[][]float64{alone, tint}, 3, 4, NeedTint},
		{[][]float64{alone, tint}, 3, 3, NoSample},
	} {
		f := fitter{readings: make([]Reading, len(c.amounts)), amounts: c.amounts}
		if got := f.nextSample(&FittedPaint{UnknownK: c.k, UnknownS: c.s}, 0); got != c.want {
			t.Errorf("%v read, K open in %d bands and S in %d: %v, want %v", c.amounts, c.k, c.s, got, c.want)
		}
	}
}

// Readings of the same patches that differ by more than the noise supposed widen
// the errors by as much: here each is off the middle by four times the noise.
func TestScatterWidensErrors(t *testing.T) {
	const noise, times = 0.2, 4.0
	opt := DefaultFit()
	opt.Anchor, opt.Noise, opt.Outlier = 0, noise, 0
	fit := func(off float64) *Fitted {
		var readings []Reading
		for _, sign := range []float64{1, -1} {
			for _, patch := range []struct {
				l       float64
				amounts []float64
			}{{96, []float64{1, 0}}, {35, []float64{0, 1}}, {62, []float64{4, 1}}} {
				y := math.Pow((patch.l+sign*off+16)/116, 3) // CIE 015, section 8.2.1
				r := Reading{Name: "patch", Amounts: patch.amounts, Seen: colour.Flat(y)}
				for b := range r.Have {
					r.Have[b] = true
				}
				readings = append(readings, r)
			}
		}
		out, err := Fit(context.Background(), readings, 2, opt)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	agreeing, scattered := fit(0), fit(times*noise)
	for _, b := range []int{3, 18, 33} {
		k, s := scattered.Paints[1].ErrorK[b]/agreeing.Paints[1].ErrorK[b], scattered.Paints[1].ErrorS[b]/agreeing.Paints[1].ErrorS[b]
		if math.Abs(k/times-1) > 0.05 || math.Abs(s/times-1) > 0.05 {
			t.Errorf("band %d: the error of K is %.2f times as wide, that of S %.2f, want %v", b, k, s, times)
		}
	}
}

// A paint known by its masstone alone keeps its scattering open and asks for a
// tint; bands that were not read are level with the nearest.
func TestFitSaysWhatIsOpen(t *testing.T) {
	var reading [2]Reading
	for i, seen := range []float64{0.9, 0.1} {
		reading[i] = Reading{Name: "masstone", Amounts: make([]float64, 2), Seen: colour.Flat(seen)}
		reading[i].Amounts[i] = 1
		for b := 2; b <= 32; b++ {
			reading[i].Have[b] = true
		}
	}
	opt := DefaultFit()
	opt.Anchor = 0
	fit, err := Fit(context.Background(), reading[:], 2, opt)
	if err != nil {
		t.Fatal(err)
	}
	if p := fit.Paints[1]; p.NextSample != NeedTint || p.UnknownS != 31 || p.S[0] != p.S[2] || p.K[35] != p.K[32] {
		t.Errorf("next %v, S open in %d bands, ends %g %g, %g %g", p.NextSample, p.UnknownS, p.S[0], p.S[2], p.K[35], p.K[32])
	}
	if p := fit.Paints[0]; p.NextSample != NoSample {
		t.Errorf("the white asks for %v", p.NextSample)
	}
}
