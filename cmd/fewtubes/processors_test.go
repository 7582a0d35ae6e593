package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fewtubes/catalog"

	"golang.org/x/sys/cpu"
)

var processors = flag.String("processors", "", "what TestProcessors compares with the program as it is built here: amd64.v3, arm64, ..., separated by commas")

// emulators run programs for other processors (Debian's qemu-user).
var emulators = map[string]string{
	"amd64": "qemu-x86_64", "arm64": "qemu-aarch64", "loong64": "qemu-loongarch64", "ppc64le": "qemu-ppc64le", "riscv64": "qemu-riscv64", "s390x": "qemu-s390x",
}

// The program built for another processor writes the same bytes, and no sum in it
// is fused with a product. make test asks about GOAMD64=v3, make processors
// about processors of other kinds.
func TestProcessors(t *testing.T) {
	if *processors == "" {
		t.Skip("-processors names none; make test and make processors do")
	}
	ours := filepath.Join(t.TempDir(), "fewtubes")
	if out, err := exec.Command("go", "build", "-o", ours, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	here := answersOf(t, []string{ours})
	for _, name := range strings.Split(*processors, ",") {
		t.Run(name, func(t *testing.T) {
			arch, level, _ := strings.Cut(name, ".")
			program := buildFor(t, arch, level)
			switch emulator, err := exec.LookPath(emulators[arch]); {
			case arch == runtime.GOARCH && level == "v3" && !hasV3():
				t.Skip("NOT COMPARED: this processor lacks what GOAMD64=v3 asks for")
			case arch == runtime.GOARCH:
			case err != nil:
				t.Fatalf("no %s to run it with: %v", emulators[arch], err)
			default:
				program = append([]string{emulator}, program...)
			}
			there := answersOf(t, program)
			for what, want := range here {
				if got := there[what]; got != want {
					t.Errorf("%s differs, first here, then there:\n%s", what, parting(want, got))
				}
			}
			if len(there) != len(here) {
				t.Errorf("%d answers and files, here %d", len(there), len(here))
			}
			t.Logf("%d answers and files are the same", len(there))
		})
	}
}

// hasV3 is what GOAMD64=v3 asks of a processor, as far as the cpu package knows it.
func hasV3() bool {
	x := &cpu.X86
	return x.HasAVX2 && x.HasBMI1 && x.HasBMI2 && x.HasFMA && x.HasOSXSAVE
}

// buildFor builds the program and fails where the compiler fused a product into a
// sum of ours, but for those written as math.FMA, which are the same everywhere.
func buildFor(t *testing.T, arch, level string) []string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "fewtubes")
	build := exec.Command("go", "build", "-gcflags=fewtubes/...=-S", "-o", program, ".")
	build.Env = append(os.Environ(), "GOARCH="+arch)
	if level != "" {
		build.Env = append(build.Env, "GO"+strings.ToUpper(arch)+"="+level)
	}
	listing, err := build.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := build.Start(); err != nil {
		t.Fatal(err)
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	var fused, said []string
	lines := bufio.NewScanner(listing)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		if m := fusedSum.FindStringSubmatch(lines.Text()); m != nil {
			if within, ok := strings.CutPrefix(m[1], root+string(filepath.Separator)); ok {
				fused = append(fused, within)
			}
		} else if !strings.HasPrefix(lines.Text(), "\t") && len(said) < 20 {
			said = append(said, lines.Text())
		}
	}
	if err := build.Wait(); err != nil {
		t.Fatalf("%v\n%s", err, strings.Join(said, "\n"))
	}
	slices.Sort(fused)
	for _, at := range slices.Compact(fused) {
		if text := lineAt(t, root, at); !strings.Contains(text, "math.FMA(") {
			t.Errorf("%s %s: %s is fused into a sum: round its product, float64(x*y)", arch+level, at, text)
		}
	}
	return []string{program}
}

