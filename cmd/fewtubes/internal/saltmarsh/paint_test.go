package main

import (
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// The committed pictures are what the program paints today. Processors differ in
// the last bit of a product, so a few codes of difference are let pass.
func TestPicturesAreGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("painting takes some seconds")
	}
	const (
		stepTolerance = 12    // of 255: JPEG spreads a difference over its block
		mostDifferent = 0.001 // of the pixels
	)
	for name, paint := range pictures {
		f, err := os.Open(filepath.Join("../../../../testdata/salt-marsh", name))
		if err != nil {
			t.Fatal(err)
		}
		want, err := jpeg.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		folder := t.TempDir()
		if err := write(folder, name, paint); err != nil {
			t.Fatal(err)
		}
		g, err := os.Open(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := jpeg.Decode(g)
		g.Close()
		if err != nil {
			t.Fatal(err)
		}
		b, different := want.Bounds(), 0
		if got.Bounds() != b {
			t.Fatalf("%s: %v, committed %v", name, got.Bounds(), b)
		}
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				_, p, _, _ := got.At(x, y).RGBA()
				_, q, _, _ := want.At(x, y).RGBA()
				if max(p, q)-min(p, q) > stepTolerance*257 {
					different++
				}
			}
		}
		if float64(different) > mostDifferent*float64(b.Dx()*b.Dy()) {
			t.Errorf("%s: %d pixels differ; go run ./cmd/fewtubes/internal/saltmarsh paints it anew", name, different)
		}
	}
}
