package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"fewtubes/cmd/fewtubes/internal/recession"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/urfave/cli/v2"
)

func recessionCommand() *cli.Command {
	return &cli.Command{
		Name:      "recession",
		Usage:     "whether the colours of a scene step back with distance",
		ArgsUsage: "SCENE.toml",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write an adjusted copy of the scene to `FILE`"},
			forceFlag(),
		},
		Action: checkRecession,
	}
}

func checkRecession(c *cli.Context) error {
	s, path, out, err := sceneToCopy(c)
	if err != nil {
		return err
	}
	text := recessionText(recession.Check(s.Targets), terminalStyle(c.App.Writer))
	if out == "" {
		return publish(c, "", nil, text)
	}
	adjusted, moved := recession.Adjusted(s)
	adjusted.Photos = pathsFrom(s.Photos, path, out)
	return publish(c, out, scene.Format(adjusted), text+movedText(moved))
}

func recessionText(warnings []recession.Warning, style terminal.Style) string {
	if len(warnings) == 0 {
		return "The planes step back as air makes them.\n"
	}
	var b strings.Builder
	for _, w := range warnings {
		b.WriteString(style.Paragraph(fmt.Sprintf("Usually %s, but %s", w.Rule, w.Words)))
	}
	b.WriteString(style.Paragraph("These are habits of painters, not laws: the motif may have it otherwise."))
	return b.String()
}

// pathsFrom names the photographs of one scene file as another would.
func pathsFrom(photos []scene.Photo, from, to string) []scene.Photo {
	out := append([]scene.Photo(nil), photos...)
	for i := range out {
		if file := filepath.FromSlash(out[i].File); !filepath.IsAbs(file) {
			out[i].File = relativeTo(to, filepath.Join(filepath.Dir(from), file))
		}
	}
	return out
}
