package proofs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/certain/check"
)

// marsh is a folder as it was written once: a minimum of four of five tubes.
const marsh = "testdata/marsh"

func nobody(int, int) {}

// remembering has each certificate verified once, however many folders hold it.
func remembering(t *testing.T) {
	type outcome struct {
		claim check.Claim
		work  check.Work
		err   error
	}
	var mu sync.Mutex
	known, verify := map[string]outcome{}, verifyText
	verifyText = func(ctx context.Context, text []byte, most check.Work) (check.Claim, check.Work, error) {
		mu.Lock()
		defer mu.Unlock()
		o, ok := known[string(text)]
		if !ok {
			o.claim, o.work, o.err = verify(context.Background(), text, most)
			known[string(text)] = o
		}
		return o.claim, o.work, o.err
	}
	t.Cleanup(func() { verifyText = verify })
}

// files of a folder by name.
type files map[string]string

func marshFiles(t testing.TB) files {
	t.Helper()
	entries, err := os.ReadDir(marsh)
	if err != nil {
		t.Fatal(err)
	}
	out := files{}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(marsh, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(text)
	}
	return out
}

// verify writes the files into a folder and verifies it.
func (f files) verify(t testing.TB) (*Verdict, error) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range f {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return Verify(context.Background(), dir, nobody)
}

// statement is what the files say.
func (f files) statement(t testing.TB) *Statement {
	t.Helper()
	s, _, err := parse(f[StatementFile])
	if err != nil {
		t.Fatal(err)
	}
	if err := s.parsePaints(f[tubesFile]); err != nil {
		t.Fatal(err)
	}
	return s
}

// forge writes a changed statement with all that follows from it; certificates and
// the covering proof stay as they were.
func (f files) forge(t testing.TB, s *Statement) {
	t.Helper()
	for k, m := range s.Minima {
		var formula bytes.Buffer
		if err := s.Formula(k).WriteOPB(&formula); err != nil {
			t.Fatal(err)
		}
		f[m.formulaFile()] = formula.String()
	}
	f[StatementFile], f[tubesFile], f[theoremFile] = s.Text(), s.tubesText(), s.Words()
}

// What was written by an earlier program is proven, all of it.
func TestFolderStaysProven(t *testing.T) {
	v, err := Verify(context.Background(), marsh, nobody)
	if err != nil || !v.Proven() || len(v.Missing) > 0 || v.Minima[0].Least != 4 || len(v.Tubes) != 5 {
		t.Fatalf("%+v, %v", v, err)
	}
}

// A part that is not there is told, and then the whole is not proven; what else is
// there is.
func TestMissingPartsAreTold(t *testing.T) {
	remembering(t)
	for _, name := range []string{StatementFile, tubesFile, theoremFile, "cover-tubes.opb", "cover-tubes.pbp", "need-1.txt", "missed-3.txt"} {
		f := marshFiles(t)
		delete(f, name)
		v, err := f.verify(t)
		var broken *Error
		switch fatal := name == StatementFile || name == tubesFile; {
		case fatal && (!errors.As(err, &broken) || broken.File != name):
			t.Errorf("%s: %v", name, err)
		case !fatal && (err != nil || v.Proven() || len(v.Missing) != 1 || !strings.Contains(v.Missing[0], name)):
			t.Errorf("%s: %+v, %v", name, v, err)
		}
	}
}

