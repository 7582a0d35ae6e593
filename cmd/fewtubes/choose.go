package main

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func chooseCommand() *cli.Command {
	return &cli.Command{
		Name:      "choose",
		Usage:     "the smallest palettes that reach every colour of a scene",
		ArgsUsage: "SCENE.toml... or --picture P [PHOTO...] [SCENE.toml]",
		Flags:     slices.Concat(limitFlags(), handFlags(), baseFlags(), boxFlags(), []cli.Flag{fewestFlag(), saveFlag(), ownFlag(), strictFlag(), munsellFlag(), holdsFlag(), drawsFlag(), doubtFlag()}, certifyFlags(), pictureFlags(), moreFlags(), []cli.Flag{lidFlag()}, outputFlags()),
		Action:    choose,
	}
}

func choose(c *cli.Context) error {
	if c.IsSet("picture") {
		return choosePicture(c)
	}
	for _, name := range []string{"brush", "given-up"} {
		if c.IsSet(name) {
			return userError("--%s goes with --picture, which chooses for whole photographs; write --picture 99, or leave it out", name)
		}
	}
	q, err := ask(c)
	if err != nil {
		return err
	}
	if err := cmp.Or(checkCertify(c), q.checkLid(c), checkHolds(c), checkDraws(c)); err != nil {
		return err
	}
	if c.IsSet("holds") && q.problem.ByHand != solver.Freely {
		return userError("--holds mixes anew in every box, freely; leave it or by-hand out")
	}
	if c.IsSet("holds") && certifying(c) {
		return userError("--certify proves what holds for the tubes as they stand; leave it or --holds out")
	}
	if err := readBases(c, q.stock, &q.words.Measures); err != nil {
		return err
	}
	q.keep(baseTubes(&q.words.Measures))
	if err := errors.Join(q.count(c), q.checkSave(c)); err != nil {
		return err
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	looked := q.look(c.Context)
	sign := spin(c.App.ErrWriter, "choosing tubes")
	var sure *solver.Sure
	choosing := session.Choose
	if c.IsSet("holds") {
		choosing = func(ctx context.Context, l solver.Limits, p solver.Preference, tell func(solver.Progress)) (a *solver.Answer, err error) {
			a, sure, err = session.ChooseSure(ctx, l, p, c.Float64("holds"), c.Int("draws"), tell)
			return a, err
		}
	}
	answer, cut := choosing(c.Context, q.problem.Limits, q.problem.Prefer, sign.choosing)
	cut = q.placed(c, cut)
	var learned *report.Learned
	if cut == nil && len(answer.Palettes) > 0 {
		learned, err = q.learnAll(c, session, answer)
	}
	var fewest *solver.Palette
	if cut == nil && err == nil {
		fewest, cut = q.fewestInAll(c, session, answer)
	}
	if cut == nil && err == nil && certifying(c) {
		// Whatever becomes of the proofs, the answer stands; what was proved is marked.
		cut = certified(c, sign, func(watch func(done, all int)) ([]solver.Proof, error) {
			return session.Certify(c.Context, answer, c.Int("cells"), watch)
		}, func() (*proofs.Statement, error) { return proofs.OfAnswer(q.scene.Title, &q.problem, session, answer) })
	}
	if learned != nil && err == nil && c.Context.Err() == nil {
		err = learned.DoubtChosen(c.Context, session, answer, c.Int("draws"), onlyFirst(c))
	}
	var covered report.Covered
	if cut == nil && err == nil && len(answer.Palettes) > 0 {
		covered, err = looked.cover(c.Context, session, answer.Palettes[0].Tubes, &q.problem.Limits)
	}
	sign.done()
	if answer == nil || err != nil {
		return errors.Join(cut, err)
	}
	doc := report.NewChoice(q.words, &q.problem, answer)
	doc.Assure(sure)
	doc.Covered = covered
	if c.Bool("json") {
		doc.PlanOthers()
	}
	if learned != nil {
		doc.Teach(learned)
	}
	doc.OfferFewest(fewest)
	if c.Bool("doubt") && learned != nil {
		err = q.steer(c, doc, session, &answer.Palettes[0])
	}
	if err != nil {
		return err
	}
	if c.Bool("munsell") {
		doc.ShowMunsell()
	}
	var unwritten error
	if len(answer.Palettes) > 0 {
		unwritten = q.writeLid(c, &answer.Palettes[0])
	}
	if err := show(c, q.from, doc, cut, unwritten); err != nil {
		return err // the best found by then has been shown
	}
	if c.Bool("save") {
		if err := q.save(c, answer.Palettes[0].Tubes); err != nil {
			return err
		}
	}
	if sure != nil && !sure.Reached {
		return strictly(c, solver.SomeMissed)
	}
	return strictly(c, answer.Status)
}

// strictFlag goes with every command whose answer may miss a colour.
func strictFlag() cli.Flag {
	return &cli.BoolFlag{Name: "strict", Usage: "end with exit code 3 when a colour is missed", DisableDefaultText: true}
}

// strictly ends a --strict run whose answer misses a colour.
func strictly(c *cli.Context, status solver.Status) error {
	if c.Bool("strict") && status == solver.SomeMissed {
		return errMissed
	}
	return nil
}
