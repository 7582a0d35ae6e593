package scene

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
)

// Update puts a changed scene into the text it was read from and keeps the rest
// of the text as its writer left it: comments, blank lines, order, spelling of
// what did not change. Where that cannot be done (a target moved to another
// place, or a spelling of TOML that is not one table for each target) the text
// is written anew and kept is false. Either way it reads back as changed.
func Update(original []byte, changed Scene) (text []byte, kept bool) {
	anew := Format(changed)
	old, err := Parse("", original)
	if err != nil {
		return anew, false
	}
	if bytes.Equal(Format(old), anew) {
		return original, true
	}
	plain := bytes.TrimPrefix(original, byteOrderMark)
	e := editor{text: plain, blocks: findBlocks(plain)}
	if !e.update(&old, &changed) {
		return anew, false
	}
	text = append(slices.Clone(original[:len(original)-len(plain)]), e.apply()...)
	back, err := Parse("", text)
	if err != nil || !bytes.Equal(Format(back), anew) {
		return anew, false
	}
	return text, true
}

// editor gathers edits to a text.
type editor struct {
	text   []byte
	blocks []block
	edits  []edit
}

// edit puts new text in the place of from..to.
type edit struct {
	from, to int
	text     string
}

func (e *editor) update(old, changed *Scene) bool {
	var a, b writer
	a.head(old)
	b.head(changed)
	e.keys(&e.blocks[0], a.String(), b.String())
	if !e.limits(limitLines(&old.Limits), limitLines(&changed.Limits)) {
		return false
	}
	photos := e.list("photo", photoTexts(old), photoTexts(changed))
	return photos && e.list("target", targetTexts(old), targetTexts(changed))
}

// item is one photograph or target in canonical lines.
type item struct{ name, lines string }

func photoTexts(s *Scene) (out []item) {
	for i := range s.Photos {
		var w writer
		w.photo(&s.Photos[i])
		out = append(out, item{s.Photos[i].Name, w.String()})
	}
	return out
}

func targetTexts(s *Scene) (out []item) {
	for i := range s.Targets {
		var w writer
		w.target(&s.Targets[i])
		out = append(out, item{s.Targets[i].Name, w.String()})
	}
	return out
}

func (e *editor) limits(old, changed string) bool {
	tables := e.tables("limits")
	switch {
	case old == changed:
	case len(tables) > 0:
		e.keys(tables[0], old, changed)
	case old != "": // written with dotted keys
		return false
	default:
		at := len(e.text)
		if len(e.blocks) > 1 {
			at = e.blocks[1].start
		}
		e.insert(at, "[limits]\n"+changed+"\n")
	}
	return true
}

// list brings the tables of one kind up to date. A new name in an old place is
// a change of name when the count is the same.
func (e *editor) list(kind string, old, changed []item) bool {
	was, is := places(old), places(changed)
	lastOld := -1 // of changed, the last that there was before
	for i, c := range changed {
		if _, ok := was[c.name]; ok {
			lastOld = i
		}
	}
	tables, end := e.tables(kind), e.endOf(kind)
	last := -1
	used := make([]bool, len(old))
	for i, c := range changed {
		k, ok := was[c.name]
		if !ok && len(old) == len(changed) {
			if _, stays := is[old[i].name]; !stays {
				k, ok = i, true
			}
		}
		if !ok {
			if i < lastOld {
				return false // a new one between old ones
			}
			e.insert(end, "\n[["+kind+"]]\n"+c.lines)
			continue
		}
		if k >= len(tables) || k < last {
			return false
		}
		last, used[k] = k, true
		e.keys(tables[k], old[k].lines, c.lines)
	}
	for k, keep := range used {
		switch {
		case keep:
		case k >= len(tables):
			return false
		default:
			b := tables[k]
			e.edits = append(e.edits, edit{b.start, e.pastBlank(e.lineAfter(b.last)), ""})
		}
	}
	return true
}

// places are the indices of names.
func places(items []item) map[string]int {
	at := make(map[string]int, len(items))
	for i, it := range items {
		at[it.name] = i
	}
	return at
}

// keys changes the keys of one table from one set of canonical lines to another.
func (e *editor) keys(b *block, old, changed string) {
	was, now := byKey(old), byKey(changed)
	for _, line := range strings.Split(strings.TrimSuffix(changed, "\n"), "\n") {
		key := keyOf(line)
		if was[key] == line {
			continue
		}
		if at, ok := b.keys[key]; ok {
			e.edits = append(e.edits, edit{at.from, at.to, above(e.text[at.from:at.to]) + line})
		} else {
			e.insert(e.lineAfter(b.last), line+"\n")
		}
	}
	for key := range was {
		if at, ok := b.keys[key]; ok && now[key] == "" {
			e.edits = append(e.edits, edit{e.lineStart(at.from), e.lineAfter(at.to), ""})
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

func (e *editor) insert(at int, text string) {
	if at == len(e.text) && at > 0 && e.text[at-1] != '\n' {
		text = "\n" + text
	}
	e.edits = append(e.edits, edit{at, at, text})
}

// endOf is where a table of a kind is added: behind the last one, or at the end.
func (e *editor) endOf(kind string) int {
	if all := e.tables(kind); len(all) > 0 {
		return e.lineAfter(all[len(all)-1].last)
	}
	if targets := e.tables("target"); kind == "photo" && len(targets) > 0 {
		return targets[0].start
	}
	return len(e.text)
}

// apply carries the edits out, those at one place in the order they were made.
func (e *editor) apply() []byte {
	slices.SortStableFunc(e.edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out bytes.Buffer
	at := 0
	for _, d := range e.edits {
		if d.from < at { // within something deleted
			continue
		}
		out.Write(e.text[at:d.from])
		out.WriteString(d.text)
		at = d.to
	}
	out.Write(e.text[at:])
	return out.Bytes()
}

func (e *editor) lineStart(at int) int { return bytes.LastIndexByte(e.text[:at], '\n') + 1 }

func (e *editor) lineAfter(at int) int {
	if n := bytes.IndexByte(e.text[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(e.text)
}

// pastBlank moves past one blank line.
func (e *editor) pastBlank(at int) int {
	if next := e.lineAfter(at); len(bytes.TrimSpace(e.text[at:next])) == 0 {
		return next
	}
	return at
}

// tables are those of a kind, in order.
func (e *editor) tables(kind string) (all []*block) {
	for i := range e.blocks {
		if e.blocks[i].kind == kind {
			all = append(all, &e.blocks[i])
		}
	}
	return all
}
