package main

import (
	"crypto/sha256"
	"debug/buildinfo"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// release builds the last commit of a repository for every target and writes what
// comes of it into a folder named by the version, which it returns.
//
// It builds from a clone, where nothing lies that is not committed, and where the go
// command finds what it writes down of the commit.
func release(repository, folder string) (string, error) {
	if changed, err := output(repository, os.Environ(), "git", "status", "--porcelain"); err != nil || len(changed) > 0 {
		return "", errors.Join(fmt.Errorf("a release is of a commit; commit or put away what has changed:\n%s", changed), err)
	}
	work, err := os.MkdirTemp("", "fewtubes-release-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(work)
	source := filepath.Join(work, "fewtubes")
	if _, err := output(repository, os.Environ(), "git", "clone", "--quiet", ".", source); err != nil {
		return "", err
	}
	papers, err := readPapers(source)
	if err != nil {
		return "", err
	}
	tool, err := billTool(work)
	if err != nil {
		return "", err
	}
	programs := map[target]string{}
	for _, t := range targets {
		programs[t] = filepath.Join(work, t.String(), t.program())
		if err := build(source, t, programs[t]); err != nil {
			return "", err
		}
	}
	here := programs[target{runtime.GOOS, runtime.GOARCH}]
	if here == "" {
		return "", fmt.Errorf("the manual is printed by the program itself, and there is none for %s on %s", runtime.GOOS, runtime.GOARCH)
	}
	more, err := printed(here)
	if err != nil {
		return "", err
	}
	papers = append(papers, more...)
	version, at, err := stamp(here)
	if err != nil {
		return "", err
	}
	folder = filepath.Join(folder, version)
	if err := os.RemoveAll(folder); err != nil {
		return "", err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", err
	}
	for _, t := range targets {
		if err := publish(folder, "fewtubes-"+version+"-"+t.String(), t, programs[t], papers, at, tool, version); err != nil {
			return "", err
		}
	}
	return folder, writeSums(folder)
}

func build(source string, t target, program string) error {
	_, err := output(source, t.environment(releaseTags), "go", compiled(program)...)
	return err
}

// stamp is what the go command wrote into a program: its version and the time of the
// commit.
func stamp(program string) (version string, at time.Time, err error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return "", time.Time{}, err
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.time" {
			at, err = time.Parse(time.RFC3339, s.Value)
		}
	}
	if version = info.Main.Version; err != nil || at.IsZero() || version == "" || strings.ContainsAny(version, "()") {
		return "", time.Time{}, fmt.Errorf("%s does not say which commit it was built from", program)
	}
	return version, at.UTC(), nil
}

// readPapers are the files of the repository that go along.
func readPapers(source string) (out []entry, err error) {
	for _, pattern := range []string{"README.md", "testdata/*.toml", "testdata/salt-marsh/*"} {
		found, err := filepath.Glob(filepath.Join(source, pattern))
		if err != nil {
			return nil, err
		}
		for _, path := range found {
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			name, err := filepath.Rel(source, path)
			if err != nil {
				return nil, err
			}
			out = append(out, entry{filepath.ToSlash(name), 0o644, data})
		}
	}
	return out, nil
}

// printed are the files that the program prints itself.
func printed(program string) (out []entry, err error) {
	for _, f := range []struct {
		name string
		args []string
	}{
		{"NOTICES.txt", []string{"notices", "--all"}},
		{"man/man1/fewtubes.1", []string{"manual"}},
		{"completions/fewtubes.bash", []string{"completion", "bash"}},
		{"completions/_fewtubes", []string{"completion", "zsh"}},
		{"completions/fewtubes.fish", []string{"completion", "fish"}},
	} {
		data, err := output(".", os.Environ(), program, f.args...)
		if err != nil {
			return nil, err
		}
		out = append(out, entry{f.name, 0o644, data})
	}
	return out, nil
}

// publish writes the archive of a target and its bill of materials.
func publish(folder, name string, t target, program string, papers []entry, at time.Time, tool, version string) error {
	data, err := os.ReadFile(program)
	if err != nil {
		return err
	}
	entries := append([]entry{{t.program(), 0o755, data}}, papers...)
	for i := range entries {
		entries[i].name = name + "/" + entries[i].name
	}
	pack, ending := tarGzip, ".tar.gz"
	if t.system == "windows" {
		pack, ending = zipped, ".zip"
	}
	archive, err := pack(entries, at)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, name+ending), archive, 0o644); err != nil {
		return err
	}
	materials, err := bill(tool, program, version)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, name+".cdx.json"), materials, 0o644)
}

// writeSums writes SHA256SUMS in the form that sha256sum checks.
func writeSums(folder string) error {
	files, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	var b strings.Builder
	for _, f := range files {
		data, err := os.ReadFile(filepath.Join(folder, f.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(data), f.Name())
	}
	return os.WriteFile(filepath.Join(folder, "SHA256SUMS"), []byte(b.String()), 0o644)
}

// inOrder sorts entries by name.
func inOrder(entries []entry) []entry {
	entries = slices.Clone(entries)
	slices.SortFunc(entries, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	return entries
}
