package check_test

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
)

// acrylics are paints of R. S. Berns, "Artist Paint Spectral Database", CIC24,
// 2016, by Colour Index name.
func acrylics(t testing.TB, wanted ...string) []film.Paint {
	t.Helper()
	out := make([]film.Paint, len(wanted))
	for i, row := range figures.Rows(t, "../../testdata/acrylics.csv") {
		p := slices.Index(wanted, row[0])
		if p < 0 {
			continue
		}
		out[p].K[i%colour.Bands], out[p].S[i%colour.Bands] = figures.Number(t, row[3]), figures.Number(t, row[4])
	}
	return out
}

// dusk is the certificate, as text, that a violet is out of reach of white,
// ultramarine and bismuth yellow.
var dusk string

func duskViolet(t testing.TB) string {
	t.Helper()
	if dusk == "" {
		paints := acrylics(t, "PW6", "PB29", "PY184")
		got, err := certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: 50, A: 14, B: -22}, 2, certain.Options{})
		if err != nil || got.Verdict != certain.Certified {
			t.Fatalf("%v, %v", got, err)
		}
		dusk = text(t, got.Certificate)
	}
	return dusk
}

func text(t testing.TB, c *check.Certificate) string {
	t.Helper()
	var b bytes.Buffer
	if err := c.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func read(t testing.TB, s string) *check.Certificate {
	t.Helper()
	c, err := check.Read(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestCertificateSurvivesItsFile(t *testing.T) {
	first := duskViolet(t)
	back := read(t, first)
	if text(t, back) != first {
		t.Error("written again the file is another")
	}
	if err := back.Verify(context.Background()); err != nil {
		t.Error(err)
	}
	t.Logf("%d steps, %d bytes", len(back.Steps), len(first))
}

// TestBrokenSplitsAreRefused leaves out, for every split of a larger proof, the
// split, all that follows in one of its cells, or the order of the cells.
func TestBrokenSplitsAreRefused(t *testing.T) {
	paints := acrylics(t, "PW6", "PB28", "PY74", "PV19", "PG7")
	got, err := certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: 40, A: 30, B: -30}, 2, certain.Options{})
	if err != nil || got.Certificate == nil {
		t.Fatalf("%v, %v", got, err)
	}
	if err := got.Certificate.Verify(context.Background()); err != nil {
		t.Fatal(err)
	}
	splits := 0
	for i, s := range got.Certificate.Steps {
		if s.Action != check.Split {
			continue
		}
		splits++
		closed := i + 1
		for got.Certificate.Steps[closed].Action != check.Empty {
			closed++
		}
		for what, steps := range map[string][]check.Step{
			"no split":       slices.Delete(slices.Clone(got.Certificate.Steps), i, i+1),
			"one cell less":  slices.Delete(slices.Clone(got.Certificate.Steps), i+1, closed+1),
			"the other side": slices.Replace(slices.Clone(got.Certificate.Steps), i, i+1, otherSide(s)),
		} {
			c := *got.Certificate
			c.Steps = steps
			if c.StepsHold() == nil {
				t.Errorf("step %d, %s: accepted", i, what)
			}
		}
	}
	if splits == 0 {
		t.Error("the proof has no split")
	}
}

// otherSide names the second cell of a split first, which no proof may.
func otherSide(s check.Step) check.Step {
	s.Limit = check.LeastR
	return s
}

func TestBrokenClaimsAreRefused(t *testing.T) {
	whole := duskViolet(t)
	for what, change := range map[string]func(*check.Certificate){
		"a wider tolerance": func(c *check.Certificate) { c.Tolerance += 0.2 },
		"another target":    func(c *check.Certificate) { c.Target.A -= 1 },
		"another light":     func(c *check.Certificate) { c.Light = "A" },
		"a face moved in":   func(c *check.Certificate) { c.Faces[3].Height -= 0.2 },
		"another surface":   func(c *check.Certificate) { c.Surface.K2 = 0.3 },
		"a stronger paint":  func(c *check.Certificate) { c.Paints[1].K[4] *= 1.5 },
		"one paint more": func(c *check.Certificate) {
			c.Paints = append(c.Paints, acrylics(t, "PV23")...)
			c.Norms = append(c.Norms, 1)
		},
		"no proof": func(c *check.Certificate) { c.Steps = nil },
		"no norm":  func(c *check.Certificate) { c.Norms[0] = 0 },
	} {
		c := read(t, whole)
		change(c)
		if err := c.Verify(context.Background()); !errors.Is(err, check.ErrProof) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestReadNamesTheLine(t *testing.T) {
	whole := duskViolet(t)
	for _, c := range []struct{ old, new, want string }{
		{"certificate unreachable 2", "certificate unreachable 1", "line 1"},
		{"light D65", "light", "line 3"},
		{"tolerance 2", "tolerance two", "line 5"},
		{"tolerance 2", "tolerance Inf", "line 5"},
		{"\nend\n", "\n", "the end is missing"},
		{"\nend\n", "\nend\nend\n", "nothing may follow"},
		{"move r<", "move r=", "is not a limit"},
		{"\nempty ", "\nvoid ", "is not a statement"},
	} {
		_, err := check.Read(strings.NewReader(strings.Replace(whole, c.old, c.new, 1)))
		var syntax *check.SyntaxError
		if !errors.As(err, &syntax) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: %v", c.new, c.old, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("certificate unreachable 2\nsurface 0.03 0.65\nlight D65\ntarget 50 0 0\ntolerance 2\n" +
		"face 1 0 0 2\nmove r< 3 0.5 r>2*1 cut0*2\nsplit s< 1 2\nempty\nend\n")
	lines := strings.SplitAfter(duskViolet(f), "\n")
	f.Add(strings.Join(lines[:min(40, len(lines))], "") + "end\n")
	f.Fuzz(func(t *testing.T, s string) {
		var c *check.Certificate
		var err error
		bounded.Work(t, len(s), func() { c, err = check.Read(strings.NewReader(s)) })
		bounded.Work(t, len(s), func() {
			if _, _, err := verify(s, 4e8); err != nil {
				bounded.Refusal(t, err)
			}
		})
		if err != nil {
			bounded.Refusal(t, err, "certificate, line ")
			return
		}
		again := text(t, c)
		if text(t, read(t, again)) != again {
			t.Error("reading what was written changes it")
		}
		if c.StepsHold() == nil && len(c.Paints) == 0 {
			t.Error("a proof about no paints")
		}
	})
}
