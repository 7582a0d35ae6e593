package main

import (
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"

	"github.com/urfave/cli/v2"
)

// arrange moves flags before the other arguments, because people write
// "choose scene.toml --max-tubes 5" and the cli package stops at the first
// argument that is not a flag. It refuses commands and flags it does not know.
func arrange(app *cli.App, args []string) ([]string, error) {
	if len(args) < 2 || wantsHelp(args[1]) || strings.TrimLeft(args[1], "-") == "version" && isFlag(args[1]) {
		return args[:min(len(args), 3)], nil
	}
	name := args[1]
	command := findCommand(app, name)
	if command == nil {
		return nil, userError("no command %q%s; fewtubes --help lists the commands", name, nearest(name, commandNames(app)))
	}
	var flags, rest []string
	for i := 2; i < len(args); i++ {
		arg := args[i]
		if arg == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if !isFlag(arg) {
			rest = append(rest, arg)
			continue
		}
		takes, err := takesValue(command, arg)
		if err != nil {
			return nil, err
		}
		flags = append(flags, arg)
		if takes {
			if i++; i == len(args) {
				return nil, userError("%s wants a value; fewtubes %s --help shows which", arg, name)
			}
			flags = append(flags, args[i])
		}
	}
	out := append([]string{args[0], name}, flags...)
	return append(append(out, "--"), rest...), nil
}

// isFlag tells a flag from an argument; one that goes on with a digit is a
// number somebody got wrong.
func isFlag(arg string) bool {
	return len(arg) > 1 && arg[0] == '-' && (arg[1] < '0' || arg[1] > '9')
}

// takesValue reports whether the next argument belongs to this flag.
func takesValue(command *cli.Command, arg string) (bool, error) {
	name, _, inline := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	if name == "help" || name == "h" {
		return false, nil
	}
	var known []string
	for _, f := range command.Flags {
		known = append(known, f.Names()...)
		if slices.Contains(f.Names(), name) {
			_, isBool := f.(*cli.BoolFlag)
			return !isBool && !inline, nil
		}
	}
	return false, userError("%s has no flag --%s%s; fewtubes %[1]s --help lists its flags", command.Name, name, nearest(name, known))
}

// usageError puts what the cli package says about a flag's value in plain words.
func usageError(c *cli.Context, err error, _ bool) error {
	text := err.Error()
	if value, after, ok := strings.Cut(strings.TrimPrefix(text, "invalid value "), " for flag -"); ok {
		name, _, _ := strings.Cut(after, ":")
		if len(name) > 1 {
			name = "-" + name
		}
		return userError("-%s %s is %s; fewtubes %s --help shows what it takes", name, plain.Short(strings.Trim(value, `"`)), kindOf(c.Command, name, after), c.Command.Name)
	}
	return userError("%s: %s; fewtubes %[1]s --help lists its flags", c.Command.Name, text)
}

// kindOf says what is wrong with the value of a flag.
func kindOf(command *cli.Command, name, trouble string) string {
	for _, f := range command.Flags {
		if !slices.Contains(f.Names(), strings.TrimLeft(name, "-")) {
			continue
		}
		switch f.(type) {
		case *cli.IntFlag:
			if strings.Contains(trouble, "out of range") {
				return "too large a number"
			}
			return "not a whole number"
		case *cli.Float64Flag:
			return "not a number"
		case *cli.BoolFlag:
			return "neither true nor false"
		}
	}
	return "not a value it takes"
}

func wantsHelp(arg string) bool {
	return slices.Contains([]string{"help", "h", "--help", "-h", "-help"}, arg)
}

func findCommand(app *cli.App, name string) *cli.Command {
	for _, c := range app.Commands {
		if c.HasName(name) {
			return c
		}
	}
	return nil
}

func commandNames(app *cli.App) (names []string) {
	for _, c := range app.Commands {
		if !c.Hidden {
			names = append(names, c.Names()...)
		}
	}
	return names
}

// flagList reads a list flag: values parted by commas, the flag given once or
// more often.
func flagList(c *cli.Context, name string) (out []string) {
	for _, given := range c.StringSlice(name) {
		out = append(out, splitList(given)...)
	}
	return out
}

// splitList parts at commas and drops blanks around what is parted.
func splitList(text string) (out []string) {
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}
