package owntubes

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Error is a mistake in a file of tubes that its writer can mend.
type Error = scene.Error

// lineIndex finds the line of a key of a tube, such as "0.price", or of the
// tube itself, "0".
type lineIndex map[string]int

func indexLines(data []byte) lineIndex {
	ix := lineIndex{}
	var p unstable.Parser
	p.Reset(data)
	lines := tomltext.Lines{Text: data}
	tube := -1
	for p.NextExpression() {
		e := p.Expression()
		key, line := "", 0
		for it := e.Key(); it.Next(); {
			if line == 0 {
				line = lines.Of(int(it.Node().Raw.Offset))
				key = strings.ToLower(string(it.Node().Data))
			}
		}
		switch {
		case e.Kind == unstable.ArrayTable && key == "tube":
			tube++
			ix[fmt.Sprint(tube)] = line
		case e.Kind == unstable.KeyValue && tube >= 0:
			ix[fmt.Sprintf("%d.%s", tube, key)] = line
		case e.Kind == unstable.KeyValue:
			ix[key] = line
		}
	}
	return ix
}

// wrong is an error about one key of tube i, or about the whole tube.
func (f *File) wrong(i int, key, msg, remedy string) error {
	line, ok := f.at[fmt.Sprintf("%d.%s", i, key)]
	if !ok {
		line = f.at[fmt.Sprint(i)]
	}
	field := fmt.Sprintf("tube %d", i+1)
	if t := &f.Tubes[i]; t.ID != "" {
		field = fmt.Sprintf("tube %q", plain.Short(t.ID))
	} else if t.Like != "" {
		field = fmt.Sprintf("tube like %q", plain.Short(t.Like))
	}
	if key != "" {
		field += ", " + key
	}
	return &Error{File: f.name, Line: line, Field: field, Msg: msg, Remedy: remedy}
}
