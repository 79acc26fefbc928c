package pattern

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/shop"
	"dryfit/toy"
)

// drawn is a block of the pattern with its views; their moves lead to the block.
type drawn struct {
	layout.Block
	of      string
	numbers []int
	glueUp  bool
	flips   []thing // parts that are this one turned over
	views   []*view
	starts  bool // a cut-out is begun at a dot
}

// sheet collects the items of a block by layer, and keeps the placer informed.
type sheet struct {
	s                            *speaker
	waste, blank, cutting, holes []draw.Item
	later, marks                 []draw.Item
	starts                       map[*cut]start // where the blade starts in cut-outs, in the block
	room                         placer
	plain                        bool // nothing to saw but the blank itself
}

// Room for dimensions: how far off the blank their lines run.
const (
	turnFrom = 130.0 // only blocks wider than this may be turned: small ones read better upright
	dimOff   = 6.5
	foldOut  = 4.0 // the fold line runs on past the wood by this, mm
)

// drawViews draws one view, or two that share a fold.
func (s *speaker) drawViews(views []*view, order []string, plain bool) ([]draw.Item, r2.Vec) {
	sh := &sheet{s: s, plain: plain, starts: map[*cut]start{}, room: placer{bounds: r2.EmptyBox()}}
	boxes := make([]r2.Box, len(views))
	for i, v := range views {
		boxes[i] = v.shown()
		sh.lines(v)
	}
	sh.dimensions(boxes, views)
	if len(views) == 2 {
		sh.fold(boxes[0], boxes[1])
	}
	for _, v := range views {
		sh.flatWords(v)
	}
	sh.holeWords(views)
	for _, v := range views {
		sh.cutWords(v)
	}
	for i, v := range views {
		sh.sideWords(v, boxes[i], order[i])
	}
	for i, v := range views {
		if !v.hidden || v.covered() {
			sh.grain(v, boxes[i])
		}
		sh.compass(v, boxes[i])
	}
	for _, v := range views {
		v.starts = len(sh.starts) > 0
	}
	items := []draw.Item{
		draw.Group{Layer: layerWaste, Items: sh.waste},
		draw.Group{Layer: layerWords, Items: sh.marks},
		draw.Group{Layer: layerBlank, Items: sh.blank},
		draw.Group{Layer: layerLater, Items: sh.later},
		draw.Group{Layer: layerHoles, Items: sh.holes},
		draw.Group{Layer: layerCut, Items: sh.cutting},
	}
	b := grown(draw.Bounds(items...), 0.3)
	for _, v := range views {
		v.move = draw.Translate(b.Min.Neg()).After(v.move)
	}
	return []draw.Item{draw.Group{Move: draw.Translate(b.Min.Neg()), Items: items}}, b.Size()
}

