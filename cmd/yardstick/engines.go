package main

import (
	"context"
	"fmt"
	"time"

	"fewtubes/solver"
)

// engines prints how often and for how long the two engines of the chooser are
// asked, for the smallest palette, one tube fewer than that, and a curve.
func engines() error {
	p, err := scene(80, 24)
	if err != nil {
		return err
	}
	s, err := solver.NewSession(p)
	if err != nil {
		return err
	}
	fmt.Printf("\n%-34s %9s %9s %9s %9s\n", "engines, 80 tubes x 24 targets", "search", "time", "SAT", "time")
	ctx, limits, last := context.Background(), p.Limits, solver.Engines{}
	tell := func(name string) {
		now := s.Engines()
		fmt.Printf("%-34s %9d %9s %9d %9s\n", name,
			now.Search.Questions-last.Search.Questions, (now.Search.Time - last.Search.Time).Round(time.Millisecond),
			now.SAT.Questions-last.SAT.Questions, (now.SAT.Time - last.SAT.Time).Round(time.Millisecond))
		last = now
	}
	a, err := s.Choose(ctx, limits, p.Prefer, nil)
	if err != nil {
		return err
	}
	tell("smallest palettes")
	limits.MaxTubes = a.Minimum.Tubes - 1
	if _, err := s.Choose(ctx, limits, p.Prefer, nil); err != nil {
		return err
	}
	tell("a tube too few")
	if _, err := s.Curve(ctx, p.Limits, 3, nil); err != nil {
		return err
	}
	tell("curve")
	return nil
}
