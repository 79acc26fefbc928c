// Command bench runs the searches of the shop on folders of published instances, and
// checks what they wrote. docs/bench.md has the formats.
package main

import (
	"fmt"
	"os"
)

// kind is a kind of problem: how it is run, and how its results are checked.
type kind struct {
	name  string
	run   func(args []string) error
	check func(dir, out string) error
}

var kinds = []kind{
	{"dowels", dowels, checkDowels},
	{"plan", plan, checkPlan},
	{"nest", strips, checkStrips},
	{"bins", bins, checkBins},
}

const usage = `usage: bench KIND DIR [--seconds N] [--seed S] -o OUT
       bench check KIND DIR OUT
kinds:`

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 4 && args[0] == "check" {
		if k := find(args[1]); k != nil {
			return k.check(args[2], args[3])
		}
	} else if len(args) > 0 {
		if k := find(args[0]); k != nil {
			return k.run(args[1:])
		}
	}
	text := usage
	for _, k := range kinds {
		text += " " + k.name
	}
	return fmt.Errorf("%s", text)
}

func find(name string) *kind {
	for i := range kinds {
		if kinds[i].name == name {
			return &kinds[i]
		}
	}
	return nil
}
