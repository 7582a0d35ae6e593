package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"iter"
	"runtime"
	"strings"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/report/shown"
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
	if len(data) == 0 {
		return userError("%s: there is no certificate in it; choose --certificate FILE writes one", path)
	}
	sign := spin(c.App.ErrWriter, "verifying")
	defer sign.done()
	ctx, stop := context.WithCancel(c.Context)
	defer stop() // what is verified ahead
	line, done, all := 0, certificate.Work(0), bytes.Count(data, endOfProof)
	for i, claim := range verifyAll(ctx, data, mostWork) {
		sign.text.Store(fmt.Sprintf("verifying: %d of %d", i, all))
		select {
		case <-claim.done:
		case <-ctx.Done(): // whatever a worker is busy with
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if done += claim.work; done > mostWork {
			claim.err = certificate.ErrWork
		}
		if claim.err != nil {
			return certificateTrouble(path, i+1, line, claim.err)
		}
		line += bytes.Count(claim.text, []byte("\n"))
		fmt.Fprintf(c.App.Writer, "%d. No mix of %s comes within ΔE00 %g of %s, under %s: the proof holds.\n",
			i+1, howMany(len(claim.Paints), "paint"), claim.Tolerance, inWords(claim.Target), shown.Sight{Light: claim.Light, Surface: claim.Surface.View()}.SeenUnder())
	}
	return nil
}

const (
	// mostProofs is the largest file of certificates that is read, bytes.
	mostProofs = 64 << 20

	// mostWork is what its certificates may take together, some seconds of one
	// processor: four times those of the demo, which are among the longest.
	mostWork certificate.Work = 8e9
)

// readProofs reads a file, without the blank end it may have, that begins as a
// certificate does.
func readProofs(path string) ([]byte, error) {
	data, err := infile.ReadIf(path, mostProofs, func(head []byte) error {
		first, _, _ := bytes.Cut(head, []byte("\n"))
		if _, err := certificate.Read(bytes.NewReader(first)); err != nil && len(bytes.TrimSpace(head)) > 0 && !bytes.HasPrefix(first, []byte("certificate ")) {
			return certificateTrouble(path, 1, 0, err)
		}
		return nil
	})
	if err == nil && len(data) > mostProofs {
		return nil, userError("%s: over %d MB is too large to be verified; have shorter proofs written, as with --cells 1000", path, mostProofs>>20)
	}
	text := bytes.TrimRight(data, " \t\r\n")
	if len(text) > 0 && len(text) < len(data) {
		text = data[:len(text)+1]
	}
	return text, err
}

// certificateTrouble says in which line of the file a certificate cannot be read,
// or where one begins that does not hold.
func certificateTrouble(path string, n, above int, err error) error {
	var syntax *certificate.SyntaxError
	switch {
	case errors.Is(err, certificate.ErrWork):
		return userError("%s:%d: certificate %d: it takes more work than is done for one file; give each certificate a file of its own, or have shorter proofs written, as with --cells 1000", path, above+1, n)
	case errors.As(err, &syntax):
		return userError("%s:%d: certificate %d: %w; have it written anew by choose --certificate FILE", path, above+syntax.Line, n, syntax.Err)
	}
	return userError("%s:%d: certificate %d does not hold: %w; do not rely on it, and have it written anew by choose --certificate FILE", path, above+1, n, err)
}

// verdict on one certificate, to be read when it is done.
type verdict struct {
	text []byte
	certificate.Claim
	work certificate.Work
	err  error
	done chan struct{}
}

// mostVerified at a time: each holds some megabytes.
const mostVerified = 4

// verifyAll verifies certificates side by side, a few ahead of the one that is
// asked for. None works longer than what is left of most for it.
func verifyAll(ctx context.Context, data []byte, most certificate.Work) iter.Seq2[int, *verdict] {
	return func(yield func(int, *verdict) bool) {
		var ahead []*verdict
		for i := 0; ; i++ {
			for len(data) > 0 && len(ahead) < min(mostVerified, runtime.GOMAXPROCS(0)) {
				v := &verdict{done: make(chan struct{})}
				v.text, data = cutCertificate(data)
				ahead = append(ahead, v)
				go v.verify(ctx, most)
			}
			if len(ahead) == 0 || !yield(i, ahead[0]) {
				return
			}
			most -= ahead[0].work
			ahead = ahead[1:]
		}
	}
}

func (v *verdict) verify(ctx context.Context, most certificate.Work) {
	defer close(v.done)
	v.Claim, v.work, v.err = certificate.Verify(ctx, bytes.NewReader(v.text), most)
}

var endOfProof = []byte("\nend\n")

// cutCertificate parts a file after the line that ends its first certificate.
func cutCertificate(data []byte) (first, rest []byte) {
	end := bytes.Index(data, endOfProof)
	if end < 0 {
		return data, nil
	}
	end += len(endOfProof)
	return data[:end], data[end:]
}

func inWords(c colour.Lab) string {
	return fmt.Sprintf("lab(%.4g %.4g %.4g), %s", c.L, c.A, c.B, strings.ToLower(colour.Name(c).String()))
}
