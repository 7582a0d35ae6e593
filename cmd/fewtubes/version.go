package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"time"

	"github.com/urfave/cli/v2"
)

// aboutProgram is the heading under which the help lists what is about the program
// and not about paint.
const aboutProgram = "About the program"

func versionFlag() cli.Flag {
	return &cli.BoolFlag{Name: "version", Usage: "say what this program was built from", DisableDefaultText: true}
}

// front answers where no command is named.
func front(c *cli.Context) error {
	if !c.Bool("version") {
		return cli.ShowAppHelp(c)
	}
	_, err := io.WriteString(c.App.Writer, builtFrom().String())
	return err
}

// provenance is what the go command wrote down when it built the program.
type provenance struct{ version, commit, date string }

// unknown stands for what it did not: it is told the commit only where it builds
// from a folder under version control.
const unknown = "unknown"

func builtFrom() provenance {
	info, _ := debug.ReadBuildInfo()
	return provenanceOf(info)
}

func provenanceOf(info *debug.BuildInfo) provenance {
	p := provenance{unknown, unknown, unknown}
	if info == nil {
		return p
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		p.version = v
	}
	changed := ""
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			p.commit = s.Value
		case "vcs.time":
			if at, err := time.Parse(time.RFC3339, s.Value); err == nil {
				p.date = at.UTC().Format(time.DateOnly)
			}
		case "vcs.modified":
			if s.Value == "true" {
				changed = ", with changes that were not committed"
			}
		}
	}
	if p.commit != unknown {
		p.commit += changed
	}
	return p
}

func (p provenance) String() string {
	return fmt.Sprintf("fewtubes, version %s\ndate %s, commit %s\n%s for %s on %s\n",
		p.version, p.date, p.commit, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
