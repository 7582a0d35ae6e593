package page

import (
	"context"
	"errors"
	"math"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/patches"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// eyed is what a painter says of a pile beside the colour wanted.
type eyed struct {
	Fault string `json:"fault"` // "too light"
	By    string `json:"by"`    // "a little"
}

// eyedBy is what the words of an eye come to, CIEDE2000: just told from nothing, told
// at once, and another colour (common practice, no source).
var eyedBy = map[string]float64{"a little": 2.5, "clearly": 5, "by far": 10}

// eyedWay is where a fault leads from the colour wanted, in L*, a* and b*: by the
// fault's own words, warm being towards orange, 60 degrees, and cool away from it.
func eyedWay(fault string, want colour.Lab) (way [3]float64, ok bool) {
	hue := want.LCh().H * math.Pi / 180
	sin, cos := portable.Sincos(hue)
	warm, along := portable.Sincos(math.Pi / 3)
	switch colour.Fault(fault) {
	case colour.TooLight:
		return [3]float64{1, 0, 0}, true
	case colour.TooDark:
		return [3]float64{-1, 0, 0}, true
	case "too strong":
		return [3]float64{0, cos, sin}, true
	case "too dull":
		return [3]float64{0, -cos, -sin}, true
	case colour.TooWarm:
		return [3]float64{0, along, warm}, true
	case colour.TooCool:
		return [3]float64{0, -along, -warm}, true
	}
	return way, false
}

// looks is what a pile looks like of which an eye says so.
func (e *eyed) looks(want colour.Lab) (colour.Lab, error) {
	by, known := eyedBy[e.By]
	way, ok := eyedWay(e.Fault, want)
	if !known || !ok {
		return want, errors.New("say of the pile that it is too light, too dark, too warm, too cool, too strong or too dull, and by how much")
	}
	most := 100.0 // of the way
	switch colour.Fault(e.Fault) {
	case colour.TooLight:
		most = 100 - want.L
	case colour.TooDark:
		most = want.L
	case "too dull":
		most = want.LCh().C
	}
	at := func(t float64) colour.Lab {
		return colour.Lab{L: want.L + float64(way[0]*t), A: want.A + float64(way[1]*t), B: want.B + float64(way[2]*t)}
	}
	less, more := 0.0, most
	for range 50 {
		if t := (less + more) / 2; colour.DE2000(at(t), want) < by {
			less = t
		} else {
			more = t
		}
	}
	return at(less), nil
}

// pilePhoto is a photograph of a pile beside a grey card, and where they lie in it.
type pilePhoto struct {
	ID   string     `json:"id"`
	Card [2]float64 `json:"card"` // fractions of the picture
	Pile [2]float64 `json:"pile"`
}

const (
	patchSide   = 0.06 // of the longer side, of the patches that are read about a place
	readLongest = 2400 // pixels, as the measure command reads them
)

// greyCard reflects 18 %: L* 49.5 (the grey card of photography, common practice).
var greyCard = colour.Lab{L: 49.5}

// mark is a patch about a place.
func (d *dropped) mark(name string, at [2]float64, known *colour.Lab) (patches.Mark, error) {
	long := float64(max(d.picture.w, d.picture.h))
	w, h := patchSide*long/float64(d.picture.w), patchSide*long/float64(d.picture.h)
	if !(at[0] >= 0 && at[0] <= 1 && at[1] >= 0 && at[1] <= 1) {
		return patches.Mark{}, errors.New("that place lies outside the picture")
	}
	return patches.Mark{
		Name: name, Known: known, Width: w, Height: h,
		Left: min(max(at[0]-w/2, 0), 1-w), Top: min(max(at[1]-h/2, 0), 1-h),
	}, nil
}

// readPile is the colour of a pile in the photograph, and how far that may be off.
func (d *dropped) readPile(ctx context.Context, q *pilePhoto) (lab colour.Lab, noise float64, err error) {
	card, err := d.mark("the grey card", q.Card, &greyCard)
	if err != nil {
		return lab, 0, err
	}
	pile, err := d.mark("the pile", q.Pile, nil)
	if err != nil {
		return lab, 0, err
	}
	picture, err := d.decode(ctx, readLongest)
	if err != nil {
		return lab, 0, err
	}
	r, err := patches.Read(d.Name, d.Name, picture, []patches.Mark{card, pile})
	if err != nil {
		return lab, 0, err
	}
	if len(r.LeftOut) > 0 || len(r.Patches) != 1 {
		return lab, 0, errors.Join(r.LeftOut...)
	}
	return r.Patches[0].Lab, r.Patches[0].Noise, nil
}

// seenPile is the colour a pile is seen to have; nil: as computed.
func (b *bench) seenPile(ctx context.Context, want colour.Lab) (seen *colour.Lab, noise float64, err error) {
	var c colour.Lab
	switch {
	case b.Eye != nil:
		c, err = b.Eye.looks(want)
	case b.Photo != nil:
		c, noise, err = b.held.readPile(ctx, b.Photo)
	case b.Seen != "":
		c, err = readColour("what it looks like", b.Seen)
	default:
		return nil, 0, nil
	}
	return &c, noise, err
}

// addition is what may be added to a pile.
type addition struct {
	Add    []report.PlanPart `json:"add"`   // in the order to add them
	Added  shown.Hundredths  `json:"added"` // volume added to one volume of the pile
	Within bool              `json:"within"`
	apart                    // of the whole then
}

// got says what to add to a pile that is seen to be off.
func got(ctx context.Context, b *bench) (any, error) {
	table, have, err := b.laidOut()
	if err != nil {
		return nil, err
	}
	want, err := readColour("the colour wanted", b.Colour)
	if err != nil {
		return nil, err
	}
	seen, noise, err := b.seenPile(ctx, want)
	if err != nil {
		return nil, err
	}
	tubes, err := paletteOf(b.all, b.Palette)
	if err != nil {
		return nil, err
	}
	var ids []string
	for i := range tubes {
		ids = append(ids, tubes[i].ID)
	}
	for _, a := range have {
		ids = append(ids, a.ID)
	}
	tolerance := mixing.DefaultTolerance
	if b.Eye != nil { // who says that it is off wants more than to hear that it will do
		tolerance = min(tolerance, eyedBy[b.Eye.By]/2)
	}
	found, err := table.Mend(ctx, have, want, seen, ids, tolerance)
	if err != nil {
		return nil, err
	}
	doc := piles.NewCorrection(table, &found, false)
	name := tubelist.List(table.Tubes).Name
	lies := found.Predicted
	if seen != nil {
		lies = *seen
	}
	out := struct {
		Seen    apart      `json:"seen"` // the pile as it lies
		Noise   float64    `json:"noise,omitempty"`
		Verdict string     `json:"verdict"`
		Ways    []addition `json:"ways"`
		Care    string     `json:"care"`
		Fresh   string     `json:"fresh"` // a new pile, where there is need of one
		Afresh  bool       `json:"afresh"`
	}{
		Seen: newApart(lies, want), Noise: noise, Verdict: doc.Verdict(), Ways: []addition{}, Care: doc.CareSentence(name),
		Fresh: doc.FreshSentence(name), Afresh: found.Afresh,
	}
	for _, w := range found.Ways {
		add := addition{Added: shown.Nearest(w.Added), Within: w.Within, apart: newApart(w.Lab, want)}
		for _, a := range w.Add {
			add.Add = append(add.Add, b.part(hand.Part{Tube: a.ID, Quarters: int(math.Round(4 * a.Parts))}))
		}
		out.Ways = append(out.Ways, add)
	}
	return out, nil
}
