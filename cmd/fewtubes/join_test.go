package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
)

const (
	creek = `format = 1
title = "Creek"
tolerance = 4
[limits]
avoid = ["lead"]
[[photo]]
name = "wide"
file = "wide.jpg"
[[target]]
name = "mud"
colour = "lab(38 4 9)"
plane = "foreground"
area = 12
at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}
`
	bank = `format = 1
title = "Bank"
tolerance = 2
[[photo]]
name = "wide"
file = "bank.jpg"
[[target]]
name = "mud"
colour = "lab(30 3 7)"
plane = "foreground"
area = 3
at = {photo = "wide", x = 0.5, y = 0.5, radius = 0.02}
[[target]]
name = "sky"
colour = "lab(80 -2 -6)"
plane = "sky"
area = 9
tolerance = 3
`
	byOneHand = `format = 1
title = "Creek, Bank"
tolerance = 4
[limits]
avoid = ["lead"]
[[photo]]
name = "wide"
file = "wide.jpg"
[[photo]]
name = "wide-2"
file = "pictures/bank.jpg"
[[target]]
name = "mud"
colour = "lab(38 4 9)"
plane = "foreground"
area = 12
at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}
[[target]]
name = "mud, Bank"
colour = "lab(30 3 7)"
plane = "foreground"
area = 3
tolerance = 2
at = {photo = "wide-2", x = 0.5, y = 0.5, radius = 0.02}
[[target]]
name = "sky"
colour = "lab(80 -2 -6)"
plane = "sky"
area = 9
tolerance = 3
`
)

// Scenes joined, or written as one, are answered as one scene written by hand.
func TestJoinedScenes(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("pictures", 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, "creek.toml", creek)
	put(t, filepath.Join("pictures", "bank.toml"), bank)
	put(t, "hand.toml", byOneHand)
	if stdout, stderr, code := command("join", "creek.toml", "pictures/bank.toml", "-o", "both.toml"); code != 0 || stderr != "" || stdout != "3 colours of 2 photographs from 2 scenes.\n" {
		t.Fatalf("code %d %s %s", code, stdout, stderr)
	}
	joined, err := scene.Read("both.toml")
	if err != nil {
		t.Fatal(err)
	}
	hand, err := scene.Read("hand.toml")
	if err != nil {
		t.Fatal(err)
	}
	if a, b := string(scene.Format(joined)), string(scene.Format(hand)); a != b {
		t.Errorf("joined:\n%s\nby hand:\n%s", a, b)
	}
	answer := func(args ...string) (out map[string]any) {
		t.Helper()
		stdout, stderr, code := command(append([]string{"choose", "--json", "--only", kit}, args...)...)
		if err := json.Unmarshal([]byte(stdout), &out); err != nil || code != 0 {
			t.Fatalf("code %d, %v %s", code, err, stderr)
		}
		return out
	}
	want := answer("hand.toml")
	for _, got := range []map[string]any{answer("creek.toml", "pictures/bank.toml"), answer("both.toml")} {
		if !reflect.DeepEqual(got, want) {
			t.Error("the answers differ")
		}
	}
}

// A photograph that two scenes share is one; what cannot go together is said.
func TestJoinMistakes(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "creek.toml", creek)
	put(t, "again.toml", strings.Replace(creek, "mud", "silt", 1))
	if stdout, _, code := command("join", "creek.toml", "again.toml", "-o", "one.toml"); code != 0 || stdout != "2 colours of 1 photograph from 2 scenes.\n" {
		t.Errorf("code %d %s", code, stdout)
	}
	put(t, "dusk.toml", strings.Replace(creek, "tolerance = 4", "light = \"A\"", 1))
	put(t, "rich.toml", strings.Replace(creek, `avoid = ["lead"]`, "max-tubes = 9", 1))
	put(t, "misty.toml", creek+"[air]\nrange = \"misty\"\n")
	put(t, "clear.toml", creek+"[air]\nrange = \"clear\"\n")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"creek.toml"}, "join: no file is named to write"},
		{[]string{"-o", "x.toml"}, "join wants a scene file"},
		{[]string{"creek.toml", "dusk.toml", "-o", "x.toml"}, "dusk.toml:3: light: the light differs from that of creek.toml; make them alike, or leave it out of one"},
		{[]string{"creek.toml", "rich.toml", "-o", "x.toml"}, "rich.toml:4: limits: this list of limits differs from that of creek.toml"},
		{[]string{"misty.toml", "clear.toml", "-o", "x.toml"}, "air: the air differs from that of misty.toml"},
		{[]string{"creek.toml", "none.toml", "-o", "x.toml"}, "none.toml: no such file"},
		{[]string{"creek.toml", "again.toml", "-o", "again.toml", "--force"}, "again.toml is also read from"},
	} {
		stdout, stderr, code := command(append([]string{"join"}, c.args...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%v: code %d\n%s\nwant %s", c.args, code, stderr, c.want)
		}
	}
}
