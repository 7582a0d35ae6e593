//go:build !amd64

package kernel

func sketchBandsOf(dst [][3]float32, volumes [][Sketched]float32, paints *[Sketched]*sketch, o *sketchOptics) {
	sketchGeneric(dst, volumes, paints, o)
}
