package main

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "whether the tubes named can reach a scene, and what would help",
		ArgsUsage: "SCENE.toml",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "the tubes to check, as `ID,ID,...`"},
		}, sightFlags(), handFlags(), baseFlags(), []cli.Flag{ownFlag(), strictFlag(), munsellFlag()}, certifyFlags(), outputFlags()),
		Action: check,
	}
}

func check(c *cli.Context) error {
	ids := flagList(c, "palette")
	if len(ids) == 0 {
		return userError("check wants the tubes to check; write --palette ID,ID,... (fewtubes tubes lists the ids)")
	}
	q, err := ask(c)
	if err != nil {
		return err
	}
	if err := checkCertify(c); err != nil {
		return err
	}
	if err := readBases(c, q.stock, &q.words.Measures); err != nil {
		return err
	}
	if ids, err = idsNamed(q.stock, "--palette", ids); err != nil {
		return err
	}
	if err := inPalette(&q.words.Measures, ids); err != nil {
		return err
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	sign := spin(c.App.ErrWriter, "mixing")
	palette, missed, err := session.Check(c.Context, ids, q.problem.Limits.Own)
	var learned *report.Learned
	var unproved error
	if err == nil {
		learned, err = q.learnToKeep(c, session, &palette, missed)
	}
	if err == nil && certifying(c) {
		unproved = certified(c, sign, func(watch func(done, all int)) ([]solver.Proof, error) {
			return session.CertifyMisses(c.Context, ids, missed, c.Int("cells"), watch)
		})
	}
	sign.done()
	if err != nil {
		return q.placed(c, err)
	}
	q.words.Limits = nil // the palette stands as it is
	doc := report.NewCheck(q.words, &q.problem, palette, missed)
	doc.Teach(learned)
	if c.Bool("munsell") {
		doc.ShowMunsell()
	}
	if err := show(c, q.from, doc, unproved); err != nil {
		return err
	}
	if len(missed) > 0 {
		return strictly(c, solver.SomeMissed)
	}
	return nil
}
