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
