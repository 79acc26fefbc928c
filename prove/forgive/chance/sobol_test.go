package chance

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

func ishigami(x []float64) ([]float64, error) {
	var z [3]float64
	for i := range z {
		z[i] = (2*x[i] - 1) * math.Pi
	}
	s := math.Sin(z[1])
	return []float64{math.Sin(z[0]) + 7*s*s + 0.1*z[2]*z[2]*z[2]*z[2]*math.Sin(z[0])}, nil
}

var gA = []float64{0, 1, 4.5, 9, 99, 99, 99, 99}

func gFunction(x []float64) ([]float64, error) {
	y := 1.0
	for i, a := range gA {
		y *= (math.Abs(4*x[i]-2) + a) / (1 + a)
	}
	return []float64{y}, nil
}

// gIndices returns the variance and the indices of groups of inputs of the g-function.
// Source: Saltelli and Sobol', "About the use of rank transformation in sensitivity analysis
// of model output", Reliability Engineering and System Safety 50 (1995): V_i = 1/(3 (1+a_i)²).
func gIndices(groups [][]int) (v float64, first, total []float64) {
	product := func(in func(i int) bool) float64 {
		p := 1.0
		for i, a := range gA {
			if in(i) {
				p *= 1 + 1/(3*(1+a)*(1+a))
			}
		}
		return p
	}
	v = product(func(int) bool { return true }) - 1
	for _, g := range groups {
		has := func(i int) bool {
			for _, j := range g {
				if i == j {
					return true
				}
			}
			return false
		}
		first = append(first, (product(has)-1)/v)
		total = append(total, 1-(product(func(i int) bool { return !has(i) })-1)/v)
	}
	return
}

func each(n int) (groups [][]int) {
	for i := range n {
		groups = append(groups, []int{i})
	}
	return
}