// lines draws all of a view that is not lettering.
func (sh *sheet) lines(v *view) {
	blank := v.move.Run(v.blank)
	style := draw.Thin
	if v.hidden {
		style = draw.Construction
	}
	if sh.plain {
		style = draw.Cut
	}
	p := draw.Path{Runs: []draw.Run{blank}, Line: style}
	if sh.plain {
		sh.cutting = append(sh.cutting, p)
	} else {
		sh.blank = append(sh.blank, p)
	}
	sh.room.ink(p)
	hatch := func(region ...draw.Run) {
		h := draw.Hatch(region, math.Pi/4, 2.4)
		sh.waste = append(sh.waste, draw.Group{Clip: []draw.Run{blank}, Items: []draw.Item{h}})
	}
	if len(v.seen) > 0 {
		p := draw.Path{Line: draw.Outline}
		for _, r := range v.seen {
			p.Runs = append(p.Runs, v.move.Run(r))
		}
		sh.blank = append(sh.blank, p)
		sh.room.ink(p)
	}
	cutLine := func(p draw.Path) {
		sh.cutting = append(sh.cutting, p)
		sh.room.ink(p)
	}
	for _, r := range v.saws {
		whole := v.move.Run(r)
		hatch(blank, whole)
		sh.room.waste = append(sh.room.waste, region{blank.Bounds(), coarse(whole), true})
		p := draw.Path{Line: draw.Cut}
		for _, part := range onWood(r, v.wood) {
			p.Runs = append(p.Runs, v.move.Run(part))
		}
		if len(p.Runs) > 0 {
			cutLine(p)
		}
	}
	if len(v.far) > 0 {
		p := draw.Path{Line: draw.Construction}
		for _, r := range v.far {
			for _, part := range within(r, v.wood) {
				for _, d := range dashed(part) {
					p.Runs = append(p.Runs, v.move.Run(d))
				}
			}
		}
		for _, h := range v.marks {
			p.Runs = append(p.Runs, cross(v.move.Apply(h.at), h.r).Runs...)
		}
		if len(p.Runs) > 0 {
			sh.blank = append(sh.blank, p)
			sh.room.ink(p)
		}
	}
	if len(v.later) > 0 {
		p := draw.Path{Line: draw.Later}
		for _, r := range v.later {
			p.Runs = append(p.Runs, v.move.Run(r))
		}
		sh.later = append(sh.later, p)
		sh.room.ink(p)
	}
	for i := range v.cuts {
		c := &v.cuts[i]
		whole := v.move.Run(c.run)
		p := draw.Path{Line: draw.Cut}
		for _, r := range within(c.run, v.wood) {
			p.Runs = append(p.Runs, v.move.Run(r))
		}
		if c.depth > 0 {
			p.Line = draw.Hidden
		} else {
			hatch(whole)
			sh.room.waste = append(sh.room.waste, region{blank.Bounds(), coarse(whole), false})
		}
		if len(p.Runs) > 0 {
			cutLine(p)
		}
		if c.word == cutOut && c.depth == 0 {
			if at, dia := shop.Pierce(c.line, v.wood.Bounds(), sh.s.toy); dia > 0 {
				if c.round {
					at = shop.OffCross(at, c.line, v.wood.Bounds(), dia)
				}
				at = v.move.Apply(at)
				sh.starts[c] = start{at, dia}
				sh.mark(startDot(at)...)
			}
		}
		if c.round {
			if b := whole.Bounds(); on(v.wood, c.run.Segs[0].Centre) {
				sh.mark(cross(b.Min.Add(b.Max).Scale(0.5), 0.5))
			}
		}
	}
	for _, h := range v.holes {
		at := v.move.Apply(h.at)
		runs := []draw.Run{draw.Circle(at, h.r)}
		if h.counter > 0 {
			runs = append(runs, draw.Circle(at, h.counter))
		}
		sh.hole(draw.Path{Runs: runs, Line: draw.Outline, Fill: draw.NoTone}, cross(at, h.r))
		if h.lean != (r2.Vec{}) {
			to := v.move.Apply(h.at.Add(h.lean)).Sub(at)
			tip := at.Add(to.Scale(h.r + 9))
			sh.hole(draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(at, tip)}}, draw.Arrow(tip, to))
		}
	}
	o, into, square := v.origin() // an arrow points at it
	at := v.move.Apply(o)
	dir := v.move.Apply(o.Add(into)).Sub(at).Unit()
	if square {
		sh.mark(draw.Arrow(at.Sub(dir.Scale(0.7)), dir))
	}
}

// cross marks the centre of a hole by a thin cross that reaches past it, inked
// without a break so that the point to start the bit at is always there.
func cross(c r2.Vec, r float64) draw.Path {
	arm := r + 1.5
	return draw.Path{Line: draw.Thin, Runs: []draw.Run{
		draw.Polyline(c.Sub(r2.Vec{X: arm}), c.Add(r2.Vec{X: arm})),
		draw.Polyline(c.Sub(r2.Vec{Y: arm}), c.Add(r2.Vec{Y: arm})),
	}}
}

func (sh *sheet) hole(items ...draw.Item) {
	sh.holes = append(sh.holes, items...)
	sh.room.ink(items...)
}

func (sh *sheet) mark(items ...draw.Item) {
	sh.marks = append(sh.marks, items...)
	sh.room.ink(items...)
}

// dimensions states the size of the blank, to the left and below.
func (sh *sheet) dimensions(boxes []r2.Box, views []*view) {
	if views[0].blank.Segs[0].Sweep != 0 {
		return // of a round, the title states the diameter
	}
	if views[0].hidden && !views[0].covered() {
		return // the blank is not there to be measured, and what is seen has its own pattern
	}
	all := r2.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	stacked := len(boxes) == 1 || boxes[0].Min.Y >= boxes[1].Max.Y-0.01 || boxes[1].Min.Y >= boxes[0].Max.Y-0.01
	for i, b := range boxes {
		if i == 0 || !stacked {
			sh.mark(draw.Dimension(r2.Vec{X: b.Min.X, Y: all.Min.Y}, r2.Vec{X: b.Max.X, Y: all.Min.Y}, -dimOff, sh.s.mm(b.Size().X)))
		}
		if i == 0 || stacked {
			lo, hi, off := r2.Vec{X: all.Min.X, Y: b.Min.Y}, r2.Vec{X: all.Min.X, Y: b.Max.Y}, dimOff
			if b.Min.Y < all.Max.Y-b.Size().Y-0.01 { // the lower of two: what has no room goes further down
				lo, hi, off = hi, lo, -dimOff
			}
			sh.mark(draw.Dimension(lo, hi, off, sh.s.mm(b.Size().Y)))
		}
	}
}

