// Package lengths cuts dowels and strips from stock lengths: which pieces come out of
// which length, so that the fewest lengths are used or the least is paid, with a bound
// that proves how good that is. Start at Solve; Check says whether a result is a
// cutting of a problem.
//
// This is the cutting-stock problem. The method is column generation (Gilmore & Gomory,
// "A linear programming approach to the cutting-stock problem", Operations Research 9
// (1961) 849-859): a linear programme over patterns, a pattern being what is cut from
// one length, to which a knapsack problem adds the patterns that are worth having. The
// programme's prices prove a bound (Farley, "A note on bounding a class of linear
// programming problems, including cutting stock problems", Operations Research 38 (1990)
// 922-923), which is worked out here in whole numbers, so that no rounding of a
// floating-point number can make it too high. Whole patterns come from diving, cuts and
// branching; each is told in its file. References here and there are from memory.
//
// Lengths are whole numbers of any unit (a caller with millimetres passes micrometres),
// costs whole numbers of any other. Nothing here knows wood, toys or files. Results
// depend on problem and options alone, not on the clock, unless the context ends the
// search.
package lengths

import (
	"context"
	"fmt"
)

// Any is the Count of stock that is bought as needed.
const Any = -1

// Piece is a length that is wanted.
type Piece struct {
	Length int64
	Demand int
}

// Stock is a length to cut from.
type Stock struct {
	Length int64
	Count  int   // how many there are, or Any
	Cost   int64 // of one; 0 for what is on hand and shall be used first
}

// Problem is what to cut and from what. Where no stock has a cost, cost is length.
type Problem struct {
	Pieces []Piece
	Stock  []Stock
	Kerf   int64 // what the saw takes between two pieces
	Trim   int64 // what is lost of each length at its ends, with the cuts that take it off
}

// Cut is a number of pieces of one length.
type Cut struct {
	Length int64
	Count  int
}

// Pattern is what is cut from one length of stock, long pieces first.
type Pattern struct {
	Stock int // index in Problem.Stock
	Cuts  []Cut
	Times int // how many lengths are cut so
}

// Result is a cutting. Pieces that no stock is left for are in Short; the least total
// length is short that could be found, then Value is least for the pieces that are cut.
type Result struct {
	Patterns   []Pattern
	Short      []Cut
	Value      int64 // cost of the lengths that are used
	Bound      int64 // no cutting of the same pieces costs less
	ShortBound int64 // no cutting leaves less than this length of pieces short
	Proved     bool  // Value is the Bound, and the length that is short is the ShortBound
	Work       int64 // steps of work, about a nanosecond each; not the clock
}

// Progress is what is known while the search goes on.
type Progress struct {
	Value, Bound int64
	Work         int64
	What         string // "first", "prices", "diving", "cuts", "branching"
}

// Options tell how far to search. The zero value is good.
type Options struct {
	Work     int64          // steps of work at most; 0: twenty thousand million, some tens of seconds
	Seed     int64          // of the dives that choose by lot
	Progress func(Progress) // told of each better value or bound; may be nil
}

const defaultWork = 20e9

// Limits of a problem: sums of lengths and costs stay far below 2^63.
const (
	maxLength = int64(1) << 40
	maxCost   = int64(1) << 40
	maxPieces = 1 << 20
	maxKinds  = 1 << 12
	maxStock  = 1 << 10
)

// Validate returns what makes no sense in a problem: a length or cost that is not
// positive or is beyond all sense, too many of anything.
func (p *Problem) Validate() error {
	total := 0
	kinds := map[int64]bool{}
	for i, x := range p.Pieces {
		if x.Length <= 0 || x.Length > maxLength {
			return fmt.Errorf("piece %d: length %d is not between 1 and %d", i+1, x.Length, maxLength)
		}
		if x.Demand < 0 || x.Demand > maxPieces {
			return fmt.Errorf("piece %d: demand %d is not between 0 and %d", i+1, x.Demand, maxPieces)
		}
		if total += x.Demand; total > maxPieces {
			return fmt.Errorf("more than %d pieces are wanted", maxPieces)
		}
		if kinds[x.Length] = true; len(kinds) > maxKinds {
			return fmt.Errorf("pieces have more than %d different lengths", maxKinds)
		}
	}
	if len(p.Stock) > maxStock {
		return fmt.Errorf("more than %d kinds of stock", maxStock)
	}
	for i, s := range p.Stock {
		if s.Length <= 0 || s.Length > maxLength {
			return fmt.Errorf("stock %d: length %d is not between 1 and %d", i+1, s.Length, maxLength)
		}
		if s.Count < Any {
			return fmt.Errorf("stock %d: count %d is neither a number nor Any", i+1, s.Count)
		}
		if s.Cost < 0 || s.Cost > maxCost {
			return fmt.Errorf("stock %d: cost %d is not between 0 and %d", i+1, s.Cost, maxCost)
		}
	}
	if p.Kerf < 0 || p.Kerf > maxLength || p.Trim < 0 || p.Trim > maxLength {
		return fmt.Errorf("kerf %d and trim %d are not between 0 and %d", p.Kerf, p.Trim, maxLength)
	}
	return nil
}

// costs returns the cost of each stock: as given, or its length where none has one.
func (p *Problem) costs() []int64 {
	out := make([]int64, len(p.Stock))
	given := false
	for i, s := range p.Stock {
		out[i] = s.Cost
		given = given || s.Cost > 0
	}
	if !given {
		for i, s := range p.Stock {
			out[i] = s.Length
		}
	}
	return out
}

// Solve cuts the pieces at the least cost that it finds. When ctx ends, it returns the
// best so far. The only error is a problem that is not valid.
func Solve(ctx context.Context, p Problem, o Options) (*Result, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	if o.Work <= 0 {
		o.Work = defaultWork
	}
	b := &budget{ctx: ctx, left: o.Work, limit: o.Work}
	c, short := reduce(&p)
	r := &Result{}
	for _, x := range short {
		r.ShortBound += x.Length * int64(x.Count)
	}
	shortProved := true
	best := c.fill(c.need, c.count)
	b.spend(fillWork * (len(best.patterns) + 1))
	if !best.whole(c.need) {
		// Not all can be cut, or not by the first plain try: the least short comes first.
		half := &budget{ctx: ctx, left: b.left / 2, limit: b.left / 2}
		s := newSearch(c.shortest(), half, o)
		s.quiet = true
		s.offer(best)
		s.run()
		b.left -= half.limit - half.left
		best = s.best
		shortProved = s.bound >= s.value
		r.ShortBound += s.bound
		missing := best.missing(c.need)
		for i, n := range missing {
			if n > 0 {
				short = append(short, Cut{c.length[i], n})
			}
		}
		c = c.without(missing)
	}
	s := newSearch(c, b, o)
	s.offer(best)
	s.run()
	r.Value, r.Bound = s.value, min(s.bound, s.value)
	r.Proved = shortProved && s.bound >= s.value
	r.Patterns, r.Short = c.expand(s.best), short
	r.Work = b.limit - b.left
	return r, nil
}

// budget is the work that is left, and the caller's leave to go on.
type budget struct {
	ctx         context.Context
	left, limit int64
	over        bool
}

// spend takes work off the budget and reports whether to go on.
func (b *budget) spend(n int) bool {
	b.left -= int64(n)
	if !b.over && (b.left <= 0 || b.ctx.Err() != nil) {
		b.over = true
	}
	return !b.over
}
