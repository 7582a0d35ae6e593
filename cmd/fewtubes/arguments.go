package main

import (
	"errors"
	"slices"
	"strconv"
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
	var wrong error // the first value that its flag does not take
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
		flag, value, given, err := findFlag(command, arg)
		if err != nil {
			return nil, err
		}
		flags = append(flags, arg)
		if takesValue(flag) && !given {
			if i++; i == len(args) {
				return nil, userError("%s wants a value; fewtubes %s --help shows which", arg, name)
			}
			value, given = args[i], true
			flags = append(flags, value)
		}
		if given && wrong == nil {
			wrong = checkValue(command, arg, flag, value)
		}
	}
	if wrong != nil {
		return nil, wrong
	}
	out := append([]string{args[0], name}, flags...)
	return append(append(out, "--"), rest...), nil
}

// isFlag tells a flag from an argument; one that goes on with a digit is a
// number somebody got wrong.
func isFlag(arg string) bool {
	return len(arg) > 1 && arg[0] == '-' && (arg[1] < '0' || arg[1] > '9')
}

// findFlag finds the flag of an argument, nil for help, and the value that stands
// behind its =.
func findFlag(command *cli.Command, arg string) (flag cli.Flag, value string, given bool, err error) {
	name, value, given := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	if name == "help" || name == "h" {
		return nil, "", false, nil
	}
	var known []string
	for _, f := range command.Flags {
		known = append(known, f.Names()...)
		if slices.Contains(f.Names(), name) {
			return f, value, given, nil
		}
	}
	return nil, "", false, userError("%s has no flag --%s%s; fewtubes %[1]s --help lists its flags", command.Name, name, nearest(name, known))
}

// takesValue tells whether what follows a flag belongs to it.
func takesValue(flag cli.Flag) bool {
	_, isBool := flag.(*cli.BoolFlag)
	return flag != nil && !isBool
}

// checkValue refuses what a flag cannot read, as the cli package would, in plain
// words.
func checkValue(command *cli.Command, arg string, flag cli.Flag, value string) error {
	var is string
	var err error
	switch flag.(type) {
	case *cli.IntFlag:
		is = "not a whole number"
		if _, err = strconv.ParseInt(value, 0, strconv.IntSize); errors.Is(err, strconv.ErrRange) {
			is = "too large a number"
		}
	case *cli.Float64Flag:
		is = "not a number"
		_, err = strconv.ParseFloat(value, 64)
	case *cli.BoolFlag:
		is = "neither true nor false"
		_, err = strconv.ParseBool(value)
	}
	if err == nil {
		return nil
	}
	name, _, _ := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	if len(name) > 1 {
		name = "-" + name
	}
	return userError("-%s %s is %s; fewtubes %s --help shows what it takes", name, plain.Short(value), is, command.Name)
}

// usageError is about what arrange let pass and the cli package does not.
func usageError(c *cli.Context, err error, _ bool) error {
	return userError("%s: %s; fewtubes %[1]s --help lists its flags", c.Command.Name, err)
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
