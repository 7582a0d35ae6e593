package page

import (
	"io/fs"
	"regexp"
	"slices"
	"testing"
)

// No script of the page imports itself by way of others.
func TestScriptsImportOneWay(t *testing.T) {
	imports := map[string][]string{}
	files, err := fs.Glob(static, "static/*.js")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d scripts, %v", len(files), err)
	}
	for _, file := range files {
		text, err := fs.ReadFile(static, file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^import .* from "\./(.*)";$`).FindAllSubmatch(text, -1) {
			imports[file] = append(imports[file], "static/"+string(m[1]))
		}
	}
	var walk func(path []string)
	walk = func(path []string) {
		for _, next := range imports[path[len(path)-1]] {
			if slices.Contains(path, next) {
				t.Fatalf("%v, then %s again", path, next)
			}
			walk(append(slices.Clone(path), next))
		}
	}
	for _, file := range files {
		walk([]string{file})
	}
}
