package main

import (
	"bufio"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

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
	here := answersOf(t, []string{ours}, questions)
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
			there := answersOf(t, program, questions)
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
