package lengths

import "math"

// pivot brings column j into the basis at row r.
func (s *simplex) pivot(j, r int) bool {
	s.column(j)
	if math.Abs(s.alpha[r]) < 1e-11 {
		return false
	}
	d := s.reduced(j)
	step := s.x[r] / s.alpha[r]
	for i, a := range s.alpha {
		if a != 0 {
			s.x[i] -= float64(step * a)
		}
	}
	s.x[r] = step
	eliminate(s.inv, s.m, r, s.alpha, &s.scratch)
	for k, v := range s.inv[r*s.m : (r+1)*s.m] {
		s.y[k] += float64(d * v)
	}
	s.at[s.basis[r]] = -1
	s.basis[r], s.at[j] = j, r
	if s.pivots++; s.pivots >= refreshAfter {
		if !s.refresh() {
			return false
		}
		s.prices()
	}
	return s.b.spend(s.m*s.m + 4*len(s.cols))
}

// column puts column j in terms of the basis into alpha.
func (s *simplex) column(j int) {
	col := s.cols[j]
	for i := range s.alpha {
		row, v := s.inv[i*s.m:(i+1)*s.m], 0.0
		for _, e := range col {
			v += float64(row[e.row] * e.val)
		}
		if math.Abs(v) < 1e-13 {
			v = 0
		}
		s.alpha[i] = v
	}
}

// dual makes all values of the basis positive, at prices that no column gains at. It
// reports false when the budget is spent.
func (s *simplex) dual() bool {
	s.prices()
	for n := 0; n < 10*s.m+200; n++ {
		r, low := -1, -tolRow
		for i, v := range s.x {
			if v < low {
				r, low = i, v
			}
		}
		if r < 0 {
			return true
		}
		row := s.inv[r*s.m : (r+1)*s.m]
		in, ratio, size := -1, math.Inf(1), 0.0
		for j, col := range s.cols {
			if s.at[j] >= 0 || s.off[j] {
				continue
			}
			a := 0.0
			for _, e := range col {
				a += float64(row[e.row] * e.val)
			}
			if a > -tolPivot {
				continue
			}
			q := math.Max(s.reduced(j), 0) / -a
			if q < ratio-1e-10 || q < ratio+1e-10 && -a > size {
				in, ratio, size = j, math.Min(q, ratio), -a
			}
		}
		if in < 0 || !s.pivot(in, r) {
			break
		}
	}
	if s.b.over {
		return false
	}
	s.reset() // the numbers have gone bad, or it takes too long
	return true
}

// primal makes the cost least, from values that are positive. It reports false when the
// budget is spent, or the numbers stay bad. Where pivots gain nothing for long, the right
// sides are moved a little until the cost is least, then moved back (Wolfe, "A technique
// for resolving degeneracy in linear programming", Journal of the Society for Industrial
// and Applied Mathematics 11 (1963) 205-211).
func (s *simplex) primal() bool {
	s.prices()
	s.idle = 0
	var rhs []float64 // as it was, where it has been moved
	back := func() {
		if rhs != nil {
			copy(s.rhs, rhs)
			rhs = nil
			s.restart()
		}
	}
	defer back()
	moved, resets := 0, 0
	for {
		if s.idle > idleMost && rhs == nil && moved < movedMost {
			rhs = append([]float64(nil), s.rhs...)
			moved++
			s.move()
		}
		in, best := -1, -tolCost
		for j := range s.cols {
			if s.at[j] >= 0 || s.off[j] {
				continue
			}
			if d := s.reduced(j); d < best {
				in, best = j, d
			}
		}
		if in >= 0 && s.enter(in) {
			continue
		}
		if s.b.over {
			return false
		}
		if in < 0 {
			if rhs != nil {
				back()
				if !s.dual() {
					return false
				}
				s.idle = 0
				continue
			}
			if s.gap() < 1e-6 {
				return true
			}
			if s.pivots > 0 && s.refresh() {
				s.prices()
				continue
			}
		}
		if resets++; resets > 3 || s.b.over {
			return false
		}
		back()
		s.reset()
	}
}

// move moves the right sides so that no value of the basis is zero.
func (s *simplex) move() {
	s.idle = 0
	for i, j := range s.basis {
		s.chance = s.chance*6364136223846793005 + 1442695040888963407
		d := 1e-5 * (1 + float64(s.chance>>40)/(1<<24))
		s.x[i] = math.Max(s.x[i], 0) + d
		for _, e := range s.cols[j] {
			s.rhs[e.row] += float64(d * e.val)
		}
	}
}

// enter brings a column into the basis that gains.
func (s *simplex) enter(in int) bool {
	s.column(in)
	r, step, size := -1, math.Inf(1), 0.0
	for i, a := range s.alpha {
		if a <= tolPivot {
			continue
		}
		q := math.Max(s.x[i], 0) / a
		if q < step-1e-10 || q < step+1e-10 && a > size {
			r, step, size = i, math.Min(q, step), a
		}
	}
	if r < 0 {
		return false
	}
	if step > 1e-8 {
		s.idle = 0
	} else {
		s.idle++
	}
	return s.pivot(in, r)
}

// value is the cost of the basis.
func (s *simplex) value() float64 {
	v := 0.0
	for i, j := range s.basis {
		v += float64(s.cost[j] * s.x[i])
	}
	return v
}
