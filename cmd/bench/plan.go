package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"dryfit/shop/schedule"
)

// planInstance is an instance of resource-constrained project scheduling. What the
// file says of its optimum is not read.
type planInstance struct {
	Name       string `json:"name"`
	Capacity   []int  `json:"resource_capacity"`
	Activities []struct {
		ID         int   `json:"id"`
		Duration   int   `json:"duration"`
		Demand     []int `json:"demand"`
		Successors []int `json:"successors"`
	} `json:"activities"`
}

// planResult is what is written of an instance: the start of every activity by its
// id, in the instance's unit of time.
type planResult struct {
	Instance string         `json:"instance"`
	Starts   map[string]int `json:"starts"`
	Value    int            `json:"value"` // makespan
	Bound    int            `json:"bound"` // no schedule is shorter
	Proved   bool           `json:"proved"`
	Seconds  float64        `json:"seconds"`
}

// plan solves every instance of a folder:
//
//	bench plan DIR --seconds N --seed S -o OUT
func plan(args []string) error {
	flags := flag.NewFlagSet("plan", flag.ContinueOnError)
	seconds := flags.Float64("seconds", 10, "time for each instance")
	seed := flags.Uint64("seed", 1, "seed of the search")
	work := flags.Int64("work", -1, "work for each instance, for the same result on every machine; -1: as much as the time allows")
	out := flags.String("o", "", "folder for the results")
	dir, args := "", args
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		dir, args = args[0], args[1:]
	}
	if err := flags.Parse(args); err != nil {
		return err
	}
	if dir == "" {
		dir = flags.Arg(0)
	}
	if dir == "" || *out == "" {
		return fmt.Errorf("usage: bench plan DIR --seconds N --seed S -o OUT")
	}
	if err := os.MkdirAll(*out, 0o755); err != nil {
		return err
	}
	names, err := planNames(dir)
	if err != nil {
		return err
	}
	fmt.Printf("%-16s %8s %8s %7s %8s\n", "instance", "makespan", "bound", "gap %", "seconds")
	for _, name := range names {
		in, err := readPlan(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		r, err := solvePlan(in, *seconds, schedule.Options{Seed: *seed, Work: *work})
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		text, err := json.MarshalIndent(r, "", "  ")
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(*out, name), append(text, '\n'), 0o644); err != nil {
			return err
		}
		note := ""
		if r.Proved {
			note = "  proved"
		}
		fmt.Printf("%-16s %8d %8d %7.2f %8.2f%s\n", r.Instance, r.Value, r.Bound, 100*float64(r.Value-r.Bound)/float64(max(1, r.Bound)), r.Seconds, note)
	}
	return nil
}

func planNames(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".json") {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s has no instance", dir)
	}
	return names, nil
}

func readPlan(path string) (*planInstance, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	in := &planInstance{}
	if err := json.Unmarshal(text, in); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if in.Name == "" {
		in.Name = strings.TrimSuffix(filepath.Base(path), ".json")
	}
	return in, nil
}

func solvePlan(in *planInstance, seconds float64, o schedule.Options) (*planResult, error) {
	p := &schedule.Project{}
	for r, c := range in.Capacity {
		p.Resources = append(p.Resources, schedule.Resource{Name: "R" + strconv.Itoa(r+1), Capacity: c})
	}
	index := map[int]int{}
	for k, a := range in.Activities {
		index[a.ID] = k
		m := schedule.Mode{Duration: a.Duration}
		for r, units := range a.Demand {
			if units > 0 {
				m.Uses = append(m.Uses, schedule.Use{Resource: r, Units: units})
			}
		}
		p.Tasks = append(p.Tasks, schedule.Task{Name: strconv.Itoa(a.ID), Modes: []schedule.Mode{m}})
	}
	for k, a := range in.Activities {
		for _, s := range a.Successors {
			j, ok := index[s]
			if !ok {
				return nil, fmt.Errorf("activity %d has a successor %d, which is not there", a.ID, s)
			}
			p.Tasks[j].After = append(p.Tasks[j].After, k)
		}
	}
	begin := time.Now()
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(seconds*float64(time.Second)))
	defer cancel()
	s, err := schedule.Solve(ctx, p, o)
	if err != nil {
		return nil, err
	}
	r := &planResult{Instance: in.Name, Starts: map[string]int{}, Value: s.Makespan, Bound: s.Bound, Proved: s.Proved, Seconds: time.Since(begin).Seconds()}
	for k, a := range in.Activities {
		r.Starts[strconv.Itoa(a.ID)] = s.Tasks[k].Start
	}
	return r, nil
}

// checkPlan refuses a result that breaks its instance, by code that shares nothing
// with the search.
func checkPlan(dir, out string) error {
	names, err := planNames(dir)
	if err != nil {
		return err
	}
	for _, name := range names {
		in, err := readPlan(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			return err
		}
		r := &planResult{}
		if err := json.Unmarshal(text, r); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(out, name), err)
		}
		if err := r.check(in); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(out, name), err)
		}
	}
	fmt.Printf("%d schedules are possible\n", len(names))
	return nil
}

func (r *planResult) check(in *planInstance) error {
	if r.Instance != in.Name {
		return fmt.Errorf("is of instance %q, not %q", r.Instance, in.Name)
	}
	if len(r.Starts) != len(in.Activities) {
		return fmt.Errorf("%d starts for %d activities", len(r.Starts), len(in.Activities))
	}
	start := map[int]int{}
	end := 0
	for _, a := range in.Activities {
		s, ok := r.Starts[strconv.Itoa(a.ID)]
		if !ok || s < 0 {
			return fmt.Errorf("activity %d has no start, or one before 0", a.ID)
		}
		start[a.ID] = s
		end = max(end, s+a.Duration)
	}
	if end != r.Value {
		return fmt.Errorf("the last activity ends at %d, value is %d", end, r.Value)
	}
	if r.Bound > r.Value || r.Proved && r.Bound != r.Value {
		return fmt.Errorf("value %d, bound %d, proved %v do not go together", r.Value, r.Bound, r.Proved)
	}
	for _, a := range in.Activities {
		for _, s := range a.Successors {
			if start[s] < start[a.ID]+a.Duration {
				return fmt.Errorf("activity %d starts at %d, activity %d before it ends at %d", s, start[s], a.ID, start[a.ID]+a.Duration)
			}
		}
		// What is held changes most where something starts.
		for k, capacity := range in.Capacity {
			held := 0
			for _, b := range in.Activities {
				if start[b.ID] <= start[a.ID] && start[a.ID] < start[b.ID]+b.Duration {
					held += b.Demand[k]
				}
			}
			if held > capacity {
				return fmt.Errorf("resource %d: %d of %d are held at %d, when activity %d starts", k+1, held, capacity, start[a.ID], a.ID)
			}
		}
	}
	return nil
}
