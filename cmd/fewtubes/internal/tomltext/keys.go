package tomltext

import "github.com/pelletier/go-toml/v2/unstable"

// mostKeys is many times what the files of this program know. The decoder
// compares each new key with all others beside it.
const mostKeys = 1000

// TooManyKeys reports whether a text holds more different keys than any file of
// this program has.
func TooManyKeys(data []byte) bool {
	keys := map[string]bool{}
	var p unstable.Parser
	p.Reset(data)
	for len(keys) <= mostKeys && p.NextExpression() {
		addKeys(p.Expression(), keys)
	}
	return len(keys) > mostKeys
}

func addKeys(n *unstable.Node, keys map[string]bool) {
	switch n.Kind {
	case unstable.KeyValue:
		addKeys(n.Value(), keys)
		fallthrough
	case unstable.Table, unstable.ArrayTable:
		for it := n.Key(); it.Next(); {
			keys[string(it.Node().Data)] = true
		}
	case unstable.Array, unstable.InlineTable:
		for it := n.Children(); it.Next(); {
			addKeys(it.Node(), keys)
		}
	}
}
