package chance

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Study says what Sobol asks.
type Study struct {
	Inputs  int     // how many inputs the function has
	Groups  [][]int // inputs, numbered from 0, whose share is asked for together; an input is in one group or in none
	Samples int     // rows of each matrix, at least 2; best a power of two. The function is asked Samples x (groups + 2) times
	Seed    uint64
	Random  bool // plain random points instead of evenly spread ones
	Workers int  // goroutines, 0: one a processor; no matter for the result
}

// SamplesWithin returns the largest power of two of samples for which a study of groups
// asks its function at most evaluations times; 0 if even one is too many.
func SamplesWithin(evaluations, groups int) int {
	n := 1
	if n*(groups+2) > evaluations {
		return 0
	}
	for 2*n*(groups+2) <= evaluations {
		n *= 2
	}
	return n
}

// Index is a share of a variance with its standard error.
type Index struct{ Value, Error float64 }

// Shares says what makes an output vary. First and Total have an index for each group, in
// order; they are nil if the output never varied, since then there is nothing to share.
type Shares struct {
	Mean, Variance float64
	First          []Index // the share that goes away, in the mean, when the group alone is known
	Total          []Index // the share that stays, in the mean, when all but the group is known
}

// Sobol returns the first-order and total indices of groups of inputs, for every number
// that f returns. f is given the inputs as independent numbers uniform on (0, 1)
// (Distribution makes others of them); it is called by several goroutines at once, must
// depend on x alone, return as many finite numbers each time, and not keep x.
//
// An estimate may lie a little outside 0 to 1, by chance. Its standard error is that
// of independent points, from the estimator's own spread (delta method); with evenly spread
// points the true error is as a rule smaller.
//
// Method: two matrices A and B of points, and for each group A with the group's columns of B.
// Sources: first order: Saltelli, Annoni, Azzini, Campolongo, Ratto and Tarantola, "Variance
// based sensitivity analysis of model output", Computer Physics Communications 181 (2010),
// table 2 (b); total: Jansen, "Analysis of variance designs for model output", Computer
// Physics Communications 117 (1999), table 2 (f) of the former; groups: Sobol', "Global
// sensitivity indices for nonlinear mathematical models", Mathematics and Computers in
// Simulation 55 (2001).
func Sobol(ctx context.Context, s Study, f func(x []float64) ([]float64, error)) ([]Shares, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	e := evaluator{Study: s, ctx: ctx, f: f}
	// Columns of A and B alternate, so that both of the first inputs are spread most evenly.
	if s.Random {
		e.points = NewRandomPoints(2*s.Inputs, s.Seed)
	} else {
		e.points = NewPoints(2*s.Inputs, s.Seed)
	}
	if err := ctx.Err(); err != nil {
		return nil, context.Cause(ctx)
	}
	// Values are taken from that of the first point, so that a large mean eats no digits.
	// Source: Chan, Golub and LeVeque (1983), shifted data.
	first, err := e.ask(0, e.row(0, 0))
	if err != nil {
		return nil, err
	}
	e.zero = slices.Clone(first)
	total := make([]sums, len(first)*len(s.Groups))
	outputs := make([]sums, len(first))
	err = Fold(ctx, s.Samples, s.Workers, e.block, func(b blockSums) {
		for i := range total {
			total[i].merge(&b.groups[i])
		}
		for i := range outputs {
			outputs[i].merge(&b.outputs[i])
		}
	})
	if err != nil {
		return nil, err
	}
	out := make([]Shares, len(first))
	for o := range out {
		out[o].Mean, out[o].Variance = outputs[o].meanVariance()
		out[o].Mean += e.zero[o]
		if !(out[o].Variance > 0) {
			continue
		}
		for g := range s.Groups {
			first, all := total[o*len(s.Groups)+g].indices()
			out[o].First, out[o].Total = append(out[o].First, first), append(out[o].Total, all)
		}
	}
	return out, nil
}

func (s Study) check() error {
	if s.Inputs < 1 {
		return fmt.Errorf("a study of %d inputs: expected at least 1", s.Inputs)
	}
	if s.Samples < 2 || s.Samples > 1<<32-1 {
		return fmt.Errorf("a study of %d samples: expected 2 to %d", s.Samples, uint32(math.MaxUint32))
	}
	in := map[int]int{}
	for g, group := range s.Groups {
		if len(group) == 0 {
			return fmt.Errorf("group %d of a study has no inputs: expected at least 1", g)
		}
		for _, i := range group {
			if i < 0 || i >= s.Inputs {
				return fmt.Errorf("group %d of a study has input %d: expected 0 to %d", g, i, s.Inputs-1)
			}
			if other, twice := in[i]; twice {
				return fmt.Errorf("input %d is in groups %d and %d of a study: expected in one", i, other, g)
			}
			in[i] = g
		}
	}
	return nil
}

// evaluator asks the function at the rows of the matrices.
type evaluator struct {
	Study
	ctx    context.Context
	f      func(x []float64) ([]float64, error)
	points Points
	zero   []float64
}

// row returns row i of A (side 0) or B (side 1).
func (e *evaluator) row(i, side int) []float64 {
	x := make([]float64, e.Inputs)
	for d := range x {
		x[d] = e.points.Coordinate(i, 2*d+side)
	}
	return x
}

// ask returns the values of the function at x of sample i.
func (e *evaluator) ask(i int, x []float64) ([]float64, error) {
	if e.ctx.Err() != nil {
		return nil, context.Cause(e.ctx)
	}
	y, err := e.f(x)
	if err != nil {
		return nil, err
	}
	if e.zero != nil && len(y) != len(e.zero) {
		return nil, fmt.Errorf("sample %d of a study gave %d numbers: expected %d as at first", i, len(y), len(e.zero))
	}
	for o, v := range y {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("sample %d of a study gave %g as number %d: expected a finite number", i, v, o)
		}
	}
	return y, nil
}
