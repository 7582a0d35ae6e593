package page

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"

	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/curves"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/certain"
	"fewtubes/solver"
)

// settle answers the scene, and has a palette to speak of or an error.
func (a *asking) settle(ctx context.Context, session *solver.Session, palette []string) error {
	if err := a.choose(ctx, session, palette, nil); err != nil {
		return err
	}
	if len(a.doc.Palettes) == 0 {
		return errors.New("no tube is allowed under these limits")
	}
	return nil
}

// aboutPalette answers a question for which the scene is first answered.
func (s *Server) aboutPalette(answer func(context.Context, *solver.Session, *asking) (any, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		q, a, err := s.readAsked(w, r)
		if err != nil {
			fail(w, err)
			return
		}
		p := newReply(w, r)
		var doc any
		err = s.hold(p, a, func(session *solver.Session) error {
			if err := a.settle(r.Context(), session, q.Palette); err != nil {
				return err
			}
			doc, err = answer(r.Context(), session, a)
			return err
		})
		if err != nil {
			p.fail(err)
			return
		}
		p.json(doc)
	}
}

// whyNeed is a colour and the tubes that could answer it.
type whyNeed struct {
	Target  string       `json:"target"`
	OneOf   []tubeSwatch `json:"oneOf"`
	Times   int          `json:"times"`   // as often it counts
	Without string       `json:"without"` // how near one comes without any of them
}

// why says why fewer will not do.
func why(ctx context.Context, session *solver.Session, a *asking) (any, error) {
	out := struct {
		Proof    string      `json:"proof"`
		Count    string      `json:"count"`
		Needs    []whyNeed   `json:"needs"`
		Palettes []offered   `json:"palettes"` // as small
		Reasons  []whyReason `json:"reasons"`  // what each tube is there for
	}{Needs: []whyNeed{}, Palettes: []offered{}, Reasons: []whyReason{}}
	if a.chosen != nil {
		learned, err := report.LearnChosen(ctx, session, &a.problem, a.chosen)
		if err != nil {
			return nil, err
		}
		a.doc.Teach(learned)
	} else {
		learned, err := report.LearnKept(ctx, session, &a.problem, a.kept, a.missed)
		if err != nil {
			return nil, err
		}
		a.doc.Teach(learned)
	}
	out.Proof, out.Count = a.doc.ProofSentence(), a.doc.CountSentence()
	for _, n := range a.doc.ShownNeeds() {
		out.Needs = append(out.Needs, whyNeed{n.Target, swatchesOf(a.doc.Swatches(n.OneOf)), max(n.Times, 1), n.BestDE.Sentence()})
	}
	for _, p := range a.doc.Palettes {
		out.Palettes = append(out.Palettes, offer(a.doc, p.Tubes, p.Price))
	}
	for _, r := range a.doc.Why {
		out.Reasons = append(out.Reasons, whyReason{a.doc.Names([]string{r.Tube})[0], a.doc.WhySentence(r)})
	}
	return out, nil
}

type whyReason struct {
	Tube  string `json:"tube"`
	Words string `json:"words"`
}

// tubeSwatch is a tube as a square of its colour.
type tubeSwatch struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Hex  string `json:"hex"`
}

func swatchesOf(tubes []report.TubeSwatch) []tubeSwatch {
	out := []tubeSwatch{}
	for _, t := range tubes {
		out = append(out, tubeSwatch{t.ID, t.Name, t.Masstone})
	}
	return out
}

// offered is a palette to take in one tap.
type offered struct {
	IDs   []string     `json:"ids"`
	Tubes []tubeSwatch `json:"tubes"`
	Price shown.Cents  `json:"price"`
}

func offer(doc *report.Choice, ids []string, price shown.Cents) offered {
	return offered{ids, swatchesOf(doc.Swatches(ids)), price}
}

