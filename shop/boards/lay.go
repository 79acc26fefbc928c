package boards

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/shop/nest"
	"dryfit/toy"
)

// A bench is candidates made ready for the search.
type bench struct {
	p     nest.Problem
	truth []nest.Item // its items as they are
	dia   []float64   // of the pieces that are rounds
	takes []candidate
	on    []frame
	sold  int  // the first of takes that is not of the rack
	more  bool // there are more boards than it took
	tried tried
}

// tried is how a place was sought for what has none.
type tried int

const (
	wholly  tried = iota // in rows, all over what is free, and by a search of each board
	crowded              // without that search: there are too many pieces
	ended                // in rows, and in as much of the rest as there was time for
)

// Of a board that is bought counts what it is to cost, in units of the smallest coin, and where not
// every one has a price its area; of one of the rack its area; more where it is thicker.
const coins = 100

func (g *group) weighs(c candidate) float64 {
	if c.from == FromSold && g.priced {
		return math.Round(c.board.Price * coins)
	}
	return math.Ceil(areaOfBoard(c) * math.Max(1, c.board.Thick.MM()/g.thick))
}

func areaOfBoard(c candidate) float64 {
	return math.Abs(outline.SignedArea(points(c.board.Outline)))
}

// A score is what a layout is judged by, the first first: less is better.
type score struct {
	left   int
	bought float64
	rack   float64
	boards int
}

func (a score) less(b score) bool {
	return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.bought, b.bought), cmp.Compare(a.rack, b.rack), cmp.Compare(a.boards, b.boards)) < 0
}

// A try is a layout on a bench.
type try struct {
	b *bench
	l nest.Layout
}

// score judges tries of which each lays what the one before it left.
func (g *group) score(tries []try) (s score) {
	for _, t := range tries {
		s.left = sum(t.l.Left)
		for k, in := range used(t.l, len(t.b.takes)) {
			switch c := t.b.takes[k]; {
			case !in:
				continue
			case c.from == FromRack:
				s.rack += g.weighs(c)
			default:
				s.bought += g.weighs(c)
			}
			s.boards++
		}
	}
	return s
}

// How much of the area of the pieces the boards of one kind have together that a bench takes:
// rows seldom need more, and a search has no use for more.
const (
	rackRoom = 3.0
	soldRoom = 1.6
)

// bench takes boards for the pieces that are still to be laid; more is how many times the usual
// room. The cost of a board has the order of a score: a coin is more than all the rack, and a
// square millimetre more than that there are other boards. Taken are boards of the rack that other
// pieces lie on.
func (g *group) bench(has, sold []candidate, left []int, taken map[copyOf]bool, m margins, more float64) *bench {
	out := &bench{p: nest.Problem{Gap: m.kerf}}
	need := 0.0
	total := 0
	for i, c := range g.cuts {
		dia := 0.0
		if c.as == AsRound || c.as == AsPlug {
			dia = c.length
		}
		out.dia = append(out.dia, dia)
		out.p.Items = append(out.p.Items, c.item(left[i]))
		out.truth = append(out.truth, nest.Item{Name: c.part, Shape: c.shape, Turns: c.turns, Count: left[i], Room: c.room})
		size := r2.Around(c.shape.Outer...).Size()
		need += float64((size.X + m.kerf + c.room) * (size.Y + m.kerf + c.room) * float64(left[i]))
		total += left[i]
	}
	whole := 1.0
	add := func(list []candidate, room float64) {
		for _, c := range list {
			most := total
			if n := math.Ceil(1 + room*more*need/areaOfBoard(c)); n < float64(total) {
				most = int(n)
			}
			n, at := 0, 1
			for ; at <= c.board.Count && n < most; at++ {
				one := c
				one.copy = copyOf{c.board.Name, at}
				if c.from == FromRack && taken[one.copy] {
					continue
				}
				one.board = copyAt(c.board, at)
				one.cost = whole * g.weighs(c)
				out.takes = append(out.takes, one)
				n++
			}
			out.more = out.more || at <= c.board.Count && n < total
		}
	}
	add(has, rackRoom)
	for _, c := range out.takes {
		whole += c.cost
	}
	out.sold = len(out.takes)
	add(sold, soldRoom)
	other := 0.5 / float64(1+len(out.takes))
	for _, c := range out.takes {
		f := frameOf(c.board)
		out.on = append(out.on, f)
		out.p.Boards = append(out.p.Boards, nest.Board{Name: c.board.Name, Shape: f.shape(shapeOf(c.board, m.flaw()), f.in), Cost: c.cost + other})
	}
	return out
}

