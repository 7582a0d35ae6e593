//go:build linux

package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

var whole = flag.Bool("whole", false, "make the release twice, and run it in a bare root (minutes)")

// mostProgram is how large a program may be, bytes.
const mostProgram = 21_300_000

// The release made twice, in folders of other names, with an empty build cache and in
// another time zone, is the same to the byte; its checksums hold; every target passes
// vet; and the programs for linux need nothing of the system they run on.
func TestRelease(t *testing.T) {
	if !*whole {
		t.Skip("make release-check runs this")
	}
	commit := filepath.Join(t.TempDir(), "fewtubes") // what is worked on meanwhile is no matter
	tool(t, root, "git", "clone", "--quiet", ".", commit)
	first, err := release(commit, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", filepath.Join(t.TempDir(), "another", "place"))
	if err := os.MkdirAll(os.Getenv("TMPDIR"), 0o755); err != nil {
		t.Fatal(err)
	}
	cache := os.Getenv("GOCACHE")
	t.Setenv("GOCACHE", t.TempDir())
	t.Setenv("TZ", "Pacific/Chatham")
	syscall.Umask(0o077)
	second, err := release(commit, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if cache == "" {
		os.Unsetenv("GOCACHE")
	} else {
		os.Setenv("GOCACHE", cache)
	}
	same(t, first, second)
	tool(t, first, "sha256sum", "--quiet", "-c", "SHA256SUMS")
	sized(t, first)
	vetted(t, commit)
	amd := inBareRoot(t, commit, first, target{"linux", "amd64"})
	arm := inBareRoot(t, commit, first, target{"linux", "arm64"})
	for what := range amd {
		// The shares of a mix are not yet the same in the fifth digit, and the page's
		// drawing shows it; the answer in words is.
		if amd[what] != arm[what] && what != "page.html" {
			t.Errorf("%s: amd64 and arm64 differ:\n%.2000q\n%.2000q", what, amd[what], arm[what])
		}
	}
}

func tool(t *testing.T, folder, name string, args ...string) string {
	t.Helper()
	out, err := output(folder, os.Environ(), name, args...)
	if err != nil {
		t.Error(err)
	}
	return string(out)
}

func same(t *testing.T, first, second string) {
	files, err := os.ReadDir(first)
	if err != nil {
		t.Fatal(err)
	}
	if want := 2*len(targets) + 1; len(files) != want {
		t.Errorf("%d files, want %d", len(files), want)
	}
	for _, f := range files {
		a, err := os.ReadFile(filepath.Join(first, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(second, f.Name()))
		if err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs when it is made again: %v", f.Name(), err)
		}
		t.Logf("%9d bytes  %s", len(a), f.Name())
	}
}

// sized holds the program of every target to its size.
func sized(t *testing.T, folder string) {
	for _, to := range targets {
		unpack := "tar -xzOf *-%v.tar.gz --wildcards '*/%s' | wc -c"
		if to.system == "windows" {
			unpack = "unzip -p *-%v.zip '*/%s' | wc -c"
		}
		counted := strings.TrimSpace(tool(t, folder, "sh", "-c", fmt.Sprintf(unpack, to, to.program())))
		if size, err := strconv.Atoi(counted); err != nil || size < mostProgram/2 || size > mostProgram {
			t.Errorf("the program for %v has %s bytes, and may have %d", to, counted, mostProgram)
		}
		t.Logf("%9s bytes  %v", counted, to)
	}
}

// vetted runs vet over what the program of each target is built from. Tests are taken
// out of the folder first: some of them are for Linux alone.
func vetted(t *testing.T, commit string) {
	tool(t, commit, "find", ".", "-name", "*_test.go", "-delete")
	for _, to := range targets {
		const ours = "{{with .Module}}{{if .Main}}{{$.ImportPath}}{{end}}{{end}}"
		list, err := output(commit, to.environment(releaseTags), "go", "list", "-deps", "-f", ours, "./cmd/fewtubes")
		if err != nil {
			t.Fatal(err)
		}
		packages := strings.Fields(string(list))
		if _, err := output(commit, to.environment(releaseTags), "go", append([]string{"vet"}, packages...)...); err != nil {
			t.Errorf("%v: %v", to, err)
		}
		t.Logf("%d packages vetted for %v", len(packages), to)
	}
}

// inBareRoot unpacks an archive, lets its program run where there is nothing else but
// what it is to read, and returns what each command said and each file it wrote. A program for another processor is
// run by an emulator linked statically, which then lies there, too.
func inBareRoot(t *testing.T, source, folder string, to target) map[string]string {
	archives, err := filepath.Glob(filepath.Join(folder, "*-"+to.String()+".tar.gz"))
	if err != nil || len(archives) != 1 {
		t.Fatalf("%v: %v, %v", to, archives, err)
	}
	bare := t.TempDir()
	tool(t, bare, "tar", "-xzf", archives[0], "--strip-components=1", "--wildcards", "*/fewtubes", "*/testdata")
	picture, err := os.ReadFile("../photo/testdata/srgb.heic")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(bare, "photo.heic"), picture, 0o644); err != nil {
		t.Fatal(err)
	}
	command := []string{"/fewtubes"}
	if to.processor != runtime.GOARCH {
		name := map[string]string{"arm64": "qemu-aarch64-static", "amd64": "qemu-x86_64-static"}[to.processor]
		emulator, err := exec.LookPath(name)
		if err != nil {
			t.Skipf("no %s here; apt-get install qemu-user-static", name)
		}
		tool(t, bare, "cp", emulator, "emulator")
		command = []string{"/emulator", "/fewtubes"}
	}
	const kit = "titanium-white,hansa-yellow-medium,naphthol-red-light,ultramarine-blue,phthalo-green-blue-shade"
	got := map[string]string{}
	for _, args := range [][]string{
		{"tubes", "viridian"},
		{"choose", "testdata/salt-marsh.toml", "--only", kit, "--html", "page.html"},
		{"curve", "testdata/salt-marsh.toml", "--only", kit, "--svg", "curve.svg", "--png", "curve.png"},
		{"sample", "testdata/salt-marsh/wide.jpg", "photo.heic", "-n", "4", "-o", "scene.toml"},
		{"chart", "--palette", kit, "-o", "chart.pdf"},
		{"notices", "--all"},
		{"completion", "fish"},
	} {
		got[args[0]] = run(t, bare, append(command, args...))
	}
	for _, name := range []string{"page.html", "curve.svg", "curve.png", "scene.toml", "chart.pdf"} {
		made, err := os.ReadFile(filepath.Join(bare, name))
		if err != nil {
			t.Error(err)
		}
		got[name] = string(made)
	}
	commit := tool(t, source, "git", "rev-parse", "HEAD")
	if said := run(t, bare, append(command, "--version")); !strings.Contains(said, "commit "+commit) || strings.Contains(said, "unknown") {
		t.Errorf("%v: %s", to, said)
	}
	return got
}

// run runs a command with a folder as its root and nothing in its environment, as the
// superuser or as one within a name space of its own.
func run(t *testing.T, bare string, command []string) string {
	cmd := exec.Command(command[0], command[1:]...)
	cmd.Path = command[0] // within the root, not looked for outside
	cmd.Err = nil
	cmd.Dir, cmd.Env = "/", []string{}
	cmd.SysProcAttr = &syscall.SysProcAttr{Chroot: bare}
	if me := os.Getuid(); me != 0 {
		cmd.SysProcAttr.Cloneflags = syscall.CLONE_NEWUSER
		cmd.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: me, Size: 1}}
	}
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Errorf("%v: %v\n%s", command, err, errs.Bytes())
	}
	if out.Len() == 0 && !slices.Contains(command, "-o") {
		t.Errorf("%v says nothing", command)
	}
	return out.String()
}
