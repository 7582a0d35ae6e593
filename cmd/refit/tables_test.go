package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"

	"gonum.org/v1/gonum/stat"
)

// These tests need no readings: they hold the committed tables and the committed
// catalogue to their bounds and to each other.

func committed(t *testing.T, path string) []map[string]string {
	t.Helper()
	return figures.Named(t, filepath.Join(root, filepath.FromSlash(path)))
}

// columnOf is one column of the lines that keep lets through, blanks left out.
func columnOf(t *testing.T, rows []map[string]string, name string, keep func(map[string]string) bool) (out []float64) {
	t.Helper()
	for _, r := range rows {
		if keep(r) && r[name] != "" {
			out = append(out, figures.Number(t, r[name]))
		}
	}
	return out
}

func labIn(t *testing.T, row map[string]string, prefix string) colour.Lab {
	t.Helper()
	return colour.Lab{L: figures.Number(t, row[prefix+"L"]), A: figures.Number(t, row[prefix+"a"]), B: figures.Number(t, row[prefix+"b"])}
}

// Each set foretold from the others: CIEDE2000 of masstones and tints in the
// median. The first two stand on each other's laboratory.
func TestEachSetIsForetoldFromTheOthers(t *testing.T) {
	rows := committed(t, agreementPath)
	for _, c := range []struct {
		left           string
		pigments       int
		masstone, tint float64
	}{
		{berns, 17, 2.5, 1}, {okumura, 17, 2, 1}, {"laboratory", 21, 3.2, 2.2}, {films, 7, 2, 1.5}, {oils, 6, 4.5, 1.5}, {"measured", 25, 4.5, 3.5},
	} {
		of := func(r map[string]string) bool { return r["left_out"] == c.left }
		m, ti := columnOf(t, rows, "masstone", of), columnOf(t, rows, "tint", of)
		t.Logf("%s: %d pigments, masstone %.1f, tint %.1f; mean %.1f, %.1f", c.left, len(m), median(m), median(ti), mean(m), mean(ti))
		if len(m) != c.pigments || median(m) > c.masstone || median(ti) > c.tint {
			t.Errorf("%s: %d pigments, masstone %.2f, tint %.2f", c.left, len(m), median(m), median(ti))
		}
	}
}

// The chart alone, its correction learnt without the pigment judged: no worse
// than before in the mean, and four in five within a factor of two in strength.
func TestChartTubesAreNearerThanBefore(t *testing.T) {
	rows := committed(t, agreementPath)
	of := func(r map[string]string) bool { return r["left_out"] == "measured" }
	for _, what := range []string{"masstone", "tint"} {
		was, is := columnOf(t, rows, what+"_before", of), columnOf(t, rows, what, of)
		t.Logf("%s: median %.1f to %.1f, mean %.1f to %.1f", what, median(was), median(is), mean(was), mean(is))
		if len(was) != len(is) || mean(is) > mean(was) || median(is) > median(was) {
			t.Errorf("%s: median %.2f to %.2f, mean %.2f to %.2f", what, median(was), median(is), mean(was), mean(is))
		}
	}
	within := 0
	strengths := columnOf(t, rows, "strength", of)
	for _, s := range strengths {
		if s >= 0.5 && s <= 2 {
			within++
		}
	}
	t.Logf("strength within a factor of two: %d of %d", within, len(strengths))
	if within*5 < 4*len(strengths) {
		t.Errorf("strength within a factor of two: %d of %d", within, len(strengths))
	}
}

// The tubes as committed are what the table says of them.
func TestTableIsOfTheCommittedTubes(t *testing.T) {
	c := builtin(t)
	for _, row := range committed(t, agreementPath) {
		tube, err := c.Get(row["tube"])
		if err != nil {
			t.Fatal(err)
		}
		k := likenessTo(swatch{labIn(t, row, ""), labIn(t, row, "tint_")}, &tube.Paint, c.White())
		for what, got := range map[string]float64{"masstone_now": k.masstone, "tint_now": k.tint} {
			if want := figures.Number(t, row[what]); got < want-0.15 || got > want+0.15 {
				t.Errorf("%s without %s: %s %.2f, the table says %.1f", row["tube"], row["left_out"], what, got, want)
			}
		}
		if tube.Basis != catalog.Estimated && row["left_out"] == "measured" && k.masstone > 0.3 {
			t.Errorf("%s lies %.2f from the mean of its readings", tube.ID, k.masstone)
		}
	}
}

