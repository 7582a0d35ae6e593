//go:build !amd64

package kernel

func sketchEight(dst *Sketches, volumes *Volumes, paints *[Sketched]*sketch, o *sketchOptics) {
	sketchGeneric(dst, volumes, paints, o)
}
