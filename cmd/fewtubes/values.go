package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"
	"slices"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/portable"

	"github.com/urfave/cli/v2"
)

func valuesCommand() *cli.Command {
	return &cli.Command{
		Name:      "values",
		Usage:     "plan a picture in few values, or compare a painting's with those of its reference",
		ArgsUsage: "REFERENCE PAINTING, or PHOTO or SCENE.toml for a plan, or --study REFERENCE",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "corners", Usage: "the painting's `CORNERS` in its photograph, top left, top right, bottom right, bottom left, as fractions: \"0.1,0.1 0.9,0.12 0.92,0.88 0.08,0.9\" (looked for when left out)"},
			&cli.StringFlag{Name: "grid", Value: "4x3", Usage: "zones, `COLUMNSxROWS`"},
			&cli.IntFlag{Name: "levels", Value: 4, Usage: "flat `VALUES` in the plan or the study, 2 to 5", DefaultText: fmt.Sprintf("4, for a study %d even ones", values.StudySteps)},
			&cli.StringFlag{Name: "painting-card", Usage: "grey card beside the painting, `X,Y,RADIUS` in fractions"},
			&cli.StringFlag{Name: "reference-card", Usage: "grey card in the reference, `X,Y,RADIUS` in fractions"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "draw both side by side, the plan or the study into `FILE`.png; a plan into .pdf, too"},
			&cli.StringFlag{Name: "paper", Value: "A4", Usage: "paper `SIZE` of a plan: A4 or Letter"},
			&cli.BoolFlag{Name: "json", Usage: "print JSON", DisableDefaultText: true},
			&cli.BoolFlag{Name: "study", Usage: "find the smallest palette for a study of the reference in greys", DisableDefaultText: true},
			&cli.StringSliceFlag{Name: "palette", Usage: "mix the study from the tubes in `LIST` instead of the smallest palette"},
			&cli.StringSliceFlag{Name: "keep", Usage: "the tubes in `LIST` must be in the palette of the study"},
			ownFlag(),
			forceFlag(),
		}, moreFlags()...),
		Action: compareValues,
	}
}

// Of the flags of values, those a study has no use for and those it alone has.
var (
	comparisonFlags = []string{"corners", "grid", "painting-card", "reference-card"}
	studyFlags      = []string{"palette", "keep", "own", "more", "cautions"}
)

func compareValues(c *cli.Context) error {
	if c.Bool("study") {
		if name := firstSet(c, comparisonFlags); name != "" {
			return userError("--%s says how a painting is compared, and a study has none; leave it out", name)
		}
		return studyValues(c)
	}
	if name := firstSet(c, studyFlags); name != "" {
		return userError("--%s is for a study; write --study too, or leave it out", name)
	}
	if c.NArg() == 1 {
		if name := firstSet(c, comparisonFlags); name != "" {
			return userError("--%s says how a painting is compared, and a plan has none; leave it out, or name the painting too", name)
		}
		return planValues(c)
	}
	if c.NArg() != 2 {
		return userError("values takes two photographs, the reference and the painting, or one, or a scene, to plan; name them as in fewtubes values reference.jpg painting.jpg")
	}
	options, err := valuesOptions(c)
	if err != nil {
		return err
	}
	out, err := boardOutput(c)
	if err != nil {
		return err
	}
	var pictures [2]*photo.Picture
	for i := range pictures {
		if pictures[i], err = openForValues(c, c.Args().Get(i)); err != nil {
			return err
		}
	}
	compared, err := values.Compare(pictures[0], pictures[1], options)
	if err != nil {
		return userError("values: %w", err)
	}
	if out != "" {
		if err := writePNG(c, out, compared.Board()); err != nil {
			return err
		}
	}
	if c.Bool("json") {
		return printJSON(c, valuesDocument(compared, options))
	}
	return publish(c, "", nil, compared.Text(options))
}

// firstSet is the first of some flags that is given, or nothing.
func firstSet(c *cli.Context, names []string) string {
	if i := slices.IndexFunc(names, c.IsSet); i >= 0 {
		return names[i]
	}
	return ""
}

// boardOutput is the file to draw into, which may be none.
func boardOutput(c *cli.Context) (string, error) {
	out := c.String("output")
	if out != "" && !strings.HasSuffix(strings.ToLower(out), ".png") {
		return "", userError("%s: the picture is a PNG; name the file something.png", out)
	}
	return out, checkOutput(out, c.Bool("force"), inputsOf(c)...)
}

// openForValues opens a photograph and tells what of it could not be honoured.
func openForValues(c *cli.Context, path string) (*photo.Picture, error) {
	picture, err := openPhoto(c, path, values.CompareSize)
	if err != nil {
		return nil, err
	}
	for _, note := range picture.Notes {
		fmt.Fprintf(c.App.ErrWriter, "%s: %s\n", plain.Clean(path), note)
	}
	return picture, nil
}

