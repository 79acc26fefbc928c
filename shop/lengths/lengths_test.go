package lengths

import (
	"context"
	"math"
	"math/rand"
	"reflect"
	"testing"
)

func solve(t *testing.T, p Problem, o Options) *Result {
	t.Helper()
	r, err := Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	hold(t, p, r)
	return r
}

// hold says what must be true of every result.
func hold(t *testing.T, p Problem, r *Result) {
	t.Helper()
	if err := Check(p, r); err != nil {
		t.Fatalf("%v\n%+v\n%+v", err, p, r)
	}
	if r.Bound > r.Value || r.ShortBound > shortLength(r) {
		t.Fatalf("bound %d above value %d, or %d above %d short\n%+v", r.Bound, r.Value, r.ShortBound, shortLength(r), p)
	}
	if proved := r.Bound == r.Value && r.ShortBound == shortLength(r); proved != r.Proved {
		t.Fatalf("proved is %v: %+v", r.Proved, r)
	}
}

func shortLength(r *Result) int64 {
	sum := int64(0)
	for _, x := range r.Short {
		sum += x.Length * int64(x.Count)
	}
	return sum
}

// Each case can be worked out by hand.
func TestByHand(t *testing.T) {
	pieces := func(list ...int) []Piece {
		var out []Piece
		for i := 0; i < len(list); i += 2 {
			out = append(out, Piece{int64(list[i]), list[i+1]})
		}
		return out
	}
	one := func(length int64) []Stock { return []Stock{{length, Any, 1}} }
	for _, c := range []struct {
		name  string
		p     Problem
		value int64
		short []Cut
	}{
		{"nothing", Problem{Stock: one(10)}, 0, nil},
		{"no stock", Problem{Pieces: pieces(5, 2)}, 0, []Cut{{5, 2}}},
		{"just fits", Problem{Pieces: pieces(5, 2), Stock: one(10)}, 1, nil},
		{"one piece needs no cut", Problem{Pieces: pieces(10, 3), Stock: one(10), Kerf: 2}, 3, nil},
		{"a kerf between two", Problem{Pieces: pieces(5, 2), Stock: one(10), Kerf: 1}, 2, nil},
		{"a kerf between two that has room", Problem{Pieces: pieces(5, 2), Stock: one(11), Kerf: 1}, 1, nil},
		{"two kerfs between three", Problem{Pieces: pieces(3, 3), Stock: one(11), Kerf: 1}, 1, nil},
		{"a trim", Problem{Pieces: pieces(5, 2), Stock: one(10), Trim: 1}, 2, nil},
		{"a trim that has room", Problem{Pieces: pieces(5, 2), Stock: one(12), Kerf: 1, Trim: 1}, 1, nil},
		{"all is trim", Problem{Pieces: pieces(5, 2), Stock: one(10), Trim: 10}, 0, []Cut{{5, 2}}},
		{"too long", Problem{Pieces: pieces(11, 1, 5, 2), Stock: one(10)}, 1, []Cut{{11, 1}}},
		{"too long by the trim", Problem{Pieces: pieces(10, 1, 4, 2), Stock: one(10), Trim: 1}, 1, []Cut{{10, 1}}},
		{"same length said twice", Problem{Pieces: pieces(5, 1, 5, 1, 5, 0), Stock: one(10)}, 1, nil},
		// First-fit decreasing takes 6+3 and 5+4 of 12, and 3 more: three. 6+3+3 and 5+4+3.
		{"not the longest first", Problem{Pieces: pieces(6, 1, 5, 1, 4, 1, 3, 3), Stock: one(12)}, 2, nil},
		// Length is cost where no cost is said: 9 of 4+5, not 12.
		{"two lengths", Problem{Pieces: pieces(4, 2), Stock: []Stock{{12, Any, 0}, {9, Any, 0}}}, 9, nil},
		// 7+5 of 12 and 5 of 5: 17; two of 12 are 24.
		{"two lengths mixed", Problem{Pieces: pieces(7, 1, 5, 2), Stock: []Stock{{12, Any, 0}, {5, Any, 0}}}, 17, nil},
		{"a price that makes the long one cheap", Problem{Pieces: pieces(4, 3), Stock: []Stock{{12, Any, 10}, {8, Any, 9}}}, 10, nil},
		{"offcuts first", Problem{Pieces: pieces(4, 3), Stock: []Stock{{9, Any, 100}, {4, 1, 0}, {5, 1, 0}}}, 100, nil},
		{"offcuts are enough", Problem{Pieces: pieces(4, 3), Stock: []Stock{{9, Any, 100}, {4, 1, 0}, {8, 1, 0}}}, 0, nil},
		// One of 10: 6+4 leaves 4+3 = 7 short, the least there is.
		{"short", Problem{Pieces: pieces(6, 1, 4, 2, 3, 1), Stock: []Stock{{10, 1, 1}}}, 1, []Cut{{4, 1}, {3, 1}}},
		{"one long, two short ones", Problem{Pieces: pieces(9, 1, 5, 2), Stock: []Stock{{9, 1, 2}, {5, 2, 1}}}, 4, nil},
		{"none of it", Problem{Pieces: pieces(4, 1), Stock: []Stock{{10, 0, 1}}}, 0, []Cut{{4, 1}}},
		// Fieldhouse, "The duality gap in trim problems", SICUP Bulletin 5 (1990), from memory:
		// 44/132*2 + 33/132*3 + 12/132*6 = 1.96, but 3 are needed.
		{"a gap above the programme", Problem{Pieces: pieces(44, 2, 33, 3, 12, 6), Stock: one(132)}, 3, nil},
		// 18 and three of 2 from the middle one; a pattern with a piece that is worth nothing at
		// the prices of the programme is not the pattern without it.
		{"a piece that is worth nothing", Problem{Pieces: pieces(2, 3, 18, 1), Kerf: 2, Stock: []Stock{{65, 3, 13}, {31, Any, 13}, {26, Any, 7}}}, 13, nil},
		{"many of few kinds", Problem{Pieces: pieces(5, 100000, 3, 50000), Stock: one(13)}, 50000, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := solve(t, c.p, Options{})
			if r.Value != c.value || !r.Proved {
				t.Errorf("value %d, proved %v; want %d: %+v", r.Value, r.Proved, c.value, r)
			}
			if !reflect.DeepEqual(r.Short, c.short) {
				t.Errorf("short of %v, want %v", r.Short, c.short)
			}
		})
	}
}

