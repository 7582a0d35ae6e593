package scene

import (
	"bytes"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// block is one table of a document, with its header and the comment right above.
type block struct {
	kind  string // "" before the first header
	start int    // byte
	last  int    // end of its last key, or of its header
	keys  map[string]between
}

type between struct{ from, to int }

// findBlocks parts a document into its tables. Dotted keys are left out.
func findBlocks(text []byte) []block {
	blocks := []block{{keys: map[string]between{}}}
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		var names []string
		var from, to int
		for it := e.Key(); it.Next(); {
			key := it.Node()
			if len(names) == 0 {
				from = int(key.Raw.Offset)
			}
			to = int(key.Raw.Offset + key.Raw.Length)
			names = append(names, strings.ToLower(string(key.Data)))
		}
		b := &blocks[len(blocks)-1]
		if e.Kind == unstable.KeyValue {
			b.last = int(e.Raw.Offset + e.Raw.Length)
			if len(names) == 1 {
				b.keys[names[0]] = between{int(e.Raw.Offset), b.last}
			}
			continue
		}
		start := commentAbove(text, bytes.LastIndexByte(text[:from], '\n')+1)
		blocks = append(blocks, block{kind: strings.Join(names, "."), start: start, last: to, keys: map[string]between{}})
	}
	return blocks
}

// commentAbove moves the start of a line up over the comments right above it.
func commentAbove(text []byte, start int) int {
	for start > 0 {
		above := bytes.LastIndexByte(text[:start-1], '\n') + 1
		if !bytes.HasPrefix(bytes.TrimSpace(text[above:start]), []byte("#")) {
			break
		}
		start = above
	}
	return start
}
