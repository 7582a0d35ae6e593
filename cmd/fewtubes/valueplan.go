package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/cmd/fewtubes/internal/values"

	"github.com/urfave/cli/v2"
)

// planValues parts a photograph, or the colours of a scene by their areas, into few
// flat values.
func planValues(c *cli.Context) error {
	levels, err := levelsFlag(c)
	if err != nil {
		return err
	}
	paper, err := sheet.ParsePaper(c.String("paper"))
	if err != nil {
		return userError("--paper: %w", err)
	}
	out := c.String("output")
	ending := strings.ToLower(filepath.Ext(out))
	if out != "" && ending != ".png" && ending != ".pdf" {
		return userError("%s: a plan is drawn as PNG or PDF; name the file something.png or something.pdf", out)
	}
	if err := checkOutput(out, c.Bool("force"), inputsOf(c)...); err != nil {
		return err
	}
	g, title, caption, err := toPlan(c)
	if err != nil {
		return err
	}
	plans := values.Alternatives(g, levels)
	switch {
	case ending == ".png":
		err = writePNG(c, out, values.PlanBoard(g, plans))
	case ending == ".pdf":
		var pdf []byte
		if pdf, err = sheet.NewValuePlan(title, caption, g, plans).PDF(paper); err == nil {
			err = writeOutput(c, out, pdf)
		}
	}
	if err != nil {
		return err
	}
	if c.Bool("json") {
		return printJSON(c, planDocument(plans))
	}
	return publish(c, "", nil, planText(title, plans))
}

// toPlan is what a plan is made of: a photograph as one squints at it, or a scene.
func toPlan(c *cli.Context) (g values.Grey, title, caption string, err error) {
	path := c.Args().First()
	if isScene(path) {
		s, err := scene.Read(path)
		if err != nil {
			return g, "", "", err
		}
		title = s.Title
		if title == "" {
			title = plain.Clean(filepath.Base(path))
		}
		return s.Mosaic(), title, "the colours of the scene in greys, by plane and area", nil
	}
	picture, err := openForValues(c, path)
	if err != nil {
		return g, "", "", err
	}
	return values.Greys(picture).Squinted(), plain.Clean(filepath.Base(path)), "the picture in greys", nil
}

type planJSON struct {
	Schema string            `json:"schema"`
	Plans  []alternativeJSON `json:"plans"`
}

type alternativeJSON struct {
	Name     string               `json:"name"`
	Levels   []planLevelJSON      `json:"levels"` // darkest first
	Dark     shown.TenThousandths `json:"largest_dark"`
	Light    shown.TenThousandths `json:"largest_light"`
	Together bool                 `json:"together"` // one large dark and one large light
}

type planLevelJSON struct {
	Value shown.Hundredths     `json:"value"` // L*, 0..100
	From  shown.Hundredths     `json:"from"`  // L* where it begins
	Share shown.TenThousandths `json:"share"`
}

func planDocument(plans []values.Alternative) planJSON {
	d := planJSON{Schema: "fewtubes/value-plan/1"}
	for _, a := range plans {
		out := alternativeJSON{Name: a.Name, Dark: shown.TenThousandths(a.Dark), Light: shown.TenThousandths(a.Light), Together: a.Together()}
		for k, l := range a.Plan.Levels {
			level := planLevelJSON{Value: shown.Hundredths(hundredth(l)), Share: shown.TenThousandths(a.Shares[k])}
			if k > 0 {
				level.From = shown.Hundredths(hundredth(a.Plan.Bounds[k-1]))
			}
			out.Levels = append(out.Levels, level)
		}
		d.Plans = append(d.Plans, out)
	}
	return d
}

func planText(title string, plans []values.Alternative) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s in %s, 0 black to 10 white\n", title, howMany(len(plans[0].Plan.Levels), "value"))
	for _, a := range plans {
		fmt.Fprintf(&b, "\n%s\n", a.Name)
		for k := len(a.Plan.Levels) - 1; k >= 0; k-- {
			from := "the dark end"
			if k > 0 {
				from = fmt.Sprintf("%.1f up", tenth(a.Plan.Bounds[k-1]/10))
			}
			fmt.Fprintf(&b, "  %4.1f  %3.0f %%  from %s\n", tenth(a.Plan.Levels[k]/10), 100*a.Shares[k], from)
		}
		if len(a.Plan.Levels) > 1 {
			fmt.Fprintf(&b, "  largest dark %.0f %% of the picture, largest light %.0f %%", 100*a.Dark, 100*a.Light)
			if !a.Together() {
				b.WriteString(": not one large dark and one large light")
			}
			b.WriteByte('\n')
		}
	}
	if len(plans) == 1 || !slices.ContainsFunc(plans, func(a values.Alternative) bool { return a.Together() }) {
		b.WriteString("\nNo other threshold keeps one large dark and one large light.\n")
	}
	return b.String()
}
