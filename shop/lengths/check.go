package lengths

import (
	"fmt"
	"sort"
)

// Check returns what makes a result no cutting of a problem: a pattern that is longer
// than its stock, a piece cut too often or not at all, more stock than there is, a wrong
// value.
func Check(p Problem, r *Result) error {
	if err := p.Validate(); err != nil {
		return err
	}
	want := map[int64]int{}
	for _, x := range p.Pieces {
		want[x.Length] += x.Demand
	}
	used := make([]int, len(p.Stock))
	costs, value := p.costs(), int64(0)
	for i, t := range r.Patterns {
		if t.Stock < 0 || t.Stock >= len(p.Stock) || t.Times < 1 || t.Times > maxPieces {
			return fmt.Errorf("pattern %d: stock %d, %d times", i+1, t.Stock, t.Times)
		}
		s := p.Stock[t.Stock]
		room := s.Length - p.Trim + p.Kerf
		for _, c := range t.Cuts {
			if c.Count < 1 {
				return fmt.Errorf("pattern %d: %d pieces of %d", i+1, c.Count, c.Length)
			}
			if _, ok := want[c.Length]; !ok {
				return fmt.Errorf("pattern %d: no piece has the length %d", i+1, c.Length)
			}
			if int64(c.Count) > room/(c.Length+p.Kerf) {
				return fmt.Errorf("pattern %d: its pieces are longer than the stock of %d", i+1, s.Length)
			}
			room -= (c.Length + p.Kerf) * int64(c.Count)
			want[c.Length] -= c.Count * t.Times
		}
		used[t.Stock] += t.Times
		value += costs[t.Stock] * int64(t.Times)
	}
	for i, s := range p.Stock {
		if s.Count != Any && used[i] > s.Count {
			return fmt.Errorf("stock %d: %d are used of %d", i+1, used[i], s.Count)
		}
	}
	for _, x := range r.Short {
		want[x.Length] -= x.Count
	}
	lengths := make([]int64, 0, len(want))
	for l := range want {
		lengths = append(lengths, l)
	}
	sort.Slice(lengths, func(i, j int) bool { return lengths[i] > lengths[j] })
	for _, l := range lengths {
		if want[l] > 0 {
			return fmt.Errorf("length %d: %d too few", l, want[l])
		}
		if want[l] < 0 {
			return fmt.Errorf("length %d: %d too many", l, -want[l])
		}
	}
	if value != r.Value {
		return fmt.Errorf("the value is %d, not %d", value, r.Value)
	}
	return nil
}
