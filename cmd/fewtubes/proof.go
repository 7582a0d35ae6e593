package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"

	certificate "fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"

	"github.com/urfave/cli/v2"
)

func proofCommand() *cli.Command {
	return &cli.Command{
		Name:      "proof",
		Usage:     "verify certificates that colours cannot be reached",
		ArgsUsage: "FILE",
		Action:    proof,
	}
}

func proof(c *cli.Context) error {
	if c.NArg() != 1 {
		return userError("proof takes one file of certificates; write fewtubes proof FILE")
	}
	path := c.Args().First()
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	parts := certificates(data)
	if len(parts) == 0 {
		return userError("%s: there is no certificate in it; choose --certificate FILE writes one", path)
	}
	done := working(c.App.ErrWriter, "verifying")
	defer done()
	line := 0
	for i, part := range parts {
		if err := c.Context.Err(); err != nil {
			return err
		}
		claim, err := verified(part)
		if err != nil {
			return certificateTrouble(path, i+1, line, err)
		}
		line += bytes.Count(part, []byte("\n"))
		fmt.Fprintf(c.App.Writer, "%d. No mix of %s comes within ΔE00 %g of %s, under light %s: the proof holds.\n",
			i+1, howMany(len(claim.Paints), "paint"), claim.Tolerance, inWords(claim.Target), claim.Light)
	}
	return nil
}

// certificateTrouble says in which line of the file a certificate cannot be read,
// or where one begins that does not hold.
func certificateTrouble(path string, n, above int, err error) error {
	var syntax *certificate.SyntaxError
	if errors.As(err, &syntax) {
		return userError("%s:%d: certificate %d: %w; have it written anew by choose --certificate FILE", path, above+syntax.Line, n, syntax.Err)
	}
	return userError("%s:%d: certificate %d does not hold: %w; do not rely on it, and have it written anew by choose --certificate FILE", path, above+1, n, err)
}

// verified reads one certificate and verifies it.
func verified(data []byte) (*certificate.Claim, error) {
	c, err := certificate.Read(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	return &c.Claim, c.Verify()
}

// certificates parts a file after each line that ends one.
func certificates(data []byte) (parts [][]byte) {
	for len(bytes.TrimSpace(data)) > 0 {
		end := bytes.Index(data, []byte("\nend\n"))
		if end < 0 {
			return append(parts, data)
		}
		end += len("\nend\n")
		parts, data = append(parts, data[:end]), data[end:]
	}
	return parts
}

func inWords(c colour.Lab) string {
	return fmt.Sprintf("lab(%.4g %.4g %.4g), %s", c.L, c.A, c.B, strings.ToLower(colour.Name(c).String()))
}
