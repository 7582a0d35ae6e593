package tomltext

import "bytes"

// Lines numbers the lines of a text for offsets that rise, each byte looked at
// once: the parser's own numbering begins anew for every key.
type Lines struct {
	Text []byte

	at, above int // lines above byte at
}

// Of is the line, from 1, of a byte no earlier than the one asked for before.
func (l *Lines) Of(offset int) int {
	l.above += bytes.Count(l.Text[l.at:offset], []byte("\n"))
	l.at = offset
	return l.above + 1
}
