package main

import (
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/gamut/colour"

	"github.com/urfave/cli/v2"
)

func correctCommand() *cli.Command {
	return &cli.Command{
		Name:  "correct",
		Usage: "what to add to a pile, which can only be added to, or whether to start afresh",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "have", Usage: "the pile, as `PARTS:ID,PARTS:ID,...`"},
			&cli.StringFlag{Name: "want", Usage: "the `COLOUR` it should have"},
			&cli.StringFlag{Name: "seen", Usage: "the `COLOUR` it is seen to have", DefaultText: "as the film model has it"},
			&cli.StringSliceFlag{Name: "palette", Usage: "add from the tubes in `LIST`, or from all", DefaultText: "those of --own and of the pile"},
			&cli.StringFlag{Name: "recipes", Value: plainRecipes, Usage: "add what a knife measures, or exact amounts: `KIND` is plain or exact"},
			&cli.Float64Flag{Name: "tolerance", Value: mixing.DefaultTolerance, Usage: "near enough is within `DE` of CIEDE2000"},
		}, tableFlags()),
		Action: correct,
	}
}

// pileJob is what correct is asked.
type pileJob struct {
	have      []mixing.Amount
	want      colour.Lab
	seen      *colour.Lab
	tolerance float64
}

func correct(c *cli.Context) error {
	all, sight, err := atTable(c)
	if err != nil {
		return err
	}
	job, err := readPileJob(c, all)
	if err != nil {
		return err
	}
	kind, err := measures(c)
	if err != nil {
		return err
	}
	palette, err := additions(c, all, job.have)
	if err != nil {
		return err
	}
	table, err := mixing.NewTable(all.Tubes(), sight)
	if err != nil {
		return err
	}
	done := working(c.App.ErrWriter, "looking for the least addition")
	var found mixing.Correction
	if kind.Exact {
		found, err = table.Correct(job.have, job.want, job.seen, palette, job.tolerance)
	} else {
		found, err = table.Mend(c.Context, job.have, job.want, job.seen, palette, job.tolerance)
	}
	done()
	if err != nil {
		return err
	}
	return show(c, nil, piles.NewCorrection(table, &found, c.Bool("munsell")))
}

func readPileJob(c *cli.Context, all *catalog.Catalogue) (job pileJob, err error) {
	if c.NArg() > 0 {
		return job, userError("correct: %q is not a flag; write fewtubes correct --have 3:ultramarine-blue,1:yellow-ochre --want \"lab(40 4 12)\"", c.Args().First())
	}
	if !c.IsSet("have") {
		return job, userError("correct wants the pile; write --have 3:ultramarine-blue,1:yellow-ochre")
	}
	if job.have, err = readAmounts(all, "--have", c.StringSlice("have")...); err != nil {
		return job, err
	}
	var given bool
	if job.want, given, err = colourFlag(c, "want"); err != nil {
		return job, err
	}
	if !given {
		return job, userError("correct wants the colour to reach; write --want \"lab(40 4 12)\"")
	}
	seen, given, err := colourFlag(c, "seen")
	if given {
		job.seen = &seen
	}
	if err != nil {
		return job, err
	}
	job.tolerance = c.Float64("tolerance")
	return job, checkTolerance(job.tolerance)
}

func checkTolerance(de float64) error {
	if !(de > 0) || math.IsInf(de, 0) {
		return userError("--tolerance: %v is no CIEDE2000 difference; write a number over 0, such as 3", de)
	}
	return nil
}

// additions are the tubes that may be added: those of --palette, all where it says
// so, else the painter's own and those of the pile.
func additions(c *cli.Context, all *catalog.Catalogue, have []mixing.Amount) ([]string, error) {
	if slices.Equal(flagList(c, "palette"), []string{"all"}) {
		return idsOf(all.Tubes()), nil
	}
	tubes, err := paletteOf(c, all)
	if err != nil {
		return nil, err
	}
	ids := idsOf(tubes)
	switch {
	case c.IsSet("palette"):
		return ids, nil
	case len(tubes) == 0:
		return nil, userError("correct wants the tubes you may add; write --palette ID,ID,... or --own FILE, or --palette all (fewtubes tubes lists the ids)")
	}
	for _, a := range have {
		if !slices.Contains(ids, a.ID) {
			ids = append(ids, a.ID)
		}
	}
	return ids, nil
}
