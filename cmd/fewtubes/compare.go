package main

import (
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func compareCommand() *cli.Command {
	palette := &cli.StringSliceFlag{Name: "palette", Usage: "a palette to compare, as `NAME=ID,ID,...`; may be given again"}
	return &cli.Command{
		Name:      "compare",
		Usage:     "two to six palettes side by side: given, or chosen with and without limits",
		ArgsUsage: "SCENE.toml...",
		Description: "The palette chosen for the scene stands beside the one chosen under the limits given as flags:\n" +
			"\"fewtubes compare scene.toml --avoid cadmium\" shows what is lost without cadmiums. With --palette\n" +
			"given twice or more and no limits, only those are compared.",
		Flags:  slices.Concat([]cli.Flag{palette}, limitFlags(), handFlags(), boxFlags(), []cli.Flag{ownFlag(), strictFlag(), cautionsFlag()}, outputFlags()),
		Action: compare,
	}
}

const fewestCompared, mostCompared = 2, 6

func compare(c *cli.Context) error {
	given, err := namedPalettes(c.StringSlice("palette"))
	if err != nil {
		return err
	}
	q, limits, err := askWithout(c)
	if err != nil {
		return err
	}
	if n := len(given) + q.columns(len(given), limits); n < fewestCompared || n > mostCompared {
		return userError("compare takes two to six palettes, not %d; give --palette NAME=ID,ID more than once, or a limit such as --avoid cadmium", n)
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	looked := q.look(c.Context)
	sign := spin(c.App.ErrWriter, "comparing palettes")
	compared, err := q.compare(c, session, given, limits, sign.choosing)
	covered := make([]report.Covered, len(given)+2)
	if err == nil {
		for i := range compared.Palettes {
			if covered[i], err = looked.cover(c.Context, session, compared.Palettes[i].Palette.Tubes, &q.problem.Limits); err != nil {
				break
			}
		}
	}
	sign.done()
	if err != nil {
		return q.placed(c, err)
	}
	doc := report.NewComparison(q.words, &q.problem, compared)
	doc.Cover(covered)
	if err := show(c, q.from, doc); err != nil {
		return err
	}
	if doc.AnyMissed() {
		return strictly(c, solver.SomeMissed)
	}
	return nil
}

// namedPalette is a palette given on the command line.
type namedPalette struct {
	name string
	ids  []string // or other names
}

// namedPalettes reads NAME=ID,ID,...; without a name a palette is called by its
// place.
func namedPalettes(given []string) ([]namedPalette, error) {
	var out []namedPalette
	for _, text := range given {
		name, list, named := strings.Cut(text, "=")
		if !named {
			name, list = "palette "+string(rune('A'+len(out)%26)), text
		}
		name = strings.TrimSpace(name)
		ids := splitList(list)
		switch {
		case name == "" || len(ids) == 0:
			return nil, userError("--palette %s names no tube; write it as in mine=titanium-white,yellow-ochre", text)
		case !plain.Line(name):
			return nil, userError("--palette %s: its name holds a character that steers what shows it; write it on one line in plain letters", text)
		case slices.ContainsFunc(out, func(p namedPalette) bool { return p.name == name }):
			return nil, userError("--palette %s: the name %q is given twice; give each palette its own", text, name)
		}
		out = append(out, namedPalette{name, ids})
	}
	return out, nil
}

// askWithout asks without the flags' limits, and returns those of the scene and
// the flags together, nil when the flags set none. With a box tubes are counted as choose
// counts them.
func askWithout(c *cli.Context) (*question, *solver.Limits, error) {
	q, err := askFor(c, applySight, stock)
	if err != nil {
		return nil, nil, err
	}
	q.problem.Limits.FewestToBuy = kitOf(c).box
	q.words.Limits = report.LimitWords(&q.problem.Limits)
	if !slices.ContainsFunc(limitNames, c.IsSet) {
		return q, nil, nil
	}
	with, err := askFor(c, applyLimits, func(*cli.Context) (*catalog.Catalogue, error) { return q.stock, nil })
	if err != nil {
		return nil, nil, err
	}
	with.problem.Limits.FewestToBuy = kitOf(c).box
	return q, &with.problem.Limits, nil
}

// columns counts the palettes to choose besides those given.
func (q *question) columns(given int, limits *solver.Limits) int {
	switch {
	case limits != nil:
		return 2
	case given < fewestCompared:
		return 1
	}
	return 0
}

// compare fills the columns from one session, so that what is found out for one
// serves the others.
func (q *question) compare(c *cli.Context, session *solver.Session, given []namedPalette, limits *solver.Limits, tell func(solver.Progress)) (*solver.Comparison, error) {
	var named []solver.Named
	for _, g := range given {
		ids, err := idsNamed(q.stock, "--palette", g.ids)
		if err != nil {
			return nil, err
		}
		p, _, err := session.Check(c.Context, ids, q.problem.Limits.Own)
		if err != nil {
			return nil, err
		}
		named = append(named, solver.Named{Name: g.name, Palette: p})
	}
	choose := func(name string, l *solver.Limits) error {
		a, err := session.Choose(c.Context, *l, q.problem.Prefer, tell)
		switch {
		case err != nil:
			return err
		case len(a.Palettes) == 0:
			return userError("%s: no tube is allowed under these limits; allow one", name)
		}
		named = append(named, solver.Named{Name: name, Palette: a.Palettes[0]})
		return nil
	}
	if q.columns(len(given), limits) > 0 {
		if err := choose("chosen", &q.problem.Limits); err != nil {
			return nil, err
		}
	}
	if limits != nil {
		name := difference(limits, &q.problem.Limits)
		if err := choose(name, limits); err != nil {
			return nil, err
		}
	}
	return session.Compare(c.Context, named)
}

// difference is what the limits of the flags add to those of the scene.
func difference(all, scene *solver.Limits) string {
	added := *all
	if added.MaxTubes == scene.MaxTubes {
		added.MaxTubes = 0
	}
	if added.Budget == scene.Budget {
		added.Budget = solver.Budget{}
	}
	if slices.Equal(added.Only, scene.Only) {
		added.Only = nil
	}
	added.Avoid = without(added.Avoid, scene.Avoid)
	added.Keep = without(added.Keep, scene.Keep)
	added.Never = without(added.Never, scene.Never)
	added.Own, added.AtMostOne, added.FewestToBuy = nil, nil, false
	words := report.LimitWords(&added)
	if len(words) == 0 {
		return "chosen under the same limits"
	}
	return strings.Join(words, ", ")
}

func without(all, known []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(w string) bool { return slices.Contains(known, w) })
}