func TestInvalid(t *testing.T) {
	one := []Stock{{10, Any, 1}}
	for _, p := range []Problem{
		{Pieces: []Piece{{0, 1}}, Stock: one},
		{Pieces: []Piece{{-5, 1}}, Stock: one},
		{Pieces: []Piece{{5, -1}}, Stock: one},
		{Pieces: []Piece{{5, 1 << 30}}, Stock: one},
		{Pieces: []Piece{{5, maxPieces}, {6, 1}}, Stock: one},
		{Pieces: []Piece{{math.MaxInt64, 1}}, Stock: one},
		{Stock: []Stock{{0, 1, 1}}},
		{Stock: []Stock{{5, -2, 1}}},
		{Stock: []Stock{{5, 1, -1}}},
		{Kerf: -1}, {Trim: -1}, {Kerf: math.MaxInt64},
	} {
		if _, err := Solve(context.Background(), p, Options{}); err == nil {
			t.Errorf("%+v is taken", p)
		}
	}
}

// Check refuses what is no cutting.
func TestCheck(t *testing.T) {
	p := Problem{Pieces: []Piece{{5, 2}, {4, 1}}, Stock: []Stock{{11, 2, 3}}, Kerf: 1}
	good := Result{Value: 6, Patterns: []Pattern{{0, []Cut{{5, 2}}, 1}, {0, []Cut{{4, 1}}, 1}}}
	if err := Check(p, &good); err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]Result{
		"value":         {Value: 5, Patterns: good.Patterns},
		"too few":       {Value: 3, Patterns: good.Patterns[:1]},
		"too long":      {Value: 3, Patterns: []Pattern{{0, []Cut{{5, 2}, {4, 1}}, 1}}},
		"too many":      {Value: 6, Patterns: []Pattern{{0, []Cut{{5, 1}, {4, 1}}, 2}}},
		"stock":         {Value: 9, Patterns: []Pattern{{0, []Cut{{5, 1}}, 2}, {0, []Cut{{4, 1}}, 1}}},
		"no such":       {Value: 3, Patterns: []Pattern{{1, []Cut{{5, 2}}, 1}}},
		"no length":     {Value: 3, Patterns: []Pattern{{0, []Cut{{6, 1}}, 1}}},
		"taken back":    {Value: 9, Patterns: []Pattern{{0, []Cut{{5, 3}, {5, -1}, {4, 1}}, 1}}},
		"none":          {Value: 0, Patterns: []Pattern{{0, []Cut{{5, 2}}, 0}}},
		"beyond int64":  {Value: 3, Patterns: []Pattern{{0, []Cut{{5, math.MaxInt}, {4, 1}}, 1}}},
		"short of more": {Value: 6, Patterns: good.Patterns, Short: []Cut{{5, 1}}},
	} {
		if Check(p, &r) == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

// tryAll finds the least length short and the least cost with it, by trying everything: the
// longest piece that is left is given up, or cut from each stock with each set of others.
func tryAll(p Problem) (short, cost int64) {
	var pieces []int64
	for _, x := range p.Pieces {
		for i := 0; i < x.Demand; i++ {
			pieces = append(pieces, x.Length)
		}
	}
	costs := p.costs()
	count := make([]int, len(p.Stock))
	for i, s := range p.Stock {
		count[i] = s.Count
	}
	bestShort, bestCost := int64(math.MaxInt64), int64(math.MaxInt64)
	var try func(left int, short, cost int64)
	try = func(left int, short, cost int64) {
		if short > bestShort || short == bestShort && cost >= bestCost {
			return
		}
		if left == 0 {
			bestShort, bestCost = short, cost
			return
		}
		first := left & -left
		rest := left &^ first
		for k, s := range p.Stock {
			if count[k] == 0 {
				continue
			}
			for set := rest; ; set = (set - 1) & rest {
				used := -p.Kerf
				for i, x := range pieces {
					if (set|first)>>i&1 != 0 {
						used += x + p.Kerf
					}
				}
				if used+p.Trim <= s.Length {
					if count[k] != Any {
						count[k]--
					}
					try(rest&^set, short, cost+costs[k])
					if count[k] != Any {
						count[k]++
					}
				}
				if set == 0 {
					break
				}
			}
		}
		i := 0
		for first>>i != 1 {
			i++
		}
		try(rest, short+pieces[i], cost)
	}
	try(1<<len(pieces)-1, 0, 0)
	return bestShort, bestCost
}

// random is a small problem of up to eight pieces.
func random(rnd *rand.Rand) Problem {
	p := Problem{Kerf: int64(rnd.Intn(3)), Trim: int64(rnd.Intn(3))}
	longest := 10 + rnd.Intn(30)
	for n := 1 + rnd.Intn(8); n > 0; {
		d := 1 + rnd.Intn(min(n, 3))
		p.Pieces = append(p.Pieces, Piece{int64(1 + rnd.Intn(longest)), d})
		n -= d
	}
	for n := 1 + rnd.Intn(3); n > 0; n-- {
		s := Stock{Length: int64(longest/2 + rnd.Intn(2*longest)), Count: Any, Cost: int64(rnd.Intn(20))}
		if rnd.Intn(3) > 0 {
			s.Count = rnd.Intn(4)
		}
		if rnd.Intn(4) == 0 {
			s.Cost = 0
		}
		p.Stock = append(p.Stock, s)
	}
	if rnd.Intn(3) == 0 {
		for i := range p.Stock {
			p.Stock[i].Cost = 0
		}
	}
	return p
}

// Small problems come out as trying everything says, and are proved.
func TestAgainstTryingEverything(t *testing.T) {
	n := 1500
	if testing.Short() {
		n = 300
	}
	rnd := rand.New(rand.NewSource(1))
	for i := 0; i < n; i++ {
		p := random(rnd)
		short, cost := tryAll(p)
		r := solve(t, p, Options{})
		if !r.Proved || shortLength(r) != short || r.ShortBound != short || short == 0 && r.Value != cost || r.Value < cost {
			t.Fatalf("%d: short %d, cost %d; got %+v\n%+v", i, short, cost, r, p)
		}
	}
}

// Stock that is cut up at random, some of it wholly, is never proved to cost more than it
// did.
func TestCutUp(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for i := 0; i < 15; i++ {
		p := Problem{Kerf: int64(i % 4), Stock: []Stock{{1000, Any, 10}, {600, Any, 7}, {450, 3, 1}}[:1+i%3]}
		for k, n := range []int{8, 6, 3}[:1+i%3] {
			for ; n > 0; n-- {
				room := p.Stock[k].Length + p.Kerf
				for room > 150 {
					x := 100 + rnd.Int63n(300)
					if x+p.Kerf > room || room-x < 150 {
						x = room - p.Kerf
					}
					p.Pieces = append(p.Pieces, Piece{x, 1})
					room -= x + p.Kerf
				}
			}
		}
		cost := []int64{80, 80 + 42, 80 + 42 + 3}[i%3]
		if r := solve(t, p, Options{Work: 2e8}); r.Bound > cost || r.Value > cost+cost/20 || len(r.Short) > 0 {
			t.Errorf("%d: cut from %d, found %d, bound %d", i, cost, r.Value, r.Bound)
		}
	}
}

// Chvatal, Linear Programming (1983), chapter 13: finals of 45, 36, 31 and 14 inches from
// raws of 100 come to 452.25 raws (figures from memory; 2*45 48.5 times, 2*36+2*14 105.5
// times, 2*36 100.75 times and 36+2*31 197.5 times do it).
func TestPublishedProgramme(t *testing.T) {
	p := Problem{Pieces: []Piece{{45, 97}, {36, 610}, {31, 395}, {14, 211}}, Stock: []Stock{{100, Any, 1}}}
	c, _ := reduce(&p)
	b := &budget{ctx: context.Background(), left: defaultWork, limit: defaultWork}
	s := newSearch(c, b, Options{})
	s.offer(c.fillBy(c.need, c.count, 0))
	s.value = 1000 // so that the programme goes to its end
	s.sums()
	n := s.root()
	if n.generate() != solved || math.Abs(n.lp.value()-452.25) > 1e-6 {
		t.Errorf("the programme comes to %v", n.lp.value())
	}
	if n.bound != 453 {
		t.Errorf("its bound is %d", n.bound)
	}
	if r := solve(t, p, Options{}); r.Value != 453 || !r.Proved {
		t.Errorf("%+v", r)
	}
}

// The best cutting so far comes back from a context that has ended, and from no work.
func TestStopped(t *testing.T) {
	p := uniform(7, 80, 1000, 3)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	r, err := Solve(ctx, p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	hold(t, p, r)
	for _, work := range []int64{1, 1e5, 1e6, 1e7} {
		hold(t, p, solve(t, p, Options{Work: work}))
	}
}

func TestSameAnswerAgain(t *testing.T) {
	p := uniform(3, 60, 1000, 2)
	p.Kerf = 3
	p.Stock = append(p.Stock, Stock{Length: 700, Count: 5, Cost: 0})
	a, b := solve(t, p, Options{Work: 3e7}), solve(t, p, Options{Work: 3e7})
	if !reflect.DeepEqual(a, b) {
		t.Errorf("%+v\n%+v", a, b)
	}
}

// Values only fall and bounds only rise while the search goes on.
func TestProgress(t *testing.T) {
	var last *Progress
	r := solve(t, uniform(5, 40, 1000, 2), Options{Progress: func(p Progress) {
		if last != nil && (p.Value > last.Value || p.Bound < last.Bound || p.Work < last.Work) || p.Bound > p.Value {
			t.Errorf("%+v after %+v", p, last)
		}
		last = &p
	}})
	if last == nil || last.Value != r.Value || last.Bound != r.Bound {
		t.Errorf("last %+v, result %+v", last, r)
	}
}

// uniform is kinds of pieces with lengths up to 7/10 of the stock.
func uniform(seed int64, kinds int, stock int64, demand int) Problem {
	rnd := rand.New(rand.NewSource(seed))
	p := Problem{Stock: []Stock{{stock, Any, 1}}}
	for i := 0; i < kinds; i++ {
		p.Pieces = append(p.Pieces, Piece{1 + rnd.Int63n(stock*7/10), 1 + rnd.Intn(demand)})
	}
	return p
}

// Beyond the size of a linear programme there is a first cutting, and the bound of the
// material.
func TestVeryManyKinds(t *testing.T) {
	p := Problem{Stock: []Stock{{100000, Any, 1}}}
	for i := int64(0); i < mostRows+100; i++ {
		p.Pieces = append(p.Pieces, Piece{30000 + 7*i, 1})
	}
	if r := solve(t, p, Options{}); r.Bound < 570 || r.Value > 810 {
		t.Errorf("value %d, bound %d", r.Value, r.Bound)
	}
}

func FuzzSolve(f *testing.F) {
	f.Add([]byte{1, 2, 10, 5, 2, 4, 1})
	f.Add([]byte{0, 0, 132, 44, 2, 33, 3, 12, 6, 255, 250, 3, 9})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 3 || len(data) > 60 {
			return
		}
		p := Problem{Kerf: int64(data[0] % 8), Trim: int64(data[1] % 8), Stock: []Stock{{int64(data[2]), Any, 1}}}
		for data = data[3:]; len(data) > 3; data = data[2:] {
			if data[0] > 240 {
				p.Stock = append(p.Stock, Stock{int64(data[1]) * int64(data[0]-240), int(data[2]%8) - 1, int64(data[3])})
				data = data[2:]
				continue
			}
			p.Pieces = append(p.Pieces, Piece{int64(data[0]) * (1 + int64(data[1]>>6)*1000), int(data[1] & 63)})
		}
		r, err := Solve(context.Background(), p, Options{Work: 2e7})
		if err != nil {
			if p.Validate() == nil {
				t.Fatal(err)
			}
			return
		}
		hold(t, p, r)
	})
}
