package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
)

// target is a system and a kind of processor that there is an archive for.
type target struct{ system, processor string }

var targets = []target{
	{"linux", "amd64"}, {"linux", "arm64"},
	{"darwin", "amd64"}, {"darwin", "arm64"},
	{"windows", "amd64"}, {"windows", "arm64"},
}

func (t target) String() string { return t.system + "-" + t.processor }

// program is what the file is called on the system.
func (t target) program() string {
	if t.system == "windows" {
		return "fewtubes.exe"
	}
	return "fewtubes"
}

const (
	// everyTag keeps the HEIC library from calling a decoder of the system, which
	// would also tie the program to the system's own loader.
	everyTag = "nodynamic"
	// releaseTags leave out what no command calls: HTTP/2, since the page is served
	// without encryption, and the library's own way to write manuals.
	releaseTags = everyTag + ",nethttpomithttp2,urfave_cli_no_docs"
)

// plain are packages compiled without inlining, which leaves a tenth of their code
// away. None of them is where time goes: they never run (TLS, which net/http brings
// along; the engine for processors that WebAssembly is not compiled for), wait for
// others, or read and write words.
var plain = []string{
	"crypto/...", "debug/...", "encoding/asn1", "encoding/gob", "encoding/json", "encoding/xml",
	"html/...", "net/...", "regexp/...", "text/...", "vendor/...",
	"github.com/go-pdf/...", "github.com/pelletier/...", "github.com/schollz/...", "github.com/urfave/...",
	"github.com/tetratelabs/wazero/internal/engine/interpreter", "github.com/tetratelabs/wazero/internal/sysfs",
	"fewtubes/cmd/fewtubes", "fewtubes/cmd/fewtubes/internal/report/...",
	"fewtubes/cmd/fewtubes/internal/fitting", "fewtubes/cmd/fewtubes/internal/kept",
	"fewtubes/cmd/fewtubes/internal/hand", "fewtubes/cmd/fewtubes/internal/mixing",
	"fewtubes/cmd/fewtubes/internal/owntubes", "fewtubes/cmd/fewtubes/internal/page",
	"fewtubes/cmd/fewtubes/internal/proofs", "fewtubes/cmd/fewtubes/internal/readings",
	"fewtubes/cmd/fewtubes/internal/recession", "fewtubes/cmd/fewtubes/internal/scene",
	"fewtubes/cmd/fewtubes/internal/sheet", "fewtubes/cmd/fewtubes/internal/tomltext",
}

// linked leaves out symbols, and lets functions begin at every 16 bytes on amd64, too:
// so they do on arm64.
const linked = "-s -w -funcalign=16"

// compiled are the arguments of go build for a program.
func compiled(program string) []string {
	args := []string{"build", "-trimpath", "-buildvcs=true", "-ldflags=" + linked}
	for _, p := range plain {
		args = append(args, "-gcflags="+p+"=-l")
	}
	return append(args, "-o", program, "./cmd/fewtubes")
}

// environment is that of a command about a target, with nothing taken from what
// the user has set for Go.
func (t target) environment(tags string) []string {
	return append(os.Environ(), "GOOS="+t.system, "GOARCH="+t.processor, "CGO_ENABLED=0", "GOWORK=off",
		"GOFLAGS=-tags="+tags, "GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT=", "GODEBUG=")
}

// output is what a command prints; its error holds what it complained of.
func output(folder string, environment []string, name string, args ...string) ([]byte, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env = folder, environment
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%s %v: %w\n%s", name, args, err, complaint.Bytes())
	}
	return out, nil
}
