package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// What an answer says to swatch first is what the chart to learn from prints first, and
// knowing it the palette holds in no fewer boxes.
func TestSwatchFirstIsThatOfTheChart(t *testing.T) {
	const demo = "../../testdata/salt-marsh.toml"
	stdout, stderr, code := command("choose", demo, "--only", kit, "--draws", "60", "--doubt", "--json")
	if code != exitAnswered {
		t.Fatal(stderr)
	}
	var answer struct {
		Palettes []struct{ Tubes []string }
		Doubt    struct {
			Holds int `json:"palette_holds"`
		}
		SwatchFirst struct {
			Recipe string
			Left   float64
			Holds  int
		} `json:"swatch_first"`
	}
	if err := json.Unmarshal([]byte(stdout), &answer); err != nil {
		t.Fatal(err)
	}
	chart, stderr, code := command("chart", "--learn", "--palette", strings.Join(answer.Palettes[0].Tubes, ","), "--scene", demo, "-o", filepath.Join(t.TempDir(), "learn.pdf"))
	if code != exitAnswered {
		t.Fatal(stderr)
	}
	first := answer.SwatchFirst
	if want := fmt.Sprintf("\n  1  left %3.0f %%  %s\n", 100*first.Left, first.Recipe); first.Recipe == "" || !strings.Contains(chart, want) {
		t.Errorf("the answer names %+v, the chart\n%s", first, chart)
	}
	if first.Holds < answer.Doubt.Holds {
		t.Errorf("holds in %d boxes, and in %d where the swatch came out as foretold", answer.Doubt.Holds, first.Holds)
	}
}
