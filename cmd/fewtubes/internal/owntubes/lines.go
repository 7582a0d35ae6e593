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

// lineIndex finds the line of a key of a tube, such as "0.price", of the tube itself,
// "0", of a swatch, "swatch.0", and of its keys.
type lineIndex map[string]int

func indexLines(data []byte) lineIndex {
	ix := lineIndex{}
	var p unstable.Parser
	p.Reset(data)
	lines := tomltext.Lines{Text: data}
	count, in := map[string]int{}, ""
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
		case e.Kind == unstable.ArrayTable && (key == "tube" || key == "swatch"):
			in = fmt.Sprint(count[key])
			if key == "swatch" {
				in = swatchKey(count[key])
			}
			count[key]++
			ix[in] = line
		case e.Kind == unstable.KeyValue && in != "":
			ix[in+"."+key] = line
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

func swatchKey(i int) string { return fmt.Sprintf("swatch.%d", i) }

// wrongSwatch is an error about one key of swatch i, or about the whole swatch.
func (f *File) wrongSwatch(i int, key, msg, remedy string) error {
	line, ok := f.at[swatchKey(i)+"."+key]
	if !ok {
		line = max(f.at[swatchKey(i)], f.Swatches[i].Line)
	}
	field := fmt.Sprintf("swatch %d", i+1)
	if f.Swatches[i].Line > 0 {
		field = fmt.Sprintf("sample %q", plain.Short(f.Swatches[i].Recipe))
		key = ""
	}
	if key != "" {
		field += ", " + key
	}
	return &Error{File: f.name, Line: line, Field: field, Msg: msg, Remedy: remedy}
}
