package tomltext

import (
	"bytes"
	"strings"
)

// above are the comments within a key and its value that are written anew on one
// line, as lines to stand before it: an array over several lines may hold some.
func above(pair []byte) string {
	var out strings.Builder
	_, value, _ := bytes.Cut(pair, []byte("="))
	if !bytes.HasPrefix(bytes.TrimSpace(value), []byte("[")) {
		return ""
	}
	for _, line := range bytes.SplitAfter(value, []byte("\n")) {
		if remark := remarkOf(line); remark != "" {
			out.WriteString(remark + "\n")
		}
	}
	return out.String()
}

// remarkOf is the comment a line of an array ends in. Strings of a scene are of
// one line each, so that quotes pair up within it (TOML 1.0, String).
func remarkOf(line []byte) string {
	var quote byte
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case quote == '"' && c == '\\':
			i++
		case quote != 0 && c == quote:
			quote = 0
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case quote == 0 && c == '#':
			return strings.TrimSpace(string(line[i:]))
		}
	}
	return ""
}
