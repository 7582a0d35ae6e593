// Package solver chooses tubes: the smallest palettes that reach every target
// within its tolerance under the painter's limits, with the proof that fewer
// will not do, and the best that can be had when the limits do not allow it.
//
// Choose answers one question; a Session answers many about the same tubes and
// targets, and what else is asked about a palette:
//
//	tubes, err := catalog.Builtin()
//	if err != nil {
//		return err
//	}
//	answer, err := solver.Choose(ctx, solver.Problem{
//		Tubes:   tubes.Tubes(),
//		Targets: []solver.Target{{Name: "far shore", Lab: colour.Lab{L: 62, A: 0.5, B: -9}, Area: 1, Tolerance: 2}},
//		Limits:  solver.Limits{MaxTubes: 5, Avoid: []string{"toxic"}},
//	}, nil)
//	if err != nil {
//		return err
//	}
//	fmt.Println(answer.Palettes[0].Tubes)
//
// Adding a tube never hurts, so a palette misses a target exactly when it lies
// inside some maximal failing set; the complement of that set is a cut: the
// target needs at least one tube of it. The solver finds cuts as it needs them
// and asks for the smallest palette that hits them all (an implicit hitting set).
//
// This package is the door: it turns ids into indices and back, words limits, and
// checks every answer against the problem before it leaves (verify.go). Behind it
// in solver/internal:
//
//   - cover: which palettes hit all cuts and keep the limits; the SAT solver
//   - reach: which sets of tubes reach a colour, and which fail to
//   - choice: the loop between the two, lists, favourites and proofs
//   - lessons: why each tube is there, what could stand in, one tube more or less
//   - doubt: palettes in plausible boxes, the tubes as other makers may fill them
//   - certify: proofs that hold for every mix whatever
//   - parallel: work shared among processors with the same result
package solver