// Two-paint mixtures whose tubes stand on different sets, foretold from the
// committed catalogue. Sources: the head of the table.
func TestMixturesAcrossSets(t *testing.T) {
	const oilMedian, filmMedian, asBefore = 2.5, 1.5, 0.1
	c := builtin(t)
	var oilDE, filmDE, blacked []float64
	for _, row := range committed(t, mixturesPath) {
		var paints []film.Paint
		var shares []float64
		sum := 0.0
		for part := range strings.SplitSeq(row["mix"], " + ") {
			volume, id, _ := strings.Cut(part, " ")
			tube, err := c.Get(id)
			if err != nil {
				t.Fatal(err)
			}
			paints, shares = append(paints, tube.Paint), append(shares, figures.Number(t, volume))
			sum += figures.Number(t, volume)
		}
		for i := range shares {
			shares[i] /= sum
		}
		var mix film.Paint
		film.Mix(&mix, paints, shares)
		scale, ground := c.Scale(), colour.Flat(filmsOverWhite)
		seen := mix.Masstone(scale.Surface)
		um := figures.Number(t, row["micrometres"])
		if um > 0 {
			seen = scale.Film(&mix, um, &ground)
		}
		now := labOf(seen)
		if de := colour.DE2000(now, labIn(t, row, "left_")); de > asBefore {
			t.Errorf("%s: %.2f from the committed prediction", row["sample"], de)
		}
		de := colour.DE2000(now, labIn(t, row, ""))
		if um > 0 {
			filmDE = append(filmDE, de)
			continue
		}
		oilDE = append(oilDE, de)
		if strings.Contains(row["mix"], "white") && strings.Contains(row["mix"], "black") {
			blacked = append(blacked, de)
		}
	}
	t.Logf("%d weighed oils: median %.1f, mean %.1f; %d of a white with black: median %.1f; %d tints of films: median %.1f",
		len(oilDE), median(oilDE), mean(oilDE), len(blacked), median(blacked), len(filmDE), median(filmDE))
	if len(oilDE) != 14 || median(oilDE) > oilMedian || len(filmDE) != 8 || median(filmDE) > filmMedian || len(blacked) != 6 || median(blacked) > oilMedian {
		t.Errorf("oils %.2f, films %.2f, white with black %.2f", median(oilDE), median(filmDE), median(blacked))
	}
}

// Leave one pair out: a third to two thirds of the pairs fall inside the drawn 50 %,
// four in five inside the drawn 90 %, for masstones and for tints.
func TestDoubtCoversThePairs(t *testing.T) {
	rows := committed(t, coveragePath)
	for kind, pairs := range map[string]int{"measured": 10, "chart": 25} {
		for _, what := range []string{"masstone_inside", "tint_inside"} {
			n, half, most := 0, 0, 0
			for _, r := range rows {
				if r["kind"] != kind {
					continue
				}
				n++
				if r[what] == "50" {
					half++
				}
				if r[what] != "beyond" {
					most++
				}
			}
			t.Logf("%s, %s: %d of %d inside the drawn 50 %%, %d inside 90 %%", kind, what, half, n, most)
			if n != pairs || half*100 < 35*n || half*100 > 65*n || most*100 < 80*n {
				t.Errorf("%s, %s: %d of %d inside the drawn 50 %%, %d inside 90 %%", kind, what, half, n, most)
			}
		}
	}
}

// What colours alone teach, each set left out of the priors: the bounds are what was hoped
// for, but where they say otherwise.
func TestSwatchesTeach(t *testing.T) {
	rows := committed(t, learningPath)
	number := func(r map[string]string, name string) float64 { return figures.Number(t, r[name]) }
	for _, c := range []struct {
		taught, noise  string
		tint, computed float64 // CIEDE2000, median
	}{
		{"masstone and 1:4 tint, both grounds", "0", 1.3, 3.0},
		{"masstone and 1:4 tint, white", "0", 2, 4},
		{"masstone and 1:4 tint, both grounds", "2", 3, 4.7},
		{"masstone and 1:4 tint, white", "2", 3, 4.7},
	} {
		for kind, most := range map[string]float64{"tint": c.tint, "computed": c.computed} {
			of := func(r map[string]string) bool {
				return r["set"] == films && r["taught"] == c.taught && r["noise"] == c.noise && r["asked"] == kind
			}
			if got := columnOf(t, rows, "taught_median", of); len(got) != 1 || got[0] > most {
				t.Errorf("films, %s, noise %s, %s: %v, at most %g", c.taught, c.noise, kind, got, most)
			}
		}
	}
	for _, r := range rows {
		if r["set"] != films {
			continue
		}
		// Masstones over black alone tell of the tints next to nothing.
		worse := 0.0
		if r["taught"] == "masstone, black" && r["asked"] == "tint" {
			worse = 0.15
		}
		if number(r, "taught_median") > number(r, "untaught")+worse || number(r, "taught_mean") > number(r, "untaught_mean")+worse {
			t.Errorf("films, %s, noise %s, %s: worse than untaught", r["taught"], r["noise"], r["asked"])
		}
	}
}

