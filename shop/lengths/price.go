package lengths

import "math/big"

// Pricing: which pattern is worth most at the prices of the pieces? A bounded knapsack
// problem, of which the dynamic programme (Gilmore & Gomory 1966) gives for the kinds from
// the i-th on and each room the most they can be worth; a search through the kinds follows
// it down. Where cuts and forbidden patterns are, which the table does not know, the
// table is an upper bound and the search a branch and bound. Prices are whole numbers, so
// what is found is exact. Rooms beyond tableWidth stand in the table rounded to a grid,
// which lets more in than fits: again an upper bound.

const (
	tableWidth  = 12000
	tableCells  = 4 << 20
	quickSteps  = 3000   // of the search for a pattern
	fullSteps   = 300000 // of the search for the best one, once the quick one finds none worth adding
	furtherMost = 24     // patterns at once, beyond one for each stock
)

// prices are the prices of the rows in whole numbers; one unit is maxCost/2^bits.
type prices struct {
	piece []int64 // by kind
	gate  []int64 // by stock: of using one that is limited
	low   []int64 // by stock: for using one that must be
	cut   []int64 // by cut
}

type knapsack struct {
	c     *core
	b     *budget
	table []int64 // by place in kinds and room
	width int
	grid  int64
	kinds []int
	need  []int // of kinds, at most
	size  []int64
	value []int64
	cuts  [][]int // of kinds: which cuts they count in
	price []int64 // of cuts
	have  []int   // of cuts: pieces so far
	caps  []*pattern

	now   []int // of kinds
	found []int
	best  int64
	steps int
}

// prepare makes the table for prices of pieces.
func (k *knapsack) prepare(n *node, p *prices) {
	c := k.c
	longest := int64(0)
	for i, r := range c.room {
		if n.count[i] != 0 {
			longest = max(longest, r)
		}
	}
	k.grid = longest/min(tableWidth, tableCells/int64(len(c.size)+1)) + 1
	k.width = int(longest/k.grid) + 1
	k.kinds, k.need, k.size, k.value = k.kinds[:0], k.need[:0], k.size[:0], k.value[:0]
	for i, v := range p.piece {
		// Beside caps, a piece that is worth nothing makes another pattern.
		if (v > 0 || len(n.caps) > 0) && n.need[i] > 0 && c.size[i] <= longest {
			k.kinds = append(k.kinds, i)
			k.need = append(k.need, int(min(int64(n.need[i]), longest/c.size[i])))
			k.size = append(k.size, c.size[i])
			k.value = append(k.value, v)
		}
	}
	m, w := len(k.kinds), k.width
	if len(k.table) < (m+1)*w {
		k.table = make([]int64, (m+1)*w)
	}
	clear(k.table[m*w : (m+1)*w])
	for i := m - 1; i >= 0; i-- {
		f := k.table[i*w : (i+1)*w]
		copy(f, k.table[(i+1)*w:(i+2)*w])
		k.b.spend(w)
		for left, chunk := k.need[i], 1; left > 0; chunk *= 2 {
			chunk = min(chunk, left)
			left -= chunk
			worth, size := k.value[i]*int64(chunk), int(k.size[i]/k.grid)*chunk
			for x := w - 1; x >= size; x-- {
				if v := f[x-size] + worth; v > f[x] {
					f[x] = v
				}
			}
			k.b.spend(w)
		}
	}
	k.price, k.have = p.cut, make([]int, len(p.cut))
	k.cuts = make([][]int, m)
	place := make(map[int]int, m)
	for i, kind := range k.kinds {
		place[kind] = i
	}
	for j, r := range n.cuts {
		if p.cut[j] > 0 {
			for _, kind := range r.kinds {
				if i, ok := place[kind]; ok {
					k.cuts[i] = append(k.cuts[i], j)
				}
			}
		}
	}
	k.caps = k.caps[:0]
	for _, x := range n.caps {
		k.caps = append(k.caps, x.pattern)
	}
	k.now = make([]int, m)
}

