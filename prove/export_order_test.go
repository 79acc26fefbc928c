package prove

import (
	"dryfit/assembly"
	"dryfit/geom/r3"
)

// Answers is what taking a toy apart tells.
type Answers struct {
	AxesFile, AxesAny bool // by moves along the six directions, one unit at a time: in the file's order, in any
	File, Any         bool // by all that the check tries
	Findings          []Finding
}

// TakeApart asks both of one puzzle, so that no two pieces are slid twice.
func TakeApart(m *assembly.Model) (a Answers) {
	r := &run{m: m}
	p := newPuzzle(r, stepUnits(m))
	p.axes = true
	_, no := p.fileOrder(true)
	_, stuck := p.search()
	a.AxesFile, a.AxesAny = len(no) == 0, len(stuck) == 0
	p.axes = false
	s := solve(p)
	a.File, a.Any = len(s.no) == 0, s.moves != nil
	r.ordered(s, assembly.GlueUp{})
	a.Findings = r.findings
	return a
}

// OrderAlone makes this check and no other.
func OrderAlone(m *assembly.Model) []Finding {
	r := &run{m: m, w: newWorld(m)}
	order(r)
	return r.findings
}

// Proofs tells which proofs say that no motion parts two things, named by id, and
// whether no shift does.
type Proofs struct{ Rod, Thread, Ball, Twist, Shift bool }

// Any tells whether one of the proofs holds for every motion.
func (s Proofs) Any() bool { return s.Rod || s.Thread || s.Ball || s.Twist }

// Shut makes all of them, the dear ones too.
func Shut(m *assembly.Model, moving, fixed []int) (s Proofs) {
	p := newPuzzle(&run{m: m}, stepUnits(m))
	_, s.Rod = p.heldRod(moving, fixed)
	_, _, s.Thread = p.threaded(moving, fixed)
	_, s.Ball = p.ballShut(moving, fixed)
	if s.Shift = p.noShift(moving, fixed); s.Shift {
		s.Twist = p.noTwist(moving, fixed)
	}
	return s
}

// Cell tells whether the flood with turns calls a cell closed, and returns its middle
// as a shift and a turn, half its edges, and the pose of a shift and a turn.
func Cell(m *assembly.Model, moving, fixed []int, n [6]int, half float64) (closed bool, shift, turn r3.Vec, halfTurn float64, pose func(off, turn r3.Vec) r3.Pose) {
	p := newPuzzle(&run{m: m}, stepUnits(m))
	c := p.closet(moving, fixed)
	far := c.farthest()
	halfTurn = half / far
	shift, turn = cell(n).shift(half), cell(n).turn(halfTurn)
	return c.closedCell(n, half, halfTurn), shift, turn, halfTurn, c.pose
}
