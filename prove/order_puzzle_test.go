package prove_test

import (
	"math/rand"
	"strings"
	"testing"

	"dryfit/prove"
)

// Random puzzles of boxes and pegs, written as toy files, against an exhaustive
// search that knows nothing of solids: everything fills cells of a lattice, 10 mm
// wide, and is marched cell by cell along the six directions, and all orders of
// taking things off are tried, by subsets.

const cell = 10 // mm; pegs and their holes are 8 mm

type cellAt [3]int

// thing is a box or a peg.
type thing struct {
	name  string
	cells []cellAt
	axis  int            // of a peg, else -1
	holes map[cellAt]int // of a box: cells with a hole, and its axis from 1
	own   map[int]bool   // of a peg: the boxes that it is in
	lo    cellAt         // of a box
	size  cellAt         // of a box
	drill []string       // of a box: its work
	step  string         // its line in the build
}

type lattice struct {
	things []thing // in the order of the build
	taken  map[cellAt]bool
	blind  int // tenths of the holes that are only a cell deep
}

func newLattice(rng *rand.Rand) *lattice {
	l := &lattice{taken: map[cellAt]bool{}, blind: rng.Intn(11)}
	room := cellAt{4, 4, 2 + 2*rng.Intn(2)}
	boxes := 4 + rng.Intn(4)
	for try := 0; try < 200 && len(l.things) < boxes; try++ {
		var b thing
		b.axis, b.holes = -1, map[cellAt]int{}
		for k := range b.size {
			b.size[k] = 2 * (1 + rng.Intn(2)*rng.Intn(2)*rng.Intn(room[k]/2))
			b.lo[k] = 2 * rng.Intn((room[k]-b.size[k])/2+1)
		}
		free := true
		for x := 0; x < b.size[0]; x++ {
			for y := 0; y < b.size[1]; y++ {
				for z := 0; z < b.size[2]; z++ {
					c := cellAt{b.lo[0] + x, b.lo[1] + y, b.lo[2] + z}
					free = free && !l.taken[c]
					b.cells = append(b.cells, c)
				}
			}
		}
		if !free {
			continue
		}
		for _, c := range b.cells {
			l.taken[c] = true
		}
		b.name = f("box-%d", len(l.things))
		b.step = f("{put: %s}", b.name)
		if len(l.things) > 0 {
			o := l.things[0].lo
			b.step = f("{put: %s, sits: {back: box-0.back + %d, right: box-0.right + %d, bottom: box-0.bottom + %d}}", b.name,
				cell*(b.lo[0]-o[0]), cell*(b.lo[1]-o[1]), cell*(b.lo[2]-o[2]))
			b.step = strings.ReplaceAll(b.step, "+ -", "- ")
		}
		l.things = append(l.things, b)
	}
	n := len(l.things)
	pegs := 12 - n
	for try := 0; try < 400 && pegs > 0; try++ {
		if l.peg(rng, n, len(l.things)-n) {
			pegs--
		}
	}
	return l.shuffled(rng, n)
}

// shuffled puts some of the pegs as soon as what they are in is there.
func (l *lattice) shuffled(rng *rand.Rand, n int) *lattice {
	var order []int
	done := map[int]bool{}
	for i := 0; i < n; i++ {
		order = append(order, i)
		for k := n; k < len(l.things); k++ {
			there := true
			for o := range l.things[k].own {
				there = there && o <= i
			}
			if there && !done[k] && rng.Intn(2) == 0 {
				order, done[k] = append(order, k), true
			}
		}
	}
	for k := n; k < len(l.things); k++ {
		if !done[k] {
			order = append(order, k)
		}
	}
	at := map[int]int{}
	var things []thing
	for k, i := range order {
		at[i] = k
		things = append(things, l.things[i])
	}
	for k := range things {
		own := map[int]bool{}
		for o := range things[k].own {
			own[at[o]] = true
		}
		things[k].own = own
	}
	l.things = things
	return l
}

func (l *lattice) boxAt(c cellAt, n int) int {
	for i := 0; i < n; i++ {
		for _, d := range l.things[i].cells {
			if c == d {
				return i
			}
		}
	}
	return -1
}

