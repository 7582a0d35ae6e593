package scene

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/pelletier/go-toml/v2/unstable"
)

// lineIndex finds the line of a key by its path, such as "limits.keep" or
// "target[2].colour"; what stands within a value, too, as in "target[2].at.x". Keys
// are in lower case, as the decoder ignores case.
type lineIndex map[string]int

// indexLines walks a document that the decoder accepted or refused; what cannot
// be parsed is left out.
func indexLines(data []byte) lineIndex {
	ix := lineIndex{}
	var p unstable.Parser
	p.Reset(data)
	lines := tomltext.Lines{Text: data}
	table, counts := "", map[string]int{}
	for p.NextExpression() {
		e := p.Expression()
		path, start := keyPath(e)
		line := lines.Of(start)
		switch e.Kind {
		case unstable.Table:
			table = path
			if list, rest, within := strings.Cut(path, "."); within && counts[list] > 0 {
				table = fmt.Sprintf("%s[%d].%s", list, counts[list]-1, rest)
			}
		case unstable.ArrayTable:
			table = fmt.Sprintf("%s[%d]", path, counts[path])
			counts[path]++
		case unstable.KeyValue:
			if table != "" {
				path = table + "." + path
			}
			ix.value(path, line, e.Value())
			continue
		default:
			continue
		}
		ix[table] = line
	}
	return ix
}

// value is a value and what stands within it.
func (ix lineIndex) value(path string, line int, v *unstable.Node) {
	ix[path] = line
	n := 0
	for it := v.Children(); it.Next(); n++ {
		switch inner := it.Node(); {
		case v.Kind == unstable.Array && inner.Kind != unstable.Comment:
			ix.value(fmt.Sprintf("%s[%d]", path, n), line, inner)
		case inner.Kind == unstable.KeyValue:
			key, _ := keyPath(inner)
			ix.value(path+"."+key, line, inner.Value())
		}
	}
}

// keyPath is the key of an expression, and where it begins.
func keyPath(e *unstable.Node) (path string, start int) {
	var parts []string
	for it := e.Key(); it.Next(); {
		key := it.Node()
		if len(parts) == 0 {
			start = int(key.Raw.Offset)
		}
		parts = append(parts, strings.ToLower(string(key.Data)))
	}
	return strings.Join(parts, "."), start
}

// has tells whether a key stands in the document.
func (ix lineIndex) has(path string) bool {
	_, ok := ix[path]
	return ok
}

// three tells whether an array holds three values.
func (ix lineIndex) three(path string) bool { return ix.has(path+"[2]") && !ix.has(path+"[3]") }

// line is that of the path or of the nearest thing around it; 0 if none.
func (ix lineIndex) line(path string) int {
	for {
		if n, ok := ix[path]; ok {
			return n
		}
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			return 0
		}
		path = path[:cut]
	}
}
