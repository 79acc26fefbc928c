package chance

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
)

// Source: NIST Statistical Reference Datasets, univariate summary statistics,
// NumAcc3 and NumAcc4, certified values.
func TestMomentsNIST(t *testing.T) {
	series := func(base float64) []float64 {
		x := []float64{base + 0.2}
		for range 500 {
			x = append(x, base+0.1, base+0.3)
		}
		return x
	}
	for _, c := range []struct {
		name     string
		x        []float64
		mean, sd float64
		digits   float64
	}{
		{"NumAcc3", series(1000000), 1000000.2, 0.1, 1e-9},
		{"NumAcc4", series(10000000), 10000000.2, 0.1, 1e-8},
	} {
		var m Moments
		for _, x := range c.x {
			m.Add(x)
		}
		near(t, c.name+": mean", m.Mean(), c.mean, 1e-8)
		near(t, c.name+": standard deviation", m.SD(), c.sd, c.digits)
		near(t, c.name+": standard error", m.Error(), c.sd/math.Sqrt(1001), c.digits)

		var whole, part Moments
		for i, x := range c.x {
			part.Add(x)
			if i%37 == 0 {
				whole.Merge(part)
				part = Moments{}
			}
		}
		whole.Merge(part)
		whole.Merge(Moments{})
		if whole.N() != 1001 {
			t.Errorf("%s: %d merged", c.name, whole.N())
		}
		near(t, c.name+": merged mean", whole.Mean(), c.mean, 1e-8)
		near(t, c.name+": merged standard deviation", whole.SD(), c.sd, c.digits)
	}
	var one Moments
	if !math.IsNaN(one.Mean()) {
		t.Error("no value has a mean")
	}
	if one.Add(3); one.Mean() != 3 || !math.IsNaN(one.Variance()) {
		t.Error("one value has a variance")
	}
}

// The same bits whatever the number of workers, and every number once.
func TestFoldSame(t *testing.T) {
	run := func(n, workers int) (m Moments, order []int) {
		err := Fold(context.Background(), n, workers, func(from, to int) (Moments, error) {
			var m Moments
			for i := from; i < to; i++ {
				m.Add(NewStream(1).Normal(i, 0, 0))
			}
			return m, nil
		}, func(b Moments) { m.Merge(b); order = append(order, b.N()) })
		if err != nil {
			t.Fatal(err)
		}
		return
	}
	for _, n := range []int{0, 1, Block - 1, Block, Block + 1, 5000} {
		one, blocks := run(n, 1)
		if one.N() != n {
			t.Errorf("%d numbers of %d", one.N(), n)
		}
		for _, workers := range []int{0, 2, 3, 16} {
			if many, b := run(n, workers); many != one || !slices.Equal(b, blocks) {
				t.Errorf("%d numbers on %d workers: %v, on one %v", n, workers, many, one)
			}
		}
	}
}

// The first error in the order of blocks is the one that is told; the end of a context tells
// its cause.
func TestFoldEnds(t *testing.T) {
	for range 50 {
		merged := 0
		err := Fold(context.Background(), 100*Block, 4, func(from, to int) (int, error) {
			if from >= 7*Block {
				return 0, errors.New([]string{"seven", "later"}[min(1, from/Block-7)])
			}
			return 1, nil
		}, func(n int) { merged += n })
		if err == nil || err.Error() != "seven" || merged > 7 {
			t.Fatalf("%v after %d blocks", err, merged)
		}
	}
	enough := errors.New("enough")
	ctx, stop := context.WithCancelCause(context.Background())
	err := Fold(ctx, 100*Block, 2, func(from, to int) (int, error) {
		if from == 3*Block {
			stop(enough)
		}
		return 0, nil
	}, func(int) {})
	if err != enough {
		t.Errorf("stopped with %v", err)
	}
}
