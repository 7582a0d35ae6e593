package owntubes

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/tomltext"
)

// Box is the text of a file of tubes while tubes are put in and taken out. What else
// stands in it stays as its writer left it.
type Box struct {
	file  *File
	text  []byte
	tubes []catalog.Tube // of the file, in its order
	all   *catalog.Catalogue
	from  *catalog.Catalogue // without the file
}

// OpenBox reads a box; nil text is one still to be made. Errors are *Error.
func OpenBox(name string, text []byte, c *catalog.Catalogue) (*Box, error) {
	if text == nil {
		text = []byte("# The tubes I own.\nformat = 1\n")
	}
	f, err := Parse(name, text)
	if err != nil {
		return nil, err
	}
	b := &Box{file: f, text: text, all: c, from: c}
	if len(f.Tubes) == 0 {
		return b, nil
	}
	beside := *f
	beside.Instead, beside.Swatches = false, nil
	if b.all, _, err = beside.Apply(c); err != nil {
		return nil, err
	}
	for i := range f.Tubes {
		e := &f.Tubes[i]
		id := e.ownID()
		if id == "" {
			t, err := c.Get(e.Like)
			if err != nil {
				return nil, err
			}
			id = t.ID
		}
		t, _ := b.all.Find(id) // one that no paint can be is left out
		t.ID = id
		b.tubes = append(b.tubes, t)
	}
	return b, nil
}

// Catalogue is that of the box and of the tubes it may be filled from, as they are before a
// swatch teaches: see Taught.
func (b *Box) Catalogue() *catalog.Catalogue { return b.all }

// Text is the file as it stands.
func (b *Box) Text() []byte { return b.text }

// Owned are the tubes in the box, in the order of the file.
func (b *Box) Owned() (out []catalog.Tube) {
	for i := range b.tubes {
		if !b.file.Tubes[i].NotOwned {
			out = append(out, b.tubes[i])
		}
	}
	return out
}

// at is the entry of a tube, or -1.
func (b *Box) at(id string) int {
	return slices.IndexFunc(b.tubes, func(t catalog.Tube) bool { return t.ID == id })
}

// Put is the box with tubes put in or taken out, and those for which there was
// nothing to do. Errors are *Error.
func (b *Box) Put(in bool, ids []string) (changed *Box, idle []string, err error) {
	plain := bytes.TrimPrefix(b.text, []byte(byteOrderMark))
	e := tomltext.NewEditor(plain)
	entries := e.Tables("tube")
	if len(entries) != len(b.tubes) {
		return nil, nil, b.trouble("its tubes do not each stand under a heading of their own", "write each under [[tube]]")
	}
	want := b.owned()
	for _, id := range ids {
		i := b.at(id)
		if want[id] == in {
			idle = append(idle, id)
			continue
		}
		switch want[id] = in; {
		case in && i < 0:
			e.Insert(endOfTubes(e), fmt.Sprintf("\n[[tube]]\nid = %s\n", tomltext.Quote(id)))
		case in:
			e.Keys(entries[i], "have = false\n", "have = true\n")
		case b.bare(i, plain[entries[i].Start:e.After(entries[i])]):
			e.Remove(entries[i])
		default: // what is written of it stays
			was := ""
			if _, said := entries[i].Keys["have"]; said {
				was = "have = true\n"
			}
			e.Keys(entries[i], was, "have = false\n")
		}
	}
	text := append(bytes.Clone(b.text[:len(b.text)-len(plain)]), e.Apply()...)
	changed, err = OpenBox(b.file.name, text, b.from)
	if err != nil || !same(changed.owned(), want) || !same(want, changed.owned()) {
		return nil, nil, b.trouble("it is written in a way that cannot be changed without loss", "change it in an editor: each tube under [[tube]], have = false for one you have not")
	}
	return changed, idle, nil
}

const byteOrderMark = "\ufeff"

func (b *Box) trouble(msg, remedy string) error {
	return &Error{File: b.file.name, Msg: msg, Remedy: remedy}
}

func (b *Box) owned() map[string]bool {
	out := map[string]bool{}
	for _, t := range b.Owned() {
		out[t.ID] = true
	}
	return out
}

func same(a, b map[string]bool) bool {
	for id, in := range b {
		if a[id] != in {
			return false
		}
	}
	return true
}

// bare reports whether nothing is said of a tube but which it is, and no remark
// stands with it.
func (b *Box) bare(i int, text []byte) bool {
	e := &b.file.Tubes[i]
	none := Tube{ID: e.ID, Like: e.Like}
	return e.Like != "" && e.ownID() == "" && !bytes.Contains(text, []byte("#")) &&
		bytes.Equal(Format(&File{Tubes: []Tube{*e}}), Format(&File{Tubes: []Tube{none}}))
}

// endOfTubes is where a tube is added: behind the last, and the tables within it.
func endOfTubes(e *tomltext.Editor) int {
	for i := len(e.Blocks) - 1; i >= 0; i-- {
		if b := &e.Blocks[i]; b.Kind == "tube" || strings.HasPrefix(b.Kind, "tube.") {
			return e.After(b)
		}
	}
	return len(e.Text)
}
