package main

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/gamut/certain"
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
	folder, err := s.Folder(c.Context, s.Certificates(made))
	if err != nil {
		return err
	}
	write := atomicfile.CreateFolder
	if c.Bool("force") {
		write = atomicfile.ReplaceFolder
	}
	return outputTrouble(dir, write(dir, folder))
}
