package tomltext

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
)

// Editor gathers edits to a document, whose other lines stay as they are.
type Editor struct {
	Text   []byte
	Blocks []Block // the first is what stands before any header
	edits  []edit
}

// edit puts new text in the place of from..to.
type edit struct {
	from, to int
	text     string
}

// NewEditor edits a document that the decoder accepts.
func NewEditor(text []byte) *Editor { return &Editor{Text: text, Blocks: findBlocks(text)} }

// Keys changes the keys of one table from one set of canonical lines to another.
func (e *Editor) Keys(b *Block, old, changed string) {
	was, now := byKey(old), byKey(changed)
	for _, line := range strings.Split(strings.TrimSuffix(changed, "\n"), "\n") {
		key := keyOf(line)
		if was[key] == line {
			continue
		}
		if at, ok := b.Keys[key]; ok {
			e.edits = append(e.edits, edit{at.From, at.To, above(e.Text[at.From:at.To]) + line})
		} else {
			e.Insert(e.lineAfter(b.Last), line+"\n")
		}
	}
	for key := range was {
		if at, ok := b.Keys[key]; ok && now[key] == "" {
			e.edits = append(e.edits, edit{e.lineStart(at.From), e.lineAfter(at.To), ""})
		}
	}
}

func byKey(lines string) map[string]string {
	out := map[string]string{}
	for _, line := range strings.Split(lines, "\n") {
		out[keyOf(line)] = line
	}
	return out
}

func keyOf(line string) string {
	key, _, _ := strings.Cut(line, " = ")
	return key
}

// Insert puts text at the beginning of a line.
func (e *Editor) Insert(at int, text string) {
	if at == len(e.Text) && at > 0 && e.Text[at-1] != '\n' {
		text = "\n" + text
	}
	e.edits = append(e.edits, edit{at, at, text})
}

// Remove takes a table out, with the comment right above it.
func (e *Editor) Remove(b *Block) {
	e.edits = append(e.edits, edit{b.Start, e.pastBlank(e.After(b)), ""})
}

// After is where the line begins behind the last of a table.
func (e *Editor) After(b *Block) int { return e.lineAfter(b.Last) }

// Apply carries the edits out, those at one place in the order they were made.
func (e *Editor) Apply() []byte {
	slices.SortStableFunc(e.edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out bytes.Buffer
	at := 0
	for _, d := range e.edits {
		if d.from < at { // within something deleted
			continue
		}
		out.Write(e.Text[at:d.from])
		out.WriteString(d.text)
		at = d.to
	}
	out.Write(e.Text[at:])
	return out.Bytes()
}

func (e *Editor) lineStart(at int) int { return bytes.LastIndexByte(e.Text[:at], '\n') + 1 }

func (e *Editor) lineAfter(at int) int {
	if n := bytes.IndexByte(e.Text[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(e.Text)
}

// pastBlank moves past one blank line.
func (e *Editor) pastBlank(at int) int {
	if next := e.lineAfter(at); len(bytes.TrimSpace(e.Text[at:next])) == 0 {
		return next
	}
	return at
}

// Tables are those of a kind, in order.
func (e *Editor) Tables(kind string) (all []*Block) {
	for i := range e.Blocks {
		if e.Blocks[i].Kind == kind {
			all = append(all, &e.Blocks[i])
		}
	}
	return all
}
