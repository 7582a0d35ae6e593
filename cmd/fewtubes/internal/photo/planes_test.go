package photo

import (
	"fmt"
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The short way through luma and colour difference gives what the standard
// library's own conversion (color.YCbCrToRGB) gives pixel by pixel, at every
// ratio of subsampling.
func TestPlanesAreAsTheLibraryConverts(t *testing.T) {
	type hidden struct{ image.Image } // no short way for this one
	for ratio := image.YCbCrSubsampleRatio444; ratio <= image.YCbCrSubsampleRatio410; ratio++ {
		t.Run(fmt.Sprint(ratio), rapid.MakeCheck(func(t *rapid.T) {
			size := rapid.IntRange(1, 23)
			img := image.NewYCbCr(image.Rect(0, 0, size.Draw(t, "width"), size.Draw(t, "height")), ratio)
			for _, plane := range [][]uint8{img.Y, img.Cb, img.Cr} {
				copy(plane, rapid.SliceOfN(rapid.Byte(), len(plane), len(plane)).Draw(t, "plane"))
			}
			longest := rapid.IntRange(1, 23).Draw(t, "longest")
			got, err := averaged(t.Context(), img, metadata{}, longest)
			if err != nil {
				t.Fatal(err)
			}
			want, err := averaged(t.Context(), hidden{img}, metadata{}, longest)
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range want.Pix {
				g := got.Pix[i]
				if off := max(math.Abs(g.R-w.R), math.Abs(g.G-w.G), math.Abs(g.B-w.B)); off > 1e-12 {
					t.Fatalf("pixel %d: %v, want %v", i, g, w)
				}
			}
		}))
	}
}
