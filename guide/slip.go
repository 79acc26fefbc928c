package guide

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/toy"
)

// A piece slips while the glue sets. Each is tried slipped to both sides of every
// direction in which nothing stops it, and the quick checks that this can change are
// made again: a warning is printed only where one of them then says worse.

// How far a piece is slipped: what a maker's eye lets pass, and twice that. Common
// practice, no source.
func (b *book) slipSteps() [2]float64 {
	if b.unit == measure.Inch {
		return [2]float64{25.4 / 16, 25.4 / 8}
	}
	return [2]float64{1.5, 3}
}

// slipTrials is how many slips are tried at most.
const slipTrials = 48

// slipNear is how near to a wheel a piece has to be, or else there has to be a hinge, mm.
const slipNear = 15.0

// slipChecks are the checks that are made again.
var slipChecks = []string{"fit.overlap", "move.wheels", "move.ground", "move.hinge"}

// slip is one piece off its place.
type slip struct {
	id   string // the key of the deviation
	put  toy.Put
	in   string // the glue-up
	sit  toy.Sit
	axis int
	sign float64
	by   float64 // the least of the steps that changes something; 0: none
	is   prove.Finding
	back *slip // the same piece off as far the other way; nil: that is told by itself
}

func (b *book) slipWarnings() {
	all := b.slipsToTry()
	if len(all) == 0 {
		return
	}
	was := byID(prove.Only(b.Model, slipChecks...))
	cache := b.Cache
	if cache == nil {
		cache = &assembly.Cache{}
	}
	// Side by side, each into its own place: the result does not depend on how many.
	work := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), 4) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for k := range work {
				b.try(&all[k], was, cache)
			}
		}()
	}
	for k := range all {
		work <- k
	}
	close(work)
	wait.Wait()
	for k := 0; k < len(all); k++ {
		s := all[k]
		if s.by == 0 {
			continue
		}
		// Off one way or the other: one warning.
		if k+1 < len(all) && s.sign > 0 && all[k+1].id == s.id && all[k+1].axis == s.axis && all[k+1].by == s.by {
			k++
			s.back = &all[k]
		}
		b.slips[s.id] = append(b.slips[s.id], b.slipSays(s))
	}
}

// slipsToTry lists the slips, in the order of the build.
func (b *book) slipsToTry() (out []slip) {
	add := func(p toy.Put, within string) {
		id := p.ID
		if within != "" {
			id = within + "/" + id
		}
		glued := within != "" || p.Glued || len(p.GlueTo) > 0 || p.Saddle != nil && p.Saddle.Glued
		if !glued || !b.nearMoving(b.Model.Find(id)) { // what is loose finds its own place
			return
		}
		for _, s := range p.Sits {
			ref := s
			if within != "" {
				ref.Target.Piece = within + "/" + ref.Target.Piece
			}
			axis, _, side := toy.SideAxis(s.Own)
			if !side {
				var ok bool
				if axis, ok = b.middleAxis(p, s.Own, within); !ok || len(s.Own) < 6 || s.Own[:6] != "middle" {
					continue
				}
			}
			if b.meets(ref) {
				continue
			}
			for _, sign := range []float64{1, -1} {
				if len(out) < slipTrials {
					out = append(out, slip{id: id, put: p, in: within, sit: s, axis: axis, sign: sign})
				}
			}
		}
	}
	first := true
	for _, s := range b.Model.Toy.Build {
		p, ok := s.(toy.Put)
		if !ok || len(b.Model.Find(p.ID)) == 0 {
			continue
		}
		for _, g := range b.Model.GlueUps {
			if g.ID == p.ID {
				for k, q := range g.Spec.Pieces {
					if k > 0 {
						add(q, g.ID)
					}
				}
			}
		}
		if !first {
			add(p, "")
		}
		first = false
	}
	return out
}

// nearMoving tells whether something that moves could come to touch pieces.
func (b *book) nearMoving(pieces []int) bool {
	if len(b.Model.Hinges) > 0 {
		return len(pieces) > 0
	}
	for _, a := range b.Model.Axles {
		for end := range a.Wheels {
			for _, w := range a.Wheels[end] {
				box := b.Model.Pieces[w].Body.Bounds().Grow(slipNear)
				for _, i := range pieces {
					if box.Meets(b.Model.Pieces[i].Body.Bounds()) {
						return true
					}
				}
			}
		}
	}
	return false
}

// try slips a piece, far first: where that changes nothing, nearer is not tried.
func (b *book) try(s *slip, was map[string]prove.Finding, cache *assembly.Cache) {
	steps := b.slipSteps()
	for k := len(steps) - 1; k >= 0; k-- {
		dev := assembly.Deviations{{Piece: s.id, Op: "sits"}: {D: r3.Vec{}.With(s.axis, s.sign*steps[k])}}
		m, probs := assembly.Derive(b.Model.Toy, assembly.Options{Cache: cache, Dev: dev, Without: b.Model.Without})
		if len(probs) > 0 {
			return
		}
		f, worse := b.worst(was, prove.Only(m, slipChecks...), s.id)
		if !worse {
			return
		}
		s.by, s.is = steps[k], f
	}
}

