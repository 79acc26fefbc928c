package nest

import (
	"math"
	"math/rand/v2"
	"sort"

	"dryfit/geom/r2"
)

// A ground is a problem made ready for searching: kinds, where two of them clash, and
// where each clashes with what is no board.
type ground struct {
	p      *Problem
	kinds  []kind
	first  []int     // kinds of item i: first[i] to first[i+1]
	clash  []clash   // moving kind * len(kinds) + fixed kind
	off    []clash   // board * len(kinds) + kind: with what is no board inside the board's box
	boards []box     // where pieces may be, less the rim
	free   []float64 // area of each board
	alike  []int     // of each board: the first that is as good
	slight float64   // a depth that rounding alone can make
	base   []float64 // what a clash of two pieces weighs at first; the last column is what is no board
	item   []int32   // of each piece
}

// A yard is pieces somewhere on the boards, in each other or not, while a place is sought
// for all of them.
type yard struct {
	g    *ground
	r    *rand.Rand
	room []box // of each board; a search may make it smaller than the ground's
	kind []int32
	on   []int32 // the board, -1 for none
	at   []r2.Vec
	w    []float64 // what each clash weighs now, as base
	deep []float64 // how deep they are in each other
	line liner
	work int // lines tried: the measure of effort
}

func newYard(g *ground, seed uint64) *yard {
	n := len(g.item)
	y := &yard{g: g, r: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15)), room: append([]box(nil), g.boards...),
		kind: make([]int32, n), on: make([]int32, n), at: make([]r2.Vec, n), w: make([]float64, n*(n+1)), deep: make([]float64, n*(n+1))}
	y.even()
	return y
}

// even makes all clashes weigh what they do at first.
func (y *yard) even() { copy(y.w, y.g.base) }

// bases works out what each clash weighs at first: more for larger pieces, which find their
// places first then, and the smaller ones between them. The power was found by trial.
func (g *ground) bases() []float64 {
	n := len(g.item)
	size := make([]float64, n+1)
	for i, it := range g.item {
		size[i] = math.Sqrt(math.Sqrt(g.kinds[g.first[it]].area))
		size[n] += size[i] / float64(n) // what is no board is as large as most
	}
	out := make([]float64, n*(n+1))
	for i := range n {
		for j := range n + 1 {
			out[i*(n+1)+j] = float64(size[i]*size[j]) / float64(size[n]*size[n])
		}
	}
	return out
}

func (y *yard) pieces() int { return len(y.kind) }

// cleared takes every piece off the boards, and returns all, the largest first.
func (y *yard) cleared() []int {
	order := make([]int, y.pieces())
	for i := range order {
		order[i], y.on[i] = i, -1
	}
	size := func(i int) float64 { return y.g.kinds[y.g.first[y.g.item[i]]].area }
	sort.SliceStable(order, func(a, b int) bool { return size(order[a]) > size(order[b]) })
	return order
}

// fits tells whether the box of a kind goes into a board's room, and where its origin may be.
func (y *yard) fits(k, board int32) (box, bool) {
	b, s := y.room[board].grow(-y.g.roomOf(k)), y.g.kinds[k].box
	in := box{b.x0 - s.Min.X, b.y0 - s.Min.Y, b.x1 - s.Max.X, b.y1 - s.Max.Y}
	slight := y.g.slight
	if in.x1 < in.x0 && in.x1 > in.x0-slight {
		in.x1 = in.x0
	}
	if in.y1 < in.y0 && in.y1 > in.y0-slight {
		in.y1 = in.y0
	}
	return in, in.x0 <= in.x1 && in.y0 <= in.y1
}

// roomOf is what a kind keeps free around it at the edge of a board, beyond the rim.
func (g *ground) roomOf(k int32) float64 { return g.p.Items[g.kinds[k].item].Room }

// near is what rounding may leave of pieces in each other, as Check is to forgive it.
func (g *ground) near() float64 { return float64(roundings * g.slight) }

// roundings is how many slight depths may come together, with room to spare: for each pair of
// convex parts one.
const roundings = 100

// goes tells whether the box of an item goes on an empty board in any of its turns.
func (g *ground) goes(item, board int) bool {
	b := g.boards[board].grow(-g.p.Items[item].Room)
	for k := g.first[item]; k < g.first[item+1]; k++ {
		s := g.kinds[k].box.Size()
		if s.X <= b.x1-b.x0+g.slight && s.Y <= b.y1-b.y0+g.slight {
			return true
		}
	}
	return false
}

// depth returns how deep a shift lies in a clash: the sum over its parts.
func (g *ground) depth(c *clash, s r2.Vec) float64 {
	if s.X <= c.box.x0 || s.X >= c.box.x1 || s.Y <= c.box.y0 || s.Y >= c.box.y1 {
		return 0
	}
	sum := 0.0
	for i := range c.parts {
		p := &c.parts[i]
		if s.X <= p.box.x0 || s.X >= p.box.x1 || s.Y <= p.box.y0 || s.Y >= p.box.y1 {
			continue
		}
		d := math.Inf(1)
		for _, e := range c.edges[p.from:p.to] {
			if v := e.d - float64(e.nx*s.X) - float64(e.ny*s.Y); v < d {
				if d = v; d <= g.slight {
					break
				}
			}
		}
		if d > g.slight {
			sum += d - g.slight
		}
	}
	return sum
}

func (g *ground) between(moving, fixed int32) *clash {
	return &g.clash[int(moving)*len(g.kinds)+int(fixed)]
}

func (g *ground) outside(board, k int32) *clash { return &g.off[int(board)*len(g.kinds)+int(k)] }

// measure finds anew how deep piece i is in all others.
func (y *yard) measure(i int) {
	n := y.pieces()
	for j := 0; j < n; j++ {
		d := 0.0
		if j != i && y.on[j] == y.on[i] && y.on[i] >= 0 {
			d = y.g.depth(y.g.between(y.kind[i], y.kind[j]), y.at[i].Sub(y.at[j]))
		}
		y.deep[i*(n+1)+j], y.deep[j*(n+1)+i] = d, d
	}
	d := 0.0
	if y.on[i] >= 0 {
		d = y.g.depth(y.g.outside(y.on[i], y.kind[i]), y.at[i])
	}
	y.deep[i*(n+1)+n] = d
}

// sums returns how deep piece i is in all else, plain and weighted.
func (y *yard) sums(i int) (plain, weighted float64) {
	n := y.pieces()
	for k := i * (n + 1); k < (i+1)*(n+1); k++ {
		if d := y.deep[k]; d > 0 {
			plain += d
			weighted += float64(d * y.w[k])
		}
	}
	return plain, weighted
}

// total returns the sum of all depths; each pair counts twice.
func (y *yard) total() float64 {
	sum := 0.0
	for _, d := range y.deep {
		sum += d
	}
	return sum
}

// put moves a piece.
func (y *yard) put(i int, k, board int32, at r2.Vec) {
	y.kind[i], y.on[i], y.at[i] = k, board, at
	y.measure(i)
}

// A stand is where the pieces are.
type stand struct {
	kind, on []int32
	at       []r2.Vec
}

func (y *yard) stand() stand {
	return stand{append([]int32(nil), y.kind...), append([]int32(nil), y.on...), append([]r2.Vec(nil), y.at...)}
}

func (y *yard) back(s stand) {
	copy(y.kind, s.kind)
	copy(y.on, s.on)
	copy(y.at, s.at)
	for i := range y.kind {
		y.measure(i)
	}
}
