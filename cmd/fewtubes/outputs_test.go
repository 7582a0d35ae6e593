//go:build linux

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"fewtubes/catalog"
)

// outputs is every flag of every command that writes a file; OUT stands for it.
var outputs = map[string][]string{
	"fit":               {"fit", "scene.toml", "--points", "1:2,5:5,9:9", "-o", "OUT"},
	"recession":         {"recession", "scene.toml", "-o", "OUT"},
	"recession's chart": {"recession", "scene.toml", "--svg", "OUT"},
	"air":               {"air", "scene.toml", "-o", "OUT"},
	"join":              {"join", "scene.toml", "buoy.toml", "-o", "OUT"},
	"sample":            {"sample", "dark.png", "-o", "OUT"},
	"measure":           {"measure", "readings.csv", "-o", "OUT"},
	"values":            {"values", "dark.png", "light.png", "-o", "OUT.png"},
	"values' plan":      {"values", "dark.png", "-o", "OUT.png"},
	"values' sheet":     {"values", "scene.toml", "--levels", "2", "-o", "OUT.pdf"},
	"values' study":     {"values", "--study", "dark.png", "--palette", "titanium-white,ivory-black", "-o", "OUT.png"},
	"picture":           {"choose", "--picture", "50", "dark.png", "--only", "titanium-white,ivory-black", "--given-up", "OUT.png"},
	"repaint":           {"repaint", "dark.png", "--palette", "titanium-white,ivory-black", "-o", "OUT.png"},
	"chart":             {"chart", "--palette", "titanium-white,ultramarine-blue", "-o", "OUT"},
	"handout":           {"handout", "scene.toml", "--palette", "titanium-white,ultramarine-blue", "-o", "OUT"},
	"tubes":             {"tubes", "--html", "OUT"},
	"mix":               {"mix", "lab(50 0 0)", "--palette", "titanium-white,ivory-black", "--html", "OUT"},
	"pile":              {"pile", "3:ultramarine-blue", "1:yellow-ochre", "--html", "OUT"},
	"correct":           {"correct", "--have", "3:ultramarine-blue", "--want", "lab(50 0 -20)", "--palette", "titanium-white", "--html", "OUT"},
	"choose":            {"choose", "scene.toml", "--only", "titanium-white,ivory-black", "--html", "OUT"},
	"choose's proofs":   {"choose", "buoy.toml", "--only", "titanium-white,ivory-black", "--certificate", "OUT"},
	"check":             {"check", "scene.toml", "--palette", "titanium-white,ivory-black", "--html", "OUT"},
	"check's proofs":    {"check", "buoy.toml", "--palette", "titanium-white,ivory-black", "--certificate", "OUT"},
	"compare":           {"compare", "scene.toml", "--palette", "a=titanium-white,ivory-black", "--palette", "b=titanium-white", "--html", "OUT"},
	"curve":             {"curve", "scene.toml", "--only", "titanium-white,ivory-black", "--html", "OUT"},
	"choose's card":     {"choose", "scene.toml", "--only", "titanium-white,ivory-black", "--lid", "OUT"},
	"check's card":      {"check", "scene.toml", "--palette", "titanium-white,ivory-black", "--lid", "OUT"},
	"curve's drawing":   {"curve", "scene.toml", "--only", "titanium-white,ivory-black", "--svg", "OUT"},
	"curve's other one": {"curve", "scene.toml", "--only", "titanium-white,ivory-black", "--png", "OUT"},
}

// Every flag that names a file is in the table above.
func TestOutputsAreAllKnown(t *testing.T) {
	for _, c := range commands() {
		for _, f := range c.Flags {
			name := f.Names()[0]
			if !slices.Contains([]string{"output", "html", "lid", "certificate", "svg", "png"}, name) {
				continue
			}
			known := false
			for _, args := range outputs {
				flag := slices.IndexFunc(args, func(a string) bool { return strings.HasPrefix(a, "OUT") }) - 1
				known = known || args[0] == c.Name && slices.Contains(f.Names(), strings.TrimLeft(args[flag], "-"))
			}
			if !known {
				t.Errorf("%s --%s is not tested", c.Name, name)
			}
		}
	}
}