// sure says which colours fail in which share of plausible boxes, what to swatch first and
// where each recipe lands.
func sure(ctx context.Context, session *solver.Session, a *asking) (any, error) {
	if err := a.learn(ctx, session); err != nil {
		return nil, err
	}
	palette := a.kept
	if a.chosen != nil {
		palette = &a.chosen.Palettes[0]
	}
	if err := a.doc.Steer(ctx, session, solver.UsualDraws); err != nil {
		return nil, err
	}
	record, err := a.box.record(palette.Tubes)
	if err != nil {
		return nil, err
	}
	if a.doc.SwatchFirst, err = learnt.First(ctx, session, palette, &a.scene, a.box.all, record, solver.UsualDraws); err != nil {
		return nil, err
	}
	type landing struct {
		Name string `json:"name"`
		*report.Landing
	}
	out := struct {
		Words    string              `json:"words"`
		Doubt    *solver.Doubt       `json:"doubt"`
		Reading  string              `json:"reading"` // what to swatch first
		First    *report.SwatchFirst `json:"first"`   // the same
		Landings []landing           `json:"landings"`
		Names    map[string]string   `json:"names"`
	}{Words: a.doc.DoubtSentence(), Doubt: a.doc.Doubt, Reading: a.doc.SwatchSentence(), First: a.doc.SwatchFirst, Landings: []landing{}, Names: map[string]string{}}
	for _, id := range a.doc.Palettes[0].Tubes {
		out.Names[id] = a.doc.Names([]string{id})[0]
	}
	for _, t := range a.doc.Palettes[0].Targets {
		if t.Landing != nil {
			out.Landings = append(out.Landings, landing{t.Name, t.Landing})
		}
	}
	return out, nil
}

// curvePoint is a palette on the curve.
type curvePoint struct {
	offered
	N         int              `json:"n"`
	Tolerance shown.Hundredths `json:"tolerance"`
	Knee      bool             `json:"knee"`
}

// curve follows the tightest tolerance over the numbers of tubes and the prices.
func (s *Server) curve(w http.ResponseWriter, r *http.Request) {
	q, a, err := s.readAsked(w, r)
	if err != nil {
		fail(w, err)
		return
	}
	p := newReply(w, r)
	var curve *solver.Curve
	err = s.hold(p, a, func(session *solver.Session) error {
		curve, err = session.Curve(r.Context(), a.problem.Limits, q.Scene.Tolerance, nil)
		return err
	})
	if err != nil {
		p.fail(err)
		return
	}
	doc := curves.NewCurve(a.words, &a.problem, curve)
	points := func(of []curves.CurvePoint) []curvePoint {
		out := []curvePoint{}
		for _, pt := range of {
			out = append(out, curvePoint{offered{pt.Palette, swatchesOf(doc.Swatches(pt.Palette)), pt.Price}, pt.Tubes, pt.Tolerance, pt.Knee})
		}
		return out
	}
	p.json(map[string]any{"points": points(doc.Points), "prices": points(doc.Prices), "words": doc.Words(), "leftOut": doc.LeftOut})
}

// proof certifies an answer and sends theorem and proofs as a zip of the folder that the
// proof command verifies.
func (s *Server) proof(w http.ResponseWriter, r *http.Request) {
	q, a, err := s.readAsked(w, r)
	if err != nil {
		fail(w, err)
		return
	}
	p := newStream(w, r)
	var packed []byte
	err = s.hold(p, a, func(session *solver.Session) error {
		if err := a.settle(r.Context(), session, q.Palette); err != nil {
			return err
		}
		packed, err = a.certified(r.Context(), session, func(done, all int) {
			p.out.send("progress", map[string]int{"done": done, "all": all})
		})
		return err
	})
	if err != nil {
		p.fail(err)
		return
	}
	p.file("proof.zip", "application/zip", packed)
}

// certified is the folder of an answer's proofs, packed.
func (a *asking) certified(ctx context.Context, session *solver.Session, watch func(done, all int)) ([]byte, error) {
	var made []solver.Proof
	var stated *proofs.Statement
	var err error
	if a.chosen != nil {
		if made, err = session.Certify(ctx, a.chosen, certain.DefaultCells, watch); err == nil {
			stated, err = proofs.OfAnswer(a.words.Title, &a.problem, session, a.chosen)
		}
	} else if made, err = session.CertifyMisses(ctx, a.kept.Tubes, a.missed, certain.DefaultCells, watch); err == nil {
		stated = proofs.OfPalette(a.words.Title, &a.problem, a.kept, a.missed)
	}
	if err != nil {
		return nil, err
	}
	folder, err := stated.Folder(ctx, stated.Certificates(made))
	if err != nil {
		return nil, err
	}
	var files []inZip
	for _, f := range folder.Files {
		files = append(files, inZip{"proof/" + f.Name, f.Data})
	}
	return archived(files)
}

// inZip is a file in an archive.
type inZip struct {
	name string
	data []byte
}

// archived makes a zip, the same bytes of the same files.
func archived(files []inZip) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f.name)
		if err == nil {
			_, err = w.Write(f.data)
		}
		if err != nil {
			return nil, fmt.Errorf("packing %s: %w", f.name, err)
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
