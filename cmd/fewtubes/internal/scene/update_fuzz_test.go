package scene

import (
	"bytes"
	"testing"

	"fewtubes/gamut/bounded"
)

// FuzzUpdate puts changes into any text that is a scene: the result reads back
// as the changed scene, and a scene that did not change leaves the text alone.
func FuzzUpdate(f *testing.F) {
	f.Add([]byte(whole), byte(0))
	f.Fuzz(func(t *testing.T, text []byte, what byte) {
		s, err := Parse("a", text)
		if err != nil {
			return
		}
		var same []byte
		var kept bool
		bounded.Work(t, len(text), func() { same, kept = Update(text, s) })
		if !kept || !bytes.Equal(same, text) {
			t.Fatalf("kept %v, changed nothing, got\n%s", kept, same)
		}
		last := &s.Targets[len(s.Targets)-1]
		switch what % 6 {
		case 0:
			s.Title, s.Tolerance = "Ebb \"tide\"", 4.5
		case 1:
			last.Colour, last.Plane, last.Area = "lab(1 2 3)", "sky", 7
			last.Lab.L, last.Lab.A, last.Lab.B = 1, 2, 3
		case 2:
			s.Limits = Limits{MaxTubes: 5, Avoid: []string{"lead"}, PaintsPerMix: s.Limits.PaintsPerMix, Prefer: s.Limits.Prefer}
		case 3:
			s.Targets = append(s.Targets, Target{Name: "one more target", Colour: "#102030", Area: 1})
		case 4:
			if len(s.Targets) > 1 {
				s.Targets = s.Targets[1:]
			}
		case 5:
			last.Tolerance, last.Name = 1.5, "another name"
		}
		if s.Check() != nil {
			return
		}
		got, _ := Update(text, s)
		back, err := Parse("a", got)
		if err != nil || !bytes.Equal(Format(back), Format(s)) {
			t.Fatalf("%v\nfrom\n%s\ngot\n%s\nwant\n%s", err, text, got, Format(s))
		}
	})
}