// fold draws the line between two views, with what to do there at its end.
func (sh *sheet) fold(a, b r2.Box) {
	p := r2.Vec{X: math.Max(a.Min.X, b.Min.X), Y: math.Max(a.Min.Y, b.Min.Y)}
	q := r2.Vec{X: math.Min(a.Max.X, b.Max.X), Y: math.Min(a.Max.Y, b.Max.Y)}
	along := q.Sub(p).Unit()
	end := q.Add(along.Scale(foldOut + draw.TextWidth(foldSays, wordHeight, false)))
	at := q.Add(along.Scale(foldOut)).Add(along.Perp().Scale(1.1))
	sh.mark(draw.Path{Line: draw.Fold, Runs: []draw.Run{draw.Polyline(p, end)}},
		draw.Text{At: at, Says: foldSays, Height: wordHeight, Turn: math.Atan2(along.Y, along.X)})
}

// holeWords letters the holes. What is placed first takes the best room, so it
// tries both orders and keeps the one whose labels lie better.
func (sh *sheet) holeWords(views []*view) {
	type named struct {
		at     r2.Vec
		r      float64
		h      hole
		placed int    // so many of its ways to be said tell its place
		place  string // how a note tells it
		v      *view
	}
	var all []named
	for _, v := range views {
		for k, h := range v.holes {
			if len(h.says) > 0 {
				n, places := len(h.says), v.places(k)
				h.says = sh.s.placed(h.says, places)
				all = append(all, named{v.move.Apply(h.at), math.Max(h.r, h.counter), h, len(h.says) - n, sh.s.placeNote(h.says[0][0], places), v})
			}
		}
	}
	var best []draw.Item
	var bare []named // whose place found no room
	var room placer
	cost := math.Inf(1)
	for range 2 {
		p, sum := sh.room.copy(), 0.0
		var items []draw.Item
		var without []named
		for _, n := range all {
			s := p.beside(n.at, n.r, n.h.says)
			sum += s.cost
			items = append(items, p.draw(s))
			if n.placed > 0 && !slices.ContainsFunc(n.h.says[:n.placed], func(way []line) bool { return slices.Equal(way, s.says) }) {
				without = append(without, n)
			}
		}
		if sum < cost-tol.Page {
			best, bare, room, cost = items, without, p, sum
		}
		slices.Reverse(all)
	}
	slices.SortStableFunc(bare, func(a, b named) int { return cmp.Compare(a.h.at.X, b.h.at.X) })
	for _, n := range bare {
		n.v.unplaced = append(n.v.unplaced, n.place)
	}
	sh.marks, sh.room = append(sh.marks, best...), room
}

// sideWords says which side a view goes to; a round says it by its look.
func (sh *sheet) sideWords(v *view, box r2.Box, order string) {
	if v.blank.Segs[0].Sweep != 0 && v.side == toy.Top && order == "" {
		return
	}
	says := slices.Clone(v.called)
	if says == nil {
		says = []line{{says: strings.ToUpper(shop.SideWord(v.side)) + " (" + v.side.String() + ")", bold: true}}
	}
	if order != "" {
		says = append(says, line{says: order})
	}
	ways := [][]line{says}
	if v.called != nil && len(v.called) > 1 { // how it looks in the toy is said in the note too
		ways = append(ways, slices.Concat(v.called[:1], says[len(v.called):]))
	}
	for _, says := range ways {
		size := sizeOf(says)
		wish := r2.Vec{X: box.Max.X - size.X/2 - 4, Y: box.Max.Y - size.Y/2 - 4}
		if at, ok := sh.room.over(box, size, wish, false); ok {
			sh.marks = append(sh.marks, words(says, at, draw.Left))
			sh.room.boxes = append(sh.room.boxes, at)
			return
		}
	}
	sh.outside(says, box)
}

