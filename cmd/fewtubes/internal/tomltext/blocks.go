package tomltext

import (
	"bytes"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Block is one table of a document, with its header and the comment right above.
type Block struct {
	Kind  string // "" before the first header
	Start int    // byte
	Last  int    // end of its last key, or of its header
	Keys  map[string]Between
}

// Between are the bytes from From to before To.
type Between struct{ From, To int }

// findBlocks parts a document into its tables. Dotted keys are left out.
func findBlocks(text []byte) []Block {
	blocks := []Block{{Keys: map[string]Between{}}}
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
			b.Last = int(e.Raw.Offset + e.Raw.Length)
			if len(names) == 1 {
				b.Keys[names[0]] = Between{int(e.Raw.Offset), b.Last}
			}
			continue
		}
		start := commentAbove(text, bytes.LastIndexByte(text[:from], '\n')+1)
		blocks = append(blocks, Block{Kind: strings.Join(names, "."), Start: start, Last: to, Keys: map[string]Between{}})
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
