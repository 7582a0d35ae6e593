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
