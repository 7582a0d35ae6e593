package cutting_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/solver/cutting"
)

// four asks for one of two of six things four times over, of which three are too few.
func four() *cutting.Formula {
	f := &cutting.Formula{Variables: 7}
	for _, pair := range [][2]int{{1, 2}, {2, 3}, {1, 3}, {4, 5}, {6, 7}} {
		f.Constraints = append(f.Constraints, cutting.Constraint{Terms: []cutting.Term{{Times: 1, Variable: pair[0]}, {Times: 1, Variable: pair[1]}}, AtLeast: 1})
	}
	most := cutting.Constraint{AtLeast: -3, Note: "three at most"}
	for v := range 7 {
		most.Terms = append(most.Terms, cutting.Term{Times: -1, Variable: v + 1})
	}
	f.Constraints = append(f.Constraints, most)
	return f
}

func ExampleFormula_WriteOPB() {
	f := four()
	f.Constraints = f.Constraints[4:]
	if err := f.WriteOPB(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// * #variable= 7 #constraint= 2
	// +1 x6 +1 x7 >= 1 ;
	// * 2: three at most
	// -1 x1 -1 x2 -1 x3 -1 x4 -1 x5 -1 x6 -1 x7 >= -3 ;
}

const sound = "pseudo-Boolean proof version 1.2\nf 6\np 1 2 + 3 + 2 d 4 + 5 + 6 +\nc 7\n"

// The first three ask for 3 of twice three things: for 2 of them, halved and rounded
// up; with the other two and the last, 4 are at most 3.
func TestVerify(t *testing.T) {
	for text, says := range map[string]string{
		sound:                                 "",
		strings.Replace(sound, "4 +", "4", 1): "line 3: it does not come to one constraint",
		"pseudo-Boolean proof version 1.2\nf 6\np 1 2 + 3 + 4 2 * + 5 2 * + 6 2 * +\nc 7\n": "",
		strings.Replace(sound, "2 d", "3 d", 1):                                             "line 4: the constraint can be kept",
		strings.Replace(sound, "2 d", "s", 1):                                               "line 4: the constraint can be kept",
		strings.Replace(sound, " 4 +", "", 1):                                               "line 4: the constraint can be kept",
		strings.Replace(sound, "2 d", "-2 d", 1):                                            "line 3: \"-2\" is no number above 0",
		strings.Replace(sound, "2 d", "0 *", 1):                                             "line 3: \"0\" is no number above 0",
		strings.Replace(sound, "p 1 2", "p 1 9", 1):                                         "line 3: \"9\" is the number of no constraint",
		strings.Replace(sound, "p 1 2", "p 1 7", 1):                                         "line 3: \"7\" is the number of no constraint",
		strings.Replace(sound, "p 1 2", "p x8 2", 1):                                        "line 3: \"x8\" is no literal",
		strings.Replace(sound, "p 1 2", "p ~~x1 2", 1):                                      "is the number of no constraint",
		strings.Replace(sound, "1.2", "9.9", 1):                                             "line 1: only proofs that begin",
		strings.Replace(sound, "f 6", "f 5", 1):                                             "line 2: the formula has 6 constraints",
		strings.Replace(sound, "c 7", "c 6", 1):                                             "line 4: the constraint can be kept",
		strings.Replace(sound, "c 7\n", "", 1):                                              "line 3: the end is missing",
		sound + "c 7\n":                                                                     "line 5: nothing may follow the end",
		"":                                                                                  "line 0: the end is missing",
		strings.Replace(sound, "c 7", "u >= 1 ;", 1):                                        "line 4: \"u\" is no line of a proof",
		strings.Replace(sound, "p 1 2", "p +", 1):                                           "line 3: \"+\" is the number of no constraint",
		strings.Replace(sound, "c 7", "p x1 ~x1 + 3 * s\nc 8", 1):                           "line 5: the constraint can be kept",
		strings.Replace(sound, "c 7", "p 7 x1 2 * + ~x1 2 * + s\nc 8", 1):                   "line 5: the constraint can be kept",
	} {
		err := four().Verify(context.Background(), strings.NewReader(text))
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

// Saturation is what makes a clause of a sum: 2 x + y >= 1 asks for x + y >= 1.
func TestSaturation(t *testing.T) {
	f := &cutting.Formula{Variables: 2, Constraints: []cutting.Constraint{
		{Terms: []cutting.Term{{Times: 2, Variable: 1}, {Times: 1, Variable: 2}}, AtLeast: 1},
		{Terms: []cutting.Term{{Times: -1, Variable: 1}, {Times: -1, Variable: 2}}, AtLeast: 0},
	}}
	for line, holds := range map[string]bool{"1 s 2 +": true, "1 2 +": false} {
		err := f.Verify(context.Background(), strings.NewReader("pseudo-Boolean proof version 1.2\nf 2\np "+line+"\nc 3\n"))
		if (err == nil) != holds {
			t.Errorf("%s: %v", line, err)
		}
	}
}

// Whatever a proof says, it takes no more than is allowed for, and what is taken for
// a proof about something that can be kept is none.
func FuzzVerify(f *testing.F) {
	f.Add(sound)
	f.Add("pseudo-Boolean proof version 1.2\nf 6\np 1 ~x1 3 * + x2 + s 2 d\np 7 7 + 4 d\nc 8\n")
	f.Add("pseudo-Boolean proof version 1.2\nf 6\np 1" + strings.Repeat(" 99999999999999999999 *", 2000) + "\nc 7\n")
	f.Fuzz(func(t *testing.T, text string) {
		bounded.Work(t, len(text), func() {
			open := four()
			open.Constraints[5].AtLeast = -4
			if err := open.Verify(context.Background(), strings.NewReader(text)); err == nil {
				t.Errorf("%q proves what is false", text)
			} else {
				bounded.Refusal(t, err)
			}
			err := four().Verify(context.Background(), bytes.NewReader([]byte(text)))
			if err != nil {
				bounded.Refusal(t, err)
			}
		})
	})
}