// One rule for every command: what should not be written over is refused in
// one line before the work, and stays; a second look at the folder finds it as
// it was.
func TestOutputsThatAreRefused(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		file, says string
		force      bool
	}{
		{"kept", "kept exists already; --force overwrites it", false},
		{"tokept", "tokept exists already; --force overwrites it", false},
		{"folder", "folder cannot be written: it is a folder; name another file", true},
		{"tofolder", "tofolder cannot be written: it is a folder; name another file", true},
		{"todevice", "todevice cannot be written: it is a link to a device; name another file", true},
		{"pipe", "pipe cannot be written: it is a named pipe, which may have no reader; name another file", true},
		{"adrift", "adrift cannot be written: it is a link to a file that is not there; name another file", true},
		{"protected", "protected cannot be written: it is write-protected; name another file", true},
		{"none/x", "none/x cannot be written: there is no folder none; make it first, or name another", true},
	} {
		for name, args := range outputs {
			if c.force {
				args = append(slices.Clone(args), "--force")
			}
			args, file := naming(args, c.file)
			linkAlike(t, c.file, file)
			before := folder(t)
			stdout, stderr, code := command(args...)
			says := c.says
			if strings.HasSuffix(name, "proofs") { // which are a folder
				says = strings.Replace(says, "it is a folder;", "it is a folder that holds something else;", 1)
			}
			want := "fewtubes: " + strings.ReplaceAll(says, c.file+" ", file+" ") + "\n"
			if code != exitMistake || stdout != "" || stderr != want {
				t.Errorf("%s to %s: exit %d, printed %.200q, said %q, want %q", name, file, code, stdout, stderr, want)
			}
			if after := folder(t); after != before {
				t.Errorf("%s to %s: the folder was\n%s\nis\n%s", name, file, before, after)
			}
		}
	}
}

// A disk that fills up half way: here, a limit on the size of a file. The file
// and the folder stay as they were, and an answer that was worked out is printed
// though its page, proofs or drawing could not be written.
func TestFullDisk(t *testing.T) {
	inFolder(t)
	for name, args := range outputs {
		for _, file := range []string{"fresh", "kept"} {
			args, file := naming(append(slices.Clone(args), "--force"), file)
			linkAlike(t, "kept", file)
			if strings.HasPrefix(file, "fresh") {
				os.Remove(file)
			}
			before := folder(t)
			// One block is 512 bytes or 1024, as the shell has it.
			cmd := exec.Command("sh", append([]string{"-c", `ulimit -f 1; exec fewtubes "$@"`, "sh"}, args...)...)
			stdout, stderr, code := finish(t, cmd)
			want := "fewtubes: " + file + " cannot be written: file too large; name another file\n"
			answers := slices.ContainsFunc(args, func(a string) bool {
				return slices.Contains([]string{"--html", "--certificate", "--svg", "--png", "--study", "--lid", "--given-up"}, a)
			})
			if code != exitMistake || (stdout != "") != answers || stderr != want {
				t.Errorf("%s to %s: exit %d, printed %.200q, said %q, want %q", name, file, code, stdout, stderr, want)
			}
			if after := folder(t); after != before {
				t.Errorf("%s to %s: the folder was\n%s\nis\n%s", name, file, before, after)
			}
		}
	}
}

// A folder that may not be written to. Permissions do not bind root, so the
// program is run as nobody then.
func TestReadOnlyFolder(t *testing.T) {
	home, err := os.MkdirTemp("", "fewtubes")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(home) })
	program := filepath.Join(home, "fewtubes")
	me, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	code, err := os.ReadFile(me)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(program, code, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Chdir(home)
	fill(t)
	if err := errors.Join(os.Chmod(home, 0o555), os.Chmod("protected", 0o644)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(home, 0o755) })
	before := folder(t)
	for name, args := range outputs {
		for _, file := range []string{"fresh", "protected"} {
			args, file := naming(append(slices.Clone(args), "--force"), file)
			cmd := exec.Command(program, args...)
			if os.Geteuid() == 0 {
				cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
			}
			stdout, stderr, code := finish(t, cmd)
			want := "fewtubes: " + file + " cannot be written: permission denied; name a file in a folder you may write to\n"
			if code != exitMistake || stdout != "" || stderr != want {
				t.Errorf("%s to %s: exit %d, printed %.200q, said %q, want %q", name, file, code, stdout, stderr, want)
			}
		}
	}
	if after := folder(t); after != before {
		t.Errorf("the folder was\n%s\nis\n%s", before, after)
	}
}

