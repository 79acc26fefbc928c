package group

import (
	"math/rand"
	"reflect"
	"testing"
)

func TestGroups(t *testing.T) {
	s := New(6)
	for _, j := range [][2]int{{5, 3}, {1, 4}, {3, 0}} {
		if !s.Join(j[0], j[1]) {
			t.Errorf("%v were one already", j)
		}
	}
	if s.Join(0, 5) {
		t.Error("0 and 5 were joined twice")
	}
	if got, want := s.Lists(), [][]int{{0, 3, 5}, {1, 4}, {2}}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got, want := s.Numbers(), []int{0, 1, 2, 0, 1, 0}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if New(0).Lists() != nil {
		t.Error("nothing has groups")
	}
}

// Two things are in one group if and only if a walk along the joins leads from one to
// the other, and the order of the joins does not matter.
func TestGroupsAgainstWalks(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200 {
		n := 1 + r.Intn(12)
		near := make([][]bool, n)
		for i := range near {
			near[i] = make([]bool, n)
			near[i][i] = true
		}
		s := New(n)
		for range r.Intn(n + 2) {
			i, j := r.Intn(n), r.Intn(n)
			near[i][j], near[j][i] = true, true
			s.Join(i, j)
		}
		for k := range near {
			for i := range near {
				for j := range near {
					near[i][j] = near[i][j] || near[i][k] && near[k][j]
				}
			}
		}
		for i := range near {
			for j := range near {
				if (s.Root(i) == s.Root(j)) != near[i][j] {
					t.Fatalf("%d and %d: one group %v, a walk %v", i, j, !near[i][j], near[i][j])
				}
			}
		}
	}
}
