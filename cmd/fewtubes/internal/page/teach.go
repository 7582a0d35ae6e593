package page

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
)

// teach keeps what a pile was seen to be in the box's record, or takes a swatch out of it
// again, and says what was learnt.
func (s *Server) teach(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Pile   []ingredient `json:"pile"`
		Seen   string       `json:"seen"`
		By     string       `json:"by"`     // instrument, chip or camera
		Noise  float64      `json:"noise"`  // of what a camera saw; 0: as By has it
		Forget int          `json:"forget"` // the swatch to take out
	}
	if err := s.readJSON(w, r, &q); err != nil {
		fail(w, err)
		return
	}
	var swatch owntubes.Swatch
	var tubes []owntubes.Tube
	if q.Forget == 0 {
		var err error
		if swatch, tubes, err = s.swatchOf(q.Pile, q.Seen, q.By); err != nil {
			fail(w, err)
			return
		}
		if q.Noise != 0 && q.Noise != readings.SeenBy(q.By).Noise() {
			swatch.Noise = &q.Noise
		}
	}
	said := ""
	_, err := s.box.change(func(b *owntubes.Box) (*owntubes.Box, error) {
		if q.Forget != 0 {
			changed, gone, err := b.Forget(q.Forget)
			said = fmt.Sprintf("Taken back: %s, %s.", gone.Recipe, gone.Seen)
			return changed, err
		}
		k, err := learnt.Keep(b, []owntubes.Swatch{swatch}, tubes)
		var none *learnt.NothingNew
		if errors.As(err, &none) {
			return nil, fmt.Errorf("%w: it teaches once", err)
		}
		if err != nil {
			return nil, err
		}
		asked, err := k.Asked(nil)
		if err != nil {
			return nil, err
		}
		said = k.News(asked)
		return k.Box, nil
	})
	if err != nil {
		fail(w, err)
		return
	}
	doc, err := s.taughtDoc()
	if err != nil {
		fail(w, err)
		return
	}
	doc.Said = said
	writeJSON(w, doc)
}

// swatchOf is a pile as a swatch of the record.
func (s *Server) swatchOf(pile []ingredient, seen, by string) (swatch owntubes.Swatch, tubes []owntubes.Tube, err error) {
	b := &bench{tableRequest: &tableRequest{Pile: pile, Light: colour.D65().Name}, all: s.stock()}
	if err := b.look(); err != nil {
		return swatch, nil, err
	}
	amounts, err := b.amounts()
	if err != nil {
		return swatch, nil, err
	}
	if _, err := readColour("what it looks like", seen); err != nil {
		return swatch, nil, err
	}
	if _, ok := readings.ParseSeenBy(by); !ok {
		return swatch, nil, errors.New("a colour is read by an instrument, from a chip or by a camera")
	}
	var recipe readings.Recipe
	for _, a := range amounts {
		recipe.Parts = append(recipe.Parts, readings.Part{Tube: a.ID, Amount: fourDigits(a.Parts)})
		tubes = append(tubes, owntubes.Tube{Like: a.ID})
	}
	return owntubes.Swatch{Recipe: recipe.String(), Seen: seen, By: by}, tubes, nil
}

// fourDigits are as many as a knife measures, and more.
func fourDigits(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64) // it was written just now
	return v
}

// taughtSwatch is one of the record.
type taughtSwatch struct {
	No     int              `json:"no"`
	Recipe string           `json:"recipe"`
	Hex    string           `json:"hex"`
	Off    shown.Hundredths `json:"off"` // from what is foretold now
	Odd    bool             `json:"odd"` // it does not agree with the others
}

type taughtDoc struct {
	Said     string         `json:"said"`
	Swatches []taughtSwatch `json:"swatches"`
	Tubes    []string       `json:"tubes"` // what is known of each by now
}

func (s *Server) taughtDoc() (*taughtDoc, error) {
	doc := &taughtDoc{Swatches: []taughtSwatch{}, Tubes: []string{}}
	b := s.box.now().box
	if b == nil {
		return doc, nil
	}
	lesson, err := b.Teach()
	if err != nil || lesson == nil {
		return doc, err
	}
	record := b.Swatches()
	for k, i := range lesson.Swatches {
		seen, err := colour.Parse(record[i].Seen)
		if err != nil {
			return nil, err
		}
		m := lesson.Learnt.Swatches[k]
		doc.Swatches = append(doc.Swatches, taughtSwatch{i + 1, record[i].Recipe, shown.Hex(seen), shown.Nearest(m.DE), m.Disagrees()})
	}
	doc.Tubes = learnt.Tubes(lesson)
	return doc, nil
}

// taught lists the record of the box and what it taught.
func (s *Server) taught(w http.ResponseWriter, _ *http.Request) {
	doc, err := s.taughtDoc()
	if err != nil {
		fail(w, err)
		return
	}
	writeJSON(w, doc)
}