// Of many processes that write one new file, one does; the others say that it
// exists and leave it.
func TestOneOfManyProcessesWrites(t *testing.T) {
	inFolder(t)
	for round := range 5 {
		file := fmt.Sprintf("new%d.toml", round)
		var runs []*exec.Cmd
		var said []*bytes.Buffer
		for i := range 8 {
			cmd := exec.Command("fewtubes", "fit", "scene.toml", "--points", fmt.Sprintf("1:2,5:5.%d,9:9", i), "-o", file)
			said = append(said, &bytes.Buffer{})
			cmd.Stderr = said[i]
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			runs = append(runs, cmd)
		}
		winner := -1
		for i, cmd := range runs {
			switch err := cmd.Wait(); {
			case err == nil && winner >= 0:
				t.Errorf("both %d and %d wrote %s", winner, i, file)
			case err == nil:
				winner = i
			case cmd.ProcessState.ExitCode() != exitMistake || said[i].String() != "fewtubes: "+file+" exists already; --force overwrites it\n":
				t.Errorf("%v: %s", err, said[i])
			}
		}
		stdout, stderr, code := command("fit", "scene.toml", "--points", fmt.Sprintf("1:2,5:5.%d,9:9", winner), "-o", "same.toml", "--force")
		if code != exitAnswered {
			t.Fatal(stdout, stderr)
		}
		if !bytes.Equal(read(t, file), read(t, "same.toml")) {
			t.Errorf("%s does not hold what %d wrote", file, winner)
		}
	}
}

// prints is every way to print.
func prints() map[string][]string {
	all := map[string][]string{
		"help": {"--help"}, "help of a command": {"choose", "--help"}, "proof": {"proof", "proofs"},
		"pack":  {"pack", "scene.toml", "--size", "30x40cm", "--palette", "titanium-white,ivory-black"},
		"serve": {"serve", "--no-open", "--addr", "127.0.0.1:0", "--scenes", "laid-out"},
	}
	for name, args := range outputs {
		args = slices.Clone(args)
		at := slices.IndexFunc(args, func(a string) bool { return strings.HasPrefix(a, "OUT") })
		if args[0] != "chart" && args[0] != "handout" && args[0] != "join" { // which do nothing else
			args = slices.Delete(args, at-1, at+1)
		}
		all[name] = args
	}
	return all
}

func TestFullStandardOutput(t *testing.T) {
	inFolder(t)
	if _, stderr, code := command("check", "buoy.toml", "--palette", "titanium-white,ivory-black", "--certificate", "proofs"); code != exitAnswered {
		t.Fatal(stderr)
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	for name, args := range prints() {
		args, file := naming(args, strings.ReplaceAll(name, " ", ""))
		os.RemoveAll(file)
		var stderr bytes.Buffer
		cmd := exec.Command("fewtubes", args...)
		cmd.Stdout, cmd.Stderr = full, &stderr
		_ = cmd.Run()
		lines := strings.Split(stderr.String(), "\n")
		if code := cmd.ProcessState.ExitCode(); code != exitMistake || lines[0] != "fewtubes: the answer cannot be printed: no space left on device; make room, or name a file on another disk" || len(lines) != 2 {
			t.Errorf("%s > /dev/full: exit %d, said %q", name, code, stderr.String())
		}
	}
}

// A reader that went away, as head does, ends the program without a word, by
// the signal or, where the signal is ignored, by the exit code of the same.
func TestNobodyReads(t *testing.T) {
	inFolder(t)
	for name, run := range map[string][]string{
		"signal":  {"fewtubes", "tubes"},
		"ignored": {"sh", "-c", `trap "" PIPE; exec fewtubes tubes`},
		"help":    {"sh", "-c", `trap "" PIPE; exec fewtubes choose --help`},
	} {
		reader, writer, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		reader.Close()
		var stderr bytes.Buffer
		cmd := exec.Command(run[0], run[1:]...)
		cmd.Stdout, cmd.Stderr = writer, &stderr
		_ = cmd.Run()
		writer.Close()
		status := cmd.ProcessState.Sys().(syscall.WaitStatus)
		if status.Signal() != syscall.SIGPIPE && cmd.ProcessState.ExitCode() != exitUnread || stderr.Len() > 0 {
			t.Errorf("%s: %v, said %q", name, cmd.ProcessState, stderr.String())
		}
	}
}

// With standard output closed, what is printed goes nowhere, not into the
// first file that is opened: the Go runtime opens /dev/null in its place.
func TestClosedStandardOutput(t *testing.T) {
	inFolder(t)
	cmd := exec.Command("sh", "-c", `exec fewtubes fit scene.toml --points 1:2,5:5,9:9 -o fresh.toml >&-`)
	if _, stderr, code := finish(t, cmd); code != exitAnswered || stderr != "" {
		t.Errorf("exit %d, said %q", code, stderr)
	}
	if _, stderr, code := command("choose", "fresh.toml", "--only", "titanium-white,ivory-black"); code != exitAnswered {
		t.Errorf("what was written does not read: %s", stderr)
	}
}

// inFolder goes to a folder with something to read and something to keep.
func inFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	fill(t)
}

