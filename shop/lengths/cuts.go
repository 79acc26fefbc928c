package lengths

import "sort"

// Cuts: of three kinds of piece whose demands add up to an odd number d, whole patterns
// that cut two or more of them together are at most (d-1)/2, counted by half of what they
// cut of the three, rounded down. These are the subset-row inequalities of Jepsen,
// Petersen, Spoorendonk & Pisinger, "Subset-row inequalities applied to the
// vehicle-routing problem with time windows", Operations Research 56 (2008) 497-511: cuts
// of Chvatal and Gomory with weights of one half.

// rowCut is a cut: its row, its kinds, and what is left of its right side.
type rowCut struct {
	row   int
	kinds [3]int
	left  int
}

const (
	cutRounds   = 40
	cutsAtOnce  = 30
	cutViolated = 0.02
)

// of is the entry of a pattern in a cut.
func (c *rowCut) of(p *pattern) int {
	n := 0
	for _, x := range p.cuts {
		if x.kind == c.kinds[0] || x.kind == c.kinds[1] || x.kind == c.kinds[2] {
			n += x.n
		}
	}
	return n / 2
}

// separate adds the cuts that the solution breaks most, and says how many.
func (n *node) separate() int {
	kinds := len(n.need)
	users := make([][]use, kinds)
	near := make([][]int, kinds) // kinds that are cut together with one
	for i, j := range n.lp.basis {
		p, x := n.pats[j], n.lp.x[i]
		if p == nil || x < tolWhole {
			continue
		}
		for _, a := range p.cuts {
			users[a.kind] = append(users[a.kind], use{p: p, x: x})
			for _, b := range p.cuts {
				if b.kind != a.kind {
					near[a.kind] = append(near[a.kind], b.kind)
				}
			}
		}
	}
	for i := range near {
		sort.Ints(near[i])
		near[i] = unique(near[i])
	}
	type broken struct {
		kinds [3]int
		by    float64
	}
	var found []broken
	seen := map[[3]int]bool{}
	for _, c := range n.cuts {
		seen[c.kinds] = true
	}
	for a := range near {
		for i, b := range near[a] {
			for _, c := range near[a][:i] {
				t := [3]int{a, b, c}
				sort.Ints(t[:])
				d := n.need[a] + n.need[b] + n.need[c]
				if d%2 == 0 || seen[t] {
					continue
				}
				seen[t] = true
				r := rowCut{kinds: t}
				sum := 0.0
				for k, kind := range t {
					for _, u := range users[kind] {
						// Each pattern is counted at the first of the three it has.
						if k > 0 && u.p.of(t[0]) > 0 || k > 1 && u.p.of(t[1]) > 0 {
							continue
						}
						sum += float64(u.x * float64(r.of(u.p)))
					}
				}
				if by := sum - float64(d/2); by > cutViolated {
					found = append(found, broken{t, by})
				}
			}
		}
	}
	n.s.b.spend(100 * len(seen))
	sort.SliceStable(found, func(i, j int) bool {
		if d := found[i].by - found[j].by; d > 1e-9 || d < -1e-9 {
			return d > 0
		}
		a, b := found[i].kinds, found[j].kinds
		return a[0] < b[0] || a[0] == b[0] && (a[1] < b[1] || a[1] == b[1] && a[2] < b[2])
	})
	// No kind stands in many cuts of one round.
	in := make([]int, kinds)
	added := 0
	for _, f := range found {
		if added == cutsAtOnce {
			break
		}
		if in[f.kinds[0]] >= 5 || in[f.kinds[1]] >= 5 || in[f.kinds[2]] >= 5 {
			continue
		}
		for _, k := range f.kinds {
			in[k]++
		}
		d := n.need[f.kinds[0]] + n.need[f.kinds[1]] + n.need[f.kinds[2]]
		c := rowCut{row: n.lp.m, kinds: f.kinds, left: d / 2}
		n.lp.addRow(float64(d/2), func(j int) float64 {
			if n.pats[j] == nil {
				return 0
			}
			return float64(c.of(n.pats[j]))
		}, 0)
		n.extra(false)
		n.cuts = append(n.cuts, c)
		added++
	}
	if added > 0 && !n.lp.dual() {
		return 0
	}
	return added
}

func unique(sorted []int) []int {
	out := sorted[:0]
	for i, x := range sorted {
		if i == 0 || x != sorted[i-1] {
			out = append(out, x)
		}
	}
	return out
}
