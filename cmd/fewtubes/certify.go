package main

import (
	"fmt"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/gamut/certain"
	certificate "fewtubes/gamut/certain/check"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// certifyFlags go with the commands whose answers rest on "cannot reach".
func certifyFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "certify", Usage: "prove what cannot be reached as a theorem where that can be done; takes a while", DisableDefaultText: true},
		&cli.StringFlag{Name: "certificate", Usage: "certify, and write theorem and proofs to the folder `DIR`, for fewtubes proof to verify"},
		&cli.IntFlag{Name: "cells", Value: certain.DefaultCells, Usage: "give up on a proof after `N` cells"},
	}
}

// checkCertify refuses flags of a proof that make no sense, before the work.
func checkCertify(c *cli.Context) error {
	if n := c.Int("cells"); n < 1 || n > 1e6 {
		return userError("--cells %d is no number of cells; write one from 1 to 1000000", n)
	}
	dir := c.String("certificate")
	if err := apart(c.String("html"), dir); err != nil || dir == "" {
		return err
	}
	return checkPlace(dir, atomicfile.CheckFolder(dir, c.Bool("force"), proofs.StatementFile), inputsOf(c)...)
}

// certifying reports whether proofs are asked for.
func certifying(c *cli.Context) bool { return c.Bool("certify") || c.String("certificate") != "" }

// certified runs a proof with a sign of life and writes what it comes to where a
// folder is named.
func certified(c *cli.Context, sign *spinner, prove func(watch func(done, all int)) ([]solver.Proof, error), state func() (*proofs.Statement, error)) error {
	sign.text.Store("certifying")
	made, err := prove(func(done, all int) { sign.text.Store(fmt.Sprintf("certifying: %d of %d", done, all)) })
	dir := c.String("certificate")
	if err != nil || dir == "" {
		return err
	}
	s, err := state()
	if err != nil {
		return err
	}
	folder, err := s.Folder(c.Context, certificatesOf(s, made))
	if err != nil {
		return err
	}
	write := atomicfile.CreateFolder
	if c.Bool("force") {
		write = atomicfile.ReplaceFolder
	}
	return outputTrouble(dir, write(dir, folder))
}

// certificatesOf puts certificates to what they prove.
func certificatesOf(s *proofs.Statement, made []solver.Proof) proofs.Certificates {
	out := proofs.Certificates{Needs: map[int]*certificate.Certificate{}, Missed: map[int]*certificate.Certificate{}}
	for _, p := range made {
		at := s.ColourNamed(p.Target)
		if len(p.Without) == 0 {
			out.Missed[at] = p.Certificate
			continue
		}
		for i, n := range s.Needs {
			if n.Colour == at && slices.Equal(s.IDs(n.OneOf), p.Without) {
				out.Needs[i] = p.Certificate
			}
		}
	}
	return out
}

// stated is a statement about the scene and some tubes.
func (q *question) stated(tubes []solver.Priced) *proofs.Statement {
	p := &q.problem
	s := &proofs.Statement{Title: q.scene.Title, Light: p.Light.Name, Surface: p.Surface}
	for _, priced := range tubes {
		at := slices.IndexFunc(p.Tubes, func(t catalog.Tube) bool { return t.ID == priced.ID })
		tube := proofs.Tube{ID: priced.ID, Price: priced.Price, Paint: p.Tubes[at].Paint}
		if priced.Buy {
			tube.Buy = 1
		}
		s.Tubes = append(s.Tubes, tube)
	}
	for _, t := range p.Targets {
		s.Colours = append(s.Colours, proofs.Colour{Name: t.Name, Lab: t.Lab, Tolerance: t.Tolerance})
	}
	return s
}

// outcomes puts in what becomes of each colour.
func outcomes(s *proofs.Statement, palette *solver.Palette, missed []solver.Miss) {
	for i := range s.Colours {
		c := &s.Colours[i]
		at := slices.IndexFunc(missed, func(m solver.Miss) bool { return m.Target == c.Name })
		switch o := &palette.Targets[i]; {
		case at >= 0 && missed[at].Proof == solver.Certified:
			c.State = proofs.Missed
		case at >= 0:
			c.State = proofs.Searched
		case o.Reached:
			c.State = proofs.Reached
			for _, share := range o.Shares {
				c.Mix = append(c.Mix, proofs.Share{Tube: s.Tube(share.ID), Amount: share.Fraction})
			}
		}
	}
}

// minimum is what an answer of choose states: its minimum, where it has one that was
// not cut short and a colour that can be reached.
func (q *question) minimum(session *solver.Session, a *solver.Answer) (*proofs.Statement, error) {
	tubes, err := session.Allowed(&a.Limits)
	if err != nil {
		return nil, err
	}
	s := q.stated(tubes)
	outcomes(s, &a.Palettes[0], a.Unreachable)
	if len(a.Conflict) > 0 || a.Minimum.Proof == solver.Interrupted || len(a.Unreachable) == len(s.Colours) {
		return s, nil
	}
	s.Palette = s.Places(a.Palettes[0].Tubes)
	bound(s, &a.Limits)
	if a.ToBuy != nil {
		minimise(s, "bought", a.ToBuy.Tubes, a.NeedsToBuy)
	}
	minimise(s, "tubes", a.Minimum.Tubes, a.Needs)
	return s, nil
}

// minimise puts in what is least and the needs that prove it.
func minimise(s *proofs.Statement, what string, least int, needs []solver.Need) {
	for _, n := range needs {
		s.Needs = append(s.Needs, proofs.Need{For: len(s.Minima), Colour: s.ColourNamed(n.Target), OneOf: s.Places(n.OneOf), Proven: n.Proof == solver.Certified})
	}
	s.Minima = append(s.Minima, proofs.Minimum{What: what, Least: least})
}

// bound puts limits in.
func bound(s *proofs.Statement, l *solver.Limits) {
	s.Limits.Most, s.Limits.Keep = l.MaxTubes, s.Places(l.Keep)
	s.Limits.Budget, s.Limits.Budgeted = l.Budget.Most()
	for _, group := range l.AtMostOne {
		if places := s.Places(group); len(places) > 1 {
			s.Limits.Groups = append(s.Limits.Groups, places)
		}
	}
}

// held is what an answer of check states: what a palette as it stands reaches and
// misses.
func (q *question) held(palette *solver.Palette, missed []solver.Miss) *proofs.Statement {
	s := q.stated(freely(palette.Tubes))
	outcomes(s, palette, missed)
	return s
}

// freely are tubes as they stand, whatever they cost.
func freely(ids []string) (out []solver.Priced) {
	for _, id := range ids {
		out = append(out, solver.Priced{ID: id})
	}
	return out
}
