package main

import (
	"cmp"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/notices"
)

// What nobody else has written down: the credits, and the notices of a library
// that comes without them.
//
//go:embed credits.txt wasi-libc.txt
var ours embed.FS

// inside lists the modules that any of the targets is built from, with their folders.
func inside(root string) (folders, versions map[string]string, err error) {
	folders, versions = map[string]string{}, map[string]string{}
	for _, t := range targets {
		list, err := output(root, t.environment(everyTag), "go", "list", "-deps", "-json=Module", "./cmd/fewtubes")
		if err != nil {
			return nil, nil, err
		}
		for decoder := json.NewDecoder(strings.NewReader(string(list))); ; {
			var p struct {
				Module *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, nil, err
			}
			if p.Module != nil && !p.Module.Main {
				folders[p.Module.Path], versions[p.Module.Path] = p.Module.Dir, p.Module.Version
			}
		}
	}
	return folders, versions, nil
}

// gather is the text of the notices for the modules as they are in go.mod.
func gather(root string) (string, error) {
	folders, versions, err := inside(root)
	if err != nil {
		return "", err
	}
	for path := range modules {
		if folders[path] == "" {
			return "", fmt.Errorf("%s is no longer inside; take it out of licences.go", path)
		}
	}
	var parts []notices.Part
	for _, path := range slices.Sorted(maps.Keys(folders)) {
		known, ok := modules[path]
		if !ok {
			return "", fmt.Errorf("%s %s has come in without a notice; read its licence in %s and name it in licences.go", path, versions[path], folders[path])
		}
		text, err := texts(folders[path], known.texts)
		if err != nil {
			return "", err
		}
		parts = append(parts, notices.Part{Name: path, Version: versions[path], Licence: known.licence, Text: text})
	}
	for _, c := range carried {
		part := notices.Part{Name: c.name, Licence: c.licence}
		if c.text == "" {
			text, err := ours.ReadFile(c.name + ".txt")
			if err != nil {
				return "", err
			}
			part.Text = strings.Trim(string(text), "\n")
		} else if part.Text, err = texts(folders[c.module], []string{c.text}); err != nil {
			return "", err
		}
		if c.made != "" {
			made, err := os.ReadFile(filepath.Join(folders[c.module], c.made))
			if err != nil {
				return "", err
			}
			found := regexp.MustCompile(c.version).FindSubmatch(made)
			if found == nil {
				return "", fmt.Errorf("%s of %s does not say the version of %s", c.made, c.module, c.name)
			}
			part.Version = string(found[1])
		}
		parts = append(parts, part)
	}
	home, err := output(root, os.Environ(), "go", "env", "GOROOT")
	if err != nil {
		return "", err
	}
	text, err := texts(strings.TrimSpace(string(home)), nil)
	if err != nil {
		return "", err
	}
	parts = append(parts, notices.Part{Name: "Go", Licence: "BSD-3-Clause", Text: text})
	slices.SortFunc(parts, func(a, b notices.Part) int {
		return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	credits, err := ours.ReadFile("credits.txt")
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString(strings.TrimSpace(string(credits)) + "\n")
	for _, p := range parts {
		b.WriteString("\n" + p.Heading() + "\n" + p.Text + "\n")
	}
	return b.String(), nil
}

// texts joins the files that hold licences: those named, or else all that have a
// name in use for them.
func texts(folder string, named []string) (string, error) {
	if named == nil {
		for _, pattern := range []string{"LICEN[CS]E*", "COPYING*", "NOTICE*", "PATENTS*", "THIRD_PARTY_LICENSES/*"} {
			found, err := filepath.Glob(filepath.Join(folder, pattern))
			if err != nil {
				return "", err
			}
			for _, path := range found {
				inside, err := filepath.Rel(folder, path)
				if err != nil {
					return "", err
				}
				named = append(named, inside)
			}
		}
	}
	var out []string
	for _, name := range named {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return "", err
		}
		var lines []string
		for line := range strings.Lines(string(data)) {
			lines = append(lines, strings.TrimRight(line, " \t\r\n\f"))
		}
		out = append(out, strings.Trim(strings.Join(lines, "\n"), "\n"))
	}
	if len(out) == 0 {
		return "", fmt.Errorf("no licence in %s", folder)
	}
	return strings.Join(out, "\n\n"), nil
}
