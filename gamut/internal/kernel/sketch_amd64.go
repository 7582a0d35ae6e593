package kernel

import "golang.org/x/sys/cpu"

// fuses says that this processor also multiplies and adds in one step.
var fuses = fourLanes && cpu.X86.HasFMA

func sketchEight(dst *Sketches, volumes *Volumes, paints *[Sketched]*sketch, o *sketchOptics) {
	if !fuses {
		sketchGeneric(dst, volumes, paints, o)
		return
	}
	sketchWide(dst, volumes, paints, o)
}

//go:noescape
func sketchWide(dst *Sketches, volumes *Volumes, paints *[Sketched]*sketch, o *sketchOptics)
