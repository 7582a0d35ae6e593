package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/notices"

	"github.com/urfave/cli/v2"
)

func noticesCommand() *cli.Command {
	return &cli.Command{
		Name:        "notices",
		Usage:       "whose data and programs are inside, and under which licences",
		ArgsUsage:   "[NAME]",
		Category:    aboutProgram,
		Description: "With a NAME from the list, the licence of that part in full.",
		Flags:       []cli.Flag{&cli.BoolFlag{Name: "all", Usage: "print every licence in full", DisableDefaultText: true}},
		Action:      showNotices,
	}
}

func showNotices(c *cli.Context) error {
	text := notices.All()
	switch name := c.Args().First(); {
	case c.NArg() > 1:
		return userError("notices shows one part at a time and %q is one too many; name one, or give --all", c.Args().Get(1))
	case name != "":
		part, err := partNamed(name)
		if err != nil {
			return err
		}
		text = part.Heading() + "\n" + part.Text + "\n"
	case !c.Bool("all"):
		text = noticesInBrief()
	}
	_, err := io.WriteString(c.App.Writer, text)
	return err
}

// noticesInBrief are the credits and the parts with their licences.
func noticesInBrief() string {
	var b strings.Builder
	b.WriteString(notices.Credits() + "\n\n")
	for _, p := range notices.Parts() {
		b.WriteString(strings.TrimRight(fmt.Sprintf("  %-39s %-17s %s", p.Name, p.Licence, p.Version), " ") + "\n")
	}
	return b.String() + "\nfewtubes notices NAME prints the licence of one in full, fewtubes notices --all every one.\n"
}

// partNamed takes a whole name, or an element of one where only one part has it.
func partNamed(name string) (notices.Part, error) {
	var found []notices.Part
	var known []string
	for _, p := range notices.Parts() {
		elements := strings.Split(p.Name, "/")
		if p.Name == name {
			return p, nil
		}
		if slices.Contains(elements, name) {
			found = append(found, p)
		}
		known = append(append(known, p.Name), elements...)
	}
	switch len(found) {
	case 0:
		return notices.Part{}, userError("no part is called %q%s; fewtubes notices lists them", name, nearest(name, known))
	case 1:
		return found[0], nil
	}
	return notices.Part{}, userError("%q stands in the names of %d parts; write the whole name, as fewtubes notices lists it", name, len(found))
}