// Weighed oils: after two samples the median at most 4 and four choices in five no worse.
func TestSamplesOfOilsTeach(t *testing.T) {
	weighed, colours := 0.0, 0.0
	for _, r := range committed(t, learningPath) {
		if r["set"] != oils || !strings.HasPrefix(r["taught"], "2 ") {
			continue
		}
		count := figures.Number(t, r["colours"])
		weighed, colours = weighed+count*figures.Number(t, r["taught_median"]), colours+count
		if share := figures.Number(t, r["not_worse"]); share < 0.8 {
			t.Errorf("after two samples %.2f are no worse", share)
		}
	}
	t.Logf("after two samples the medians are %.1f", weighed/colours)
	if !(weighed/colours <= 4) {
		t.Errorf("after two samples the medians are %.2f", weighed/colours)
	}
}

// What is said of nine in ten holds for 85 to 95 % of the colours of each set and kind, whatever
// was taught, and of the paints the error of the model was chosen without.
func TestForetoldIsAsSureAsSaid(t *testing.T) {
	const least, most = 0.85, 0.95
	inside, n := map[string]float64{}, map[string]float64{}
	for _, r := range committed(t, learningPath) {
		if strings.HasPrefix(r["taught"], "0 ") {
			continue
		}
		key, count := r["set"]+", "+r["asked"], figures.Number(t, r["colours"])
		inside[key] += count * figures.Number(t, r["inside"])
		n[key] += count
	}
	for _, r := range committed(t, modelErrorPath) {
		if r["left_out"] == "all" {
			key := "chosen without the paint, " + r["kind"]
			inside[key], n[key] = figures.Number(t, r["inside"]), 1
		}
	}
	if len(n) != 6 {
		t.Errorf("%d kinds", len(n))
	}
	for key, count := range n {
		share := inside[key] / count
		t.Logf("%s: %.3f", key, share)
		if share < least || share > most {
			t.Errorf("%s: %.3f inside", key, share)
		}
	}
}

// A film without white looks as thin as the films of the table do, whichever paint is left out.
func TestClearFilmsAreThoseOfTheTable(t *testing.T) {
	const within = 0.1
	clear := film.DefaultLearn(film.Scale{}).Clear
	for _, r := range committed(t, clearPath) {
		others := figures.Number(t, r["others"])
		if math.Abs(others-clear) > within || r["paint"] == "all" && others != clear {
			t.Errorf("without %s %.2f times, the program says %.2f", r["paint"], others, clear)
		}
	}
}

// Between makers the level of K/S goes with that of S and not with that of K, so that what a masstone
// tells is no strength (doubt.Spread.Levelled).
func TestMasstoneTellsNoStrength(t *testing.T) {
	const apart, together = 0.2, -0.6
	rows := committed(t, coveragePath)
	for _, kind := range []string{"measured", "chart"} {
		of := func(r map[string]string) bool { return r["kind"] == kind }
		k, s := columnOf(t, rows, "k_level", of), columnOf(t, rows, "s_level", of)
		ratio := make([]float64, len(k))
		for i := range k {
			ratio[i] = k[i] - s[i]
		}
		withK, withS := stat.Correlation(ratio, k, nil), stat.Correlation(ratio, s, nil)
		t.Logf("%s: K/S goes with K by %.2f, with S by %.2f", kind, withK, withS)
		if math.Abs(withK) > apart || withS > together {
			t.Errorf("%s: K/S goes with K by %.2f, with S by %.2f", kind, withK, withS)
		}
	}
}

// The error of the model that the program supposes is the one all paints ask for.
func TestModelErrorIsThatOfTheTable(t *testing.T) {
	of := map[string]float64{"tint": film.PublishedError.Tint, "mixed": film.PublishedError.Mixed}
	seen := 0
	for _, r := range committed(t, modelErrorPath) {
		if r["left_out"] == "all" {
			if seen++; figures.Number(t, r["error"]) != of[r["kind"]] {
				t.Errorf("%s: the table says %s, the program %g", r["kind"], r["error"], of[r["kind"]])
			}
		}
	}
	if seen != 2 {
		t.Errorf("%d lines", seen)
	}
}
