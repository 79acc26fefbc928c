package lengths

import (
	"context"
	"math"
	"math/rand"
	"testing"
)

// What the simplex returns is the least there is: the rows hold, no column gains, and
// cost of columns and worth of rows are the same (duality). So it is after columns and
// rows have come and right sides have changed. Small numbers make it degenerate.
func TestSimplex(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for i := 0; i < 300; i++ {
		s := &simplex{b: &budget{ctx: context.Background(), left: 1e12}}
		none := func(int) float64 { return 0 }
		m := 1 + rnd.Intn(30)
		for r := 0; r < m; r++ {
			s.addRow(float64(rnd.Intn(4)), none, 50)
		}
		for r := 0; r < m; r++ {
			s.addColumn(0, []entry{{r, -1}})
		}
		more := func() {
			for j := 0; j < 2*m; j++ {
				var col []entry
				for r := 0; r < m; r++ {
					if rnd.Intn(4) == 0 {
						col = append(col, entry{r, float64(1 + rnd.Intn(3))})
					}
				}
				s.addColumn(float64(1+rnd.Intn(3)), col)
			}
		}
		more()
		least(t, s, s.primal())
		more()
		least(t, s, s.primal())
		// A row that the solution may break, as a cut is.
		s.addRow(float64(rnd.Intn(3)), func(j int) float64 {
			if j < 2*m {
				return 0
			}
			return float64(j % 2)
		}, 0)
		least(t, s, s.dual() && s.primal())
		u := s.clone()
		for r := 0; r < m; r++ {
			u.rhs[r] = float64(rnd.Intn(4))
		}
		u.restart()
		least(t, u, u.dual() && u.primal())
		least(t, s, s.refresh() && s.primal())
		s.reset()
		least(t, s, s.primal())
	}
}

func least(t *testing.T, s *simplex, ok bool) {
	t.Helper()
	if !ok || s.gap() > 1e-6 {
		t.Fatalf("%v, %v from the rows", ok, s.gap())
	}
	for _, x := range s.x {
		if x < -1e-6 {
			t.Fatalf("a value is %v", x)
		}
	}
	for j := range s.cols {
		if d := s.reduced(j); d < -1e-6 {
			t.Fatalf("column %d would gain %v", j, d)
		}
	}
	worth := 0.0
	for r, v := range s.rhs {
		worth += v * s.y[r]
	}
	if math.Abs(worth-s.value()) > 1e-6 {
		t.Fatalf("cost %v, worth %v", s.value(), worth)
	}
}
