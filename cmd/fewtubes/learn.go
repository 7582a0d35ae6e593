package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"github.com/urfave/cli/v2"
)

// learnSheet lets a sheet of colours or spectra move the tubes it names, in a file for
// --own or in the box.
func learnSheet(c *cli.Context, set *readings.Set) error {
	out, path := c.String("output"), c.String("box")
	switch {
	case out != "" && path != "":
		return userError("-o and --box both name where the swatches go; leave one of them out")
	case c.IsSet("white") || c.Bool("each-film") || c.String("surface") != string(film.AsDried):
		return userError("--white, --surface and --each-film go with spectra fitted without what the catalogue knows; leave them out, or leave out --learn and --box")
	}
	if path != "" {
		b, made, err := openBox(path)
		if err != nil {
			return err
		}
		swatches, tubes, leftOut := sheetSwatches(set, b.Catalogue())
		tellLeftOut(c, append(set.LeftOut, leftOut...))
		return keep(c, b, made, swatches, tubes)
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		return err
	}
	f := owntubes.New(set.File)
	var leftOut []error
	f.Swatches, f.Tubes, leftOut = sheetSwatches(set, builtin)
	tellLeftOut(c, append(set.LeftOut, leftOut...))
	if len(f.Swatches) == 0 {
		return userError("%s: no swatch in it can be learnt from", set.File)
	}
	lesson, err := f.Teach(builtin)
	if err != nil {
		return err
	}
	tellLeftOut(c, lesson.LeftOut)
	if out != "" {
		if err := writeOutput(c, out, owntubes.Format(f)); err != nil {
			return err
		}
		fmt.Fprintf(c.App.ErrWriter, "%s: %s with %s, for --own\n", plain.Clean(out), howMany(len(f.Tubes), "tube"), howMany(len(f.Swatches), "swatch"))
	}
	_, err = io.WriteString(c.App.Writer, learnt.Text(lesson, f.Swatches, terminalStyle(c.App.Writer)))
	return err
}

// sheetSwatches are the samples of a sheet as swatches, with an entry for each tube in them. A
// tube that the catalogue does not know starts from the one whose masstone is nearest to its own.
func sheetSwatches(set *readings.Set, all *catalog.Catalogue) (out []owntubes.Swatch, tubes []owntubes.Tube, leftOut []error) {
	grounds, strangers := map[readings.Backing]string{}, map[string]string{}
	for i := range set.Samples {
		s := &set.Samples[i]
		if len(s.Parts) == 0 {
			grounds[s.Backing] = owntubes.Notation(s.Colour())
		}
		if len(s.Parts) == 1 {
			if id := s.Parts[0].Tube; !isKnown(all, id) && !strings.Contains(id, ":") {
				strangers[id] = nearestMasstone(all, s.Colour())
			}
		}
	}
	entered := map[string]bool{}
samples:
	for i := range set.Samples {
		s := &set.Samples[i]
		if len(s.Parts) == 0 {
			continue
		}
		r := s.Recipe
		r.Parts = slices.Clone(r.Parts)
		for k, p := range r.Parts {
			if t, err := all.Get(p.Tube); err == nil {
				r.Parts[k].Tube = t.ID
			} else if strangers[p.Tube] == "" {
				leftOut = append(leftOut, &owntubes.Error{File: set.File, Line: s.Line, Field: fmt.Sprintf("sample %q", plain.Short(s.Name)), Msg: err.Error(),
					Remedy: "correct the name, or add a swatch of that tube alone, from which the program tells what it is like"})
				continue samples
			}
		}
		noise := s.Noise
		swatch := owntubes.Swatch{Recipe: r.String(), Seen: owntubes.Notation(s.Colour()), By: string(s.By), Line: s.Line, Ground: grounds[s.Backing]}
		if noise != s.By.Noise() {
			swatch.Noise = &noise
		}
		if s.Backing != readings.Opaque && swatch.Ground == "" {
			leftOut = append(leftOut, &owntubes.Error{File: set.File, Line: s.Line, Field: fmt.Sprintf("sample %q", plain.Short(s.Name)),
				Msg: fmt.Sprintf("it lies over %s, and the bare chart was not read", s.Backing), Remedy: fmt.Sprintf("add the colour of the chart as bare %s", s.Backing)})
			continue
		}
		out = append(out, swatch)
		for _, p := range r.Parts {
			if entered[p.Tube] {
				continue
			}
			entered[p.Tube] = true
			e := owntubes.Tube{Like: p.Tube}
			if like := strangers[p.Tube]; like != "" {
				e = owntubes.Tube{ID: p.Tube, Like: like, Basis: catalog.Estimated, Name: strings.ReplaceAll(p.Tube, "-", " "), Source: "begun from " + like + ", whose masstone is nearest"}
			}
			tubes = append(tubes, e)
		}
	}
	return out, tubes, leftOut
}

func isKnown(all *catalog.Catalogue, name string) bool {
	_, err := all.Get(name)
	return err == nil
}

// nearestMasstone is the tube of one pigment whose masstone is nearest to a colour.
func nearestMasstone(all *catalog.Catalogue, c colour.Lab) string {
	tubes := slices.DeleteFunc(all.Tubes(), func(t catalog.Tube) bool { return len(t.Parts) > 0 })
	away := func(t *catalog.Tube) float64 {
		seen := t.Paint.Masstone(all.Surface(film.AsDried))
		return colour.DE2000(colour.D65().Lab(&seen), c)
	}
	return slices.MinFunc(tubes, func(a, b catalog.Tube) int { return cmp.Compare(away(&a), away(&b)) }).ID
}

