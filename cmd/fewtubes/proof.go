package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync/atomic"

	"fewtubes/cmd/fewtubes/internal/infile"
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
	data, err := readProofs(path)
	if err != nil {
		return err
	}
	parts := certificates(data)
	if len(parts) == 0 {
		return userError("%s: there is no certificate in it; choose --certificate FILE writes one", path)
	}
	sign := spin(c.App.ErrWriter, "verifying")
	defer sign.done()
	line := 0
	for i, claim := range verifyAll(c.Context, parts) {
		sign.text.Store(fmt.Sprintf("verifying: %d of %d", i, len(parts)))
		select {
		case <-claim.done:
		case <-c.Context.Done(): // whatever a worker is busy with
		}
		if err := c.Context.Err(); err != nil {
			return err
		}
		if claim.err != nil {
			return certificateTrouble(path, i+1, line, claim.err)
		}
		line += bytes.Count(parts[i], []byte("\n"))
		fmt.Fprintf(c.App.Writer, "%d. No mix of %s comes within ΔE00 %g of %s, under light %s: the proof holds.\n",
			i+1, howMany(len(claim.Paints), "paint"), claim.Tolerance, inWords(claim.Target), claim.Light)
	}
	return nil
}

// mostProofs is the largest file of certificates that is read, bytes. One is
// verified on each processor, and takes a few times its part of the file.
const mostProofs = 64 << 20

func readProofs(path string) ([]byte, error) {
	data, err := infile.Read(path, mostProofs)
	if err == nil && len(data) > mostProofs {
		return nil, userError("%s: over %d MB is too large to be verified; have shorter proofs written, as with --cells 1000", path, mostProofs>>20)
	}
	return data, err
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

// verdict on one certificate, to be read when it is done.
type verdict struct {
	certificate.Claim
	err  error
	done chan struct{}
}

// verifyAll verifies certificates side by side, in their order as far as that goes.
func verifyAll(ctx context.Context, parts [][]byte) []*verdict {
	all := make([]*verdict, len(parts))
	for i := range all {
		all[i] = &verdict{done: make(chan struct{})}
	}
	var next atomic.Int64
	for range min(len(parts), runtime.GOMAXPROCS(0)) {
		go func() {
			for i := int(next.Add(1)) - 1; i < len(parts); i = int(next.Add(1)) - 1 {
				all[i].verify(ctx, parts[i])
				close(all[i].done)
			}
		}()
	}
	return all
}

func (v *verdict) verify(ctx context.Context, data []byte) {
	if v.err = ctx.Err(); v.err != nil {
		return
	}
	c, err := certificate.Read(bytes.NewReader(data))
	if v.err = err; err != nil {
		return
	}
	v.Claim, v.err = c.Claim, c.Verify(ctx)
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