// ample is a bench with so many boards that rows on it need no more of them, where there are.
func (g *group) ample(has, sold []candidate, left []int, taken map[copyOf]bool, m margins) *bench {
	rowsLeave := func(b *bench) int {
		if len(b.p.Boards) == 0 {
			return math.MaxInt
		}
		s := b.searcher(context.Background(), Effort{})
		return s.left(s.inRows(s.all()))
	}
	b := g.bench(has, sold, left, taken, m, 1)
	if !b.more {
		return b
	}
	leaves := rowsLeave(b)
	for more := 2.0; leaves > 0 && b.more; more *= 2 {
		next := g.bench(has, sold, left, taken, m, more)
		n := rowsLeave(next)
		if n >= leaves {
			break
		}
		b, leaves = next, n
	}
	return b
}

// portion is the context of the first of n searches that share what time there is.
func portion(ctx context.Context, n int) (context.Context, context.CancelFunc) {
	end, ok := ctx.Deadline()
	if !ok || n < 2 {
		return ctx, func() {}
	}
	return context.WithTimeout(ctx, time.Until(end)/time.Duration(n))
}

// lay lays a group until the time is over: on the rack, then on what is sold; what is left then
// is short, and laid on what the trade sells.
func (g *group) lay(ctx context.Context, over context.Context, p *Plan, taken map[copyOf]bool, m margins, e Effort) (Stock, error) {
	st := Stock{Wood: g.wood.Name, Form: g.form.String(), ThickMM: rounded(g.thick), Pieces: g.pieces(), Boards: []Board{}, Short: []Short{}, Buy: []Buy{}, Notes: []string{}}
	left := make([]int, len(g.cuts))
	for i := range g.cuts {
		left[i] = g.cuts[i].count()
	}
	assign := make([]int, len(g.cuts)) // pieces of each cut that have a number already
	run := func(still int, has, sold []candidate, wanted []int) (try, error) {
		b := g.ample(has, sold, wanted, taken, m)
		if len(b.p.Boards) == 0 {
			return try{b, nest.Layout{Left: slices.Clone(wanted)}}, nil
		}
		in, cancel := portion(over, still)
		defer cancel()
		l, err := b.lookFor(in, e)
		if err == nil {
			b.p.Items = b.truth
			err = b.p.Check(l, tol.Touch)
		}
		return try{b, l}, err
	}
	still := 1 // searches that may come, with this one
	if len(g.sold) > 0 {
		still = 2
	}
	first, err := run(still, g.has, nil, left)
	if err != nil {
		return st, err
	}
	best := []try{first}
	if sum(first.l.Left) > 0 && len(g.sold) > 0 {
		rest, err := run(3, nil, g.sold, first.l.Left)
		if err != nil {
			return st, err
		}
		best = append(best, rest)
		// both at once, and then with no more of what is sold: what is bought anyway may take what
		// lies on the rack
		for still := 2; still > 0 && len(g.has) > 0; still-- {
			sold := g.sold
			if still == 1 {
				sold = bought(best)
			}
			both, err := run(still, g.has, sold, left)
			if err != nil {
				return st, err
			}
			if one := []try{both}; g.score(one).less(g.score(best)) {
				best = one
			}
		}
	}
	tried := best[len(best)-1].b.tried
	for _, t := range best {
		tried = max(tried, t.b.tried)
		g.take(&st, p, t.b, t.l, m, assign)
	}
	short := best[len(best)-1].l.Left
	for i, n := range short {
		if n > 0 {
			st.Short = append(st.Short, Short{g.cuts[i].toy, g.cuts[i].part, n, g.why(ctx, i, taken, m, tried, p.unit)})
		}
	}
	for _, c := range g.has {
		for n, one := range copies(c.board) {
			if taken[copyOf{c.board.Name, n + 1}] {
				g.whys = append(g.whys, one.Name+" has pieces of another thickness on it")
			}
		}
	}
	for _, b := range st.Boards {
		if b.From == FromRack {
			taken[b.copy] = true
		}
	}
	st.Notes = append(st.Notes, g.whys...)
	if sum(short) > 0 {
		trade, why := g.trades(p.unit)
		if why != "" {
			st.Notes = append(st.Notes, why)
		}
		need := 0.0
		for i, n := range short {
			need += float64(areaOf(g.cuts[i].shape) * float64(n))
		}
		slices.SortStableFunc(trade, func(a, b candidate) int { return cmp.Compare(areaOfBoard(a), areaOfBoard(b)) })
		done := false
		for _, c := range trade { // the smallest that takes all
			if c.board.Count = 1; need > neverFull*areaOfBoard(c) {
				continue
			}
			t, err := run(1, nil, []candidate{c}, short)
			if err != nil {
				return st, err
			}
			if done = sum(t.l.Left) == 0; done {
				g.take(&st, p, t.b, t.l, m, assign)
				break
			}
		}
		if !done && len(trade) > 0 {
			largest := areaOfBoard(trade[len(trade)-1])
			trade = slices.DeleteFunc(trade, func(c candidate) bool { return areaOfBoard(c) < fullForm*largest })
			t, err := run(1, nil, trade, short)
			if err != nil {
				return st, err
			}
			g.take(&st, p, t.b, t.l, m, assign)
		}
	}
	for _, s := range st.Short {
		st.Placed -= s.Count
	}
	st.Placed += st.Pieces
	for _, b := range st.Boards {
		if b.From != FromTrade {
			st.BoardsM2 += b.AreaM2
			st.PiecesM2 += b.PiecesM2
		}
	}
	st.BoardsM2, st.PiecesM2 = kept(st.BoardsM2), kept(st.PiecesM2)
	if st.BoardsM2 > 0 {
		st.Share = kept(st.PiecesM2 / st.BoardsM2)
	}
	return st, nil
}

