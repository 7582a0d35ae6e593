package main

import (
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/notices"
)

const root = "../../../.."

// The notices are those of the modules as go.mod has them, for all targets.
func TestNoticesAreCurrent(t *testing.T) {
	text, err := gather(root)
	if err != nil {
		t.Fatal(err)
	}
	if text != notices.All() {
		t.Error("NOTICES.txt.gz is not what the modules hold; make notices writes it anew")
	}
}

// A module without a notice is refused, and a notice without a module.
func TestModuleWithoutNotice(t *testing.T) {
	const path = "golang.org/x/term"
	known := modules[path]
	delete(modules, path)
	_, err := gather(root)
	modules[path] = known
	if err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("a module without a notice: %v", err)
	}
	modules["example.org/gone"] = licensed{licence: "MIT"}
	_, err = gather(root)
	delete(modules, "example.org/gone")
	if err == nil || !strings.Contains(err.Error(), "example.org/gone") {
		t.Errorf("a notice without a module: %v", err)
	}
}
