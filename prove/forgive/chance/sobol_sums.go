package chance

import "math"

// The features of a sample from which both indices and their errors follow. With a, b and m
// the values at the rows of A, B and the mixed matrix, the mean of all values being c:
// (b-c)(m-a) = cross - c diff; ((a-c)² + (b-c)²)/2 = square - 2 c level + c².
const (
	cross    = iota // b (m - a)
	diff            // m - a
	jump            // (a - m)²/2
	square          // (a² + b²)/2
	level           // (a + b)/2
	features        // their number
)

// sums gathers means and products of the features.
type sums struct {
	n    float64
	mean [features]float64           // sums until they are divided
	prod [features][features]float64 // of which j <= i is used
}

func (s *sums) add(a, b, m float64) {
	v := [features]float64{float64(b * (m - a)), m - a, float64((a-m)*(a-m)) / 2, (float64(a*a) + float64(b*b)) / 2, (a + b) / 2}
	s.n++
	for i, x := range v {
		s.mean[i] += x
		for j := range i + 1 {
			s.prod[i][j] += float64(x * v[j])
		}
	}
}

func (s *sums) merge(o *sums) {
	s.n += o.n
	for i := range s.mean {
		s.mean[i] += o.mean[i]
		for j := range i + 1 {
			s.prod[i][j] += o.prod[i][j]
		}
	}
}

// meanVariance returns mean and variance of the values at A and B.
func (s *sums) meanVariance() (mean, variance float64) {
	mean = s.mean[level] / s.n
	return mean, float64((s.mean[square]/s.n - float64(mean*mean)) * (2 * s.n / (2*s.n - 1)))
}

// indices returns the first-order and the total index.
func (s *sums) indices() (first, total Index) {
	c := s.mean[level] / s.n
	v := s.mean[square]/s.n - float64(c*c)
	first.Value = (s.mean[cross]/s.n - float64(c*s.mean[diff]/s.n)) / v
	total.Value = s.mean[jump] / s.n / v
	// The error of a ratio u/v is that of (u - S v)/v, S being the ratio. Source: Cochran,
	// Sampling Techniques, 3rd edition (1977), 2.11.
	first.Error = s.spread([features]float64{cross: 1, diff: -c, square: -first.Value, level: 2 * float64(c*first.Value)}) / v
	total.Error = s.spread([features]float64{jump: 1, square: -total.Value, level: 2 * float64(c*total.Value)}) / v
	return first, total
}

// spread returns the standard error of the mean of a weighted sum of the features.
func (s *sums) spread(w [features]float64) float64 {
	sum := 0.0
	for i := range w {
		for j := range w {
			p := s.prod[max(i, j)][min(i, j)]/s.n - float64(s.mean[i]/s.n*(s.mean[j]/s.n))
			sum += float64(w[i] * w[j] * p)
		}
	}
	return math.Sqrt(max(0, sum) / (s.n - 1))
}

// blockSums is what a block of samples comes to: groups by output, then by group.
type blockSums struct{ groups, outputs []sums }

// block asks for the samples from up to before to.
func (e *evaluator) block(from, to int) (blockSums, error) {
	n := len(e.zero)
	out := blockSums{make([]sums, n*len(e.Groups)), make([]sums, n)}
	for i := from; i < to; i++ {
		rowA, rowB := e.row(i, 0), e.row(i, 1)
		// Copies, since the function may change its argument or use its answer again.
		x := append([]float64(nil), rowA...)
		a, err := e.values(i, x)
		if err != nil {
			return out, err
		}
		copy(x, rowB)
		b, err := e.values(i, x)
		if err != nil {
			return out, err
		}
		for o := range n {
			out.outputs[o].add(a[o], b[o], a[o])
		}
		for g, group := range e.Groups {
			copy(x, rowA)
			for _, d := range group {
				x[d] = rowB[d]
			}
			m, err := e.values(i, x)
			if err != nil {
				return out, err
			}
			for o := range n {
				out.groups[o*len(e.Groups)+g].add(a[o], b[o], m[o])
			}
		}
	}
	return out, nil
}

// values returns the values at x less those of the first point.
func (e *evaluator) values(i int, x []float64) ([]float64, error) {
	y, err := e.ask(i, x)
	if err != nil {
		return nil, err
	}
	d := make([]float64, len(y))
	for o := range y {
		d[o] = y[o] - e.zero[o]
	}
	return d, nil
}
