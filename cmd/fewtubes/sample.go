package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"

	"github.com/urfave/cli/v2"
)

// mostTargets is more than anyone lays out; beyond it sampling is only slow.
const mostTargets = 200

func sampleCommand() *cli.Command {
	return &cli.Command{
		Name:      "sample",
		Usage:     "the colours of photographs as a scene file",
		ArgsUsage: "PHOTO[:PLANE=FROM:TO,...]... or SCENE.toml",
		Description: "Clusters of like colours come first. A palette is chosen for them among all the tubes, and where\n" +
			"it misses more than 3 % of what they all reach of a photograph, colours of that take the place of some.",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "targets", Aliases: []string{"n"}, Value: 14, Usage: "how many `COLOURS`, over all photographs"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the scene to `FILE`"},
			&cli.StringSliceFlag{Name: "plane", Usage: "a plane and its heights from the top, `PLANE=FROM:TO`, such as distance=0:0.35, in photographs that have none of their own; may be given several times"},
			&cli.StringSliceFlag{Name: "crop", Usage: "sample a part of a photograph, `PHOTO=LEFT,TOP,RIGHT,BOTTOM`, such as detail.jpg=0.1,0.2,0.9,1; may be given several times"},
			&cli.BoolFlag{Name: "fit-values", Value: true, Usage: "move the values of each photograph into what paint shows"},
			pointsFlag(),
			&cli.BoolFlag{Name: "as-seen", Usage: "leave the values as they are in the photograph", DisableDefaultText: true},
			forceFlag(),
		},
		Action: samplePhotos,
	}
}

func samplePhotos(c *cli.Context) error {
	options, err := sampleOptions(c)
	if err != nil {
		return err
	}
	photos, from, err := photographsOf(c)
	if err != nil {
		return err
	}
	out, inputs := c.String("output"), c.Args().Slice()
	for _, p := range photos {
		inputs = append(inputs, p.File)
	}
	if err := checkOutput(out, c.Bool("force"), inputs...); err != nil {
		return err
	}
	done := working(c.App.ErrWriter, "looking at the photographs")
	s, err := sampleFiles(c, photos, out, options)
	done()
	if err != nil {
		return err
	}
	text := keepRest(&s, &from) + sampledText(&s, options.Curve != nil, terminalStyle(c.App.Writer))
	if err := publish(c, out, scene.Format(s), text); err != nil {
		return err
	}
	if out == "" {
		fmt.Fprintln(c.App.ErrWriter, "Nothing was written: -o scene.toml keeps these colours as a scene.")
	}
	return nil
}

func sampleOptions(c *cli.Context) (o sample.Options, err error) {
	o = sample.Options{Targets: c.Int("targets"), FitValues: c.Bool("fit-values") && !c.Bool("as-seen")}
	if o.Targets < 1 || o.Targets > mostTargets {
		return o, userError("--targets %d is no number of colours to look for; give one from 1 to %d", o.Targets, mostTargets)
	}
	if o.Curve, err = pointsOf(c); err != nil {
		return o, err
	}
	if o.Stock, err = catalog.Builtin(); err != nil {
		return o, err
	}
	if o.Curve != nil && c.Bool("as-seen") {
		return o, userError("sample takes --points or --as-seen, not both; leave one out")
	}
	for _, text := range flagList(c, "plane") {
		band, err := scene.ParsePlaneShape(text)
		if err != nil {
			return o, userError("--plane %s: %w; write it as in distance=0:0.35", text, err)
		}
		o.Planes = append(o.Planes, band)
	}
	return o, nil
}

func sampleFiles(c *cli.Context, photos []scene.Photo, out string, o sample.Options) (scene.Scene, error) {
	var sources []sample.Source
	var titles []string
	for _, p := range photos {
		picture, err := openPhoto(c, p.File, sample.WorkingSize)
		if err != nil {
			return scene.Scene{}, err
		}
		for _, note := range picture.Notes {
			fmt.Fprintf(c.App.ErrWriter, "%s: %s\n", plain.Clean(p.File), note)
		}
		titles = append(titles, p.Name)
		sources = append(sources, sample.Source{Name: p.Name, File: relativeTo(out, p.File), Picture: picture, Planes: p.Planes, Distances: p.Distances, Crop: p.Crop})
	}
	s, err := sample.Sample(c.Context, sources, o)
	s.Title = sceneTitle(titles)
	return s, err
}

// keepRest keeps what a scene says besides its colours where its photographs are
// sampled anew, and says which colours are not kept.
func keepRest(s, from *scene.Scene) string {
	if len(from.Photos) == 0 {
		return ""
	}
	targets, photos := s.Targets, s.Photos
	typed := 0
	for _, t := range from.Targets {
		if t.At == nil {
			typed++
		}
	}
	*s = *from
	s.Targets, s.Photos = targets, photos
	if typed == 0 {
		return ""
	}
	return fmt.Sprintf("Not kept: %s that no photograph holds; fewtubes join brings scenes together.\n", howMany(typed, "colour"))
}

// photoName is the file name without folder and ending, told apart by a number.
func photoName(path string, taken map[string]bool) string {
	base := plain.Clean(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)))
	name := base
	for n := 2; taken[name]; n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	taken[name] = true
	return name
}

// relativeTo is a path as the scene file at out would name it.
func relativeTo(out, path string) string {
	if out == "" || filepath.IsAbs(path) {
		return filepath.ToSlash(path)
	}
	rel, err := filepath.Rel(filepath.Dir(out), path)
	if err != nil {
		return filepath.ToSlash(path)
	}
	return filepath.ToSlash(rel)
}

func sceneTitle(names []string) string {
	title := strings.NewReplacer("-", " ", "_", " ").Replace(strings.Join(names, ", "))
	for i, r := range title {
		return string(unicode.ToUpper(r)) + title[i+len(string(r)):]
	}
	return title
}

func sampledText(s *scene.Scene, byHand bool, style terminal.Style) string {
	var items []report.Sampled
	for _, t := range s.Targets {
		item := report.Sampled{Name: t.Name, Lab: t.Lab, Area: t.Area}
		if t.At != nil {
			item.Where = shown.Ninth(t.At.X, t.At.Y)
			if len(s.Photos) > 1 {
				item.Where += " of " + t.At.Photo
			}
		}
		items = append(items, item)
	}
	var b strings.Builder
	b.WriteString(report.SampledText(items, style))
	for _, p := range s.Photos {
		b.WriteString(valuesSentence(p.Name, p.Values, byHand))
	}
	return b.String()
}

// valuesSentence says what was done to the values of a photograph.
func valuesSentence(name string, c *values.Curve, byHand bool) string {
	switch {
	case c == nil:
		return fmt.Sprintf("Values of %s: as seen.\n", name)
	case byHand:
		return fmt.Sprintf("Values of %s: moved by the points %s.\n", name, c.Points())
	}
	return fmt.Sprintf("Values of %s: %.1f to %.1f moved to %.1f to %.1f, what paint shows; %.1f becomes %.1f (--as-seen leaves them, --points sets them).\n",
		name, c.From[0]/10, c.From[2]/10, c.To[0]/10, c.To[2]/10, c.From[1]/10, c.To[1]/10)
}
