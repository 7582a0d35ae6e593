package owntubes

import (
	"bytes"
	"fmt"
	"math"

	"fewtubes/cmd/fewtubes/internal/tomltext"
	"fewtubes/gamut/colour"
)

// Enter is the box with these tubes in it: those of the catalogue, which say no more than what
// they are like, and others with an entry of their own.
func (b *Box) Enter(tubes []Tube) (changed *Box, err error) {
	var ids []string
	for i := range tubes {
		if t := &tubes[i]; t.ownID() == "" {
			ids = append(ids, t.Like)
		} else if b.at(t.ID) >= 0 {
			ids = append(ids, t.ID)
		}
	}
	if b, _, err = b.Put(true, ids); err != nil {
		return nil, err
	}
	for i := range tubes {
		t := &tubes[i]
		if t.ownID() == "" || b.at(t.ID) >= 0 {
			continue
		}
		plain := bytes.TrimPrefix(b.text, []byte(byteOrderMark))
		e := tomltext.NewEditor(plain)
		var w writer
		w.tube(t)
		e.Insert(endOfTubes(e), w.String())
		if b, err = OpenBox(b.file.name, append(bytes.Clone(b.text[:len(b.text)-len(plain)]), e.Apply()...), b.from); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// Record is the box with more swatches in its record, and those that stood in it already. The tubes they
// hold must be of the box's catalogue. Errors are *Error.
func (b *Box) Record(more []Swatch) (changed *Box, idle []Swatch, err error) {
	text := b.text
	have := append([]Swatch(nil), b.file.Swatches...)
next:
	for _, s := range more {
		for i := range have {
			if have[i].same(&s) {
				idle = append(idle, s)
				continue next
			}
		}
		have = append(have, s)
		var w writer
		w.swatch(&s)
		if len(text) > 0 && text[len(text)-1] != '\n' {
			text = append(bytes.Clone(text), '\n')
		}
		text = append(bytes.Clone(text), w.String()...)
	}
	changed, err = OpenBox(b.file.name, text, b.from)
	if err == nil && len(changed.file.Swatches) != len(have) {
		err = b.trouble("it is written in a way that cannot be added to without loss", "add the swatch in an editor, under [[swatch]]")
	}
	return changed, idle, err
}

// Forget is the box without swatch n, the first being 1.
func (b *Box) Forget(n int) (changed *Box, gone Swatch, err error) {
	plain := bytes.TrimPrefix(b.text, []byte(byteOrderMark))
	e := tomltext.NewEditor(plain)
	entries := e.Tables("swatch")
	switch have := len(b.file.Swatches); {
	case len(entries) != have:
		return nil, gone, b.trouble("its swatches do not each stand under a heading of their own", "write each under [[swatch]]")
	case n < 1 || n > have:
		return nil, gone, b.trouble(fmt.Sprintf("there is no swatch %d among the %d in it", n, have), "fewtubes measure --box FILE lists them")
	}
	e.Remove(entries[n-1])
	text := append(bytes.Clone(b.text[:len(b.text)-len(plain)]), e.Apply()...)
	gone = b.file.Swatches[n-1]
	changed, err = OpenBox(b.file.name, text, b.from)
	if err == nil && len(changed.file.Swatches) != len(b.file.Swatches)-1 {
		err = b.trouble("it is written in a way that cannot be changed without loss", "take the swatch out in an editor")
	}
	return changed, gone, err
}

// Swatches are those of the record, in its order.
func (b *Box) Swatches() []Swatch { return append([]Swatch(nil), b.file.Swatches...) }

// Teach is what the record teaches; nil where it is empty.
func (b *Box) Teach() (*Lesson, error) {
	if len(b.file.Tubes) == 0 {
		return nil, nil
	}
	beside := *b.file
	beside.Instead = false
	return beside.Teach(b.from)
}

// TeachAmong is Teach with other tubes among those of the lesson.
func (b *Box) TeachAmong(ids []string) (*Lesson, error) {
	beside := *b.file
	beside.Instead = false
	return beside.TeachAmong(b.from, ids)
}

// Taught is the box as its swatches make it.
func (b *Box) Taught() (*Box, error) {
	l, err := b.Teach()
	if err != nil || l == nil {
		return b, err
	}
	taught := *b
	taught.all, taught.tubes = l.After, nil
	for _, t := range b.tubes {
		if now, ok := l.After.Find(t.ID); ok {
			t = now
		}
		taught.tubes = append(taught.tubes, t)
	}
	return &taught, nil
}

// Notation is a colour as a record keeps it, to a hundredth.
func Notation(c colour.Lab) string {
	hundredth := func(v float64) float64 { return math.Round(v*100)/100 + 0 }
	return fmt.Sprintf("lab(%g %g %g)", hundredth(c.L), hundredth(c.A), hundredth(c.B))
}