// peg adds a peg from one box, out of the side sign of axis, into the next, or
// proud of it.
func (l *lattice) peg(rng *rand.Rand, n, number int) bool {
	h := rng.Intn(n)
	host := &l.things[h]
	axis, sign := rng.Intn(3), 2*rng.Intn(2)-1
	mouth := host.cells[rng.Intn(len(host.cells))]
	mouth[axis] = host.lo[axis]
	if sign > 0 {
		mouth[axis] += host.size[axis] - 1
	}
	step := func(c cellAt, k int) cellAt { c[axis] += sign * k; return c }
	// mostly blind, in two boxes: nothing can be drawn out then but the boxes
	deepIn := func(size int) int {
		if rng.Intn(10) < l.blind {
			return 1
		}
		return 1 + rng.Intn(size)
	}
	depth := deepIn(host.size[axis])
	var in, out []cellAt // cells in the host, and beyond it
	for k := 0; k < depth; k++ {
		in = append(in, step(mouth, -k))
	}
	next := l.boxAt(step(mouth, 1), n)
	line, deep := "", 0
	if next >= 0 {
		deep = deepIn(l.things[next].size[axis])
		line = f("peg: {use: peg, as: peg-%d, in: [box-%d.hole-%d, box-%d.hole-%d]}", number, h, number, next, number)
		for k := 1; k <= deep; k++ {
			out = append(out, step(mouth, k))
		}
	} else {
		if rng.Intn(10) > 0 {
			return false // rather between two boxes
		}
		proud := rng.Intn(3)
		for k := 1; k <= proud; k++ {
			if out = append(out, step(mouth, k)); l.taken[step(mouth, k)] {
				return false
			}
		}
		line = f("peg: {use: peg, as: peg-%d, in: box-%d.hole-%d, proud: %d}", number, h, number, cell*proud)
	}
	for _, c := range in {
		if host.holes[c] != 0 {
			return false
		}
	}
	if next >= 0 {
		for _, c := range out {
			if l.things[next].holes[c] != 0 {
				return false
			}
		}
	}
	p := thing{axis: axis, own: map[int]bool{h: true}, step: line, cells: append(append([]cellAt(nil), in...), out...)}
	l.bore(h, mouth, axis, sign, depth, number)
	for _, c := range in {
		host.holes[c] = axis + 1
	}
	if next >= 0 {
		p.own[next] = true
		l.bore(next, step(mouth, 1), axis, -sign, deep, number)
		for _, c := range out {
			l.things[next].holes[c] = axis + 1
		}
	} else {
		for _, c := range out {
			l.taken[c] = true
		}
	}
	l.things = append(l.things, p)
	return true
}

// bore drills box b at a cell from the side that looks along sign of axis.
func (l *lattice) bore(b int, at cellAt, axis, sign, depth, number int) {
	t := &l.things[b]
	var q, s [3]int
	for k := range q {
		q[k], s[k] = cell*(at[k]-t.lo[k])+cell/2, cell*t.size[k]
	}
	x, y, z := q[0], q[1], q[2]
	side, place := "", [2]int{}
	switch {
	case axis == 2 && sign > 0:
		side, place = "top", [2]int{x, y}
	case axis == 2:
		side, place = "bottom", [2]int{x, s[1] - y}
	case axis == 1 && sign > 0:
		side, place = "left", [2]int{s[0] - x, z}
	case axis == 1:
		side, place = "right", [2]int{x, z}
	case sign > 0:
		side, place = "front", [2]int{y, z}
	default:
		side, place = "back", [2]int{s[1] - y, z}
	}
	sunk := ""
	if depth < t.size[axis] {
		sunk = f(", depth: %d", cell*depth)
	}
	t.drill = append(t.drill, f("{drill: {side: %s, dia: 8%s, named: {hole-%d: [%d, %d]}}}", side, sunk, number, place[0], place[1]))
}

func (l *lattice) text() string {
	s := sheetOf{stock: []string{board("t2", 2*cell), board("t4", 4*cell), dowelOf("rod", 8)}}
	for _, t := range l.things {
		if t.axis < 0 {
			s.parts = append(s.parts, f("%s: {from: t%d, blank: [%d, %d], work: [%s]}", t.name, t.size[2], cell*t.size[0], cell*t.size[1], strings.Join(t.drill, ", ")))
		}
		s.build = append(s.build, t.step)
	}
	s.parts = append(s.parts, "peg: {from: rod}")
	return s.text()
}

