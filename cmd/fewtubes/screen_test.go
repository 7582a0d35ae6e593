package main

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"fewtubes/cmd/fewtubes/internal/report/terminal"
)

const demo = "../../testdata/salt-marsh.toml"

// What comes first fits a screen of 100 columns, in a pipe and with swatches: 60 lines
// of choose for the demo, 45 of check.
func TestFirstScreen(t *testing.T) {
	for _, swatches := range []bool{false, true} {
		if swatches {
			t.Setenv("CLICOLOR_FORCE", "1")
			t.Setenv("COLORTERM", "truecolor")
		}
		for most, args := range map[int][]string{
			60: {"choose", demo},
			45: {"check", demo, "--palette", kit},
		} {
			text := printed100(t, args...)
			if lines := strings.Count(text, "\n"); lines > most {
				t.Errorf("%s, swatches %v: %d lines\n%s", args[0], swatches, lines, text)
			}
			for _, want := range []string{"The palette, ", "Out of reach, ", ": too light by", "Greens: ", "The mixes, ", "Cautions: ", "--more: "} {
				if !strings.Contains(text, want) {
					t.Errorf("%s does not say %q", args[0], want)
				}
			}
		}
	}
}

// All there was to say is said by --more: every section, and each caution.
func TestMoreSaysAll(t *testing.T) {
	for name, want := range map[string][]string{
		"choose": {"Fewer will not do for", "Prepare first (", "(in brackets: measured", "A touch is what", "Out of reach\n", "no-glare", "Why not fewer\n", "Other palettes of ",
			"What each tube is for\n", "What could stand in\n", "Under another light\n", "Mixes to mind\n", "Leaning on an estimated tube\n", "Cautions\n"},
		"check": {"would bring it to", "What to add\n", "What can stay at home\n", "What each tube is for\n", "Ultramarine blue (sulfide): Acids", "Cautions\n"},
	} {
		args := []string{name, demo, "--more"}
		if name == "check" {
			args = append(args, "--palette", kit)
		}
		text := printed100(t, args...)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s --more does not say %q", name, w)
			}
		}
	}
}

func printed100(t *testing.T, args ...string) string {
	t.Helper()
	stdout, stderr, code := command(args...)
	if code != exitAnswered {
		t.Fatalf("%v: exit %d, %s", args, code, stderr)
	}
	for line := range strings.SplitSeq(stdout, "\n") {
		if n := utf8.RuneCountInString(terminal.Visible(line)); n > 100 {
			t.Errorf("%v: %d columns in %q", args, n, line)
		}
	}
	return stdout
}

// The card for the lid lies beside the text, and no file is overwritten by it.
func TestLid(t *testing.T) {
	file := filepath.Join(t.TempDir(), "lid.pdf")
	if _, stderr, code := command("choose", demo, "--lid", file); code != exitAnswered || !strings.HasPrefix(string(read(t, file)), "%PDF-") {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	if _, stderr, code := command("choose", demo, "--lid", file); code != exitMistake || !strings.Contains(stderr, "exists already") {
		t.Errorf("over a file: exit %d, %s", code, stderr)
	}
	if _, stderr, code := command("check", demo, "--palette", kit, "--lid", file+"2", "--html", file+"2"); code != exitMistake || !strings.Contains(stderr, "named twice") {
		t.Errorf("one file for two: exit %d, %s", code, stderr)
	}
}
