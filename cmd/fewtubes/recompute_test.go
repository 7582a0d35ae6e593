package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
)

const recomputeScene = `format = 1
title = "Ebb"
tolerance = 4
[limits]
only = ["titanium-white", "yellow-ochre", "burnt-sienna", "ultramarine-blue", "phthalo-green-blue-shade", "phthalo-green-yellow-shade", "quinacridone-magenta", "quinacridone-red"]
[[target]]
name = "wet mud"
colour = "lab(40 4 12)"
[[target]]
name = "creek"
colour = "lab(55 -3 -8)"
[[target]]
name = "low cloud"
colour = "lab(80 0 -2)"
[[target]]
name = "samphire"
colour = "lab(46 -12 26)"
[[target]]
name = "sea lavender"
colour = "lab(52 16 -14)"
[[target]]
name = "buoy"
colour = "lab(52 68 58)"
`

// jsonTubes and jsonChoice are what the recomputation needs of the documents.
type jsonTubes struct {
	Surface struct{ K1, K2 float64 }
	Weights struct{ X, Y, Z, White []float64 }
	Tubes   []struct {
		ID   string
		K, S []float64
	}
}

type jsonChoice struct {
	Palettes []struct {
		Prepared []struct {
			ID, Strong, Into string
			Ratio            int
		}
		Targets []struct {
			Name    string
			Lab     []float64
			Shares  map[string]float64
			MixLab  []float64 `json:"mix_lab"`
			Parts   map[string]float64
			PartsDE float64 `json:"parts_de"`
			LetDown *struct {
				Piles []struct {
					Tube, In     string
					Times, Ratio int
					Parts        float64
				}
				DE float64
			} `json:"let_down"`
		}
	}
}

// Every mix_lab of choose --json, and the difference of every recipe, in parts of
// tubes and prepared piles or let down, follows from tubes --json alone.
func TestMixFromJSONAlone(t *testing.T) {
	const tolerance = 0.02
	scene := filepath.Join(t.TempDir(), "scene.toml")
	if err := os.WriteFile(scene, []byte(recomputeScene), 0o644); err != nil {
		t.Fatal(err)
	}
	var tubes jsonTubes
	var choice, alone, exact jsonChoice
	answerOf(t, &tubes, "tubes", "--json")
	answerOf(t, &choice, "choose", scene, "--json")
	answerOf(t, &alone, "choose", scene, "--json", "--prepared", "0")
	answerOf(t, &exact, "choose", scene, "--json", "--recipes", "exact")
	mixes, letDown, prepared, planned := 0, 0, 0, 0
	for _, palette := range slices.Concat(choice.Palettes, alone.Palettes, exact.Palettes) {
		if len(palette.Prepared) > 0 {
			planned++
		}
		for _, target := range palette.Targets {
			mixes++
			parts := map[string]float64{}
			for id, n := range target.Parts {
				parts[id] += n
				for _, p := range palette.Prepared {
					if p.ID == id {
						prepared++
						delete(parts, id)
						parts[p.Strong] += n / float64(p.Ratio+1)
						parts[p.Into] += n * float64(p.Ratio) / float64(p.Ratio+1)
					}
				}
			}
			lab := tubes.mix(target.Shares)
			for i, got := range []float64{lab.L, lab.A, lab.B} {
				if !(math.Abs(got-target.MixLab[i]) <= tolerance) {
					t.Errorf("%s: coordinate %d is %.4f from the shares, %.2f in mix_lab", target.Name, i, got, target.MixLab[i])
				}
			}
			asked := colour.Lab{L: target.Lab[0], A: target.Lab[1], B: target.Lab[2]}
			if de := colour.DE2000(tubes.mix(parts), asked); !(math.Abs(de-target.PartsDE) <= tolerance) {
				t.Errorf("%s: its parts come to %.4f, not %.2f", target.Name, de, target.PartsDE)
			}
			if target.LetDown == nil {
				continue
			}
			letDown++
			volumes := map[string]float64{}
			for _, p := range target.LetDown.Piles {
				strong := p.Parts / math.Pow(float64(p.Ratio+1), float64(p.Times))
				volumes[p.Tube] += strong
				volumes[p.In] += p.Parts - strong
			}
			if de := colour.DE2000(tubes.mix(volumes), asked); !(math.Abs(de-target.LetDown.DE) <= tolerance) {
				t.Errorf("%s: let down it comes to %.4f, not %.2f", target.Name, de, target.LetDown.DE)
			}
		}
	}
	if mixes < 18 || letDown == 0 || prepared == 0 || planned < 2 {
		t.Errorf("only %d mixes, %d let-down recipes and %d parts of prepared piles in %d palettes checked", mixes, letDown, prepared, planned)
	}
}

// mix is the colour of volumes of tubes, computed with the formulas the schema
// spells out: Duncan 1940, Kubelka & Munk 1931, Saunderson 1942 and CIE 015.
func (d *jsonTubes) mix(volumes map[string]float64) colour.Lab {
	var xyz [3]float64
	for band := range d.Weights.X {
		var k, s float64
		for _, tube := range d.Tubes {
			k += volumes[tube.ID] * tube.K[band]
			s += volumes[tube.ID] * tube.S[band]
		}
		q := k / s
		inside := 1 + q - math.Sqrt(q*q+2*q)
		k1, k2 := d.Surface.K1, d.Surface.K2
		seen := k1 + (1-k1)*(1-k2)*inside/(1-k2*inside)
		xyz[0] += d.Weights.X[band] * seen
		xyz[1] += d.Weights.Y[band] * seen
		xyz[2] += d.Weights.Z[band] * seen
	}
	cube := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	white := d.Weights.White
	fx, fy, fz := cube(xyz[0]/white[0]), cube(xyz[1]/white[1]), cube(xyz[2]/white[2])
	return colour.Lab{L: 116*fy - 16, A: 500 * (fx - fy), B: 200 * (fy - fz)}
}

// answerOf runs a command and decodes what it prints.
func answerOf(t *testing.T, into any, args ...string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), append([]string{"fewtubes"}, args...), &stdout, &stderr); code != exitAnswered {
		t.Fatalf("%v: exit code %d, %s", args, code, &stderr)
	}
	if err := json.Unmarshal(stdout.Bytes(), into); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
}

// A run that is cancelled says so in one line and has an exit code of its own.
func TestInterrupted(t *testing.T) {
	scene := filepath.Join(t.TempDir(), "scene.toml")
	if err := os.WriteFile(scene, []byte(recomputeScene), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	code := run(ctx, []string{"fewtubes", "choose", scene}, &stdout, &stderr)
	if code != exitInterrupted || stderr.String() != "fewtubes: stopped\n" {
		t.Errorf("exit code %d, stderr %q", code, &stderr)
	}
}
