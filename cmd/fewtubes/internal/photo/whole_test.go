package photo

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"
)

// averaged is a decoded image made a picture.
func averaged(ctx context.Context, img image.Image, m metadata, longest int) (*Picture, error) {
	w, err := newWhole("x", "", img, m)
	if err != nil {
		return nil, err
	}
	return w.Averaged(ctx, longest)
}

// The rows of a photograph stand as its picture does, however it was taken.
func TestRowsStandAsThePicture(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 5, 3))
	for i := range 15 {
		img.SetNRGBA(i%5, i/5, color.NRGBA{uint8(17 * i), uint8(255 - 16*i), uint8(i), 255})
	}
	for orientation := range 9 {
		m := metadata{orientation: orientation}
		want, err := averaged(t.Context(), img, m, 0)
		if err != nil {
			t.Fatal(err)
		}
		w, err := newWhole("x", "", img, m)
		if err != nil {
			t.Fatal(err)
		}
		if err := w.Upright(t.Context()); err != nil {
			t.Fatal(err)
		}
		if w.W != want.W || w.H != want.H {
			t.Fatalf("orientation %d: %d x %d, want %d x %d", orientation, w.W, w.H, want.W, want.H)
		}
		read, row := w.Rows(), make([]uint8, 4*w.W)
		for y := range w.H {
			read(y, row)
			for x := range w.W {
				if got := w.Light(row[4*x], row[4*x+1], row[4*x+2]); got != want.At(x, y) {
					t.Errorf("orientation %d: %d, %d: %v, want %v", orientation, x, y, got, want.At(x, y))
				}
			}
		}
	}
}

// To average twice is to average once, transparent pixels too.
func TestAveragedAgain(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 120, 72))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * i % 251)
	}
	for _, opaque := range []bool{false, true} {
		for i := 3; opaque && i < len(img.Pix); i += 4 {
			img.Pix[i] = 255
		}
		want, err := averaged(t.Context(), img, metadata{}, 10)
		if err != nil {
			t.Fatal(err)
		}
		first, err := averaged(t.Context(), img, metadata{}, 40)
		if err != nil {
			t.Fatal(err)
		}
		got := first.Averaged(10)
		if got.W != want.W || got.H != want.H || (got.Cover == nil) != opaque {
			t.Fatalf("%d x %d, want %d x %d", got.W, got.H, want.W, want.H)
		}
		for i, p := range want.Pix {
			if math.Abs(got.Pix[i].R-p.R)+math.Abs(got.Pix[i].G-p.G)+math.Abs(got.Pix[i].B-p.B) > 1e-12 || math.Abs(got.CoverAt(i)-want.CoverAt(i)) > 1e-12 {
				t.Errorf("pixel %d: %v, want %v", i, got.Pix[i], p)
			}
		}
		if first.Averaged(40) != first {
			t.Error("a picture small enough is made anew")
		}
	}
}
