// The command line: verbs, flags, exit status.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"github.com/alecthomas/kong"
	"golang.org/x/term"
)

// Exit status of every verb.
const (
	exitClean    = 0 // nothing at or above fault
	exitFindings = 1 // findings at or above fault; what was asked for is written
	exitUnusable = 2 // an error in the text, files, or wrong usage; nothing is overwritten
)

// verbs is the command line as kong reads it.
type verbs struct {
	Color   string           `help:"Colour on the terminal: auto, always or never." enum:"auto,always,never" default:"auto"`
	Version kong.VersionFlag `help:"Print the version and leave."`

	Draw     drawVerb     `cmd:"" help:"Check, size, lay out and draw: the main job."`
	Check    checkVerb    `cmd:"" help:"Findings only."`
	Schedule scheduleVerb `cmd:"" help:"Schedules of cables, protection and boards."`
	Demand   demandVerb   `cmd:"" help:"Loads by condition, what is left and what binds, banks, charging, days."`
	Tidy     tidyVerb     `cmd:"" help:"Lay the text out canonically; comments stay."`
	Settle   settleVerb   `cmd:"" help:"Write into the text what the compiler chose."`
	Explain  explainVerb  `cmd:"" help:"A rule: what it finds, why, its source, a wrong and a right example."`
}

// env is the outside world of a verb.
type env struct {
	in       io.Reader
	out, err io.Writer
	colour   bool
}

// verb is what every sub-command does; the status is returned, never exited.
type verb interface{ run(*env) int }

func run(args []string, in io.Reader, out, errOut io.Writer) (status int) {
	var v verbs
	left := false // kong asked to leave, after --help or --version
	parser, err := kong.New(&v,
		kong.Name("strake"),
		kong.Description("Compiles the text of a small craft's electrical system into a checked single-line schematic with every cable sized."),
		kong.Writers(out, errOut),
		kong.Exit(func(int) { left = true }),
		kong.Vars{"version": version()},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	)
	if err != nil {
		panic(err) // the table above is wrong: a programmer's mistake
	}
	ctx, err := parser.Parse(args)
	if left {
		return exitClean
	}
	if err != nil {
		fmt.Fprintf(errOut, "strake: %v\n", err)
		var wrong *kong.ParseError
		if errors.As(err, &wrong) {
			fmt.Fprintln(errOut, "`strake --help` lists the verbs and what they take")
		}
		return exitUnusable
	}
	e := &env{in: in, out: out, err: errOut, colour: wantsColour(v.Color, out)}
	return ctx.Selected().Target.Addr().Interface().(verb).run(e)
}

// wantsColour follows --color, then NO_COLOR (any value that is not empty), then the terminal.
func wantsColour(flag string, out io.Writer) bool {
	switch {
	case flag == "always":
		return true
	case flag == "never" || os.Getenv("NO_COLOR") != "":
		return false
	}
	f, ok := out.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// version is what the build information tells: a tagged version, or the revision it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "strake, version not recorded"
	}
	text := "strake " + info.Main.Version
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			text += " " + s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			text += " with local changes"
		}
	}
	return text + " " + info.GoVersion
}