// most looks for the pattern of a stock that is worth most, and more than floor. It
// returns what it found (nil: none) and a number that none is worth more than.
func (k *knapsack) most(stock int, floor int64, steps int) ([]int, int64) {
	room := k.c.room[stock]
	top := k.table[room/k.grid]
	k.steps = steps
	if top <= floor {
		return nil, floor
	}
	k.best, k.found, k.steps = floor, nil, steps
	k.try(0, room, 0, stock)
	k.b.spend(8 * (steps - k.steps))
	if k.steps <= 0 {
		return k.found, top
	}
	return k.found, k.best
}

func (k *knapsack) try(i int, room, worth int64, stock int) {
	if k.steps--; k.steps <= 0 {
		return
	}
	m := len(k.kinds)
	// Kinds that do not fit are passed over.
	for i < m && k.size[i] > room {
		i++
	}
	if i == m {
		if worth > k.best && !k.capped(stock) {
			k.best = worth
			k.found = append(k.found[:0], k.now...)
		}
		return
	}
	next := k.table[(i+1)*k.width:]
	most := int(min(int64(k.need[i]), room/k.size[i]))
	// The count that promises most comes first.
	type choice struct {
		n         int
		worth, up int64
	}
	var small [8]choice
	list := small[:0]
	for n := 0; n <= most; n++ {
		w := worth + k.value[i]*int64(n)
		if n > 0 {
			for _, j := range k.cuts[i] {
				w -= k.price[j] * int64((k.have[j]+n)/2-k.have[j]/2)
			}
		}
		up := w + next[(room-k.size[i]*int64(n))/k.grid]
		if up > k.best {
			list = append(list, choice{n, w, up})
		}
	}
	for a := 1; a < len(list); a++ {
		for b := a; b > 0 && list[b].up >= list[b-1].up; b-- {
			list[b], list[b-1] = list[b-1], list[b]
		}
	}
	for _, x := range list {
		if x.up <= k.best {
			break
		}
		k.now[i] = x.n
		for _, j := range k.cuts[i] {
			k.have[j] += x.n
		}
		k.try(i+1, room-k.size[i]*int64(x.n), x.worth, stock)
		for _, j := range k.cuts[i] {
			k.have[j] -= x.n
		}
		k.now[i] = 0
		if k.steps <= 0 {
			return
		}
	}
}

// capped tells whether what stands in now is a pattern that must not be made again.
func (k *knapsack) capped(stock int) bool {
	for _, p := range k.caps {
		if p.stock != stock {
			continue
		}
		j, same := 0, true
		for i, n := range k.now {
			if n == 0 {
				continue
			}
			if j == len(p.cuts) || p.cuts[j] != (cut{k.kinds[i], n}) {
				same = false
				break
			}
			j++
		}
		if same && j == len(p.cuts) {
			return true
		}
	}
	return false
}

// worth is what a pattern is worth at prices.
func (p *prices) worth(n *node, t *pattern) int64 {
	w := int64(0)
	for _, x := range t.cuts {
		w += p.piece[x.kind] * int64(x.n)
	}
	for j, r := range n.cuts {
		if p.cut[j] > 0 {
			w -= p.cut[j] * int64(r.of(t))
		}
	}
	return w
}

// price returns patterns that are worth more than they cost at the prices y of the rows,
// the bound that y proves for the node (no whole cutting within it costs less), and
// whether more steps could find or prove more.
func (n *node) price(y []float64, steps int) (list []*pattern, bound int64, more bool) {
	s := n.s
	p := s.whole(n, y)
	k := &s.knap
	k.prepare(n, p)
	most := make([]int64, len(s.c.room))
	further := furtherMost
	for stock := range s.c.room {
		if n.count[stock] == 0 {
			continue
		}
		if s.b.over {
			return nil, n.base, true
		}
		floor := max(s.cost[stock]+p.gate[stock]-p.low[stock], 0)
		found, top := k.most(stock, floor, steps)
		most[stock] = top
		more = more || k.steps <= 0
		if found == nil {
			continue
		}
		// Further ones, of what the first leave over: together they are near a whole
		// cutting, which a single best pattern at a time is not.
		need := append([]int(nil), k.need...)
		for found != nil {
			t := &pattern{stock: stock}
			for i, x := range found {
				if x > 0 {
					t.cuts = append(t.cuts, cut{k.kinds[i], x})
					k.need[i] -= min(x, k.need[i])
				}
			}
			list = append(list, t)
			if further--; further < 0 {
				break
			}
			found, _ = k.most(stock, floor, quickSteps)
		}
		copy(k.need, need)
	}
	return list, s.prove(n, p, most), more
}