// broken are folders of which nobody may say that the minimum is proven: by what was
// done to them.
func broken(t *testing.T) map[string]files {
	t.Helper()
	out, rng := map[string]files{}, rand.New(rand.NewPCG(26, 200))
	put := func(what string, change func(f files)) {
		f := marshFiles(t)
		change(f)
		out[what] = f
	}
	forged := func(what string, change func(s *Statement)) {
		put("forged: "+what, func(f files) {
			s := f.statement(t)
			change(s)
			f.forge(t, s)
		})
	}
	whole := marshFiles(t)
	names := make([]string, 0, len(whole))
	for name := range whole {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		text := whole[name]
		cuts := 12
		if strings.HasPrefix(name, "need-") || strings.HasPrefix(name, "missed-") {
			cuts = 2 // each verifies those before it
		}
		for range cuts { // a file that ends early
			n := rng.IntN(len(text) - 1) // more than the last end of line
			put(fmt.Sprintf("%s cut at %d", name, n), func(f files) { f[name] = text[:n] })
		}
		put(name+" twice over", func(f files) { f[name] = text + text })
		put(name+" empty", func(f files) { f[name] = "" })
		for _, other := range names { // files that stand for each other
			if other > name {
				put(name+" and "+other+" swapped", func(f files) { f[name], f[other] = f[other], f[name] })
			}
		}
		if strings.HasPrefix(name, "need-") || strings.HasPrefix(name, "missed-") {
			for _, key := range []string{"surface ", "light ", "target ", "tolerance ", "paint "} {
				put(name+" with another "+key, func(f files) { f[name] = another(text, key) })
			}
			put(name+" without a paint", func(f files) { f[name] = strings.Replace(text, lineOfKey(text, "paint "), "", 1) })
			continue
		}
		sure, _, _ := strings.Cut(text, "\nmix ") // another mix may do as well
		for range 16 {                            // one character changed
			n := rng.IntN(len(sure))
			put(fmt.Sprintf("%s changed at %d", name, n), func(f files) { f[name] = text[:n] + string(text[n]^1) + text[n+1:] })
		}
	}
	s := whole.statement(t)
	for i := range s.Needs {
		forged(fmt.Sprintf("without need %d", i+1), func(s *Statement) { s.Needs = slices.Delete(s.Needs, i, i+1) })
		forged(fmt.Sprintf("need %d of another colour", i+1), func(s *Statement) { s.Needs[i].Colour = (s.Needs[i].Colour + 1) % 3 })
		forged(fmt.Sprintf("need %d of other tubes", i+1), func(s *Statement) { s.Needs[i].OneOf = []int{(s.Needs[i].OneOf[0] + 1) % 5} })
		for k := range i {
			forged(fmt.Sprintf("needs %d and %d swapped", k+1, i+1), func(s *Statement) { s.Needs[k], s.Needs[i] = s.Needs[i], s.Needs[k] })
		}
	}
	for i := range s.Tubes {
		forged(fmt.Sprintf("a stronger tube %d", i+1), func(s *Statement) { s.Tubes[i].K[7] *= 1.5 })
		forged(fmt.Sprintf("tube %d is not bought", i+1), func(s *Statement) { s.Tubes[i].Buy = 0; s.Minima[0].What = "bought" })
		for k := range i {
			forged(fmt.Sprintf("paints of tubes %d and %d swapped", k+1, i+1), func(s *Statement) { s.Tubes[k].Paint, s.Tubes[i].Paint = s.Tubes[i].Paint, s.Tubes[k].Paint })
		}
	}
	for i := range s.Colours {
		forged(fmt.Sprintf("another colour %d", i+1), func(s *Statement) { s.Colours[i].L += 9 })
		forged(fmt.Sprintf("a wider tolerance of colour %d", i+1), func(s *Statement) { s.Colours[i].Tolerance += 0.5 })
	}
	forged("a need of a search", func(s *Statement) { s.Needs[1].Proven = false })
	forged("a minimum of five", func(s *Statement) { s.Minima[0].Least++ })
	forged("a minimum of three", func(s *Statement) { s.Minima[0].Least-- })
	forged("another palette", func(s *Statement) { s.Palette = []int{0, 1, 2, 3} })
	forged("a palette of five", func(s *Statement) { s.Palette = s.every() })
	forged("another light", func(s *Statement) { s.Light = "A" })
	forged("another surface", func(s *Statement) { s.Surface.K2 = 0.3 })
	forged("a limit that the palette breaks", func(s *Statement) { s.Limits.Keep = []int{1} })
	forged("a group that the palette breaks", func(s *Statement) { s.Limits.Groups = [][]int{{0, 2}} })
	forged("a budget that the palette breaks", func(s *Statement) { s.Limits.Budgeted, s.Limits.Budget = true, 1000 })
	forged("a mix of other tubes", func(s *Statement) { s.Colours[0].Mix = []Share{{1, 1}} })
	forged("no mix", func(s *Statement) { s.Colours[1].Mix = nil })
	forged("a colour left open", func(s *Statement) { s.Colours[1].State, s.Colours[1].Mix = Open, nil })
	forged("a narrow tolerance", func(s *Statement) { s.Colours[0].Tolerance = 1e-6 })
	forged("a missed colour that is called reached", func(s *Statement) { s.Colours[2].State, s.Colours[2].Mix = Reached, []Share{{0, 1}} })
	return out
}

func lineOfKey(text, key string) string {
	at := strings.Index(text, "\n"+key) + 1
	return text[at : at+strings.Index(text[at:], "\n")+1]
}

// another changes the last number of a line, or its word.
func another(text, key string) string {
	line := lineOfKey(text, key)
	words := strings.Fields(line)
	words[len(words)-1] = "0.5"
	if key == "light " {
		words[1] = "A"
	}
	return strings.Replace(text, line, strings.Join(words, " ")+"\n", 1)
}

// No broken folder passes, and each is refused in one line or said to be unproven.
func TestBrokenFolders(t *testing.T) {
	remembering(t)
	said := map[string]int{}
	all := broken(t)
	for what, f := range all {
		v, err := f.verify(t)
		var wrong *Error
		switch {
		case err == nil && v.Proven():
			t.Errorf("%s: proven", what)
		case err == nil && len(v.Missing) == 0:
			t.Errorf("%s: not proven, without a word", what)
		case err == nil:
			said["unproven"]++
		case !errors.As(err, &wrong):
			t.Errorf("%s: %v", what, err)
		default:
			bounded.Refusal(t, err)
			said["refused"]++
		}
	}
	t.Logf("%d broken folders: %v", len(all), said)
	if len(all) < 200 {
		t.Errorf("only %d", len(all))
	}
}

// A statement is read or refused within bounds, and what was read is written as it
// was, or refused for that.
func FuzzStatement(f *testing.F) {
	f.Add(marshFiles(f)[StatementFile])
	f.Add(strings.Replace(marshFiles(f)[StatementFile], "tubes ", "most 5\nbudget 9000\nkeep yellow-ochre\ngroup yellow-ochre burnt-sienna\ntubes ", 1))
	f.Fuzz(func(t *testing.T, text string) {
		bounded.Work(t, len(text), func() {
			s, _, err := parse(text)
			if err != nil {
				bounded.Refusal(t, err, StatementFile)
				return
			}
			_, _ = s.Text(), s.Words()
			var formula bytes.Buffer
			for k := range s.Minima {
				if err := s.Formula(k).WriteOPB(&formula); err != nil {
					t.Error(err)
				}
			}
		})
	})
}
