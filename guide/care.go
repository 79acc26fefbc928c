package guide

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/toy"
)

// Care is an operation in which builders go wrong, as virtual builds tell it.
type Care struct {
	Operation  string // of facts.Errors
	On, Detail string // the part, stock or axle; a hole, a size, or work.2
}

// cared are the phrases of operations: what to do about each.
var cared = map[string]string{
	"cut.stop": "cut-stop", "cut.piece": "cut-piece", "saw.line": "saw-line", "saw.grow": "saw-grow", "saw.skew": "saw-skew", "saw.depth": "saw-depth",
	"drill.fence": "drill-fence", "drill.centre": "drill-centre", "drill.lean": "drill-lean", "drill.depth": "drill-depth", "drill.over": "drill-over",
	"stock.board": "stock-board", "stock.sheet": "stock-sheet", "stock.dowel": "stock-dowel", "stock.ball": "stock-ball",
	"wheel.sawn": "wheel-sawn", "wheel.turned": "wheel-turned", "wheel.bought": "wheel-bought", "rod.length": "rod-length", "play.card": "play-card", "glue.slip": "glue-slip",
}

// TakeCare is a list of where to take most care, for the page of cautions.
func TakeCare(m *assembly.Model, care []Care) List {
	s := newSpeaker(m)
	l := List{Title: s.say("take-care")}
	for _, c := range care {
		l.Items = append(l.Items, s.says("take-care.one", "what", s.careOf(c), "do", s.say("care."+cared[c.Operation])))
	}
	return l
}

// careOf names what an operation is done on.
func (s *speaker) careOf(c Care) string {
	on := plain(strings.ReplaceAll(c.On, "/", " "))
	switch {
	case c.Detail == "":
		return s.say("care.on.whole", "on", on)
	case !strings.HasPrefix(c.Detail, "work."):
		return s.say("care.on.detail", "on", on, "detail", plain(c.Detail))
	}
	if says := s.onWork(c.On, c.Detail); says != "" {
		return says
	}
	return s.say("care.on.whole", "on", on)
}

// OnWork names some work of a part or glue-up as one speaks of it, where work.2 is its place in the
// file; "" where there is none.
func OnWork(m *assembly.Model, on, detail string) string { return newSpeaker(m).onWork(on, detail) }

func (s *speaker) onWork(name, detail string) string {
	side, word := "", "cut"
	if p, ok := s.m.Toy.PartNamed(name); ok {
		side, word = workAt(p.Work, detail)
	}
	if g, ok := s.m.Toy.GlueUpNamed(name); ok && side == "" {
		side, word = workAt(g.Work, detail)
	}
	if side == "" {
		return ""
	}
	return s.say("care.on."+word, "on", plain(strings.ReplaceAll(name, "/", " ")), "side", side)
}

// workAt is the side that some work is on, and what it is.
func workAt(work []toy.Work, detail string) (side, word string) {
	n := 0
	if _, err := fmt.Sscanf(detail, "work.%d", &n); err != nil || n < 1 || n > len(work) {
		return "", "cut"
	}
	switch w := work[n-1].(type) {
	case toy.Drill:
		return w.Side.String(), "holes"
	case toy.Saw:
		return w.Side.String(), "outline"
	case toy.Cut:
		return w.Side.String(), "cut"
	}
	return "", "cut"
}
