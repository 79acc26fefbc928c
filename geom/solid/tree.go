package solid

import (
	"cmp"
	"slices"

	"dryfit/geom/r3"
)

// node is a node of a box tree. Leaves have one piece; children come after
// their parent, so that walking the nodes backwards is bottom-up.
type node struct {
	box         r3.Box
	left, right int32
	piece       int32 // -1 in inner nodes
}

// grow builds a tree over the boxes: split at the median along the longest side.
func grow(boxes []r3.Box) []node {
	if len(boxes) == 0 {
		return nil
	}
	order := make([]int32, len(boxes))
	for i := range order {
		order[i] = int32(i)
	}
	nodes := make([]node, 0, 2*len(boxes)-1)
	var build func(part []int32) int32
	build = func(part []int32) int32 {
		at := int32(len(nodes))
		n := node{box: r3.EmptyBox(), piece: -1}
		spread := r3.EmptyBox()
		for _, i := range part {
			n.box = n.box.Union(boxes[i])
			spread = spread.Add(boxes[i].Center())
		}
		nodes = append(nodes, n)
		if len(part) == 1 {
			nodes[at].piece = part[0]
			return at
		}
		size, axis := spread.Size(), 0
		if size.Y > size.X {
			axis = 1
		}
		if size.Z > size.At(axis) {
			axis = 2
		}
		slices.SortFunc(part, func(i, j int32) int {
			if c := cmp.Compare(boxes[i].Center().At(axis), boxes[j].Center().At(axis)); c != 0 {
				return c
			}
			return cmp.Compare(i, j)
		})
		half := len(part) / 2
		l := build(part[:half])
		r := build(part[half:])
		nodes[at].left, nodes[at].right = l, r
		return at
	}
	build(order)
	return nodes
}

// pairs calls f for every two pieces whose boxes, grown by slack, meet, until f
// returns false.
func pairs(a, b []node, slack float64, f func(i, j int32) bool) bool {
	if len(a) == 0 || len(b) == 0 {
		return true
	}
	var walk func(i, j int32) bool
	walk = func(i, j int32) bool {
		x, y := &a[i], &b[j]
		if !x.box.Near(&y.box, slack) {
			return true
		}
		switch {
		case x.piece >= 0 && y.piece >= 0:
			return f(x.piece, y.piece)
		case y.piece >= 0 || (x.piece < 0 && bigger(x.box, y.box)):
			return walk(x.left, j) && walk(x.right, j)
		default:
			return walk(i, y.left) && walk(i, y.right)
		}
	}
	return walk(0, 0)
}

// within calls f for every piece whose box meets b.
func within(a []node, b r3.Box, f func(i int32)) {
	if len(a) == 0 {
		return
	}
	var walk func(i int32)
	walk = func(i int32) {
		x := &a[i]
		if !x.box.Meets(b) {
			return
		}
		if x.piece >= 0 {
			f(x.piece)
			return
		}
		walk(x.left)
		walk(x.right)
	}
	walk(0)
}

func bigger(a, b r3.Box) bool {
	s, t := a.Size(), b.Size()
	return s.X+s.Y+s.Z >= t.X+t.Y+t.Z
}