// measurePile keeps one swatch painted at the table.
func measurePile(c *cli.Context) error {
	if c.NArg() > 0 {
		return userError("measure takes a sheet or --pile, not both; leave %q out", c.Args().First())
	}
	if c.String("pile") == "" || c.String("seen") == "" {
		return userError(`measure wants what was mixed and what it came to; write it as in --pile 3:ultramarine-blue,1:yellow-ochre --seen "5G 4/2"`)
	}
	b, made, err := openBox(boxPath(c))
	if err != nil {
		return err
	}
	amounts, err := readAmounts(b.Catalogue(), "--pile", splitList(c.String("pile"))...)
	if err != nil {
		return err
	}
	if _, err := readColour(c.String("seen")); err != nil {
		return userError("--seen: %w", err)
	}
	if _, ok := readings.ParseSeenBy(c.String("seen-by")); !ok {
		return userError("--seen-by %q is not known; write instrument, chip or camera", c.String("seen-by"))
	}
	var r readings.Recipe
	var tubes []owntubes.Tube
	for _, a := range amounts {
		r.Parts = append(r.Parts, readings.Part{Tube: a.ID, Amount: a.Parts})
		tubes = append(tubes, owntubes.Tube{Like: a.ID})
	}
	swatch := owntubes.Swatch{Recipe: r.String(), Seen: c.String("seen"), By: c.String("seen-by")}
	return keep(c, b, made, []owntubes.Swatch{swatch}, tubes)
}

// boxPath is that of --box, or where boxes lie.
func boxPath(c *cli.Context) string { return cmp.Or(c.String("box"), boxName) }

// keep adds swatches to the record of a box, and the tubes they hold to the box, and says what
// was learnt.
func keep(c *cli.Context, b *owntubes.Box, made bool, swatches []owntubes.Swatch, tubes []owntubes.Tube) error {
	path := boxPath(c)
	k, err := learnt.Keep(b, swatches, tubes)
	var idle *learnt.NothingNew
	if errors.As(err, &idle) {
		return userError("%s: %w; a swatch teaches once, so nothing was added", path, err)
	}
	if err != nil {
		return err
	}
	tellLeftOut(c, k.Now.LeftOut)
	changed := k.Box
	asked, err := askedFor(c, k)
	if err != nil {
		return err
	}
	write := atomicfile.Replace
	if made {
		write = atomicfile.Create
	}
	if err := outputTrouble(path, write(path, changed.Text())); err != nil {
		return err
	}
	var text strings.Builder
	if len(k.Idle) > 0 {
		fmt.Fprintf(&text, "%s.\n", plain.Clean(learnt.AlreadyThere(k.Idle)))
	}
	style := terminalStyle(c.App.Writer)
	if len(swatches) == 1 {
		text.WriteString(style.Paragraph(k.News(asked)))
		text.WriteString(learnt.Disagreement(k.Now, changed.Swatches(), style))
	} else {
		text.WriteString(learnt.Text(k.Now, changed.Swatches(), style))
		text.WriteString(style.Paragraph(k.News(asked)))
	}
	fmt.Fprintf(&text, "%s holds %s.\n", plain.Clean(path), howMany(len(changed.Swatches()), "swatch"))
	_, err = io.WriteString(c.App.Writer, text.String())
	return err
}

// forgetSwatch takes one swatch out of the record.
func forgetSwatch(c *cli.Context) error {
	path := boxPath(c)
	b, made, err := openBox(path)
	switch {
	case err != nil:
		return err
	case made:
		return userError("%s: there is no such box yet", path)
	case c.NArg() > 0:
		return userError("--forget takes a swatch out and reads nothing; leave %q out", c.Args().First())
	}
	changed, gone, err := b.Forget(c.Int("forget"))
	if err != nil {
		return err
	}
	if err := outputTrouble(path, atomicfile.Replace(path, changed.Text())); err != nil {
		return err
	}
	_, err = fmt.Fprintf(c.App.Writer, "Taken out: %s, %s. %s holds %s.\n", gone.Recipe, gone.Seen, plain.Clean(path), howMany(len(changed.Swatches()), "swatch"))
	return err
}

// tellBox says what the record of a box taught, and lists it.
func tellBox(c *cli.Context) error {
	path := boxPath(c)
	b, made, err := openBox(path)
	if err != nil {
		return err
	}
	lesson, err := b.Teach()
	switch {
	case err != nil:
		return err
	case made:
		return userError("%s: there is no such box yet", path)
	case lesson == nil:
		return userError(`%s: there is no swatch in it yet; add one with fewtubes measure --pile 3:ultramarine-blue,1:yellow-ochre --seen "5G 4/2" --box %[1]s`, path)
	}
	tellLeftOut(c, lesson.LeftOut)
	style := terminalStyle(c.App.Writer)
	_, err = io.WriteString(c.App.Writer, learnt.Text(lesson, b.Swatches(), style)+learnt.Record(lesson, b.Swatches()))
	return err
}

// askedFor are the mixtures that matter: those of --scene, or common ones.
func askedFor(c *cli.Context, k *learnt.Kept) (*learnt.Mixtures, error) {
	path := c.String("scene")
	if path == "" {
		return k.Asked(nil)
	}
	s, err := scene.Read(path)
	if err != nil {
		return nil, err
	}
	return k.Asked(&s)
}
