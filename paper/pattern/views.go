package pattern

import (
	"fmt"
	"strings"

	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/toy"
)

// viewBlocks returns the blocks of one part or glue-up: first that of a compound
// pair, then one for each side that is left.
func (s *speaker) viewBlocks(of thing, shape toy.Shape, size r3.Vec, bore float64, work []toy.Work) []drawn {
	sawn, sides := sidesOf(work)
	idle := len(sides) == 0 && bore == 0 // a squared blank and nothing else
	if len(sides) == 0 || bore > 0 && !has(sides, toy.Top) {
		sides = append([]toy.Side{toy.Top}, sides...)
	}
	var sets [][]*view
	var orders [][]string
	see := func(side toy.Side) *view {
		v := s.viewOf(side, shape, size, bore, work)
		v.wood = v.blank
		if of.around != nil {
			v.seen = of.around(side)
			v.wood = draw.Rect(of.extent(side))
			v.hidden = of.hidden(side) && len(v.seen) > 0
		}
		if of.called != nil {
			v.called = of.called(side)
		}
		if of.ways != nil {
			v.ways = of.ways(side)
		}
		v.far, v.marks = farSide(side, size, work)
		if of.later != nil {
			v.later = inWood(of.later(side), v.wood)
		}
		return v
	}
	a, b, compound := pair(sawn)
	two := compound
	if !two {
		a, b, two = pair(sides) // not sawn on both, but the fold lays each in its place
	}
	if two {
		va, vb := see(a), see(b)
		vb.move, _ = unfold(a, b, size)
		order := []string{of.order, of.order}
		if compound {
			order = []string{sawFirst, sawSecond}
		}
		sets, orders = append(sets, []*view{va, vb}), append(orders, order)
	}
	for _, side := range sides {
		if two && (side == a || side == b) {
			continue
		}
		sets, orders = append(sets, []*view{see(side)}), append(orders, []string{of.order})
	}
	var out []drawn
	for i, views := range sets {
		plain := len(sawn) == 0 && !of.glueUp && views[0].side == toy.Top
		items, need := s.drawViews(views, orders[i], plain)
		id, note := of.name, of.note
		if i > 0 {
			id, note = of.name+"."+views[0].side.String(), of.note
		}
		if compound && i == 0 {
			note += fmt.Sprintf(tapeBack, of.sideName(a), of.sideName(b))
		}
		if i == 0 && len(views[0].seen) > 0 {
			note += pencilLines
			if views[0].hidden && !views[0].covered() {
				note += fmt.Sprintf(behindLines, of.base)
			}
		}
		note += templateSays(of.n, of.spare, len(views) == 2 && compound && i == 0, idle && views[0].blank.Segs[0].Sweep == 0)
		title := of.title
		if len(sets) > 1 {
			title += fmt.Sprintf(patternOf, i+1, len(sets))
		}
		for _, v := range views {
			if len(v.far) > 0 {
				note += lightDashes
				break
			}
		}
		for _, v := range views {
			if len(v.unplaced) > 0 {
				note += ". " + strings.Join(v.unplaced, ", ")
			}
		}
		for _, v := range views {
			if len(v.later) > 0 {
				note += dashedLater
				break
			}
		}
		if note != of.note {
			note += "."
		}
		out = append(out, drawn{of: of.name, numbers: of.numbers, glueUp: of.glueUp, flips: of.flips, views: views, starts: views[0].starts,
			Block: layout.Block{ID: id, Title: title, Note: note, Where: of.where, Size: need, Items: items, Split: true, Turn: need.X > turnFrom}})
	}
	return out
}

func has(list []toy.Side, s toy.Side) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
