package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/infile"
	"fewtubes/cmd/fewtubes/internal/proofs"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	certificate "fewtubes/gamut/certain/check"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func proofCommand() *cli.Command {
	return &cli.Command{
		Name:      "proof",
		Usage:     "verify what choose and check have proven, and say what it is about",
		ArgsUsage: "DIR",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringFlag{Name: "scene", Usage: "compare with the scene in `SCENE.toml`, under the limits that follow"},
		}, limitFlags(), []cli.Flag{ownFlag()}),
		Action: proof,
	}
}

func proof(c *cli.Context) error {
	if c.NArg() != 1 {
		return userError("proof takes one folder of proofs; write fewtubes proof DIR")
	}
	path := c.Args().First()
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return proofFolder(c, path)
	}
	if c.String("scene") != "" {
		return userError("%s is a file of certificates, which names no scene; compare a folder with one, as choose --certificate DIR writes it", path)
	}
	return proofFile(c, path)
}

// proofFolder verifies a folder.
func proofFolder(c *cli.Context, path string) error {
	sign := spin(c.App.ErrWriter, "verifying")
	defer sign.done()
	v, err := proofs.Verify(c.Context, path, func(done, all int) { sign.text.Store(fmt.Sprintf("verifying: %d of %d", done, all)) })
	var broken *proofs.Error
	if errors.As(err, &broken) {
		return folderTrouble(path, broken)
	}
	if err != nil {
		return err
	}
	compared, err := compareProof(c, path, v.Statement)
	if err != nil {
		return err
	}
	sign.done()
	if _, err := io.WriteString(c.App.Writer, v.Text(terminalStyle(c.App.Writer))+compared); err != nil {
		return err
	}
	if !v.Proven() {
		return errMissed
	}
	return nil
}

func folderTrouble(path string, err *proofs.Error) error {
	at := filepath.Join(path, err.File)
	if err.Line > 0 {
		at += fmt.Sprintf(":%d", err.Line)
	}
	if errors.Is(err, certificate.ErrWork) {
		return userError("%s: it takes more work than is done for one folder; have shorter proofs written, as with --cells 1000", at)
	}
	return userError("%s: %w; do not rely on this folder, and have it written anew by choose or check with --certificate DIR", at, err.Err)
}

// compareProof refuses a folder about another scene than the one named, and says
// which tubes it is about.
func compareProof(c *cli.Context, path string, s *proofs.Statement) (string, error) {
	tubes, err := stock(c)
	if err != nil {
		return "", err
	}
	if other := s.Unlike(tubes.Tubes()); c.String("scene") == "" {
		if len(other) > 0 {
			return fmt.Sprintf("Not the tubes of this program, by id or paint: %s.\n", strings.Join(other, ", ")), nil
		}
		return "The tubes are those of this program.\n", nil
	}
	name := c.String("scene")
	painted, err := scene.Read(name)
	if err != nil {
		return "", err
	}
	if err := applyLimits(c, &painted); err != nil {
		return "", err
	}
	q := &question{scene: painted, stock: tubes, problem: painted.Problem(tubes)}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return "", err
	}
	wanted, err := q.asked(session, s)
	if err != nil {
		return "", err
	}
	if differs := s.Differs(wanted); differs != "" {
		return "", userError("%s: it is not about the scene of %s: %s; name the scene, and the limits, that it was written for", path, name, differs)
	}
	return fmt.Sprintf("It is about the scene of %s.\n", name), nil
}

// asked is what a folder about the scene and its limits would state, before anything
// is worked out: about the tubes it names where it states no minimum.
func (q *question) asked(session *solver.Session, s *proofs.Statement) (*proofs.Statement, error) {
	if len(s.Minima) == 0 {
		var held []string
		for _, t := range s.Tubes {
			if _, ok := q.stock.Find(t.ID); ok {
				held = append(held, t.ID)
			}
		}
		return proofs.Stated(q.scene.Title, &q.problem, proofs.Freely(held)), nil
	}
	tubes, err := session.Allowed(&q.problem.Limits)
	if err != nil {
		return nil, err
	}
	out := proofs.Stated(q.scene.Title, &q.problem, tubes)
	out.Bound(&q.problem.Limits)
	return out, nil
}

// proofFile verifies a file of certificates, as they were written before there were
// folders.
func proofFile(c *cli.Context, path string) error {
	data, err := readProofs(path)
	if err != nil {
		return err
	}
	if len(data) == 0 {
		return userError("%s: there is no certificate in it; choose --certificate DIR writes a folder of them", path)
	}
	sign := spin(c.App.ErrWriter, "verifying")
	defer sign.done()
	ctx, stop := context.WithCancel(c.Context)
	defer stop() // what is verified ahead
	line, all := 0, bytes.Count(data, endOfProof)
	next := func() (text []byte, ok bool) {
		text, data = cutCertificate(data)
		return text, len(text) > 0
	}
	for i, claim := range proofs.Check(ctx, next) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if claim.Err != nil {
			return certificateTrouble(path, i+1, line, claim.Err)
		}
		sign.text.Store(fmt.Sprintf("verifying: %d of %d", i+1, all))
		line += bytes.Count(claim.Text, []byte("\n"))
		fmt.Fprintf(c.App.Writer, "%d. No mix of %s comes within ΔE00 %g of %s, under %s: the proof holds.\n",
			i+1, howMany(len(claim.Paints), "paint"), claim.Tolerance, proofs.InWords(claim.Target), shown.Sight{Light: claim.Light, Surface: claim.Surface.View()}.SeenUnder())
	}
	return nil
}

// readProofs reads a file, without the blank end it may have, that begins as a
// certificate does.
func readProofs(path string) ([]byte, error) {
	data, err := infile.ReadIf(path, proofs.MostBytes, func(head []byte) error {
		first, _, _ := bytes.Cut(head, []byte("\n"))
		if _, err := certificate.Read(bytes.NewReader(first)); err != nil && len(bytes.TrimSpace(head)) > 0 && !bytes.HasPrefix(first, []byte("certificate ")) {
			return certificateTrouble(path, 1, 0, err)
		}
		return nil
	})
	if err == nil && len(data) > proofs.MostBytes {
		return nil, userError("%s: over %d MB is too large to be verified; have shorter proofs written, as with --cells 1000", path, proofs.MostBytes>>20)
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
		return userError("%s:%d: certificate %d: %w; have it written anew by choose --certificate DIR", path, above+syntax.Line, n, syntax.Err)
	}
	return userError("%s:%d: certificate %d does not hold: %w; do not rely on it, and have it written anew by choose --certificate DIR", path, above+1, n, err)
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