// hits tells whether thing i, moved along axis by sign, runs into thing j.
func (l *lattice) hits(i, j, axis, sign int) bool {
	a, b := &l.things[i], &l.things[j]
	if a.axis < 0 && b.axis >= 0 { // a peg against a box, seen from the box
		return l.hits(j, i, axis, -sign)
	}
	if a.own[j] && axis != a.axis {
		return true
	}
	solid := map[cellAt]bool{}
	for _, c := range b.cells {
		// only a peg goes into a hole, and only along it
		solid[c] = a.axis < 0 || a.axis != axis || b.holes[c] != axis+1
	}
	for _, c := range a.cells {
		for k := 1; k < 12; k++ {
			c[axis] += sign
			if solid[c] {
				return true
			}
		}
	}
	return false
}

// exhaust tries all orders; file only that of the file.
func (l *lattice) exhaust() (file, any bool) {
	n := len(l.things)
	var way [12][12][6]bool
	for i := range l.things {
		for j := range l.things {
			for d := 0; d < 6; d++ {
				way[i][j][d] = i != j && l.hits(i, j, d/2, 2*(d%2)-1)
			}
		}
	}
	free := func(i, set int) bool {
	next:
		for d := 0; d < 6; d++ {
			for j := 0; j < n; j++ {
				if set>>j&1 == 1 && way[i][j][d] {
					continue next
				}
			}
			return true
		}
		return false
	}
	file = true
	for i := n - 1; i > 0; i-- {
		file = file && free(i, 1<<i-1)
	}
	ok := make([]bool, 1<<n) // sets that can be taken apart
	ok[0] = true
	for set := 1; set < 1<<n; set++ {
		for i := 0; i < n && !ok[set]; i++ {
			if set>>i&1 == 1 {
				rest := set &^ (1 << i)
				ok[set] = ok[rest] && free(i, rest)
			}
		}
	}
	return file, ok[1<<n-1]
}

// Two hundred puzzles: limited to the six directions and one thing at a time the
// verdicts are those of the exhaustive search; the whole check is never worse.
func TestOrderAgainstExhaustion(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	var files, orders, lenient, whole, minds, things int
	puzzles := 200
	if testing.Short() {
		puzzles = 40
	}
	for k := 0; k < puzzles; k++ {
		l := newLattice(rng)
		file, any := l.exhaust()
		got := prove.TakeApart(model(t, l.text()))
		if file != got.AxesFile || any != got.AxesAny {
			t.Errorf("puzzle %d: in the file's order %v, exhaustive %v; in any %v, exhaustive %v\n%s", k, got.AxesFile, file, got.AxesAny, any, l.text())
		}
		v := worst(got.Findings)
		if any && !got.Any || file && !got.File || got.File != (v == prove.Holds) || got.Any && v > prove.Mind {
			t.Errorf("puzzle %d: in the file's order %v, exhaustive %v; in any %v, exhaustive %v; %v\n%s", k, got.File, file, got.Any, any, v, l.text())
		}
		things += len(l.things)
		for _, c := range []struct {
			n  *int
			is bool
		}{{&files, file}, {&orders, any}, {&lenient, got.File}, {&whole, got.Any}, {&minds, v == prove.Mind}} {
			if c.is {
				*c.n++
			}
		}
	}
	t.Logf("%d puzzles of %.1f things: %d in the file's order, %d along the axes, %d at all, %d in the file's order when pressed together on their pegs, %d to mind", puzzles, float64(things)/float64(puzzles), files, orders, whole, lenient, minds)
	if puzzles == 200 && (files < 8 || orders > puzzles-puzzles/25 || lenient < puzzles/10 || lenient > puzzles-puzzles/10) {
		t.Error("the puzzles are too alike to tell anything")
	}
}

func worst(fs []prove.Finding) (v prove.Verdict) {
	for _, f := range fs {
		v = max(v, f.Verdict)
	}
	return v
}
