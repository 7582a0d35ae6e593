package solver_test

import (
	"context"
	"fmt"
	"log"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

func problem() solver.Problem {
	tubes, err := catalog.Builtin()
	if err != nil {
		log.Fatal(err)
	}
	return solver.Problem{
		Tubes: tubes.Tubes(),
		Targets: []solver.Target{
			{Name: "far shore", Lab: colour.Lab{L: 62, A: 0.5, B: -9}, Area: 3, Tolerance: 2},
			{Name: "green flats", Lab: colour.Lab{L: 50, A: -12, B: 24}, Area: 9, Tolerance: 2},
			{Name: "bank in its own shade", Lab: colour.Lab{L: 33, A: 5, B: 9}, Area: 4, Tolerance: 2},
		},
		Limits: solver.Limits{Avoid: []string{"toxic"}},
	}
}

func ExampleChoose() {
	answer, err := solver.Choose(context.Background(), problem(), nil)
	if err != nil {
		log.Fatal(err)
	}
	best := answer.Palettes[0]
	fmt.Println(answer.Status, "with", answer.Minimum.Tubes, "tubes, worst difference below 1:", best.WorstDE < 1)
	fmt.Println("titanium white would do for the need of", answer.Needs[0].Target+":", slices.Contains(answer.Needs[0].OneOf, "titanium-white"))
	// Output:
	// all-reached with 4 tubes, worst difference below 1: true
	// titanium white would do for the need of far shore: true
}

// A session keeps what was found out, so that a changed limit is answered from it.
func ExampleSession() {
	p := problem()
	session, err := solver.NewSession(p)
	if err != nil {
		log.Fatal(err)
	}
	for _, most := range []int{0, 2} {
		limits := p.Limits
		limits.MaxTubes = most
		answer, err := session.Choose(context.Background(), limits, solver.Accuracy, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(answer.Status, len(answer.Palettes[0].Tubes), "tubes", answer.Conflict)
	}
	// Output:
	// all-reached 4 tubes []
	// some-missed 2 tubes [at most 2 tubes]
}
