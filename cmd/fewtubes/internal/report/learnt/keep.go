package learnt

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
)

// Kept is a box with more swatches in its record, and what they taught.
type Kept struct {
	Box    *owntubes.Box
	Idle   []owntubes.Swatch // that stood in the record already
	Was    *owntubes.Lesson  // nil: the first
	Now    *owntubes.Lesson
	Before *catalog.Catalogue // the tubes as they were known until now
}

// NothingNew is the error for swatches that all stand in the record already.
type NothingNew struct{ idle []owntubes.Swatch }

func (e *NothingNew) Error() string { return AlreadyThere(e.idle) }

// Keep adds swatches to the record of a box, and the tubes they hold to the box. Errors are
// *NothingNew or *owntubes.Error.
func Keep(b *owntubes.Box, swatches []owntubes.Swatch, tubes []owntubes.Tube) (*Kept, error) {
	k := &Kept{Before: b.Catalogue()}
	var err error
	if k.Was, err = b.Teach(); err != nil {
		return nil, err
	}
	if k.Was != nil {
		k.Before = k.Was.After
	}
	changed, err := b.Enter(tubes)
	if err != nil {
		return nil, err
	}
	if k.Box, k.Idle, err = changed.Record(swatches); err != nil {
		return nil, err
	}
	if len(k.Idle) == len(swatches) {
		return nil, &NothingNew{k.Idle}
	}
	k.Now, err = k.Box.Teach()
	return k, err
}

// News says in a line what more was learnt.
func (k *Kept) News(asked *Mixtures) string { return news(k.Was, k.Now, k.Before, asked) }

// AlreadyThere says that swatches stand in the record.
func AlreadyThere(idle []owntubes.Swatch) string {
	if len(idle) == 1 {
		return fmt.Sprintf("the swatch %s stands in the record already", idle[0].Recipe)
	}
	return fmt.Sprintf("%s of these stand in the record already", shown.Counted(len(idle), "swatch"))
}

// Asked are the mixtures that matter: those for the colours of a scene, or, without one,
// common ones of the tubes owned.
func (k *Kept) Asked(s *scene.Scene) (*Mixtures, error) {
	tubes := k.Box.Owned()
	if s == nil {
		return Common(tubes, false), nil
	}
	for i, t := range tubes {
		if now, ok := k.Before.Find(t.ID); ok {
			tubes[i] = now
		}
	}
	return ForScene(s, tubes, k.Before)
}

// Tubes say what is known of each tube that swatches hold.
func Tubes(l *owntubes.Lesson) (out []string) {
	for i := range l.Tubes {
		out = append(out, learntWords(l, i))
	}
	return out
}
