// Command saltmarsh paints the demo's reference pictures: a salt marsh at ebb
// tide, once wide and once close, stroke by stroke from a fixed seed.
//
//	go run ./cmd/fewtubes/internal/saltmarsh -o testdata/salt-marsh
//
// Everything in them is invented.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
)

const quality = 90 // of the JPEG files

func main() {
	out := flag.String("o", "testdata/salt-marsh", "folder to write into")
	flag.Parse()
	if err := run(*out); err != nil {
		fmt.Fprintln(os.Stderr, "saltmarsh:", err)
		os.Exit(1)
	}
}

func run(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for name, paint := range pictures {
		if err := write(folder, name, paint); err != nil {
			return err
		}
	}
	return nil
}

func write(folder, name string, paint func() image.Image) error {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, paint(), &jpeg.Options{Quality: quality}); err != nil {
		return err
	}
	return atomicfile.Replace(filepath.Join(folder, name), b.Bytes())
}

var pictures = map[string]func() image.Image{
	"wide.jpg":  paintWide,
	"close.jpg": paintClose,
}
