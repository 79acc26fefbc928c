package boards

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/shop/nest"
)

// A bench is candidates made ready for the search.
type bench struct {
	p     nest.Problem
	truth []nest.Item // its items as they are
	dia   []float64   // of the pieces that are rounds
	takes []candidate
	on    []frame
	// searched: what is left was sought a place for by the full search too
	searched bool
}

// bought is what the boards of a layout cost that are not of the rack: their prices, or their
// area where one has none.
func (b *bench) bought(l nest.Layout) (price float64) {
	area, priced := 0.0, true
	for k, in := range used(l, len(b.takes)) {
		if c := b.takes[k]; in && c.from != FromRack {
			price += c.board.Price
			priced = priced && c.board.Price > 0
			area += math.Abs(outline.SignedArea(points(c.board.Outline)))
		}
	}
	if !priced {
		return area
	}
	return price
}

// What a board costs the search is its area, more for a thicker one, and a little for each
// board that has to be fetched, as a share of a middling one.
const fetching = 0.05

// bench takes boards for the pieces that are still to be laid. Cheaper comes before: what
// is dear is used only when the rest is full. Taken are boards of the rack that other pieces lie on.
func (g *group) bench(has, sold []candidate, left []int, taken map[string]bool, m margins) *bench {
	out := &bench{p: nest.Problem{Gap: m.kerf}}
	need := 0.0
	total := 0
	for i, c := range g.cuts {
		dia := 0.0
		if c.as == AsRound || c.as == AsPlug {
			dia = c.length + 2*roundChord // with the polygon that stands for it
		}
		out.dia = append(out.dia, dia)
		out.p.Items = append(out.p.Items, c.item(left[i]))
		out.truth = append(out.truth, nest.Item{Name: c.part, Shape: c.shape, Turns: c.turns, Count: left[i], Room: c.room})
		size := r2.Around(c.shape.Outer...).Size()
		need += float64((size.X + m.kerf + c.room) * (size.Y + m.kerf + c.room) * float64(left[i]))
		total += left[i]
	}
	mean := 0.0
	add := func(list []candidate, base float64, copiesOf func(float64) int) {
		for _, c := range list {
			area := math.Abs(outline.SignedArea(points(c.board.Outline)))
			most := min(total, copiesOf(area))
			for _, b := range copies(c.board, c.board.Count) {
				if c.from == FromRack && taken[b.Name] {
					continue
				}
				if most--; most < 0 {
					break
				}
				one := c
				one.board, one.kind = b, c.board.Name
				one.cost = base + float64(area*math.Max(1, c.board.Thick.MM()/g.thick))
				out.takes = append(out.takes, one)
				mean += area
			}
		}
	}
	add(has, 0, func(area float64) int { return 2 + int(3*need/area) })
	sum := 0.0
	for _, c := range out.takes {
		sum += c.cost
	}
	priced := !slices.ContainsFunc(sold, func(c candidate) bool { return c.board.Price <= 0 })
	first := len(out.takes)
	add(sold, sum, func(area float64) int { return 1 + int(math.Ceil(1.6*need/area)) })
	if priced && len(sold) > 0 { // what costs least, not what is smallest
		for i := first; i < len(out.takes); i++ {
			out.takes[i].cost = sum + float64(out.takes[i].board.Price*1e4)
		}
	}
	mean /= math.Max(1, float64(len(out.takes)))
	for i := range out.takes {
		c := &out.takes[i]
		f := frameOf(c.board)
		out.on = append(out.on, f)
		out.p.Boards = append(out.p.Boards, nest.Board{Name: c.board.Name, Shape: f.shape(shapeOf(c.board, m.flaw()), f.in), Cost: c.cost + float64(fetching*mean)})
	}
	return out
}

