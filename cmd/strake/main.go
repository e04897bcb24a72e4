// Command strake compiles the text of a small craft's electrical system into a
// checked single-line schematic with its schedules. Each verb has a file of its
// own; none knows electrics or geometry. This package alone touches files, the
// terminal and the environment.
package main

import (
	"os"
	"runtime/debug"
)

func main() {
	debug.SetGCPercent(400) // a short run: memory is cheaper than collecting it
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