// fullForm is the share of the largest form that is sold which one has to have of which several
// are bought: many small pieces cost more than a sheet. Common practice, no source.
const fullForm = 1.0 / 3

func sum(list []int) (n int) {
	for _, k := range list {
		n += k
	}
	return n
}

// bought lists what tries take of what is sold, and no more of it.
func bought(tries []try) (out []candidate) {
	for _, t := range tries {
		for k, in := range used(t.l, len(t.b.takes)) {
			c := t.b.takes[k]
			if !in || c.from == FromRack {
				continue
			}
			c.board.Name = c.copy.name
			at := slices.IndexFunc(out, func(o candidate) bool { return o.copy.name == c.copy.name })
			if at < 0 {
				at, c.board.Count = len(out), 0
				out = append(out, c)
			}
			out[at].board.Count++
		}
	}
	return out
}

// take puts a layout into the plan.
func (g *group) take(st *Stock, p *Plan, b *bench, l nest.Layout, m margins, assign []int) {
	byBoard := make([][]nest.Place, len(b.p.Boards))
	for _, at := range l.Places {
		byBoard[at.Board] = append(byBoard[at.Board], at)
	}
	for k, list := range byBoard {
		if len(list) == 0 {
			continue
		}
		c := b.takes[k]
		out := boardOf(c.board, c.from, c.plane)
		out.copy = c.copy
		var laid []nest.Shape
		type put struct {
			at    nest.Place
			shape nest.Shape
			box   r2.Box
		}
		var puts []put
		low := r2.Around(out.shape.Outer...).Min
		for _, at := range list {
			s := b.on[k].shape(b.p.Laid(at), b.on[k].out)
			puts = append(puts, put{at, s, r2.Around(s.Outer...)})
			laid = append(laid, s)
		}
		// marked out row by row from the reference edge up, each from the end on
		order := sorted(len(puts), func(i, j int) bool {
			a, b := puts[i].box.Min, puts[j].box.Min
			if y, z := math.Round(a.Y/tol.Plank), math.Round(b.Y/tol.Plank); y != z {
				return y < z
			}
			return a.X < b.X
		})
		for n, i := range order {
			q := puts[i]
			cut := &g.cuts[q.at.Item]
			turn := nest.Turn{}
			if len(cut.turns) > 0 {
				turn = cut.turns[q.at.Turn]
			}
			at := Place{Mark: n + 1, Toy: cut.toy, Part: cut.part, As: cut.as, LengthMM: rounded(cut.length), WidthMM: rounded(cut.width), Over: turn.Over}
			at.Turn = int(math.Round(turn.Angle * 180 / math.Pi))
			if b.on[k].across {
				at.Turn = (at.Turn + 90) % 360
			}
			from := q.box.Min
			at.Outline, at.Holes = [][2]float64{}, [][][2]float64{}
			if cut.as == AsRound || cut.as == AsPlug {
				from, at.Turn = q.box.Min.Add(q.box.Max).Scale(0.5), 0
			} else {
				at.Outline = pairs(q.shape.Outer)
				for _, h := range q.shape.Holes {
					at.Holes = append(at.Holes, pairs(h))
				}
			}
			from = from.Sub(low)
			at.XMM, at.YMM = rounded(from.X), rounded(from.Y)
			at.Number = cut.number(assign[q.at.Item])
			assign[q.at.Item]++
			area := areaOf(q.shape)
			if cut.as == AsRound || cut.as == AsPlug {
				area = math.Pi / 4 * cut.length * cut.length
			}
			out.PiecesM2 += float64(area * 1e-6)
			out.Places = append(out.Places, at)
		}
		out.PiecesM2 = kept(out.PiecesM2)
		out.cutFirst(laid, m, p.unit)
		if c.from != FromTrade {
			keep := laid
			if out.CutMM > 0 { // what is planed is not what is left
				box := r2.Around(out.shape.Outer...)
				box.Max.X = box.Min.X + out.CutMM
				keep = append(keep, nest.Shape{Outer: []r2.Vec{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}})
			}
			if r := restOf(out.shape, keep, m.kerf, p.unit); r != nil {
				out.Left = append(out.Left, *r)
			}
		}
		if c.from != FromRack {
			box := r2.Around(out.shape.Outer...).Size()
			new := Buy{Name: c.copy.name, LengthMM: rounded(box.X), WidthMM: rounded(box.Y), ThickMM: out.ThickMM, Source: c.label}
			k := slices.IndexFunc(st.Buy, func(b Buy) bool {
				return b.Name == new.Name && b.LengthMM == new.LengthMM && b.WidthMM == new.WidthMM
			})
			if k < 0 {
				k, st.Buy = len(st.Buy), append(st.Buy, new)
			}
			st.Buy[k].Count++
			st.Buy[k].Price += c.board.Price
		}
		st.Boards = append(st.Boards, out)
	}
}