// lay lays a group: on the rack, then on what is sold; what is left then is short, and laid
// on what the trade sells.
func (g *group) lay(ctx context.Context, p *Plan, taken map[string]bool, m margins, e Effort) (Stock, error) {
	st := Stock{Wood: g.wood.Name, Form: g.form.String(), ThickMM: rounded(g.thick), Pieces: g.pieces(), Boards: []Board{}, Short: []Short{}, Buy: []Buy{}, Notes: []string{}}
	left := make([]int, len(g.cuts))
	for i := range g.cuts {
		left[i] = g.cuts[i].count()
	}
	assign := make([]int, len(g.cuts)) // pieces of each cut that have a number already
	run := func(has, sold []candidate, wanted []int) (*bench, nest.Layout, error) {
		b := g.bench(has, sold, wanted, taken, m)
		if len(b.p.Boards) == 0 {
			return b, nest.Layout{Left: slices.Clone(wanted)}, nil
		}
		l, searched, err := lookFor(ctx, &b.p, b.dia, e)
		b.searched = searched
		if err == nil {
			b.p.Items = b.truth
			err = b.p.Check(l, tol.Touch)
		}
		return b, l, err
	}
	b, l, err := run(g.has, nil, left)
	if err != nil {
		return st, err
	}
	if sum(l.Left) > 0 && len(g.sold) > 0 {
		all, al, err := run(g.has, g.sold, left)
		if err != nil {
			return st, err
		}
		// what is sold for the rest alone, the rack as full as it went, where that costs no more
		rest, rl, err := run(nil, g.sold, l.Left)
		if err != nil {
			return st, err
		}
		if x, y := sum(rl.Left), sum(al.Left); x < y || x == y && rest.bought(rl) <= all.bought(al)+1e-6 {
			g.take(&st, p, b, l, m, assign)
			b, l = rest, rl
		} else {
			b, l = all, al
		}
	}
	g.take(&st, p, b, l, m, assign)
	for _, c := range g.has {
		for _, one := range copies(c.board, c.board.Count) {
			if taken[one.Name] {
				g.whys = append(g.whys, one.Name+" has pieces of another thickness on it")
			}
		}
	}
	for _, b := range st.Boards {
		if b.From == FromRack {
			taken[b.Name] = true
		}
	}
	for _, w := range g.whys {
		st.Notes = append(st.Notes, w)
	}
	if sum(l.Left) > 0 {
		for i, n := range l.Left {
			if n > 0 {
				st.Short = append(st.Short, Short{g.cuts[i].toy, g.cuts[i].part, n, g.why(i, b, p.unit)})
			}
		}
		trade := g.trades()
		need := 0.0
		for i, n := range l.Left {
			need += float64(areaOf(g.cuts[i].shape) * float64(n))
		}
		area := func(c candidate) float64 { return math.Abs(outline.SignedArea(points(c.board.Outline))) }
		slices.SortStableFunc(trade, func(a, b candidate) int { return cmp.Compare(area(a), area(b)) })
		done := false
		for _, c := range trade { // the smallest that takes all
			if c.board.Count = 1; need > neverFull*area(c) {
				continue
			}
			tb, tl, err := run(nil, []candidate{c}, l.Left)
			if err != nil {
				return st, err
			}
			if done = sum(tl.Left) == 0; done {
				g.take(&st, p, tb, tl, m, assign)
				break
			}
		}
		if !done && len(trade) > 0 {
			largest := area(trade[len(trade)-1])
			trade = slices.DeleteFunc(trade, func(c candidate) bool { return area(c) < fullForm*largest })
			tb, tl, err := run(nil, trade, l.Left)
			if err != nil {
				return st, err
			}
			g.take(&st, p, tb, tl, m, assign)
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
			if t := assign[q.at.Item] % max(1, len(cut.numbers)+cut.spare); t < len(cut.numbers) {
				at.Number = cut.numbers[t]
			}
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
			out.kind = c.kind
			box := r2.Around(out.shape.Outer...).Size()
			new := Buy{Name: c.kind, LengthMM: rounded(box.X), WidthMM: rounded(box.Y), ThickMM: out.ThickMM, Source: c.label}
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
// no number.
func (p *Plan) number() {
	count, at := map[string]int{}, map[string]int{}
	each := func(do func(b *Board)) {
		for i := range p.Stocks {
			for k := range p.Stocks[i].Boards {
				if b := &p.Stocks[i].Boards[k]; b.From != FromRack {
					do(b)
				}
			}
		}
	}
	each(func(b *Board) { count[b.kind]++ })
	each(func(b *Board) {
		if b.Name = b.kind; count[b.kind] > 1 {
			at[b.kind]++
			b.Name = fmt.Sprintf("%s no. %d", b.kind, at[b.kind])
		}
	})
}

// why says why pieces have no place.
func (g *group) why(i int, b *bench, u measure.Unit) string {
	c := &g.cuts[i]
	if len(b.p.Boards) == 0 {
		return fmt.Sprintf("there is no %s %s of %s", g.wood.Name, g.form, measure.FromMM(g.thick).Format(u))
	}
	goes := false
	one := b.p
	one.Items = slices.Clone(b.p.Items)
	for k := range one.Items {
		one.Items[k].Count = 0
	}
	one.Items[i].Count = 1
	l := rows(&one, b.dia, (&searcher{p: &one}).order(1), wideFirst, true)
	goes = l.Left[i] == 0
	if !goes {
		if q, _, err := nest.Boards(context.Background(), one, nest.Effort{Rounds: 2}); err == nil {
			goes = q.Left[i] == 0
		}
	}
	switch {
	case goes && b.searched:
		return "no room was found for it, in rows, by a search of each board, and all over what is free beside the others"
	case goes:
		return "no room was found for it, in rows, and all over what is free beside the others; there are too many pieces, or too little time, for a full search"
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
