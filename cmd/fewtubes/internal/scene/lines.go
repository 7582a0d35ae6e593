package scene

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/pelletier/go-toml/v2/unstable"
)

// lineIndex finds the line of a key by its path, such as "limits.keep" or
// "target[2].colour". Keys are in lower case, as the decoder ignores case.
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
		path, line := keyPath(&lines, e)
		switch e.Kind {
		case unstable.Table:
			table = path
		case unstable.ArrayTable:
			table = fmt.Sprintf("%s[%d]", path, counts[path])
			counts[path]++
		case unstable.KeyValue:
			if table != "" {
				path = table + "." + path
			}
			ix[path] = line
			continue
		default:
			continue
		}
		ix[table] = line
	}
	return ix
}

func keyPath(lines *tomltext.Lines, e *unstable.Node) (path string, line int) {
	var parts []string
	for it := e.Key(); it.Next(); {
		key := it.Node()
		parts = append(parts, strings.ToLower(string(key.Data)))
		if line == 0 {
			line = lines.Of(int(key.Raw.Offset))
		}
	}
	return strings.Join(parts, "."), line
}

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
