package film

import (
	"path/filepath"
	"strconv"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
)

// acrylics are the 19 paints of R. S. Berns, "Artist Paint Spectral Database",
// CIC24, 2016: K and S relative to titanium white, under Dry.
func acrylics(t testing.TB) (names []string, paints []Paint, white int) {
	rows := figures.Named(t, filepath.Join(sharedFolder(t), "berns2016_acrylic_ks.csv"))
	for _, row := range rows {
		if row["quantity"] == "K" {
			names = append(names, row["pigment"])
			paints = append(paints, Paint{})
			if row["ci_name"] == "PW6" {
				white = len(names) - 1
			}
		}
		p := &paints[len(paints)-1]
		for b := range colour.Bands {
			v := figures.Number(t, row[strconv.Itoa(colour.StartNM+b*colour.StepNM)])
			if row["quantity"] == "K" {
				p.K[b] = max(v, FloorK)
			} else {
				p.S[b] = max(v, FloorS)
			}
		}
	}
	return names, paints, white
}

func TestNodesLoseNothingVisible(t *testing.T) {
	names, paints, white := acrylics(t)
	light := colour.D65()
	worst := 0.0
	for i := range paints {
		nodes := paints[i].Nodes()
		back := FromNodes(&nodes)
		m, n := paints[i].Masstone(Dry), back.Masstone(Dry)
		de := colour.DE2000(light.Lab(&m), light.Lab(&n))
		m, n = paints[i].Tint(&paints[white], 9, Dry), back.Tint(&paints[white], 9, Dry)
		tint := colour.DE2000(light.Lab(&m), light.Lab(&n))
		if de = max(de, tint); de > 0.2 {
			t.Errorf("%s: %.3f lost", names[i], de)
		}
		worst = max(worst, de)
	}
	t.Logf("most lost on a masstone or a 1:9 tint: %.3f", worst)
}