// fusedSum is an instruction that multiplies and adds at once, in a listing of the
// compiler, and the file and line it comes from.
var fusedSum = regexp.MustCompile(`\((/[^)]*:\d+)\)\s+V?FN?M(?:ADD|SUB)\w*\b`)

func lineAt(t *testing.T, root, at string) string {
	file, line, _ := strings.Cut(at, ":")
	text, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		t.Fatal(err)
	}
	n, err := strconv.Atoi(line)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(strings.Split(string(text), "\n")[n-1])
}

// answersOf runs questions about the demo and about a scene sampled from its
// pictures: what each prints, and every file that is written.
func answersOf(t *testing.T, program []string) map[string]string {
	t.Helper()
	demo, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	folder, out := t.TempDir(), map[string]string{}
	if err := os.CopyFS(folder, os.DirFS(demo)); err != nil {
		t.Fatal(err)
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	readings := paintOuts(t, builtin, 0, "1 titanium-white", "1 ultramarine-blue", "1 ultramarine-blue + 4 titanium-white", "1 ultramarine-blue + 20 titanium-white")
	if err := os.Rename(readings, filepath.Join(folder, "readings.csv")); err != nil {
		t.Fatal(err)
	}
	own := "format = 1\n[[tube]]\nid = \"marsh-green\"\nname = \"Marsh green\"\nprice = 9\nmasstone = \"lab(40 -20 15)\"\ntint = \"lab(70 -15 10)\"\n"
	if err := os.WriteFile(filepath.Join(folder, "own.toml"), []byte(own), 0o644); err != nil {
		t.Fatal(err)
	}
	const kit = "titanium-white,yellow-ochre,ultramarine-blue,burnt-sienna,hansa-yellow-medium"
	for _, q := range []string{
		"choose salt-marsh.toml --json",
		"choose salt-marsh.toml --html answer.html",
		"choose salt-marsh.toml --certificate proof.txt --only " + kit,
		"check salt-marsh.toml --json --palette " + kit,
		"compare salt-marsh.toml --avoid cadmium --json",
		"curve salt-marsh.toml --json --svg curve.svg --only " + kit,
		"mix lab(45 -12 22) --json --palette " + kit,
		"correct --have 3:ultramarine-blue,1:yellow-ochre --want lab(40 -10 12) --json",
		"measure readings.csv -o measured.toml",
		"mix lab(55 -15 12) --json --own own.toml",
		"pile 3:ultramarine-blue 1:yellow-ochre --json --munsell",
		"sample salt-marsh/wide.jpg salt-marsh/close.jpg -n 14 -o sampled.toml",
		"choose sampled.toml --json",
		"fit sampled.toml -o fitted.toml --palette " + kit,
		"recession salt-marsh.toml",
		"pack salt-marsh.toml --size 30x40cm --json --palette " + kit,
		"handout salt-marsh.toml -o class.pdf --palette " + kit,
		"chart -o chart.pdf --palette " + kit,
		"values salt-marsh/wide.jpg salt-marsh/close.jpg -o board.png",
		"tubes --json --munsell",
	} {
		run := exec.Command(program[0], append(program[1:len(program):len(program)], arguments(q)...)...)
		run.Dir = folder
		var printed, said bytes.Buffer
		run.Stdout, run.Stderr = &printed, &said
		if err := run.Run(); err != nil {
			t.Fatalf("fewtubes %s: %v\n%s", q, err, said.String())
		}
		out["fewtubes "+q] = printed.String() + said.String()
	}
	err = filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, folder)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// arguments are the words of a line; what stands in brackets is part of one.
func arguments(line string) []string {
	return regexp.MustCompile(`\w+\([^)]*\)|\S+`).FindAllString(line, -1)
}

// parting is where two texts part, with a little of what surrounds it.
func parting(a, b string) string {
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	around := func(s string) string { return s[max(0, at-200):min(len(s), at+200)] }
	return fmt.Sprintf("%q\n%q", around(a), around(b))
}
