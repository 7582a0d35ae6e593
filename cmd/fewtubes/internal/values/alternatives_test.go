package values

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// picture draws rows of L* from strings of digits, 0 black to 9.
func picture(rows ...string) Grey {
	g := Grey{W: len(rows[0]), H: len(rows)}
	for _, row := range rows {
		for _, d := range row {
			g.L = append(g.L, 10*float64(d-'0')+5)
		}
	}
	return g
}

// The light sky, the grey wood and the dark ground can be parted above the wood or
// below it; both keep one large dark and one large light.
func TestAlternatives(t *testing.T) {
	g := picture("8888888888", "8888888888", "8888888888", "5555555555", "5555555555", "2222222222", "2222222222", "2222222222")
	got := Alternatives(g, 2)
	if len(got) != 2 || got[1].Name == got[0].Name {
		t.Fatalf("%+v", got)
	}
	for _, a := range got {
		if !a.Together() || math.Abs(a.Dark+a.Light-1) > 1e-9 {
			t.Errorf("%s: largest dark %v, largest light %v", a.Name, a.Dark, a.Light)
		}
	}
	dark := []float64{got[0].Shares[0], got[1].Shares[0]}
	slices.Sort(dark)
	if math.Abs(dark[0]-0.375) > 1e-9 || math.Abs(dark[1]-0.625) > 1e-9 {
		t.Errorf("dark shares %v", dark)
	}
	// Squares of a board do not hold together, however they are parted.
	board := Alternatives(picture("2828", "8282", "2828", "8282"), 2)
	if len(board) != 1 || board[0].Together() {
		t.Errorf("%+v", board)
	}
	if one := Alternatives(picture("44", "44"), 3); len(one) != 1 || len(one[0].Plan.Levels) != 1 {
		t.Errorf("one value: %+v", one)
	}
}

// Levels rise with the bounds between them, shares make up the whole, and every
// other plan keeps its promise, by its own count of pixels and of their largest
// piece.
func TestAlternativesKeepTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rough := Grey{W: 30, H: 20}
		for range rough.W * rough.H {
			rough.L = append(rough.L, rapid.Float64Range(0, 100).Draw(t, "L"))
		}
		g := rough.Blur(rapid.IntRange(0, 6).Draw(t, "blur"))
		n := rapid.IntRange(2, 5).Draw(t, "n")
		for i, a := range Alternatives(g, n) {
			var whole float64
			for k, l := range a.Plan.Levels {
				whole += a.Shares[k]
				if k > 0 && !(a.Plan.Levels[k-1] < a.Plan.Bounds[k-1] && a.Plan.Bounds[k-1] <= l+0.5) {
					t.Fatalf("%v %v", a.Plan.Levels, a.Plan.Bounds)
				}
			}
			if math.Abs(whole-1) > 1e-9 {
				t.Fatalf("shares %v", a.Shares)
			}
			if i == 0 {
				continue
			}
			if len(a.Plan.Levels) != n || !a.Together() {
				t.Fatalf("%s: %+v", a.Name, a)
			}
			if piece := flood(g, func(l float64) bool { return l < a.Plan.Bounds[0] }); math.Abs(piece-a.Dark) > 1e-9 {
				t.Fatalf("%s: largest dark %v, counted %v", a.Name, a.Dark, piece)
			}
		}
	})
}

// flood is the largest piece, each pixel followed from its neighbours.
func flood(g Grey, counts func(float64) bool) float64 {
	seen := map[int]bool{}
	var follow func(x, y int) int
	follow = func(x, y int) int {
		i := y*g.W + x
		if x < 0 || y < 0 || x >= g.W || y >= g.H || seen[i] || !counts(g.L[i]) {
			return 0
		}
		seen[i] = true
		return 1 + follow(x-1, y) + follow(x+1, y) + follow(x, y-1) + follow(x, y+1)
	}
	most := 0
	for y := range g.H {
		for x := range g.W {
			most = max(most, follow(x, y))
		}
	}
	return float64(most) / float64(len(g.L))
}
