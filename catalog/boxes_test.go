package catalog

import (
	"math"
	"testing"

	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

func drawBox(tubes []Tube, n int) []film.Paint {
	out := make([]film.Paint, len(tubes))
	NewBoxes(tubes).Draw(n, out)
	return out
}

// A tube's draw is its own: other tubes and their order change nothing, another
// number or id does.
func TestDrawsBelongToTheirTube(t *testing.T) {
	all := builtinTubes(t).Tubes()
	box := drawBox(all, 7)
	for _, i := range []int{0, 5, len(all) - 1} {
		if alone := drawBox(all[i:i+1], 7); alone[0] != box[i] {
			t.Errorf("%s alone is drawn otherwise", all[i].ID)
		}
		if other := drawBox(all[i:i+1], 8); other[0] == box[i] {
			t.Errorf("%s: draws 7 and 8 are the same", all[i].ID)
		}
		named := all[i]
		named.ID = "another"
		if other := drawBox([]Tube{named}, 7); other[0] == box[i] && len(named.Parts) == 0 {
			t.Errorf("%s: another tube is drawn the same", all[i].ID)
		}
	}
	for i, p := range drawBox(all, 0) {
		for b := range p.K {
			if math.Abs(p.K[b]/all[i].Paint.K[b]-1) > 1e-12 || math.Abs(p.S[b]/all[i].Paint.S[b]-1) > 1e-12 {
				t.Fatalf("%s: box 0 is not the tube as it stands", all[i].ID)
			}
		}
	}
}

// A mixture is mixed from what its parts are in the same box.
func TestMixturesDrawTheirParts(t *testing.T) {
	tubes := builtinTubes(t).Tubes()
	at := map[string]int{}
	for i := range tubes {
		at[tubes[i].ID] = i
	}
	mixtures := 0
	box := drawBox(tubes, 3)
	for i := range tubes {
		if len(tubes[i].Parts) == 0 {
			continue
		}
		mixtures++
		var want film.Paint
		for _, p := range tubes[i].Parts {
			for b := range want.K {
				want.K[b] += p.Share * box[at[p.Tube]].K[b]
				want.S[b] += p.Share * box[at[p.Tube]].S[b]
			}
		}
		for b := range want.K {
			if math.Abs(want.K[b]/box[i].K[b]-1) > 1e-12 || math.Abs(want.S[b]/box[i].S[b]-1) > 1e-12 {
				t.Fatalf("%s is not mixed from its parts", tubes[i].ID)
			}
		}
	}
	if mixtures != 8 {
		t.Errorf("%d mixtures", mixtures)
	}
}

// A tube with no doubt is drawn as it is.
func TestNoDoubtNoDraw(t *testing.T) {
	tube := mustGet(t, "cobalt-blue")
	tube.Doubt = doubt.Spread{}
	if got := drawBox([]Tube{tube}, 12)[0]; got != tube.Paint {
		t.Error("a tube without doubt is drawn off")
	}
}

func BenchmarkBox(b *testing.B) {
	tubes := builtinTubes(b).Tubes()
	boxes, dst := NewBoxes(tubes), make([]film.Paint, len(tubes))
	b.ReportAllocs()
	for n := 1; b.Loop(); n++ {
		boxes.Draw(n, dst)
	}
}
