// Refit writes what is fitted from published readings: catalog/data/film.csv and
// surface.csv, the K and S of the built-in tubes and the surface they hold under,
// and in cmd/refit/tables how far the sources agree. It is run by hand when the
// readings, the fit or the derivations change:
//
//	go run ./cmd/refit
//
// The readings are the tables named in catalog/data/SOURCES.md. They are looked for
// in ../shared/data, in data under FEWTUBES_SHARED or where -readings says, and are
// never committed. What each tube is derived from is listed in derivations.csv
// beside this file.
package main

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"

	"fewtubes/gamut/film"
)

func main() {
	readings := flag.String("readings", sharedReadings(".."), "folder of the published readings")
	into := flag.String("into", ".", "root of the project to write into")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *readings, *into); err != nil {
		fmt.Fprintln(os.Stderr, "refit:", err)
		os.Exit(2)
	}
}

// sharedReadings is where the readings lie beside a folder of this name.
func sharedReadings(beside string) string {
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join(beside, "shared")
	}
	return filepath.Join(dir, "data")
}

// run derives every tube and writes all files.
func run(ctx context.Context, readings, into string) error {
	out, err := refit(ctx, os.DirFS(readings))
	if err != nil {
		return err
	}
	for name, text := range out {
		if err := os.WriteFile(filepath.Join(into, filepath.FromSlash(name)), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// The files written, from the root of the project.
const (
	filmPath    = "catalog/data/film.csv"
	surfacePath = "catalog/data/surface.csv"
)

// refit is what is written of the readings.
func refit(ctx context.Context, readings fs.FS) (map[string][]byte, error) {
	d, err := derive(ctx, readings)
	if err != nil {
		return nil, err
	}
	return written(ctx, d)
}

// written is the text of every file, by its path.
func written(ctx context.Context, d *deriver) (map[string][]byte, error) {
	var err error
	out := map[string][]byte{}
	if out[filmPath], err = filmCSV(d.order, d.done, &d.scale); err != nil {
		return nil, err
	}
	if out[surfacePath], err = surfaceCSV(d.scale.Surface); err != nil {
		return nil, err
	}
	lines, err := d.agreements()
	if err != nil {
		return nil, err
	}
	if out[agreementPath], err = agreementCSV(lines); err != nil {
		return nil, err
	}
	if out[mixturesPath], err = mixturesCSV(d.mixtures()); err != nil {
		return nil, err
	}
	measured, onChart, err := d.makerPairs()
	if err != nil {
		return nil, err
	}
	white := d.done[scaleTube]
	covers, _ := coverage(measured, white)
	covered, _ := coverage(onChart, white)
	if out[coveragePath], err = coverageCSV(append(covers, covered...)); err != nil {
		return nil, err
	}
	taught, err := d.lessons(ctx, film.PublishedError, false)
	if err != nil {
		return nil, err
	}
	if out[learningPath], err = learningCSV(taught); err != nil {
		return nil, err
	}
	if out[modelErrorPath], err = d.modelErrorCSV(ctx); err != nil {
		return nil, err
	}
	out[clearPath], err = d.clearCSV(ctx)
	return out, err
}

// derive reads everything and derives every tube.
func derive(ctx context.Context, readings fs.FS) (*deriver, error) {
	steps, err := readDerivations()
	if err != nil {
		return nil, err
	}
	p, err := readPublished(ctx, readings)
	if err != nil {
		return nil, err
	}
	l, err := newLearner(p, steps)
	if err != nil {
		return nil, err
	}
	d := newDeriver(p, l.learn(-1), steps)
	d.learner = l
	for _, s := range steps {
		if _, err := d.tube(s.id); err != nil {
			return nil, err
		}
	}
	return d, nil
}
