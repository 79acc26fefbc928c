package lengths

import (
	"math"
	"math/big"
	"math/bits"
	"math/rand"
	"sort"
)

// search is one problem being solved: the best cutting and the best bound so far.
type search struct {
	c     *core
	b     *budget
	o     Options
	quiet bool

	best  *cutting
	value int64
	bound int64

	most int64   // the largest cost: 1 in the linear programme
	bits uint    // 2^bits in whole prices
	cost []int64 // of stock in whole prices, rounded down
	miss []int64 // likewise; nil: all must be cut
	step int64   // all costs are multiples of it
	next []int64 // by x/step: the least sum of costs that is not below x; may be nil
	knap knapsack

	nodes int        // of branching that are left
	lot   *rand.Rand // dives choose by it; may be nil
	what  string
}

func newSearch(c *core, b *budget, o Options) *search {
	s := &search{c: c, b: b, o: o, value: 1 << 62, what: "first"}
	s.knap = knapsack{c: c, b: b}
	longest, all := int64(0), 0
	for _, r := range c.room {
		longest = max(longest, r)
	}
	for _, x := range c.need {
		all += x
	}
	s.most = 1
	coins := []int64{}
	for _, x := range append(append([]int64(nil), c.cost...), c.miss...) {
		s.most = max(s.most, x)
		if x > 0 {
			coins = append(coins, x)
		}
	}
	if s.step = common(coins); s.step == 0 {
		s.step = 1
	}
	// A pattern is worth at most 2^20 for each piece; all stays below 2^62.
	inOne := int64(1)
	if len(c.size) > 0 {
		inOne = min(longest/c.size[len(c.size)-1], int64(all)) + 1
	}
	s.bits = uint(min(36, 41-bits.Len64(uint64(inOne))))
	for _, x := range c.cost {
		s.cost = append(s.cost, s.inPrices(x))
	}
	for _, x := range c.miss {
		s.miss = append(s.miss, s.inPrices(x))
	}
	return s
}

// inPrices is a cost in whole prices, rounded down.
func (s *search) inPrices(cost int64) int64 {
	x := new(big.Int).Lsh(big.NewInt(cost), s.bits)
	return x.Quo(x, big.NewInt(s.most)).Int64()
}

func (s *search) costOf(p *pattern) float64 { return float64(s.c.cost[p.stock]) / float64(s.most) }

// sums makes the table of sums of costs below the value.
func (s *search) sums() {
	n := s.value/s.step + 1
	if n > 1<<20 {
		return
	}
	reached := make([]bool, n)
	reached[0] = true
	for _, list := range [][]int64{s.c.cost, s.c.miss} {
		for _, x := range list {
			if d := x / s.step; d > 0 {
				for i := d; i < n; i++ {
					reached[i] = reached[i] || reached[i-d]
				}
				s.b.spend(int(n))
			}
		}
	}
	s.next = make([]int64, n)
	last := n
	for i := n - 1; i >= 0; i-- {
		if reached[i] {
			last = i
		}
		s.next[i] = last * s.step
	}
}

// attain is the least sum of costs that is not below x.
func (s *search) attain(x int64) int64 {
	i := (x + s.step - 1) / s.step
	if i < int64(len(s.next)) {
		return max(s.next[i], x)
	}
	return i * s.step
}

// offer takes a cutting if it is better than the best; pieces cut too often are taken out.
func (s *search) offer(t *cutting) {
	if s.c.miss == nil && !t.whole(s.c.need) {
		return
	}
	t = s.c.clip(t)
	left := s.left(t)
	for k, n := range left {
		if n < 0 && s.c.count[k] != Any {
			return
		}
	}
	t = s.c.cheaper(t, left)
	if v := s.c.value(t); s.best == nil || v < s.value {
		s.best, s.value = t, v
		s.tell()
	}
}

// left is the stock that a cutting leaves.
func (s *search) left(t *cutting) []int {
	count := append([]int(nil), s.c.count...)
	for i, p := range t.patterns {
		if count[p.stock] != Any {
			count[p.stock] -= t.times[i]
		}
	}
	return count
}

func (s *search) tell() {
	if s.o.Progress != nil && !s.quiet {
		s.o.Progress(Progress{s.value, min(s.bound, s.value), s.b.limit - s.b.left, s.what})
	}
}

func (s *search) done() bool { return s.bound >= s.value || s.b.over }

// raise takes a bound of the whole problem.
func (s *search) raise(bound int64) {
	if bound = min(bound, s.value); bound > s.bound {
		s.bound = bound
		s.tell()
	}
}

// material is the bound of the length alone: the stock that gives a length for the least
// is used first, as far as it goes.
func (s *search) material() int64 {
	c := s.c
	if c.miss != nil {
		return 0
	}
	order := make([]int, len(c.room))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(i, j int) bool {
		a := new(big.Int).Mul(big.NewInt(c.cost[order[i]]), big.NewInt(c.room[order[j]]))
		return a.Cmp(new(big.Int).Mul(big.NewInt(c.cost[order[j]]), big.NewInt(c.room[order[i]]))) < 0
	})
	left, sum := new(big.Int), int64(0)
	for i, n := range c.need {
		left.Add(left, new(big.Int).Mul(big.NewInt(c.size[i]), big.NewInt(int64(n))))
	}
	for _, k := range order {
		room := big.NewInt(c.room[k])
		if all := new(big.Int).Mul(room, big.NewInt(int64(c.count[k]))); c.count[k] != Any && all.Cmp(left) < 0 {
			left.Sub(left, all)
			sum += c.cost[k] * int64(c.count[k])
			continue
		}
		left.Mul(left, big.NewInt(c.cost[k]))
		left.Add(left, room).Sub(left, big.NewInt(1)).Quo(left, room)
		return s.attain(sum + left.Int64())
	}
	return s.attain(sum)
}

const (
	mostRows   = 1500 // of a linear programme; beyond that there is only the first cutting
	divesByLot = 6
)

// run searches until the best cutting is proved or the budget is spent.
func (s *search) run() {
	s.sums()
	s.raise(s.material())
	if s.done() || len(s.c.size)+len(s.c.room) > mostRows {
		return
	}
	s.what = "prices"
	root := s.root()
	got := root.generate()
	s.raise(root.bound)
	if s.done() || got != solved {
		return
	}
	if s.c.miss == nil && len(s.c.room) > 1 {
		root.byStock()
	} else {
		root.dive(0, 0, nil)
		s.nodes = math.MaxInt
		s.raise(root.close())
	}
}

// close tries to prove the best cutting below a node, or to find a better one: by cuts,
// dives that may go wrong, dives by lot and branching. It returns a bound of all that lies below.
func (n *node) close() int64 {
	s := n.s
	what := s.what
	defer func() { s.what = what }()
	s.what = "cuts"
	ended := func() bool { return s.b.over || n.bound >= s.value }
	for round := 0; round < cutRounds && !ended(); round++ {
		if n.separate() == 0 || n.generate() != solved {
			break
		}
		if round%3 == 2 {
			n.dive(0, 0, nil)
		}
	}
	s.what = "diving"
	for wrong := 1; wrong <= 2 && !ended(); wrong++ {
		n.dive(0, wrong, nil)
	}
	s.lot = rand.New(rand.NewSource(s.o.Seed))
	for i := 0; i < divesByLot && !ended(); i++ {
		n.dive(0, 0, nil)
	}
	s.lot = nil
	if ended() {
		return min(n.bound, s.value)
	}
	s.what = "branching"
	return n.branch(0)
}
