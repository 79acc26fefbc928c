package lengths

import "math"

// simplex is a linear programme: the least cost of columns at zero or more, so that rows
// hold as equations (slack is a column like others). It is the revised simplex method
// (Dantzig & Orchard-Hays 1954) with an explicit inverse of the basis, made anew after
// refreshAfter pivots or where what it yields does not fit the rows; the primal method
// after columns or costs have changed, the dual one (Lemke 1954) after the right sides
// have. Rows are a few hundred at most.
type simplex struct {
	m       int
	cost    []float64
	cols    [][]entry
	off     []bool // columns that must not come into the basis
	rhs     []float64
	basis   []int // by row
	own     []int // by row: the column that came with it
	at      []int // row of a column in the basis, or -1
	inv     []float64
	x, y    []float64 // of the basis; of the rows
	pivots  int       // since the inverse was made
	idle    int       // pivots in a row that gained nothing
	alpha   []float64
	b       *budget
	scratch []int
	chance  uint64 // of moving right sides
}

type entry struct {
	row int
	val float64
}

const (
	refreshAfter = 250
	idleMost     = 30
	movedMost    = 5
	tolCost      = 1e-9 // costs are about 1
	tolPivot     = 1e-8
	tolRow       = 1e-9 // right sides are whole numbers
)

// addColumn adds a column outside the basis.
func (s *simplex) addColumn(cost float64, col []entry) int {
	s.cost = append(s.cost, cost)
	s.cols = append(s.cols, col)
	s.off = append(s.off, false)
	s.at = append(s.at, -1)
	return len(s.cols) - 1
}

// addRow adds a row, given the entries of all columns, and a column of its own, with the
// entry 1 and a cost, that is the basis of it: slack, or what is missed at a price.
func (s *simplex) addRow(rhs float64, entryOf func(col int) float64, cost float64) int {
	r, m := s.m, s.m+1
	inv := make([]float64, m*m)
	for i := 0; i < r; i++ {
		copy(inv[i*m:i*m+r], s.inv[i*r:(i+1)*r])
	}
	last := inv[r*m : r*m+m]
	have := 0.0
	for j := range s.cols {
		v := entryOf(j)
		if v == 0 {
			continue
		}
		s.cols[j] = append(s.cols[j][:len(s.cols[j]):len(s.cols[j])], entry{r, v})
		if i := s.at[j]; i >= 0 {
			have += float64(v * s.x[i])
			for k := 0; k < r; k++ {
				last[k] -= float64(v * inv[i*m+k])
			}
		}
	}
	last[r] = 1
	s.m, s.inv = m, inv
	s.rhs = append(s.rhs, rhs)
	j := s.addColumn(cost, []entry{{r, 1}})
	s.basis, s.own, s.at[j] = append(s.basis, j), append(s.own, j), r
	s.x = append(s.x, rhs-have)
	s.y = append(s.y, 0)
	s.alpha = append(s.alpha, 0)
	return j
}

// clone is a copy that shares only what never changes.
func (s *simplex) clone() *simplex {
	t := *s
	t.cost = append([]float64(nil), s.cost...)
	t.cols = append([][]entry(nil), s.cols...)
	t.off = append([]bool(nil), s.off...)
	t.rhs = append([]float64(nil), s.rhs...)
	t.basis = append([]int(nil), s.basis...)
	t.own = append([]int(nil), s.own...)
	t.at = append([]int(nil), s.at...)
	t.inv = append([]float64(nil), s.inv...)
	t.x = append([]float64(nil), s.x...)
	t.y = append([]float64(nil), s.y...)
	t.alpha, t.scratch = make([]float64, s.m), nil
	return &t
}

// restart works out the values of the basis for the right sides.
func (s *simplex) restart() {
	for i := 0; i < s.m; i++ {
		row, v := s.inv[i*s.m:(i+1)*s.m], 0.0
		for k, b := range s.rhs {
			v += float64(row[k] * b)
		}
		s.x[i] = v
	}
}

func (s *simplex) prices() {
	for k := range s.y {
		s.y[k] = 0
	}
	for i, j := range s.basis {
		if c := s.cost[j]; c != 0 {
			row := s.inv[i*s.m : (i+1)*s.m]
			for k, v := range row {
				s.y[k] += float64(c * v)
			}
		}
	}
}

// reduced is the cost of a column at the prices of the rows.
func (s *simplex) reduced(j int) float64 {
	d := s.cost[j]
	for _, e := range s.cols[j] {
		d -= float64(s.y[e.row] * e.val)
	}
	return d
}

// gap is how far the basis is from fitting the rows.
func (s *simplex) gap() float64 {
	r := append([]float64(nil), s.rhs...)
	for i, j := range s.basis {
		for _, e := range s.cols[j] {
			r[e.row] -= float64(e.val * s.x[i])
		}
	}
	worst := 0.0
	for _, v := range r {
		worst = math.Max(worst, math.Abs(v))
	}
	return worst
}

// refresh makes the inverse anew, by elimination with the largest pivots.
func (s *simplex) refresh() bool {
	m := s.m
	s.pivots = 0
	inv := make([]float64, m*m)
	for i := 0; i < m; i++ {
		inv[i*m+i] = 1
	}
	done := make([]bool, m)
	basis := make([]int, m)
	col := make([]float64, m)
	// Columns with one entry first: they cost nothing.
	order := make([]int, 0, m)
	for _, single := range []bool{true, false} {
		for _, j := range s.basis {
			if (len(s.cols[j]) == 1) == single {
				order = append(order, j)
			}
		}
	}
	for _, j := range order {
		if !s.b.spend(m * m / 4) {
			return false
		}
		for i := range col {
			row, v := inv[i*m:(i+1)*m], 0.0
			for _, e := range s.cols[j] {
				v += float64(row[e.row] * e.val)
			}
			col[i] = v
		}
		r, most := -1, 1e-11
		for i, v := range col {
			if !done[i] && math.Abs(v) > most {
				r, most = i, math.Abs(v)
			}
		}
		if r < 0 {
			return false
		}
		done[r], basis[r] = true, j
		eliminate(inv, m, r, col, &s.scratch)
	}
	s.inv, s.basis = inv, basis
	for i, j := range basis {
		s.at[j] = i
	}
	s.restart()
	return true
}

// reset begins again from the columns of the rows themselves, which fits as right sides
// are never negative.
func (s *simplex) reset() {
	for j := range s.at {
		s.at[j] = -1
	}
	clear(s.inv)
	for i, j := range s.own {
		s.basis[i], s.at[j] = j, i
		s.inv[i*s.m+i] = 1
	}
	s.pivots, s.idle = 0, 0
	copy(s.x, s.rhs)
	s.prices()
}

// eliminate makes column col the r-th unit vector, and the inverse with it. The row of
// the pivot is mostly zeros for long; then only the rest of it is gone through.
func eliminate(inv []float64, m, r int, col []float64, scratch *[]int) {
	pr := inv[r*m : (r+1)*m]
	f := 1 / col[r]
	list := (*scratch)[:0]
	for k, v := range pr {
		if v != 0 {
			if math.Abs(v) < 1e-14 {
				pr[k] = 0
				continue
			}
			pr[k] = v * f
			list = append(list, k)
		}
	}
	*scratch = list
	for i, a := range col {
		if i == r || a == 0 {
			continue
		}
		row := inv[i*m : (i+1)*m]
		if 3*len(list) < m {
			for _, k := range list {
				row[k] -= float64(a * pr[k])
			}
			continue
		}
		for k, v := range pr {
			row[k] -= float64(a * v)
		}
	}
}

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
