package main

import (
	"errors"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/film"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

const scenes = "the scene's" // default of a flag that stands for a limit of the scene

// limitFlags are the limits of a scene as flags. A number takes the place of
// the scene's; a list is added to it, but for --only, which replaces it.
func limitFlags() []cli.Flag {
	return append([]cli.Flag{
		&cli.IntFlag{Name: "max-tubes", Usage: "at most `N` tubes", DefaultText: scenes},
		&cli.Float64Flag{Name: "budget", Usage: "spend at most `X` currency units; tubes owned cost nothing", DefaultText: scenes},
		&cli.StringSliceFlag{Name: "avoid", Usage: "no tube of the classes in `LIST`, such as cadmium,lead"},
		&cli.StringSliceFlag{Name: "keep", Usage: "the tubes in `LIST` must be in the palette"},
		&cli.StringSliceFlag{Name: "never", Usage: "the tubes in `LIST` must not"},
		&cli.StringSliceFlag{Name: "only", Usage: "choose among the tubes in `LIST` alone"},
		&cli.StringFlag{Name: "prefer", Usage: "rank palettes of one size by `WHAT`: usual, accuracy, price, hazards, lightfastness or holds", DefaultText: scenes},
	}, sightFlags()...)
}

// sightFlags say how mixes are made and judged.
func sightFlags() []cli.Flag {
	return []cli.Flag{
		&cli.Float64Flag{Name: "tolerance", Usage: "a colour counts as reached within `DE` of CIEDE2000", DefaultText: scenes},
		&cli.IntFlag{Name: "paints-per-mix", Usage: "at most `M` paints in a mix", DefaultText: scenes},
		&cli.BoolFlag{Name: "by-hand", Usage: "count a colour as reached only by straight tubes and touches, three paints and a white at most; with --prepared typed, one let down in the white too", DefaultText: scenes},
		lightFlag(""), surfaceFlag(""),
	}
}

// limitNames are the flags that bound the choice of tubes.
var limitNames = []string{"max-tubes", "budget", "avoid", "keep", "never", "only", "prefer"}

// applyLimits lays every limit flag over the scene and checks what comes of it.
func applyLimits(c *cli.Context, s *scene.Scene) error {
	l := &s.Limits
	if c.IsSet("max-tubes") {
		if l.MaxTubes = c.Int("max-tubes"); l.MaxTubes < 1 {
			return userError("--max-tubes %d is no palette; write 1 or more", l.MaxTubes)
		}
	}
	if c.IsSet("budget") {
		budget := c.Float64("budget")
		l.Budget = &budget
	}
	if c.IsSet("prefer") {
		l.Prefer = solver.Preference(c.String("prefer"))
	}
	l.Avoid = append(l.Avoid, flagList(c, "avoid")...)
	l.Keep = append(l.Keep, flagList(c, "keep")...)
	l.Never = append(l.Never, flagList(c, "never")...)
	if c.IsSet("only") {
		if l.Only = flagList(c, "only"); len(l.Only) == 0 {
			return userError("--only names no tube; write it as in --only titanium-white,yellow-ochre")
		}
	}
	for _, list := range []*[]string{&l.Avoid, &l.Keep, &l.Never, &l.Only} {
		*list = once(*list)
	}
	return applySight(c, s)
}

// once drops what is named again.
func once(words []string) (out []string) {
	for _, w := range words {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// applySight lays the flags over the scene that say how mixes are judged.
func applySight(c *cli.Context, s *scene.Scene) error {
	if c.IsSet("paints-per-mix") {
		if s.Limits.PaintsPerMix = c.Int("paints-per-mix"); s.Limits.PaintsPerMix < 1 {
			return userError("--paints-per-mix %d is no mix; write 1 or more", s.Limits.PaintsPerMix)
		}
	}
	if c.IsSet("by-hand") {
		s.Limits.ByHand = c.Bool("by-hand")
	}
	if c.IsSet("tolerance") {
		s.Tolerance = c.Float64("tolerance")
	}
	if c.IsSet("light") {
		s.Light = strings.ToUpper(c.String("light"))
	}
	if c.IsSet("surface") {
		s.Surface = film.View(c.String("surface"))
	}
	return flagTrouble(s.Check())
}

// flagTrouble names the flag where the scene alone was right and the flags laid
// over it made it wrong.
func flagTrouble(err error) error {
	var wrong *scene.Error
	if !errors.As(err, &wrong) {
		return err
	}
	text := "--" + strings.TrimPrefix(wrong.Field, "limits.") + ": " + wrong.Msg
	if wrong.Remedy != "" {
		text += "; " + wrong.Remedy
	}
	return &mistake{text, err}
}