func fill(t *testing.T) {
	t.Helper()
	builtin, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	put(t, "scene.toml", manyGreys()+"\n[air]\nairlight = \"lab(78 -2 -6)\"\n")
	put(t, "buoy.toml", "format = 1\n[[target]]\nname = \"buoy\"\ncolour = \"lab(52 68 58)\"\n")
	put(t, "readings.csv", string(read(t, paintOuts(t, builtin, 0, "1 titanium-white", "1 burnt-sienna", "1 burnt-sienna + 4 titanium-white"))))
	ramp(t, "dark.png", 20)
	ramp(t, "light.png", 60)
	put(t, "kept", "precious")
	put(t, "protected", "precious")
	for name, to := range map[string]string{"tokept": "kept", "tofolder": "folder", "todevice": "/dev/null", "adrift": "elsewhere"} {
		if err := os.Symlink(to, name); err != nil {
			t.Fatal(err)
		}
	}
	if out, err := exec.Command("mkfifo", "pipe").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if err := errors.Join(os.Mkdir("folder", 0o755), os.Chmod("protected", 0o444)); err != nil {
		t.Fatal(err)
	}
}

// manyGreys is a scene whose file is over a kilobyte.
func manyGreys() string {
	var b strings.Builder
	b.WriteString("format = 1\ntolerance = 20\n")
	for i := range 20 {
		fmt.Fprintf(&b, "[[target]]\nname = \"tidal mud of the colour %d\"\ncolour = \"lab(%d 0 0)\"\n", i, 40+2*i)
	}
	return b.String()
}

// naming puts a file's name in the place of OUT, with the ending OUT has.
func naming(args []string, name string) (named []string, file string) {
	for _, arg := range args {
		if strings.HasPrefix(arg, "OUT") {
			file = name + strings.TrimPrefix(arg, "OUT")
			arg = file
		}
		named = append(named, arg)
	}
	return named, file
}

// linkAlike makes what a file's name with an ending stands for as it is
// without one.
func linkAlike(t *testing.T, was, is string) {
	t.Helper()
	if was == is || strings.Contains(was, "/") {
		return
	}
	if _, err := os.Lstat(is); err == nil {
		return
	}
	to := was
	if info, err := os.Lstat(was); err == nil && info.Mode()&os.ModeSymlink != 0 {
		to, _ = os.Readlink(was)
	}
	if err := os.Symlink(to, is); err != nil {
		t.Fatal(err)
	}
}

// folder is all that is in the working folder.
func folder(t *testing.T) string {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%s %v %d %v", e.Name(), info.Mode(), info.Size(), info.ModTime())
		if e.Type().IsRegular() && info.Size() < 1e5 {
			f, _ := os.Open(e.Name())
			data, _ := io.ReadAll(f)
			f.Close()
			fmt.Fprintf(&b, " %x", data)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
