package scene

import (
	"bytes"
	"regexp"
	"slices"

	"fewtubes/cmd/fewtubes/internal/tomltext"
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
	// Areas that are not written go by those that are: where these change, the
	// others have to be written.
	for _, areas := range []bool{false, true} {
		e := editor{tomltext.NewEditor(plain), areas}
		if !e.update(&old, &changed) {
			return anew, false
		}
		text = append(slices.Clone(original[:len(original)-len(plain)]), e.Apply()...)
		if back, err := Parse("", text); err == nil && bytes.Equal(Format(back), anew) {
			return text, true
		}
	}
	return anew, false
}

// editor edits the text of a scene.
type editor struct {
	*tomltext.Editor
	areas bool // write those of all targets
}

func (e *editor) update(old, changed *Scene) bool {
	var a, b writer
	a.head(old)
	b.head(changed)
	e.Keys(&e.Blocks[0], a.String(), b.String())
	if !e.table("limits", limitLines(&old.Limits), limitLines(&changed.Limits)) || !e.table("air", airLines(old.Air), airLines(changed.Air)) {
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

// table brings a table that stands there once up to date.
func (e *editor) table(kind, old, changed string) bool {
	tables := e.Tables(kind)
	switch {
	case old == changed:
	case len(tables) > 0:
		e.Keys(tables[0], old, changed)
	case old != "": // written with dotted keys
		return false
	default:
		at := len(e.Text)
		if len(e.Blocks) > 1 {
			at = e.Blocks[1].Start
		}
		e.Insert(at, "["+kind+"]\n"+changed+"\n")
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
	tables, end := e.Tables(kind), e.endOf(kind)
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
			e.Insert(end, "\n[["+kind+"]]\n"+c.lines)
			continue
		}
		if k >= len(tables) || k < last {
			return false
		}
		last, used[k] = k, true
		lines := old[k].lines
		if _, written := tables[k].Keys["area"]; e.areas && !written {
			lines = areaLine.ReplaceAllString(lines, "")
		}
		e.Keys(tables[k], lines, c.lines)
	}
	for k, keep := range used {
		switch {
		case keep:
		case k >= len(tables):
			return false
		default:
			e.Remove(tables[k])
		}
	}
	return true
}

// areaLine is the area of a target as written.
var areaLine = regexp.MustCompile(`(?m)^area = .*\n`)

// places are the indices of names.
func places(items []item) map[string]int {
	at := make(map[string]int, len(items))
	for i, it := range items {
		at[it.name] = i
	}
	return at
}

// endOf is where a table of a kind is added: behind the last one, or at the end.
func (e *editor) endOf(kind string) int {
	if all := e.Tables(kind); len(all) > 0 {
		return e.After(all[len(all)-1])
	}
	if targets := e.Tables("target"); kind == "photo" && len(targets) > 0 {
		return targets[0].Start
	}
	return len(e.Text)
}
