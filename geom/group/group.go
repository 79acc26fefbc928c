// Package group sorts things into groups of those that hang together: pieces joined
// by glue, convex pieces that meet, chunks of wood between two cuts.
package group

// Sets are groups of the things 0 to n-1, each at first alone.
type Sets struct{ up []int }

// New returns n things, each alone.
func New(n int) *Sets {
	s := &Sets{make([]int, n)}
	for i := range s.up {
		s.up[i] = i
	}
	return s
}

// Root returns the least thing of the group that i is in.
func (s *Sets) Root(i int) int {
	for s.up[i] != i {
		s.up[i] = s.up[s.up[i]]
		i = s.up[i]
	}
	return i
}

// Join makes the groups of i and j one, and says whether they were two.
func (s *Sets) Join(i, j int) bool {
	i, j = s.Root(i), s.Root(j)
	s.up[max(i, j)] = min(i, j)
	return i != j
}

// Numbers returns the number of the group of each thing. Groups are numbered from 0
// in the order of their least thing.
func (s *Sets) Numbers() []int {
	out := make([]int, len(s.up))
	n := 0
	for i := range out {
		if r := s.Root(i); r == i {
			out[i] = n
			n++
		} else {
			out[i] = out[r]
		}
	}
	return out
}

// Lists returns the things of each group, in the order of Numbers.
func (s *Sets) Lists() [][]int {
	var out [][]int
	for i, k := range s.Numbers() {
		if k == len(out) {
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}
