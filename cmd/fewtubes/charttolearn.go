package main

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/sheet"

	"github.com/urfave/cli/v2"
)

// chartToLearn prints the mixtures that would teach most.
func chartToLearn(c *cli.Context) error {
	if c.NArg() > 0 {
		return userError("chart: %q is not a flag; name the tubes as in --palette titanium-white,ultramarine-blue, or the box as in --box box.toml", c.Args().First())
	}
	path, paper, err := sheetOutput(c, c.String("own"), c.String("box"), c.String("scene"))
	if err != nil {
		return err
	}
	if err := checkTitle(c); err != nil {
		return err
	}
	by, ok := readings.ParseSeenBy(c.String("seen-by"))
	if !ok {
		return userError("--seen-by %q is not known; write instrument, chip or camera", c.String("seen-by"))
	}
	light, view, err := sightOf(c)
	if err != nil {
		return err
	}
	all, err := stock(c)
	if err != nil {
		return err
	}
	tubes := owned(all)
	switch {
	case c.IsSet("palette"):
		if tubes, err = paletteTubes(c, all); err != nil {
			return err
		}
	case len(tubes) < 2 || len(tubes) > catalogued:
		return userError("chart --learn wants two tubes or more; name them as in --palette titanium-white,ultramarine-blue, or the box that holds them as in --box box.toml")
	}
	asked := learnt.Common(tubes, false)
	if name := c.String("scene"); name != "" {
		s, err := scene.Read(name)
		if err != nil {
			return err
		}
		if asked, err = learnt.ForScene(&s, tubes, all); err != nil {
			return err
		}
	}
	record, err := lessonOf(c, idsOf(tubes))
	if err != nil {
		return err
	}
	made, err := learnt.ToPaint(c.Context, tubes, record, asked, by.Noise())
	if err != nil {
		return err
	}
	if len(made.Told) == 0 {
		return userError("chart --learn: nothing about these tubes is in doubt that such mixtures would tell; there is nothing to learn")
	}
	title := c.String("title")
	if !c.IsSet("title") {
		title = learnt.SheetTitle
	}
	pdf, err := sheet.NewToPaint(title, tubes, made.Parts, made.Words, made.Within, light, all.Surface(view)).PDF(paper)
	if err != nil {
		return err
	}
	var text strings.Builder
	fmt.Fprintf(&text, "What would teach most, read by %s, for %d %s (left: of what is in doubt about their colours)\n", by, len(asked.List), plain.Clean(asked.What))
	for i, one := range made.Told {
		fmt.Fprintf(&text, "  %d  left %3.0f %%  %s\n", i+1, 100*one.Left, plain.Clean(made.Trials.Words(one.Mixture)))
	}
	fmt.Fprintf(&text, "%s: %s on %s. Print it at actual size, paint, and write each colour down with fewtubes measure --pile.\n", plain.Clean(path), howMany(len(made.Told), "mixture"), paper.Name)
	return publish(c, path, pdf, text.String())
}

// catalogued are more tubes than anybody owns: that many come from no box.
const catalogued = 60

// lessonOf is what the record of the painter's file taught, these tubes among those of it.
func lessonOf(c *cli.Context, ids []string) (*owntubes.Lesson, error) {
	builtin, err := catalog.Builtin()
	if err != nil {
		return nil, err
	}
	f := owntubes.New("")
	if path := kitOf(c).path; path != "" {
		if f, err = owntubes.Read(path); err != nil {
			return nil, err
		}
	}
	return f.TeachAmong(builtin, ids)
}