// A board that is planed for a few pieces is cut first: planing all of it is work and wood lost.
const (
	leastPlaned = 12 * facts.MMPerInch // common practice, no source: what is shorter is not safely planed by machine
	leastKept   = 6 * facts.MMPerInch  // common practice, no source: what is shorter is not worth a cut
)

// cutFirst finds where a board that has to be planed is cut before: beyond its last piece.
func (b *Board) cutFirst(laid []nest.Shape, m margins, u measure.Unit) {
	if b.PlaneToMM == 0 || b.Across {
		return
	}
	box := r2.Around(b.shape.Outer...)
	far := box.Min.X
	for _, s := range laid {
		far = math.Max(far, r2.Around(s.Outer...).Max.X)
	}
	step := 5.0 // nobody cuts to less
	if u == measure.Inch {
		step = facts.MMPerInch / 4
	}
	at := math.Ceil(math.Max(leastPlaned, far-box.Min.X+m.kerf+m.handling)/step) * step
	if box.Size().X-at >= leastKept {
		b.CutMM = rounded(at)
	}
}

// number numbers the boards that are bought and have one name, over all stocks; one alone has
// no number. Boards of the rack keep the names that are chalked on them.
func (p *Plan) number(rack []toy.Plank) {
	count, at, chalked := map[string]int{}, map[string]int{}, map[string]bool{}
	for _, b := range rack {
		count[b.Name], at[b.Name] = 1, 1
		for _, c := range copies(b) {
			chalked[c.Name] = true
		}
	}
	each := func(do func(b *Board)) {
		for i := range p.Stocks {
			for k := range p.Stocks[i].Boards {
				if b := &p.Stocks[i].Boards[k]; b.From != FromRack {
					do(b)
				}
			}
		}
	}
	each(func(b *Board) { count[b.copy.name]++ })
	each(func(b *Board) {
		kind := b.copy.name
		b.Name = kind
		for b.Name == kind && count[kind] > 1 || chalked[b.Name] {
			at[kind]++
			b.Name = fmt.Sprintf("%s no. %d", kind, at[kind])
		}
	})
}

// why says why pieces have no place.
func (g *group) why(ctx context.Context, i int, taken map[copyOf]bool, m margins, how tried, u measure.Unit) string {
	c := &g.cuts[i]
	alone := make([]int, len(g.cuts))
	alone[i] = 1
	b := g.bench(g.has, g.sold, alone, taken, m, 1) // one of each kind
	if len(b.p.Boards) == 0 {
		return fmt.Sprintf("there is no %s %s of %s", g.wood.Name, g.form, measure.FromMM(g.thick).Format(u))
	}
	s := b.searcher(ctx, Effort{})
	goes := s.inRows(s.all()).Left[i] == 0
	if !goes {
		if l, _, err := nest.Boards(ctx, b.p, nest.Effort{Rounds: 2, Lines: lines(&b.p)}); err == nil {
			goes = l.Left[i] == 0
		}
	}
	switch {
	case goes && how == wholly:
		return "no room was found for it, in rows, by a search of each board, and all over what is free beside the others"
	case goes && how == crowded:
		return "no room was found for it, in rows, and all over what is free beside the others; there are too many pieces for a full search"
	case goes || ctx.Err() != nil:
		return "no room was found for it in rows; the time was over before all else was tried"
	}
	longest := 0.0
	for _, x := range b.p.Boards {
		longest = math.Max(longest, r2.Around(x.Shape.Outer...).Size().X)
	}
	if c.length > longest {
		return fmt.Sprintf("it is %s long, and the longest board %s", measure.FromMM(c.length).Format(u), measure.FromMM(longest).Format(u))
	}
	return "it goes on no board, clear of edges and flaws"
}