func valuesOptions(c *cli.Context) (o values.Options, err error) {
	columns, rows, ok := strings.Cut(c.String("grid"), "x")
	o.Columns, _ = strconv.Atoi(columns)
	o.Rows, _ = strconv.Atoi(rows)
	if !ok || o.Columns < 1 || o.Columns > 12 || o.Rows < 1 || o.Rows > 12 {
		return o, userError("--grid %s is no grid; write columns and rows from 1 to 12, as in 4x3", c.String("grid"))
	}
	if o.Levels, err = levelsFlag(c); err != nil {
		return o, err
	}
	if text := c.String("corners"); text != "" {
		q, err := values.ParseQuad(text)
		if err != nil {
			return o, userError("--corners %s: %w", text, err)
		}
		o.Corners = &q
	}
	if o.PaintingCard, err = cardFlag(c, "painting-card"); err != nil {
		return o, err
	}
	if o.ReferenceCard, err = cardFlag(c, "reference-card"); err != nil {
		return o, err
	}
	if o.ReferenceCard != nil && o.PaintingCard == nil {
		return o, userError("--reference-card alone does not match exposures; give --painting-card too")
	}
	return o, nil
}

func levelsFlag(c *cli.Context) (int, error) {
	n := c.Int("levels")
	if n < 2 || n > 5 {
		return 0, userError("--levels %d is no value plan; write 2 to 5", n)
	}
	return n, nil
}

func cardFlag(c *cli.Context, name string) (*values.Card, error) {
	text := c.String(name)
	if text == "" {
		return nil, nil
	}
	card, err := values.ParseCard(text)
	if err != nil {
		return nil, userError("--%s %s: %w", name, text, err)
	}
	return &card, nil
}

// valuesJSON is the document of values --json; values are L*, 0..100.
type valuesJSON struct {
	Schema   string                     `json:"schema"`
	Columns  int                        `json:"columns"`
	Rows     int                        `json:"rows"`
	Zones    []zoneJSON                 `json:"zones"`
	Plan     []levelJSON                `json:"plan"`
	Corners  [4][2]shown.TenThousandths `json:"corners"` // of the painting in its photograph
	Found    bool                       `json:"corners_found"`
	Exposure string                     `json:"exposure"` // card or percentiles
	Stops    shown.TenThousandths       `json:"stops"`    // the painting's photograph was brightened by
}

type zoneJSON struct {
	Row        int              `json:"row"`
	Column     int              `json:"column"`
	Reference  shown.Hundredths `json:"reference"`
	Painting   shown.Hundredths `json:"painting"`
	Difference shown.Hundredths `json:"difference"`
}

type levelJSON struct {
	Value     shown.Hundredths     `json:"value"`
	Reference shown.TenThousandths `json:"reference_share"`
	Painting  shown.TenThousandths `json:"painting_share"`
}

func valuesDocument(v *values.Comparison, o values.Options) valuesJSON {
	d := valuesJSON{Schema: "fewtubes/values/1", Columns: o.Columns, Rows: o.Rows, Found: v.CornersFound,
		Exposure: exposureWord(v), Stops: shown.TenThousandths(portable.Log2(v.Gain))}
	for _, z := range v.Zones {
		a, b := hundredth(z.Reference), hundredth(z.Painting)
		d.Zones = append(d.Zones, zoneJSON{z.Row + 1, z.Column + 1, shown.Hundredths(a), shown.Hundredths(b), shown.Hundredths(hundredth(b - a))})
	}
	for k, level := range v.Plan.Levels {
		d.Plan = append(d.Plan, levelJSON{shown.Hundredths(hundredth(level)), shown.TenThousandths(v.ReferenceShares[k]), shown.TenThousandths(v.PaintingShares[k])})
	}
	for i, p := range v.Corners {
		d.Corners[i] = [2]shown.TenThousandths{shown.TenThousandths(p.X), shown.TenThousandths(p.Y)}
	}
	return d
}

func hundredth(v float64) float64 { return math.Round(v*100)/100 + 0 }

// tenth rounds to the one decimal that is printed, never to minus nothing.
func tenth(v float64) float64 { return math.Round(v*10)/10 + 0 }

func exposureWord(v *values.Comparison) string {
	if v.ByCard {
		return "card"
	}
	return "percentiles"
}

func writePNG(c *cli.Context, path string, img image.Image) error {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return errors.Join(errors.New("drawing the values"), err)
	}
	return writeOutput(c, path, b.Bytes())
}