func byID(r *prove.Report) map[string]prove.Finding {
	out := map[string]prove.Finding{}
	for _, f := range r.Findings {
		out[f.ID] = f
	}
	return out
}

// worst returns the finding whose verdict is the worst of those that got worse, of equals
// one that is about the piece that slipped, else the first.
// That two pieces no longer meet which are glued to each other is no news to who glues
// them.
func (b *book) worst(was map[string]prove.Finding, now *prove.Report, slipped string) (out prove.Finding, worse bool) {
	for _, f := range now.Findings {
		old, known := was[f.ID]
		if !known && f.Verdict == prove.Holds || known && f.Verdict <= old.Verdict || f.Verdict == prove.CannotTell || b.bench(f) {
			continue
		}
		if !worse || f.Verdict > out.Verdict || f.Verdict == out.Verdict && b.speaksOf(f, slipped) && !b.speaksOf(out, slipped) {
			out, worse = f, true
		}
	}
	return out, worse
}

// speaksOf tells whether a finding is at a piece of an id.
func (b *book) speaksOf(f prove.Finding, id string) bool {
	of := b.Model.Find(id)
	for k, p := range b.Model.Pieces {
		if p.ID == id {
			of = []int{k}
		}
	}
	return slices.ContainsFunc(f.Places, func(p prove.Place) bool {
		at := b.Model.Find(p.Piece)
		return len(at) > 0 && slices.Contains(of, at[0])
	})
}

// bench tells that a finding is about two pieces that are glued to each other.
func (b *book) bench(f prove.Finding) bool {
	if f.Check != "fit.overlap" || len(f.Places) < 2 {
		return false
	}
	one, two := b.Model.Find(f.Places[0].Piece), b.Model.Find(f.Places[1].Piece)
	for _, g := range b.Model.Glues {
		for _, i := range one {
			for _, j := range two {
				if slices.Contains(g.A, i) && slices.Contains(g.B, j) || slices.Contains(g.A, j) && slices.Contains(g.B, i) {
					return true
				}
			}
		}
	}
	return false
}

// slipSays words a warning: where it belongs, how far off, and what then happens: once,
// where that is the same both ways.
func (b *book) slipSays(s slip) string {
	m := b.measureOf(s.put, s.sit, s.in, false)
	where := m.Is
	if strings.HasPrefix(s.sit.Own, "middle") { // or it is not clear which way
		where = b.say("slip.middle", "where", m.Is, "side", m.What)
	}
	key, way, then, other := "slip", 0, b.slipThen(s.is), ""
	if s.sign < 0 {
		way = 1
	}
	to, back := b.say("to."+slipTo[s.axis][way]), b.say("to."+slipTo[s.axis][1-way])
	if s.back != nil {
		if other = b.slipThen(s.back.is); other == then {
			to = b.say("to.either")
		} else {
			key = "slip.both"
		}
	}
	return b.says(key, "name", b.nameOf(s.put.ID, s.in), "where", where, "by", b.mm(s.by), "to", to, "then", then, "back", back, "other", other)
}

// slipTo are the ways along an axis and against it.
var slipTo = [3][2]string{{"forward", "back"}, {"left", "right"}, {"up", "down"}}

func (b *book) slipThen(f prove.Finding) string {
	fails := f.Verdict == prove.Fails
	var ids [][]int
	for _, p := range f.Places {
		ids = append(ids, b.Model.Find(p.Piece))
	}
	switch {
	case f.Check == "move.hinge" && !math.IsNaN(f.Value):
		return b.say("slip.hinge", "name", plain(f.About), "value", b.degrees(f.Value), "limit", b.degrees(f.Limit))
	case len(ids) > 1 && (f.Check == "move.wheels" && fails || f.Check == "fit.overlap" && (b.isWheel(ids[0]) || b.isWheel(ids[1]))):
		a, c := ids[0], ids[1]
		if b.isWheel(c) {
			a, c = c, a
		}
		return b.say("slip.rubs", "a", b.the(a), "b", b.the(c))
	case f.Check == "move.wheels" && fails:
		return b.say("slip.rubs.any")
	case f.Check == "move.wheels":
		return b.say("slip.close")
	case f.Check == "move.ground" && f.About == "wheels":
		return b.say("slip.wheels")
	case f.Check == "move.ground":
		return b.say("slip.ground")
	case len(ids) > 1:
		return b.say("slip.meets", "a", b.the(ids[0]), "b", b.the(ids[1]))
	}
	return b.say("slip.other")
}

// isWheel tells whether pieces are one wheel.
func (b *book) isWheel(pieces []int) bool {
	return len(pieces) == 1 && b.Model.Pieces[pieces[0]].Part.Shape == toy.Disc
}
