package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"dryfit/shop/lengths"
)

// dowelInstance is what is read of an instance; what it says of optima is not.
type dowelInstance struct {
	Stock int64      `json:"stock_length"`
	Items [][2]int64 `json:"items_size_demand"`
}

// dowelResult is what is written: cuts are [length, how many], value and bound lengths
// of stock.
type dowelResult struct {
	Instance string         `json:"instance"`
	Patterns []dowelPattern `json:"patterns"`
	Value    int64          `json:"value"`
	Bound    int64          `json:"bound"`
	Proved   bool           `json:"proved"`
	Seconds  float64        `json:"seconds"`
}

type dowelPattern struct {
	Cuts  [][2]int64 `json:"cuts"`
	Times int        `json:"times"`
}

func readDowels(dir, name string) (lengths.Problem, error) {
	var x dowelInstance
	var p lengths.Problem
	if err := readJSON(dir, name, &x); err != nil {
		return p, err
	}
	path := filepath.Join(dir, name+".json")
	if len(x.Items) == 0 {
		return p, fmt.Errorf("%s: no items_size_demand", path)
	}
	for _, i := range x.Items {
		if i[1] < 1 {
			return p, fmt.Errorf("%s: %d pieces of length %d", path, i[1], i[0])
		}
		p.Pieces = append(p.Pieces, lengths.Piece{Length: i[0], Demand: int(i[1])})
	}
	p.Stock = []lengths.Stock{{Length: x.Stock, Count: lengths.Any, Cost: 1}}
	if err := p.Validate(); err != nil {
		return p, fmt.Errorf("%s: %w", path, err)
	}
	return p, nil
}

// dowels solves each instance of a folder.
func dowels(args []string) error {
	j, err := parse("dowels", args)
	if err != nil {
		return err
	}
	names, err := instances(j.dir)
	if err != nil {
		return err
	}
	fmt.Printf("%-24s %7s %7s %7s %7s %8s\n", "instance", "pieces", "value", "bound", "proved", "seconds")
	proved := 0
	for _, name := range names {
		p, err := readDowels(j.dir, name)
		if err != nil {
			return err
		}
		ctx, stop := context.WithTimeout(context.Background(), j.limit)
		begin := time.Now()
		r, err := lengths.Solve(ctx, p, lengths.Options{Work: 1 << 60, Seed: j.seed})
		seconds := time.Since(begin).Seconds()
		stop()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if len(r.Short) > 0 {
			return fmt.Errorf("%s: %d of length %d are longer than the stock", name, r.Short[0].Count, r.Short[0].Length)
		}
		out := dowelResult{Instance: name, Value: r.Value, Bound: r.Bound, Proved: r.Proved, Seconds: seconds}
		for _, t := range r.Patterns {
			q := dowelPattern{Times: t.Times}
			for _, c := range t.Cuts {
				q.Cuts = append(q.Cuts, [2]int64{c.Length, int64(c.Count)})
			}
			out.Patterns = append(out.Patterns, q)
		}
		if err := writeJSON(j.out, name, out); err != nil {
			return err
		}
		pieces := 0
		for _, x := range p.Pieces {
			pieces += x.Demand
		}
		if r.Proved {
			proved++
		}
		fmt.Printf("%-24s %7d %7d %7d %7s %8.2f\n", name, pieces, r.Value, r.Bound, yes(r.Proved), seconds)
	}
	fmt.Printf("%d of %d are proved\n", proved, len(names))
	return nil
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// checkDowels refuses results that are no cutting of their instance.
func checkDowels(dir, out string) error {
	names, err := instances(dir)
	if err != nil {
		return err
	}
	for _, name := range names {
		p, err := readDowels(dir, name)
		if err != nil {
			return err
		}
		var x dowelResult
		if err := readJSON(out, name, &x); err != nil {
			return err
		}
		if err := x.check(name, p); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(out, name+".json"), err)
		}
	}
	fmt.Printf("%d results hold\n", len(names))
	return nil
}

func (x *dowelResult) check(name string, p lengths.Problem) error {
	if x.Instance != name {
		return fmt.Errorf("instance: %q is not %q", x.Instance, name)
	}
	r := &lengths.Result{Value: x.Value}
	for _, t := range x.Patterns {
		q := lengths.Pattern{Times: t.Times}
		for _, c := range t.Cuts {
			q.Cuts = append(q.Cuts, lengths.Cut{Length: c[0], Count: int(c[1])})
		}
		r.Patterns = append(r.Patterns, q)
	}
	if err := lengths.Check(p, r); err != nil {
		return err
	}
	if x.Bound > x.Value {
		return fmt.Errorf("bound: %d is above the value %d", x.Bound, x.Value)
	}
	if x.Proved && x.Bound != x.Value {
		return fmt.Errorf("proved: bound %d is not the value %d", x.Bound, x.Value)
	}
	return nil
}
