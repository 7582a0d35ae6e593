// Command fewtubes finds the fewest tubes of oil paint whose mixes reach every
// colour of a landscape.
//
// Results go to standard output, everything else to standard error. It ends
// with 0 when an answer was given, 1 when the program itself failed, 2 when the
// user has something to mend, 3 when --strict was asked and a colour is missed,
// 130 when it was interrupted or asked to end, and 141 when what it prints is no longer read.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/urfave/cli/v2"
)

const (
	exitAnswered    = 0
	exitFailed      = 1
	exitMistake     = 2
	exitMissed      = 3
	exitInterrupted = 130 // 128 + SIGINT, as a shell counts it; SIGTERM asks for the same
	exitUnread      = 141 // 128 + SIGPIPE
)

// errMissed ends a --strict run whose answer misses a colour, and a proof of which
// only parts are there; what there is has been printed by then.
var errMissed = errors.New("a colour is missed")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second one ends the process at once
	os.Exit(run(ctx, os.Args, os.Stdout, os.Stderr))
}

// commands lists every command in the order the help shows them.
func commands() []*cli.Command {
	return []*cli.Command{
		chooseCommand(),
		checkCommand(),
		compareCommand(),
		curveCommand(),
		boxCommand(),
		tubesCommand(),
		mixCommand(),
		pileCommand(),
		correctCommand(),
		measureCommand(),
		sampleCommand(),
		joinCommand(),
		fitCommand(),
		valuesCommand(),
		repaintCommand(),
		airCommand(),
		recessionCommand(),
		chartCommand(),
		handoutCommand(),
		packCommand(),
		proofCommand(),
		serveCommand(),
		noticesCommand(),
		completionCommand(),
		completeCommand(),
		manualCommand(),
	}
}

func newApp(stdout, stderr io.Writer) *cli.App {
	all := commands()
	for _, c := range all {
		c.OnUsageError = usageError
	}
	return &cli.App{
		Name:                      "fewtubes",
		Usage:                     "the fewest tubes of oil paint whose mixes reach every colour of a landscape",
		Commands:                  all,
		Flags:                     []cli.Flag{versionFlag()},
		Action:                    front,
		Writer:                    stdout,
		ErrWriter:                 stderr,
		DisableSliceFlagSeparator: true, // lists are split by flagList, which also trims
		HideVersion:               true,
		ExitErrHandler:            func(*cli.Context, error) {}, // run ends the process
	}
}

// run is the whole program but for the process around it.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	defer func() {
		if r := recover(); r != nil {
			code = explain(stderr, fmt.Errorf("%v", r))
		}
	}()
	out := &printer{Writer: stdout}
	app := newApp(out, stderr)
	args, err := arrange(app, args)
	if err == nil {
		err = app.RunContext(ctx, args)
	}
	return explain(stderr, out.outcome(err))
}

// explain is the one place where an error is printed and becomes an exit code.
func explain(stderr io.Writer, err error) int {
	err = asMistake(err)
	var wrong *mistake
	switch {
	case err == nil:
		return exitAnswered
	case errors.Is(err, errMissed):
		return exitMissed
	case errors.Is(err, errUnread):
		return exitUnread
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "fewtubes: stopped")
		return exitInterrupted
	case errors.As(err, &wrong):
		fmt.Fprintf(stderr, "fewtubes: %s\n", oneLine(wrong.Error()))
		return exitMistake
	}
	fmt.Fprintf(stderr, "fewtubes: %s\n", oneLine(err.Error()))
	fmt.Fprintln(stderr, "This is a fault of the program, not of your input; a report with the scene file helps to mend it.")
	return exitFailed
}
