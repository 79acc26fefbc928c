package compare

import "dryfit/toy"

// sequence says which steps of the build come earlier or later: those outside the longest run of
// steps that kept their order.
func (d *differ) sequence() (out []Change) {
	was, now := steps(d.was.Toy), steps(d.now.Toy)
	at := map[string]int{}
	for i, s := range was {
		at[d.called(s)] = i
	}
	var both []string
	for _, s := range now {
		if _, ok := at[s]; ok {
			both = append(both, s)
		}
	}
	stay := rising(both, at)
	for i, s := range both {
		if stay[i] {
			continue
		}
		says := s + " is now put on first"
		if i > 0 {
			says = s + " is now put on after " + both[i-1]
		}
		if k := at[s]; k > 0 {
			says += "; it was after " + d.called(was[k-1])
		} else {
			says += "; it was the first"
		}
		out = append(out, Change{Kind: "order", About: s, Says: says})
	}
	return out
}

// steps are the ids of what the build puts on, in its order.
func steps(t *toy.Toy) (out []string) {
	for _, s := range t.Build {
		switch s := s.(type) {
		case toy.Put:
			out = append(out, s.ID)
		case toy.Wheels:
			out = append(out, s.AxleID)
		case toy.Peg:
			out = append(out, s.ID)
		case toy.Hinge:
			out = append(out, s.ID)
		}
	}
	return out
}

// rising marks a longest run of names whose places rise.
func rising(names []string, at map[string]int) []bool {
	n := len(names)
	long, from := make([]int, n), make([]int, n)
	best := -1
	for i := range names {
		long[i], from[i] = 1, -1
		for k := range i {
			if at[names[k]] < at[names[i]] && long[k]+1 > long[i] {
				long[i], from[i] = long[k]+1, k
			}
		}
		if best < 0 || long[i] > long[best] {
			best = i
		}
	}
	stay := make([]bool, n)
	for i := best; i >= 0; i = from[i] {
		stay[i] = true
	}
	return stay
}
