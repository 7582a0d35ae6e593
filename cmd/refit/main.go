// Refit writes catalog/data/film.csv, the K and S of the built-in tubes, from
// published readings. It is run by hand when the readings, the fit or the
// derivations change:
//
//	go run ./cmd/refit -readings DIR
//
// DIR holds the tables named in catalog/data/SOURCES.md. What each tube is
// derived from is listed in derivations.csv beside this file.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
)

func main() {
	readings := flag.String("readings", "", "folder of the published readings")
	out := flag.String("out", filepath.Join("catalog", "data", "film.csv"), "file to write")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *readings, *out, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "refit:", err)
		os.Exit(2)
	}
}

// run derives every tube, writes the file and reports to log.
func run(ctx context.Context, readings, out string, log io.Writer) error {
	if readings == "" {
		return fmt.Errorf("-readings names no folder")
	}
	csv, err := refit(ctx, os.DirFS(readings), log)
	if err != nil {
		return err
	}
	return os.WriteFile(out, csv, 0o644)
}

// refit is the text of film.csv.
func refit(ctx context.Context, readings fs.FS, log io.Writer) ([]byte, error) {
	steps, err := readDerivations()
	if err != nil {
		return nil, err
	}
	p, err := readPublished(ctx, readings)
	if err != nil {
		return nil, err
	}
	scales, err := findScales(p, log)
	if err != nil {
		return nil, err
	}
	d := newDeriver(p, scales, steps)
	for _, s := range steps {
		if _, err := d.tube(s.id); err != nil {
			return nil, err
		}
	}
	return filmCSV(steps, d.done)
}
