package colour

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"fewtubes/gamut/figures"
)

// weightTolerance is the rounding of tables printed to six decimals, ends folded.
const weightTolerance = 6e-6

// The weights by the ASTM E2022 procedure as another implementation computes
// them (python colour-science 0.4.6), the ends folded in as ASTM E308 says for
// readings of 380-730 nm.
func TestWeightsE2022(t *testing.T) {
	for _, c := range []struct {
		light   *Light
		nm      int
		x, y, z float64
	}{
		{D65(), 380, 0.007888, 0.000230, 0.037084},
		{D65(), 450, 3.698679, 0.417324, 19.505686},
		{D65(), 560, 5.625901, 9.419071, 0.036552},
		{D65(), 610, 8.491535, 4.262536, 0.003181},
		{D65(), 730, 0.017854, 0.006449, 0.000000},
		{D50(), 380, 0.003893, 0.000114, 0.018294},
		{D50(), 450, 2.771825, 0.312734, 14.618402},
		{D50(), 560, 5.657273, 9.471741, 0.036789},
		{D50(), 610, 9.464309, 4.751120, 0.003545},
		{D50(), 730, 0.022204, 0.008016, 0.000000},
		{A(), 380, 0.001427, 0.000042, 0.006714},
		{A(), 450, 1.035576, 0.116611, 5.461187},
		{A(), 560, 5.510828, 9.219227, 0.035860},
		{A(), 610, 12.670979, 6.359899, 0.004737},
		{A(), 730, 0.057039, 0.020599, 0.000000},
	} {
		for k, want := range [3]float64{c.x, c.y, c.z} {
			if got := c.light.Weights[k][(c.nm-StartNM)/StepNM]; math.Abs(got-want) > weightTolerance {
				t.Errorf("%s %d nm, column %d: %.6f, want %.6f", c.light.Name, c.nm, k, got, want)
			}
		}
	}
}

func TestWeightsE2022WholeTable(t *testing.T) {
	for _, l := range []*Light{D65(), D50(), A()} {
		path, ok := readings(t, "e2022_weights_"+l.Name+"_2deg_10nm.csv")
		if !ok {
			continue
		}
		var want [3][Bands]float64
		for _, row := range figures.Rows(t, path) {
			at := min(max(int(figures.Number(t, row[0])), StartNM), StartNM+(Bands-1)*StepNM)
			for k := range want {
				want[k][(at-StartNM)/StepNM] += figures.Number(t, row[1+k])
			}
		}
		for k := range want {
			for b, w := range want[k] {
				if got := l.Weights[k][b]; math.Abs(got-w) > weightTolerance {
					t.Errorf("%s %d nm, column %d: %.6f, want %.6f", l.Name, StartNM+b*StepNM, k, got, w)
				}
			}
		}
	}
}

// The whites of the lights, CIE 015 table T.3 (2 degree observer); weights at
// 10 nm without bandpass correction hold them to a few thousandths.
func TestWhites(t *testing.T) {
	for _, c := range []struct {
		light *Light
		want  XYZ
	}{
		{D65(), XYZ{95.047, 100, 108.883}},
		{D50(), XYZ{96.422, 100, 82.521}},
		{A(), XYZ{109.850, 100, 35.585}},
	} {
		got := c.light.White
		if math.Abs(got.X-c.want.X) > 0.01 || math.Abs(got.Y-c.want.Y) > 1e-4 || math.Abs(got.Z-c.want.Z) > 0.01 {
			t.Errorf("%s: %v, want %v", c.light.Name, got, c.want)
		}
		one := Flat(1)
		if lab := c.light.Lab(&one); lab != (Lab{100, 0, 0}) {
			t.Errorf("%s: the perfect diffuser is %v", c.light.Name, lab)
		}
	}
}

// The 24 patches under three lights against Debian argyll 2.3.1 (spec2cie; see
// the head of testdata/chart24.csv). It integrates at 1 nm with its own tables.
func TestChartAgainstArgyll(t *testing.T) {
	const (
		xyzTolerance = 0.02
		labTolerance = 0.05 // CIEDE2000
	)
	for _, row := range figures.Rows(t, "testdata/chart24.csv") {
		var s Spectrum
		for i := range s {
			s[i] = figures.Number(t, row[1+i])
		}
		rest := row[1+Bands:]
		for i, l := range []*Light{D65(), D50(), A()} {
			want := XYZ{figures.Number(t, rest[3*i]), figures.Number(t, rest[3*i+1]), figures.Number(t, rest[3*i+2])}
			got := l.XYZ(&s)
			if d := max(math.Abs(got.X-want.X), math.Abs(got.Y-want.Y), math.Abs(got.Z-want.Z)); d > xyzTolerance {
				t.Errorf("%s under %s: %v, want %v", row[0], l.Name, got, want)
			}
		}
		want := Lab{figures.Number(t, rest[9]), figures.Number(t, rest[10]), figures.Number(t, rest[11])}
		if got := D65().Lab(&s); DE2000(got, want) > labTolerance {
			t.Errorf("%s: %v, want %v (%.4f)", row[0], got, want, DE2000(got, want))
		}
	}
}

// The committed table is what the generator writes today.
func TestWeightsAreGenerated(t *testing.T) {
	want, err := exec.Command("go", "run", "./weights").Output()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("data/weights_10nm.csv")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("data/weights_10nm.csv is stale: go run ./weights > data/weights_10nm.csv")
	}
}

func TestParseLight(t *testing.T) {
	for name, want := range map[string]*Light{"D65": D65(), " d50 ": D50(), "a": A()} {
		if got, err := ParseLight(name); err != nil || got != want {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	if _, err := ParseLight("F11"); err == nil || !strings.Contains(err.Error(), "D65, D50 or A") {
		t.Errorf("F11: %v", err)
	}
}