// whole makes prices whole numbers.
func (s *search) whole(n *node, y []float64) *prices {
	unit := float64(int64(1) << s.bits)
	p := &prices{piece: make([]int64, len(s.c.size)), gate: make([]int64, len(s.c.room)),
		low: make([]int64, len(s.c.room)), cut: make([]int64, len(n.cuts))}
	for i := range p.piece {
		v := min(max(y[i], 0), penaltyMost)
		p.piece[i] = int64(v * unit)
		if s.miss != nil {
			p.piece[i] = min(p.piece[i], s.miss[i])
		}
	}
	for k, r := range n.gate {
		if r >= 0 {
			p.gate[k] = int64(min(max(-y[r], 0), penaltyMost) * unit)
		}
	}
	for k, r := range n.low {
		if r >= 0 {
			p.low[k] = int64(min(max(y[r], 0), penaltyMost) * unit)
		}
	}
	for j, r := range n.cuts {
		p.cut[j] = int64(min(max(-y[r.row], 0), cutMost) * unit)
	}
	return p
}

// prove works out the bound of prices, given that no pattern of a stock is worth more
// than most. With all prices multiplied by the least cost/most of stock that is bought
// as needed (Farley 1990) no such pattern is worth more than it costs; where stock is
// limited, what a pattern is worth above its cost counts against the bound as often as
// there is stock, and so does a capped pattern, if it may be used at all. All of it is exact: whole numbers, one
// fraction.
func (s *search) prove(n *node, p *prices, most []int64) int64 {
	num, den := big.NewInt(1), big.NewInt(1)
	for k, c := range s.cost {
		if n.count[k] != Any || most[k]+p.low[k] <= c {
			continue
		}
		a, b := big.NewInt(c), big.NewInt(most[k]+p.low[k])
		if new(big.Int).Mul(a, den).Cmp(new(big.Int).Mul(num, b)) < 0 {
			num, den = a, b
		}
	}
	sum := new(big.Int)
	term := func(price int64, times int) {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(price), big.NewInt(int64(times))))
	}
	for i, v := range p.piece {
		term(v, n.need[i])
	}
	for j, v := range p.cut {
		term(-v, n.cuts[j].left)
	}
	for k, v := range p.low {
		term(v, n.least[k])
	}
	sum.Mul(sum, num)
	above := make([]*big.Int, len(s.cost)) // of a pattern above its cost, times den
	over := func(worth, cost int64) *big.Int {
		x := new(big.Int).Mul(big.NewInt(worth), num)
		x.Sub(x, new(big.Int).Mul(big.NewInt(cost), den))
		if x.Sign() < 0 {
			x.SetInt64(0)
		}
		return x
	}
	for k, c := range s.cost {
		above[k] = new(big.Int)
		if n.count[k] != Any && n.count[k] > 0 {
			above[k] = over(most[k]+p.low[k], c)
			sum.Sub(sum, new(big.Int).Mul(above[k], big.NewInt(int64(n.count[k]))))
		}
	}
	for _, x := range n.caps {
		if !n.takes(x.pattern, 1) {
			continue
		}
		t := over(p.worth(n, x.pattern)+p.low[x.pattern.stock], s.cost[x.pattern.stock])
		if t.Sub(t, above[x.pattern.stock]); t.Sign() > 0 {
			sum.Sub(sum, t.Mul(t, big.NewInt(int64(x.left))))
		}
	}
	if sum.Sign() <= 0 {
		return s.attain(n.base)
	}
	sum.Mul(sum, big.NewInt(s.most))
	den.Lsh(den, s.bits)
	sum.Add(sum, den).Sub(sum, big.NewInt(1)).Quo(sum, den)
	return s.attain(n.base + sum.Int64())
}
