package main

import (
	"embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"fewtubes/catalog"

	"github.com/urfave/cli/v2"
)

// The scripts hand the words typed so far to completeCommand and offer what it
// prints; where it prints nothing, files are offered.
//
//go:embed completion
var completionScripts embed.FS

var shells = []string{"bash", "zsh", "fish"}

func completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "a script that lets the shell complete commands, flags and tubes",
		ArgsUsage: strings.Join(shells, "|"),
		Category:  aboutProgram,
		Description: "For bash, add to ~/.bashrc:  source <(fewtubes completion bash)\n\n" +
			"For zsh, write it to a file _fewtubes in a folder of $fpath.\n\n" +
			"For fish, write it to ~/.config/fish/completions/fewtubes.fish.",
		Action: completion,
	}
}

func completion(c *cli.Context) error {
	if c.NArg() != 1 || !slices.Contains(shells, c.Args().First()) {
		return userError("completion takes one of %s; write, for example, fewtubes completion bash", strings.Join(shells, ", "))
	}
	script, err := completionScripts.ReadFile("completion/" + c.Args().First())
	if err != nil {
		return err
	}
	_, err = c.App.Writer.Write(script)
	return err
}

// completeCommand prints what the last of its arguments may become, one to a
// line, each with a tab and a few words where there are some.
func completeCommand() *cli.Command {
	return &cli.Command{
		Name:   "complete",
		Usage:  "what the last word may become, for the scripts of completion",
		Hidden: true,
		Action: func(c *cli.Context) error {
			var b strings.Builder
			for _, may := range candidates(c.App, c.Args().Slice()) {
				fmt.Fprintln(&b, strings.TrimRight(may.word+"\t"+may.about, "\t"))
			}
			_, err := io.WriteString(c.App.Writer, b.String())
			return err
		},
	}
}

type candidate struct{ word, about string }

// candidates are what the last word may become, given those before it.
func candidates(app *cli.App, words []string) (out []candidate) {
	if len(words) == 0 {
		return nil
	}
	typed, before := words[len(words)-1], words[:len(words)-1]
	switch {
	case len(before) == 0:
		for _, c := range app.VisibleCommands() {
			out = append(out, candidate{c.Name, c.Usage})
		}
		out = append(out, ofFlags(app.VisibleFlags())...)
	default:
		out = ofCommand(app, before, typed)
	}
	return slices.DeleteFunc(out, func(c candidate) bool {
		return !strings.HasPrefix(c.word, typed) || typed == "" && isFlag(c.word)
	})
}

func ofCommand(app *cli.App, before []string, typed string) []candidate {
	command := findCommand(app, before[0])
	last := before[len(before)-1]
	if command == nil || slices.Contains(before, "--") {
		return nil
	}
	if isFlag(last) {
		if flag, _, given, err := findFlag(command, last); err != nil || takesValue(flag) && !given {
			return ofList(strings.TrimLeft(last, "-"), typed)
		}
	}
	switch {
	case isFlag(typed) || typed == "-":
		return ofFlags(command.VisibleFlags())
	case command.Name == "box" && len(before) > 1 && before[1] != "list":
		return ofTubes("")
	case len(before) > 1:
		return nil
	}
	switch command.Name {
	case "tubes":
		return ofTubes("")
	case "box":
		return ofWords("", []string{"add", "remove", "list"})
	case "completion":
		return ofWords("", shells)
	case "help":
		return ofWords("", commandNames(app))
	}
	return nil
}

func ofFlags(flags []cli.Flag) (out []candidate) {
	for _, f := range flags {
		if f, ok := f.(cli.DocGenerationFlag); ok {
			out = append(out, candidate{"--" + f.Names()[0], strings.ReplaceAll(f.GetUsage(), "`", "")})
		}
	}
	return out
}

// ofList is what a flag that takes a list may hold next, behind what is typed of it.
func ofList(flag, typed string) []candidate {
	have := typed[:strings.LastIndex(typed, ",")+1]
	switch flag {
	case "palette", "keep", "never", "only":
		return ofTubes(have)
	case "avoid":
		return ofWords(have, catalog.Classes())
	}
	return nil
}

func ofTubes(have string) (out []candidate) {
	tubes, err := catalog.Builtin()
	if err != nil {
		return nil
	}
	for _, t := range tubes.Tubes() {
		out = append(out, candidate{have + t.ID, t.Name})
	}
	return out
}

func ofWords(have string, words []string) (out []candidate) {
	for _, w := range words {
		out = append(out, candidate{have + w, ""})
	}
	return out
}