// outside letters lines to the right of a box, at its middle where there is room.
func (sh *sheet) outside(says []line, box r2.Box) {
	size := sizeOf(says)
	area := r2.Box{Min: r2.Vec{X: box.Max.X + 1, Y: box.Min.Y - 12}, Max: r2.Vec{X: box.Max.X + 6 + size.X, Y: box.Max.Y + 12}}
	wish := r2.Vec{X: area.Min.X + size.X/2, Y: (box.Min.Y + box.Max.Y) / 2}
	at, ok := sh.room.over(area, size, wish, true)
	if !ok {
		at = r2.Box{Min: r2.Vec{X: sh.room.bounds.Max.X + 2, Y: wish.Y - size.Y/2}}
		at.Max = at.Min.Add(size)
	}
	sh.mark(words(says, at, draw.Left))
}

// cutWords names cut-outs and grooves, inside where they fit.
func (sh *sheet) cutWords(v *view) {
	for i := range v.cuts {
		c := &v.cuts[i]
		says := []line{{says: strings.ReplaceAll(c.word, "-", " ")}}
		if c.depth > 0 {
			says = append(says, line{says: sh.s.mm(c.depth) + deepWord})
		}
		ways := [][]line{says}
		begin, pierced := sh.starts[c]
		if pierced {
			ways = sh.s.startSays(begin.dia)
		}
		box, wood := v.move.Run(c.run).Bounds(), v.move.Run(v.wood).Bounds()
		box.Min = r2.Vec{X: math.Max(box.Min.X, wood.Min.X), Y: math.Max(box.Min.Y, wood.Min.Y)}
		box.Max = r2.Vec{X: math.Min(box.Max.X, wood.Max.X), Y: math.Min(box.Max.Y, wood.Max.Y)}
		mid := box.Min.Add(box.Max).Scale(0.5)
		placed := false
		for _, says := range ways {
			if at, ok := sh.room.over(grown(box, 1), sizeOf(says), mid, true); ok {
				sh.marks = append(sh.marks, words(says, at, draw.Middle))
				sh.room.boxes = append(sh.room.boxes, at)
				placed = true
				break
			}
		}
		if !placed {
			sh.marks = append(sh.marks, sh.room.draw(sh.room.beside(mid, 0, ways)))
		}
	}
}

// start is where the blade of a cut-out starts, and the bit that makes room for it.
type start struct {
	at  r2.Vec
	dia float64
}

// startDot marks it: a dot in a ring of white paper.
func startDot(at r2.Vec) []draw.Item {
	dot := draw.Circle(at, 0.8)
	return []draw.Item{draw.Path{Runs: []draw.Run{dot}, Fill: draw.Ink},
		draw.Path{Runs: []draw.Run{draw.Circle(at, 1.5), dot}, Fill: draw.White}}
}

const grainLong = 26.0

// grain draws an arrow along the grain: over the side where there is room, else
// beside it.
func (sh *sheet) grain(v *view, box r2.Box) {
	if v.grain == (r2.Vec{}) {
		if v.blank.Segs[0].Sweep == 0 {
			sh.outside([]line{{says: endGrainWord, pencil: true}}, box)
		}
		return
	}
	o := v.move.Apply(r2.Vec{})
	dir := v.move.Apply(v.grain).Sub(o)
	long := math.Min(grainLong, math.Max(16, math.Abs(dir.Dot(box.Size()))*0.6))
	size := r2.Vec{X: long, Y: 3}
	if math.Abs(dir.Y) > 0.5 {
		size = r2.Vec{X: 3, Y: long}
	}
	mid := box.Min.Add(box.Max).Scale(0.5)
	at, ok := sh.room.over(box, size, mid, false)
	for out := 8.0; !ok; out += 8 { // beside the wood, as near as there is room
		at, ok = sh.room.over(grown(box, out), size, mid, true)
	}
	sh.mark(grainArrow(at))
}

// grainArrow fills a box with a line with heads at both ends and the word between.
func grainArrow(box r2.Box) draw.Group {
	mid := box.Min.Add(box.Max).Scale(0.5)
	size := box.Size()
	dir, long := r2.Vec{X: 1}, size.X
	if size.Y > size.X {
		dir, long = r2.Vec{Y: 1}, size.Y
	}
	word := draw.TextWidth(grainWord, wordHeight, false)/2 + 1
	a, b := mid.Sub(dir.Scale(long/2)), mid.Add(dir.Scale(long/2))
	return draw.Group{Items: []draw.Item{
		paperUnder(box),
		draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(a, mid.Sub(dir.Scale(word))), draw.Polyline(mid.Add(dir.Scale(word)), b)}},
		draw.Arrow(a, dir.Neg()), draw.Arrow(b, dir),
		draw.Text{At: mid, Says: grainWord, Height: wordHeight, Turn: math.Atan2(dir.Y, dir.X), Across: draw.Middle, Up: draw.Half},
	}}
}
