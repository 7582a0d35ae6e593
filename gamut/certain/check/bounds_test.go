package check_test

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/certain/check"
)

// enough is far more than the proofs of these tests take.
const enough check.Work = 1e10

// verify verifies a text as it is read.
func verify(s string, most check.Work) (check.Claim, check.Work, error) {
	return check.Verify(context.Background(), strings.NewReader(s), most)
}

// Verified as it is read, a certificate claims and takes what it does otherwise:
// the same each time, and no less than it may take.
func TestVerifyAsItReads(t *testing.T) {
	whole := duskViolet(t)
	claim, done, err := verify(whole, enough)
	if err != nil || len(claim.Paints) != 3 || claim.Tolerance != 2 || claim.Light != "D65" {
		t.Fatalf("%+v, %v", claim, err)
	}
	t.Logf("%d bytes, work of %d", len(whole), done)
	if _, again, err := verify(whole, done); err != nil || again != done {
		t.Errorf("work of %d and %d, %v", done, again, err)
	}
	if _, _, err := verify(whole, done-1); !errors.Is(err, check.ErrWork) {
		t.Errorf("with less: %v", err)
	}
	gone, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := check.Verify(gone, strings.NewReader(whole), enough); !errors.Is(err, context.Canceled) {
		t.Errorf("with nobody waiting: %v", err)
	}
	for what, change := range map[string][2]string{
		"a wider tolerance": {"\ntolerance 2\n", "\ntolerance 2.2\n"},
		"another target":    {"\ntarget 50 14 -22\n", "\ntarget 50 13 -22\n"},
		"no proof":          {whole[strings.Index(whole, "\nmove "):], "\nend\n"},
	} {
		if _, _, err := verify(strings.Replace(whole, change[0], change[1], 1), enough); !errors.Is(err, check.ErrProof) {
			t.Errorf("%s: %v", what, err)
		}
	}
	var syntax *check.SyntaxError
	if _, _, err := verify(strings.Replace(whole, "\nend\n", "\n", 1), enough); !errors.As(err, &syntax) {
		t.Errorf("without an end: %v", err)
	}
}

// Certificates made to fill the memory or to keep the checker busy: each is
// refused within its work, and within the memory of a sound one.
func TestHostileCertificates(t *testing.T) {
	whole := duskViolet(t)
	head := whole[:strings.Index(whole, "\nmove ")+1]
	upToCut := regexp.MustCompile(`(?s)^.*?\ncut [^\n]*\n`).FindString(whole)
	cut := upToCut[strings.LastIndex(strings.TrimSpace(upToCut), "\n")+1:]
	tinyCut := regexp.MustCompile(`([lh])\.\d+(e-\d+)?`).ReplaceAllString(cut, "${1}1.2345678901234567e-60")
	paint := head[strings.Index(head, "paint "):]
	paint = paint[:strings.Index(paint, "\n")+1]
	ground := strings.Join(strings.SplitAfter(head, "\n")[:5], "")
	terms := func(n int, form string) string { return strings.TrimSuffix(bounded.Many(n, form), " ") }
	const again = "move r< 3 .999 r<3*1" // proves what is known: not one coefficient is above 0
	for name, c := range map[string]struct{ text, says string }{
		"splits":               {head + strings.Repeat("split r< 1 .5\n", 60_000), "over 1000 cells are open"},
		"cuts":                 {upToCut + strings.Repeat(cut, 4001), "over 4000 cuts"},
		"paints":               {ground + strings.Repeat(paint, 5001), "over 5000 paints"},
		"faces":                {ground + paint + strings.Repeat("face 1 1 1 1000\n", 1001), "over 1000 faces"},
		"faces to be proved":   {strings.Replace(ground, "tolerance 2\n", "tolerance 20\n", 1) + paint + strings.Repeat("face 1 1 1 1000\n", 1000) + "end\n", "more work"},
		"exact steps":          {head + "move r< 3 .999\n" + strings.Repeat(again+"\n", 40_000), "more work"},
		"exact cuts":           {upToCut + strings.Repeat(tinyCut, 1000) + "move r< 3 .999\n" + again + " " + terms(1000, "cut%d*0 ") + "\n", "more work"},
		"terms":                {head + "empty " + terms(100_000, "r<3*%d ") + "\nend\n", "more work"},
		"terms of cuts":        {upToCut + strings.Repeat("empty "+strings.TrimSpace(strings.Repeat("cut0*1 ", 60_000))+"\n", 2), "more work"},
		"a long line":          {head + "empty " + strings.Repeat(" ", 1<<20), "over a million characters"},
		"a multiplier of dust": {head + again + " r<4*5e-324\n", `"5e-324" is out of range`},
		"a tolerance of dust":  {strings.Replace(head, "tolerance 2", "tolerance 1e-61", 1), `"1e-61" is out of range`},
		"a number over all":    {head + again + " r<4*1e999\n", `"1e999" is not a number`},
	} {
		t.Run(name, func(t *testing.T) {
			const most = 4e8
			var done check.Work
			var err error
			bounded.Work(t, min(len(c.text), bounded.Size-1), func() { _, done, err = verify(c.text, most) })
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%.200v, want %q", err, c.says)
			}
			t.Logf("%d bytes, work of %d: %.100v", len(c.text), done, err)
		})
	}
}

// What a step may do is bounded whatever the numbers in it: of sizes that are let
// pass, the exact work is counted before it is done.
func TestOneStepIsBounded(t *testing.T) {
	whole := duskViolet(t)
	upToCut := regexp.MustCompile(`(?s)^.*?\ncut [^\n]*\n`).FindString(whole)
	step := "move r< 3 .999 r<3*1"
	for b := range 12 {
		step += fmt.Sprintf(" r<%d*1e-60 r>%d*1.7e-60 s<%d*3e59", b, b, b)
	}
	bounded.Work(t, len(upToCut), func() {
		if _, done, err := verify(upToCut+strings.Repeat(step+" cut0*1e-60\n", 1000), 4e8); err == nil || done > 4.1e8 {
			t.Errorf("work of %d, %v", done, err)
		}
	})
}
