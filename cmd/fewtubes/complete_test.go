package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var completions = []struct {
	typed string // words after the program's name; the last is being typed
	want  []string
}{
	{"cho", []string{"choose"}},
	{"--v", []string{"--version"}},
	{"complet", []string{"completion"}}, // the hidden command is not offered
	{"choose scene.toml --max", []string{"--max-tubes"}},
	{"check --palette scene.toml --to", []string{"--tolerance"}},
	{"check scene.toml --palette phthalo-green-y", []string{"phthalo-green-yellow-shade"}},
	{"check scene.toml --palette titanium-white,cadmium-yellow-m", []string{"titanium-white,cadmium-yellow-medium"}},
	{"choose scene.toml --avoid cadmium,lea", []string{"cadmium,lead"}},
	{"tubes viri", []string{"viridian"}},
	{"box a", []string{"add"}},
	{"box add burnt-sienna viri", []string{"viridian"}},
	{"box list viri", nil},
	{"completion z", []string{"zsh"}},
	{"choose sce", nil},
	{"choose scene.toml --html pa", nil}, // a file: the shell's own business
	{"choose -- --max", nil},
	{"chose --max", nil},
}

func TestCompletion(t *testing.T) {
	for _, c := range completions {
		var got []string
		for _, may := range candidates(newApp(nil, nil), strings.Fields(c.typed)) {
			got = append(got, may.word)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.typed, got, c.want)
		}
	}
	if all := candidates(newApp(nil, nil), []string{""}); len(all) < 15 || strings.HasPrefix(all[0].word, "-") {
		t.Errorf("nothing typed: %v", all)
	}
}

// Each shell, where it is installed, offers the same through its script.
func TestCompletionInShells(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder, scripts := t.TempDir(), t.TempDir()
	if err := os.Symlink(self, filepath.Join(folder, "fewtubes")); err != nil {
		t.Fatal(err)
	}
	for shell, ask := range map[string]string{ // what a shell does with its script at a tab
		"bash": `source $0; COMP_WORDS=(fewtubes $@); COMP_CWORD=$#; _fewtubes; printf '%s\n' "${COMPREPLY[@]}"`,
		"zsh":  `script=$0; words=(fewtubes $@); CURRENT=$#words; _describe() { print -rl -- ${${(P)2}%%:*} }; _files() { }; ask() { source $script }; ask`,
		"fish": `source $argv[1]; set -e argv[1]; complete -C "fewtubes $argv" | cut -f 1`,
	} {
		t.Run(shell, func(t *testing.T) {
			if _, err := exec.LookPath(shell); err != nil {
				t.Skipf("no %s here; make shells installs it", shell)
			}
			script := filepath.Join(scripts, shell)
			if err := os.WriteFile(script, []byte(said(t, "completion", shell)), 0o600); err != nil {
				t.Fatal(err)
			}
			for _, c := range completions {
				args := append([]string{"-c", ask, script}, strings.Fields(c.typed)...)
				cmd := exec.Command(shell, args...)
				cmd.Dir = folder
				cmd.Env = append(os.Environ(), "PATH="+folder+":"+os.Getenv("PATH"), "HOME="+folder)
				out, err := cmd.Output()
				if err != nil {
					t.Errorf("%s: %v", c.typed, err)
				}
				if got := strings.Fields(string(out)); !slices.Equal(got, c.want) {
					t.Errorf("%s: %q, want %q", c.typed, got, c.want)
				}
			}
		})
	}
}
