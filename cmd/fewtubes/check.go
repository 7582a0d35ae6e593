package main

import (
	"cmp"
	"slices"

	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "whether the tubes named can reach a scene, and what would help",
		ArgsUsage: "SCENE.toml...",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "the tubes to check, as `ID,ID,...`", DefaultText: "those saved in the scene, or else those you own"},
			&cli.StringSliceFlag{Name: "never", Usage: "the tubes in `LIST` are missing"},
		}, sightFlags(), handFlags(), baseFlags(), boxFlags(), []cli.Flag{ownFlag(), strictFlag(), munsellFlag(), drawsFlag(), doubtFlag()}, certifyFlags(), moreFlags(), []cli.Flag{lidFlag()}, outputFlags()),
		Action: check,
	}
}

// toCheck are the tubes to check: those named, those of the box named, those saved in
// the scene, or those owned; without the missing.
func (q *question) toCheck(c *cli.Context) ([]string, error) {
	names, where := flagList(c, "palette"), "--palette"
	if len(names) == 0 && c.String("box") == "" {
		names, where = q.scene.Palette, q.scene.Place("palette")
	}
	if len(names) == 0 {
		names = once(append(idsOf(owned(q.stock)), q.problem.Limits.Own...))
	}
	if len(names) == 0 {
		return nil, userError("check wants the tubes to check; write --palette ID,ID,... (fewtubes tubes lists the ids), or --box FILE")
	}
	ids, err := idsNamed(q.stock, where, names)
	if err != nil {
		return nil, err
	}
	missing, err := idsNamed(q.stock, "--never", flagList(c, "never"))
	if err != nil {
		return nil, err
	}
	if left := without(ids, missing); len(left) > 0 {
		return left, nil
	}
	return nil, userError("--never leaves no tube to check; leave one in")
}

func check(c *cli.Context) error {
	q, err := ask(c)
	if err != nil {
		return err
	}
	ids, err := q.toCheck(c)
	if err != nil {
		return err
	}
	if err := cmp.Or(checkCertify(c), q.checkLid(c), checkDraws(c)); err != nil {
		return err
	}
	if err := readBases(c, q.stock, &q.words.Measures); err != nil {
		return err
	}
	if err := inPalette(&q.words.Measures, ids); err != nil {
		return err
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	looked := q.look(c.Context)
	sign := spin(c.App.ErrWriter, "mixing")
	palette, missed, err := session.Check(c.Context, ids, q.problem.Limits.Own)
	var learned *report.Learned
	var unproved error
	if err == nil {
		learned, err = q.learnToKeep(c, session, &palette, missed)
	}
	if err == nil {
		err = learned.DoubtKept(c.Context, session, &palette, c.Int("draws"), onlyFirst(c))
	}
	var covered report.Covered
	if err == nil {
		covered, err = looked.cover(c.Context, session, ids, &solver.Limits{})
	}
	if err == nil && certifying(c) {
		unproved = certified(c, sign, func(watch func(done, all int)) ([]solver.Proof, error) {
			return session.CertifyMisses(c.Context, ids, missed, c.Int("cells"), watch)
		}, func() (*proofs.Statement, error) {
			return proofs.OfPalette(q.scene.Title, &q.problem, &palette, missed), nil
		})
	}
	sign.done()
	if err != nil {
		return q.placed(c, err)
	}
	q.words.Limits = nil // the palette stands as it is
	doc := report.NewCheck(q.words, &q.problem, palette, missed)
	doc.Teach(learned)
	doc.Covered = covered
	if c.Bool("doubt") {
		if err := q.steer(c, doc, session, &palette); err != nil {
			return err
		}
	}
	if c.Bool("munsell") {
		doc.ShowMunsell()
	}
	if err := show(c, q.from, doc, unproved, q.writeLid(c, &palette)); err != nil {
		return err
	}
	if len(missed) > 0 {
		return strictly(c, solver.SomeMissed)
	}
	return nil
}
