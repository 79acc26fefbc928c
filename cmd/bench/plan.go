package main

import (
	"context"
	"flag"
	"fmt"
	"path/filepath"
	"strconv"
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

// plan solves every instance of a folder.
func plan(args []string) error {
	var work *int64
	j, err := parse("plan", args, func(f *flag.FlagSet) {
		work = f.Int64("work", -1, "work for each instance, for the same result on every machine; -1: as much as the time allows")
	})
	if err != nil {
		return err
	}
	names, err := instances(j.dir)
	if err != nil {
		return err
	}
	fmt.Printf("%-16s %8s %8s %7s %8s\n", "instance", "makespan", "bound", "gap %", "seconds")
	for _, name := range names {
		in, err := readPlan(j.dir, name)
		if err != nil {
			return err
		}
		r, err := solvePlan(in, j.limit, schedule.Options{Seed: uint64(j.seed), Work: *work})
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if err := writeJSON(j.out, name, r); err != nil {
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

func readPlan(dir, name string) (*planInstance, error) {
	in := &planInstance{}
	if err := readJSON(dir, name, in); err != nil {
		return nil, err
	}
	for _, a := range in.Activities {
		if len(a.Demand) != len(in.Capacity) {
			return nil, fmt.Errorf("%s: activity %d has %d demands, for %d resources", filepath.Join(dir, name+".json"), a.ID, len(a.Demand), len(in.Capacity))
		}
	}
	if in.Name == "" {
		in.Name = name
	}
	return in, nil
}

func solvePlan(in *planInstance, limit time.Duration, o schedule.Options) (*planResult, error) {
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
	ctx, cancel := context.WithTimeout(context.Background(), limit)
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
	names, err := instances(dir)
	if err != nil {
		return err
	}
	for _, name := range names {
		in, err := readPlan(dir, name)
		if err != nil {
			return err
		}
		r := &planResult{}
		if err := readJSON(out, name, r); err != nil {
			return err
		}
		if err := r.check(in); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(out, name+".json"), err)
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
