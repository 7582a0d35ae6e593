package search

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/set"
)

// workspace is everything one search writes to, so that the search itself
// allocates nothing. One serves one goroutine at a time.
type workspace struct {
	m       *Paints
	aim     *kernel.Residual // at here
	aimNext *kernel.Residual
	here    *kernel.Point // the accepted mixture
	next    *kernel.Point // the one tried
	slopes  kernel.Slopes
	lean    kernel.Paint // of the squared difference, by K and S
	members []int        // the palette
	limit   int          // paints in the mix at most
	holds   []int        // every start holds one of these; none: any
	gauge   kernel.Gauge // of the target, while there are seeds
	chosen  []int        // places in members

	// The support: paints in play and their scaled amounts, summing to 1.
	list   []int
	amount []float64
	trial  []float64
	step   []float64
	jac    [][3]float64
	free   []bool

	enough                            float64 // squared: a mix this near ends the search
	hope                              float64 // squared: a descent that will not come nearer ends
	kicked                            set.Set
	best, kept, saved, other, shifted state
	settled                           []state // where starts at this target ended
	seeds, near, apart                []seed
	regions                           [kernel.Regions]seed
	nearest                           [kernel.Regions]float32 // distance of regions, +Inf: none there

	// Far from the target.
	careful bool       // descents are those of descentfar.go
	greys   []nearGrey // of the target
	from    state      // a mix that is gone back to
	samples []sample   // of a pair
	dips    []dip      // of all pairs followed
	pairs   []pairLook // followed
	hubs    []int
	turns   []float64 // slopes of the turn of hue, by paint of the support
	whole   []float64 // a step before it is shortened
}

// mostSettled is how many ends of starts are remembered.
const mostSettled = 32

// state is a mixture set aside.
type state struct {
	list    []int
	amount  []float64
	squared float64
}

func newWorkspace(m *Paints) *workspace {
	n := m.limit + 1
	room := func() state { return state{list: make([]int, 0, n), amount: make([]float64, 0, n)} }
	settled := make([]state, mostSettled)
	for i := range settled {
		settled[i] = room()
	}
	return &workspace{
		m: m, aim: new(kernel.Residual), aimNext: new(kernel.Residual), here: new(kernel.Point), next: new(kernel.Point),
		members: make([]int, 0, len(m.films)), chosen: make([]int, scarce), hope: math.Inf(1), kicked: set.New(len(m.films)),
		list: make([]int, 0, n), amount: make([]float64, 0, n),
		trial: make([]float64, n), step: make([]float64, n), jac: make([][3]float64, n), turns: make([]float64, n), whole: make([]float64, n), free: make([]bool, n),
		best: room(), kept: room(), saved: room(), other: room(), shifted: room(), from: room(), settled: settled[:0],
		seeds: make([]seed, 0, 2*mostSeeds), near: make([]seed, 0, mostSeeds), apart: make([]seed, 0, kernel.Regions),
	}
}

func (w *workspace) begin(target colour.Lab, palette set.Set) {
	*w.aim = kernel.NewResidual(target)
	*w.aimNext = *w.aim
	w.limit, w.settled, w.careful = w.m.limit, w.settled[:0], false
	w.members = w.members[:0]
	for i := range w.m.films {
		if palette.Has(i) {
			w.members = append(w.members, i)
		}
	}
}

func (w *workspace) save(s *state) {
	s.list = append(s.list[:0], w.list...)
	s.amount = append(s.amount[:0], w.amount...)
	s.squared = w.aim.Squared
}

// restore takes a saved mixture up again, evaluated.
func (w *workspace) restore(s *state) {
	w.list = append(w.list[:0], s.list...)
	w.amount = append(w.amount[:0], s.amount...)
	w.evaluate()
}

// evaluate brings here and aim up to date with the support.
func (w *workspace) evaluate() {
	w.here.Mix(w.m.bands, w.list, w.amount)
	w.here.Colour(&w.m.optics)
	w.aim.At(w.here.Lab)
}

// dropAt takes the i-th paint out of the support.
func (w *workspace) dropAt(i int) {
	w.list = append(w.list[:i], w.list[i+1:]...)
	w.amount = append(w.amount[:i], w.amount[i+1:]...)
	normalise(w.amount)
}
