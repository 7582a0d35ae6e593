package main

import (
	"bytes"
	"context"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// said is what a command prints.
func said(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(context.Background(), append([]string{"fewtubes"}, args...), &out, &errs); code != 0 || errs.Len() > 0 {
		t.Fatalf("%v: exit code %d, %s", args, code, errs.String())
	}
	return out.String()
}

// The manual holds every line of every command's help, as man shows it, and mandoc
// (https://mandoc.bsd.lv, from Debian) finds nothing wrong with it.
func TestManualHoldsTheHelp(t *testing.T) {
	page := said(t, "manual")
	if _, err := exec.LookPath("mandoc"); err != nil {
		t.Skip("no mandoc here; make shells installs it")
	}
	mandoc := func(args ...string) string {
		cmd := exec.Command("mandoc", args...)
		cmd.Stdin = strings.NewReader(page)
		out, _ := cmd.CombinedOutput() // it fails where it warns
		return string(out)
	}
	for warning := range strings.Lines(mandoc("-T", "lint", "-W", "warning")) {
		if !strings.Contains(warning, "missing date") { // a test is built from no commit
			t.Error(warning)
		}
	}
	words := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	struck := regexp.MustCompile(".\x08") // bold letters are printed twice
	shown := words(struck.ReplaceAllString(mandoc("-T", "utf8", "-O", "width=400"), ""))
	for _, c := range newApp(nil, nil).Commands {
		if c.Hidden {
			continue
		}
		for line := range strings.Lines(said(t, c.Name, "--help")) {
			line = words(line)
			if line == "" || strings.HasSuffix(line, ":") || strings.HasPrefix(line, "fewtubes "+c.Name+" ") || strings.HasPrefix(line, "--help") || line == aboutProgram {
				continue
			}
			if !strings.Contains(shown, line) {
				t.Errorf("%s: the manual lacks %q", c.Name, line)
			}
		}
	}
}
