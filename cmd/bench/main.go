// Command bench runs dryfit's searches on folders of published instances and checks
// what they say:
//
//	go run ./cmd/bench KIND DIR [flags] -o OUT
//	go run ./cmd/bench check KIND DIR OUT
package main

import (
	"fmt"
	"os"
)

// kinds is what can be run, and how its results are checked.
var kinds = []struct {
	name  string
	run   func(args []string) error
	check func(dir, out string) error
}{
	{"plan", plan, checkPlan},
}

func main() {
	if err := command(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func command(args []string) error {
	checking := len(args) > 0 && args[0] == "check"
	if checking {
		args = args[1:]
	}
	for _, k := range kinds {
		switch {
		case len(args) == 0 || args[0] != k.name:
		case !checking:
			return k.run(args[1:])
		case len(args) == 3:
			return k.check(args[1], args[2])
		}
	}
	return fmt.Errorf("usage: bench KIND DIR [flags] -o OUT, or bench check KIND DIR OUT; the kind is plan")
}