func sobol(t *testing.T, s Study, f func([]float64) ([]float64, error)) []Shares {
	t.Helper()
	out, err := Sobol(context.Background(), s, f)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// within is what the indices must meet at evaluations calls in all.
const (
	within      = 0.01
	evaluations = 100000
)

// Ishigami and Homma, "An importance quantification technique in uncertainty analysis for
// computer models", ISUMA '90 (1990); with a = 7, b = 0.1 the indices are those of Saltelli et
// al., Global Sensitivity Analysis: The Primer (2008): 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437.
func TestIshigami(t *testing.T) {
	const a, b, p4 = 7.0, 0.1, math.Pi * math.Pi * math.Pi * math.Pi
	v1, v2, v13 := (1+b*p4/5)*(1+b*p4/5)/2, a*a/8, b*b*p4*p4*8/225
	v := v1 + v2 + v13
	first, total := []float64{v1 / v, v2 / v, 0}, []float64{(v1 + v13) / v, v2 / v, v13 / v}
	for i, want := range []float64{0.3139, 0.4424, 0} {
		near(t, "the closed form against the Primer", first[i], want, 6e-5)
		near(t, "the closed form against the Primer", total[i], []float64{0.5576, 0.4424, 0.2437}[i], 6e-5)
	}
	worst := 0.0
	for seed := range uint64(5) {
		s := Study{Inputs: 3, Groups: each(3), Samples: SamplesWithin(evaluations, 3), Seed: seed}
		got := sobol(t, s, ishigami)[0]
		near(t, "mean", got.Mean, a/2, 0.01)
		near(t, "variance", got.Variance, v, 0.01*v)
		for g := range 3 {
			what := fmt.Sprintf("seed %d, input %d", seed, g)
			near(t, what+", first order", got.First[g].Value, first[g], within)
			near(t, what+", total", got.Total[g].Value, total[g], within)
			worst = max(worst, math.Abs(got.First[g].Value-first[g]), math.Abs(got.Total[g].Value-total[g]))
		}
	}
	t.Logf("worst error %.2g", worst)
}

func TestGFunction(t *testing.T) {
	worst := 0.0
	for seed := range uint64(5) {
		for _, groups := range [][][]int{each(8), {{0, 1}, {2, 3}, {7, 5, 4, 6}}, {{1}, {0, 3}}} {
			s := Study{Inputs: 8, Groups: groups, Samples: SamplesWithin(evaluations, len(groups)), Seed: seed}
			got := sobol(t, s, gFunction)[0]
			v, first, total := gIndices(groups)
			near(t, "mean", got.Mean, 1, 0.01)
			near(t, "variance", got.Variance, v, 0.01*v)
			for g := range groups {
				what := fmt.Sprintf("seed %d, group %v", seed, groups[g])
				near(t, what+", first order", got.First[g].Value, first[g], within)
				near(t, what+", total", got.Total[g].Value, total[g], within)
				worst = max(worst, math.Abs(got.First[g].Value-first[g]), math.Abs(got.Total[g].Value-total[g]))
			}
		}
	}
	t.Logf("worst error %.2g", worst)
}

// The standard errors of random points are what the estimates differ by from one seed to the
// next: squares of (estimate - truth)/error have mean 1. With evenly spread points they are no smaller
// than the differences.
func TestSobolErrors(t *testing.T) {
	_, first, total := gIndices(each(8))
	for _, random := range []bool{true, false} {
		for g := range 4 {
			var f, all Moments
			for seed := range uint64(150) {
				got := sobol(t, Study{Inputs: 8, Groups: each(4), Samples: 1024, Seed: seed, Random: random}, gFunction)[0]
				f.Add(math.Pow((got.First[g].Value-first[g])/got.First[g].Error, 2))
				all.Add(math.Pow((got.Total[g].Value-total[g])/got.Total[g].Error, 2))
			}
			for what, m := range map[string]Moments{"first order": f, "total": all} {
				if m.Mean() > 1.5 || random && m.Mean() < 0.65 {
					t.Errorf("input %d, %s, random %t: mean square %.3g of its error", g, what, random, m.Mean())
				}
				t.Logf("input %d, %s, random %t: mean square %.3g of its error", g, what, random, m.Mean())
			}
		}
	}
}

// Several outputs at once give what each gives alone, to the last bit and on any number of
// workers; one that never varies has no shares.
func TestSobolSame(t *testing.T) {
	both := func(x []float64) ([]float64, error) {
		a, _ := ishigami(x)
		b, _ := gFunction(x)
		return []float64{a[0], b[0], 42, a[0] + 1e6}, nil
	}
	s := Study{Inputs: 8, Groups: each(8), Samples: 1000, Seed: 9, Workers: 1}
	one := sobol(t, s, both)
	for _, workers := range []int{0, 2, 7} {
		s.Workers = workers
		if many := sobol(t, s, both); !reflect.DeepEqual(one, many) {
			t.Errorf("%d workers give %v, one %v", workers, many, one)
		}
	}
	if alone := sobol(t, s, gFunction)[0]; !reflect.DeepEqual(alone, one[1]) {
		t.Errorf("alone %v, with others %v", alone, one[1])
	}
	if c := one[2]; c.First != nil || c.Total != nil || c.Variance != 0 || c.Mean != 42 {
		t.Errorf("what never varies: %v", c)
	}
	// A large mean eats no digits but those of the sum itself.
	for g := range 8 {
		near(t, "shifted", one[3].First[g].Value, one[0].First[g].Value, 1e-9)
		near(t, "shifted", one[3].Total[g].Error, one[0].Total[g].Error, 1e-9)
	}
}

// More inputs than there are coordinates of the sequence: a sum has shares as the squares of its weights.
func TestSobolManyInputs(t *testing.T) {
	const n = 60
	sum := func(x []float64) ([]float64, error) {
		y := 0.0
		for i, u := range x {
			y += float64(1+i/20) * Uniform{-1, 1}.Quantile(u)
		}
		return []float64{y}, nil
	}
	groups := make([][]int, 3)
	for i := range n {
		groups[i/20] = append(groups[i/20], i)
	}
	got := sobol(t, Study{Inputs: n, Groups: groups, Samples: SamplesWithin(evaluations, 3)}, sum)[0]
	for g, want := range []float64{1. / 14, 4. / 14, 9. / 14} {
		near(t, "first order", got.First[g].Value, want, 2*within)
		near(t, "total", got.Total[g].Value, want, 2*within)
	}
}

func TestSobolWrong(t *testing.T) {
	fine := Study{Inputs: 3, Groups: each(3), Samples: 100}
	for _, c := range []struct {
		change func(*Study)
		f      func([]float64) ([]float64, error)
		want   string
	}{
		{func(s *Study) { s.Inputs = 0 }, ishigami, "at least 1"},
		{func(s *Study) { s.Samples = 1 }, ishigami, "2 to"},
		{func(s *Study) { s.Groups = [][]int{{0}, {}} }, ishigami, "group 1 of a study has no inputs"},
		{func(s *Study) { s.Groups = [][]int{{0}, {3}} }, ishigami, "expected 0 to 2"},
		{func(s *Study) { s.Groups = [][]int{{0}, {1, 0}} }, ishigami, "groups 0 and 1"},
		{func(*Study) {}, func([]float64) ([]float64, error) { return []float64{1, math.NaN()}, nil }, "NaN as number 1"},
		{func(*Study) {}, func(x []float64) ([]float64, error) { return make([]float64, 1+int(2*x[0])), nil }, "as at first"},
		{func(*Study) {}, func([]float64) ([]float64, error) { return nil, errors.New("no wood") }, "no wood"},
	} {
		s := fine
		c.change(&s)
		if out, err := Sobol(context.Background(), s, c.f); err == nil || out != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want ... %s ...", err, c.want)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	asked := 0
	fine.Workers = 1
	_, err := Sobol(ctx, fine, func(x []float64) ([]float64, error) {
		if asked++; asked == 20 {
			stop()
		}
		return ishigami(x)
	})
	if !errors.Is(err, context.Canceled) || asked != 20 {
		t.Errorf("stopped after %d with %v", asked, err)
	}
	if n := SamplesWithin(100000, 8); n != 8192 || SamplesWithin(10, 8) != 1 || SamplesWithin(9, 8) != 0 {
		t.Errorf("samples within 100000: %d", n)
	}
}

func BenchmarkSobol(b *testing.B) {
	for range b.N {
		if _, err := Sobol(context.Background(), Study{Inputs: 8, Groups: each(8), Samples: 8192}, gFunction); err != nil {
			b.Fatal(err)
		}
	}
}
