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
	if err := run(ctx, *readings, *out, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "refit:", err)
		os.Exit(2)
	}
}

// run derives every tube, writes the file and reports to log.
func run(ctx context.Context, readings, out string, log io.Writer) error {
	if readings == "" {
		return fmt.Errorf("-readings names no folder")
	}
	steps, err := readDerivations()
	if err != nil {
		return err
	}
	film, err := derive(ctx, os.DirFS(readings), steps, log)
	if err != nil {
		return err
	}
	return os.WriteFile(out, film, 0o644)
}
