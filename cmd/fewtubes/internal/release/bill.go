package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"fewtubes/cmd/fewtubes/internal/notices"
)

// billMaker writes bills of materials in the CycloneDX format
// (https://cyclonedx.org) from what the go command wrote into a program. The
// checksum database of the go command holds this version to its contents.
const billMaker = "github.com/CycloneDX/cyclonedx-gomod/cmd/cyclonedx-gomod@v1.10.0"

// billTool builds the maker of bills into a folder.
func billTool(folder string) (string, error) {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return "", err
	}
	environment := append(os.Environ(), "GOBIN="+folder, "GOFLAGS=-trimpath", "CGO_ENABLED=0", "GOWORK=off")
	_, err = output(folder, environment, "go", "install", billMaker)
	return filepath.Join(folder, "cyclonedx-gomod"), err
}

// bill is the bill of materials of a program, without the time and the number that
// would differ each time. The licences are those of the notices, read by somebody,
// and the libraries that come within a module stand within it.
func bill(tool, program, version string) ([]byte, error) {
	data, err := output(filepath.Dir(program), os.Environ(), tool, "bin", "-json", "-noserial", "-notimestamp", "-std", "-version", version, program)
	if err != nil {
		return nil, err
	}
	var whole map[string]any
	if err := json.Unmarshal(data, &whole); err != nil {
		return nil, err
	}
	parts := map[string]notices.Part{}
	for _, p := range notices.Parts() {
		parts[p.Name] = p
	}
	parts["std"] = parts["Go"]
	components, _ := whole["components"].([]any)
	for _, c := range components {
		component, _ := c.(map[string]any)
		name, _ := component["name"].(string)
		if parts[name].Licence == "" {
			return nil, fmt.Errorf("%s is inside and has no notice", name)
		}
		component["licenses"] = licenceOf(parts[name])
		var within []any
		for _, c := range carried {
			if c.module == name {
				part := map[string]any{"type": "library", "name": c.name, "licenses": licenceOf(parts[c.name])}
				if v := parts[c.name].Version; v != "" {
					part["version"] = v
				}
				within = append(within, part)
			}
		}
		if within != nil {
			component["components"] = within
		}
	}
	out, err := json.MarshalIndent(whole, "", "  ")
	return append(out, '\n'), err
}

func licenceOf(p notices.Part) []any {
	return []any{map[string]any{"expression": p.Licence}}
}
