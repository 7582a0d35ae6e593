package owntubes

import (
	"bytes"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

const box = `# my box, since the spring
format = 1

[[tube]]
id = "titanium-white"
price = 7.5   # at the corner shop

# half a tube left
[[tube]]
like = "Burnt Sienna"

[[tube]]
id = "viridian"

[[tube]]
id = "marsh-green"
masstone = "lab(31 -9 6)"
tint = "lab(76 -14 7)"

[[tube]]
id = "cobalt-blue"
have = false  # lent to a friend
# the end
`

func putIn(t *testing.T, text string, in bool, ids ...string) (string, []string) {
	t.Helper()
	b, err := OpenBox("box.toml", []byte(text), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	changed, idle, err := b.Put(in, ids)
	if err != nil {
		t.Fatal(err)
	}
	return string(changed.Text()), idle
}

func TestPutInAndTakenOut(t *testing.T) {
	for what, c := range map[string]struct {
		in         bool
		ids        string
		lose, gain string // lines
		idle       string
	}{
		"one more":               {true, "yellow-ochre", "", "\n[[tube]]\nid = \"yellow-ochre\"\n", ""},
		"there already":          {true, "viridian", "", "", "viridian"},
		"come back":              {true, "cobalt-blue", "have = false  # lent to a friend\n", "have = true  # lent to a friend\n", ""},
		"nothing said of it":     {false, "viridian", "[[tube]]\nid = \"viridian\"\n\n", "", ""},
		"a remark above":         {false, "burnt-sienna", "", "have = false\n", ""},
		"a price":                {false, "titanium-white", "", "have = false\n", ""},
		"colours":                {false, "marsh-green", "", "have = false\n", ""},
		"not there":              {false, "ivory-black cobalt-blue", "", "", "ivory-black cobalt-blue"},
		"two, one of them named": {true, "zinc-white zinc-white", "", "\n[[tube]]\nid = \"zinc-white\"\n", "zinc-white"},
	} {
		got, idle := putIn(t, box, c.in, strings.Fields(c.ids)...)
		if strings.Join(idle, " ") != c.idle {
			t.Errorf("%s: %v idle", what, idle)
		}
		want := len(box) - len(c.lose) + len(c.gain)
		if len(got) != want || c.gain != "" && !strings.Contains(got, c.gain) {
			t.Errorf("%s:\n%s", what, got)
		}
		for line := range strings.Lines(strings.Replace(box, c.lose, "", 1)) {
			if !strings.Contains(got, line) {
				t.Errorf("%s: %q is gone", what, line)
			}
		}
	}
}

func TestNewBox(t *testing.T) {
	b, err := OpenBox("box.toml", nil, builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	b, _, err = b.Put(true, []string{"viridian", "ivory-black"})
	const want = "# The tubes I own.\nformat = 1\n\n[[tube]]\nid = \"viridian\"\n\n[[tube]]\nid = \"ivory-black\"\n"
	if err != nil || string(b.Text()) != want || len(b.Owned()) != 2 {
		t.Errorf("%v\n%s", err, b.Text())
	}
	b, _, err = b.Put(false, []string{"ivory-black", "viridian"})
	if err != nil || len(b.Owned()) != 0 || !strings.HasPrefix(string(b.Text()), "# The tubes I own.\nformat = 1\n") {
		t.Errorf("%v\n%s", err, b.Text())
	}
}

// A file whose tubes are written otherwise is refused rather than written anew.
func TestBoxesThatAreRefused(t *testing.T) {
	for what, text := range map[string]string{
		"in one list": "format = 1\ntube = [{id = \"viridian\"}, {id = \"ivory-black\"}]\n",
		"swatches":    "format = 1\n[tube]\nid = \"viridian\"\n",
	} {
		b, err := OpenBox("box.toml", []byte(text), builtin(t))
		if err == nil {
			_, _, err = b.Put(true, []string{"yellow-ochre"})
		}
		if err == nil || !strings.HasPrefix(err.Error(), "box.toml") || !strings.Contains(err.Error(), "[[tube]]") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// Whatever is a box takes tubes in and gives them out, or says why not; no remark
// is lost.
func FuzzBox(f *testing.F) {
	c := builtin(f)
	f.Add([]byte(box), byte(0))
	f.Add([]byte("\ufeffformat = 1\r\n[[tube]]\r\nid = \"viridian\"\r\n"), byte(1))
	f.Add([]byte("format = 1\ncatalogue = \"instead\"\n[[tube]]\nid = \"x\"\nmasstone = \"#304a5c\"\ntint = \"#9fb0bc\"\n[tube.surface]\nk1 = 0.03"), byte(2))
	f.Add([]byte(taughtBox), byte(4))
	f.Add([]byte("format=1\n[[tube]]\nid='viridian' # \"a\"\nhave=false#b"), byte(3))
	f.Fuzz(func(t *testing.T, text []byte, what byte) {
		var b *Box
		var err error
		bounded.Work(t, len(text), func() { b, err = OpenBox("box.toml", text, c) })
		if err != nil {
			bounded.Refusal(t, err, "box.toml", "; ")
			return
		}
		ids := []string{"viridian", "yellow-ochre"}
		for _, tube := range b.Owned() {
			if len(ids) < 4 && what&4 != 0 {
				ids = append(ids, tube.ID)
			}
		}
		var changed *Box
		bounded.Work(t, len(text), func() { changed, _, err = b.Put(what&1 == 0, ids) })
		if err != nil {
			bounded.Refusal(t, err, "box.toml", "; ")
			return
		}
		owned := changed.owned()
		for _, id := range ids {
			if owned[id] != (what&1 == 0) {
				t.Fatalf("%s: %v\n%s", id, owned[id], changed.Text())
			}
		}
		if was, is := bytes.Count(text, []byte("#")), bytes.Count(changed.Text(), []byte("#")); is < was {
			t.Fatalf("%d of %d remarks are left\n%s", is, was, changed.Text())
		}
	})
}
