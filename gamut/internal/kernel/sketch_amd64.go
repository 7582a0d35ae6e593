package kernel

func sketchBandsOf(dst [][3]float32, volumes [][Sketched]float32, paints *[Sketched]*sketch, o *sketchOptics) {
	if !fourLanes || len(volumes) == 0 {
		sketchGeneric(dst, volumes, paints, o)
		return
	}
	_ = dst[len(volumes)-1]
	sketchWide(&dst[0], &volumes[0], len(volumes), paints, o)
}

//go:noescape
func sketchWide(dst *[3]float32, volumes *[Sketched]float32, n int, paints *[Sketched]*sketch, o *sketchOptics)
