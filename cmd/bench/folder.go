package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"
)

// job is what every kind is told: a folder of instances, and how long and where to.
type job struct {
	dir, out string
	limit    time.Duration // of each instance
	seed     int64
}

// parse reads the arguments of a kind, which may have flags of its own; the folder may stand before
// its flags.
func parse(name string, args []string, own ...func(*flag.FlagSet)) (*job, error) {
	j := &job{}
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	seconds := f.Float64("seconds", 10, "for each instance")
	f.Int64Var(&j.seed, "seed", 1, "of choices by lot")
	f.StringVar(&j.out, "o", "", "folder for the results")
	for _, add := range own {
		add(f)
	}
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		j.dir, args = args[0], args[1:]
	}
	if err := f.Parse(args); err != nil {
		return nil, err
	}
	if j.dir == "" && f.NArg() == 1 {
		j.dir = f.Arg(0)
	} else if f.NArg() > 0 {
		return nil, fmt.Errorf("%s: what is %q?", name, f.Arg(0))
	}
	if j.dir == "" || j.out == "" {
		return nil, fmt.Errorf("%s: a folder of instances and -o OUT are needed", name)
	}
	if !(*seconds > 0) || *seconds > 1e6 {
		return nil, fmt.Errorf("%s: --seconds %v is no time", name, *seconds)
	}
	j.limit = time.Duration(*seconds * float64(time.Second))
	return j, os.MkdirAll(j.out, 0o777)
}

// instances returns the names of the instances of a folder, in order.
func instances(dir string) ([]string, error) {
	list, err := filepath.Glob(filepath.Join(dir, "*.json"))
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%s: no instances (*.json)", dir)
	}
	sort.Strings(list)
	for i, name := range list {
		list[i] = strings.TrimSuffix(filepath.Base(name), ".json")
	}
	return list, nil
}

func readJSON(dir, name string, into any) error {
	path := filepath.Join(dir, name+".json")
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(text, into); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

// writeJSON writes beside and renames, so that no half result is left.
func writeJSON(dir, name string, value any) error {
	text, err := json.Marshal(value)
	if err != nil {
		return err
	}
	path := filepath.Join(dir, name+".json")
	if err := os.WriteFile(path+".tmp", append(text, '\n'), 0o666); err != nil {
		return err
	}
	return os.Rename(path+".tmp", path)
}
