package main

import (
	"bytes"
	"fmt"

	"fewtubes/gamut/certain"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// certifyFlags go with the commands whose answers rest on "cannot reach".
func certifyFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "certify", Usage: "prove what cannot be reached as a theorem where that can be done; takes a while", DisableDefaultText: true},
		&cli.StringFlag{Name: "certificate", Usage: "certify, and write the proofs to `FILE`, for fewtubes proof to verify"},
		&cli.IntFlag{Name: "cells", Value: certain.DefaultCells, Usage: "give up on a proof after `N` cells"},
	}
}

// checkCertify refuses flags of a proof that make no sense, before the work.
func checkCertify(c *cli.Context) error {
	if n := c.Int("cells"); n < 1 || n > 1e6 {
		return userError("--cells %d is no number of cells; write one from 1 to 1000000", n)
	}
	if err := apart(c.String("html"), c.String("certificate")); err != nil {
		return err
	}
	return checkOutput(c.String("certificate"), c.Bool("force"), inputsOf(c)...)
}

// certifying reports whether proofs are asked for.
func certifying(c *cli.Context) bool { return c.Bool("certify") || c.String("certificate") != "" }

// certified runs a proof with a sign of life and writes the certificates where
// a file is named.
func certified(c *cli.Context, sign *spinner, prove func(watch func(done, all int)) ([]solver.Proof, error)) error {
	sign.text.Store("certifying")
	proofs, err := prove(func(done, all int) { sign.text.Store(fmt.Sprintf("certifying: %d of %d", done, all)) })
	if err != nil || c.String("certificate") == "" {
		return err
	}
	var b bytes.Buffer
	for _, p := range proofs {
		if err := p.Certificate.Write(&b); err != nil {
			return err
		}
	}
	return writeOutput(c, c.String("certificate"), b.Bytes())
}
