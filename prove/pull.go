package prove

import (
	"fmt"
	"math"

	"dryfit/geom/r3"
	"dryfit/prove/tracking"
)

// Pulled by a cord: how hard, as a share of its weight, until it rears up or goes over its
// front wheels. Told with balance; minded where the file has a cord that rears the toy at
// less than its weight, which a child's tug is.

// pullLeast is the pull, as a share of the toy's weight, that it should stand without
// rearing up (common practice, no source).
const pullLeast = 1.0

// pull returns a note, or a finding to mind.
func (r *run) pull() (note string, mind *Finding) {
	bodies, links := r.bodies()
	first := r.leading(bodies)
	if first < 0 || r.w.weigh().mass <= 0 {
		return "", nil
	}
	// The leading car if it stands by itself, else the whole.
	ids := bodies[first].pieces
	mass, c := r.massOf(ids)
	s := r.stand(r.all(), r.w.weigh().centre)
	if len(s.skids) > 0 {
		return "", nil // on one pair of wheels: nothing holds it up but the cord
	}
	behind, ahead, ok := r.wheelbase(ids, c, s)
	p := tracking.Pulled{Share: mass / r.w.weigh().mass, Height: s.height(c)}
	if ok {
		n := 0.0
		for _, l := range links {
			if (l.of[0] == first) != (l.of[1] == first) {
				p.Tow += s.height(r.m.Hinges[l.hinge].Centre)
				n++
			}
		}
		if n > 0 {
			p.Tow /= n
		} else {
			p.Share = 1
		}
	} else {
		c = r.w.weigh().centre
		p.Share, p.Height = 1, s.height(c)
		behind, ahead, ok = r.wheelbase(r.all(), c, s)
	}
	if !ok {
		return "", nil
	}
	p.Behind, p.Ahead = behind, ahead
	at, where, said := r.cordAt(ids)
	height := s.height(at)
	if height <= 0 {
		return "", nil
	}
	t := p.At(height)
	note = fmt.Sprintf("pulled level %s, %s above the floor, ", where, r.len(math.Round(height*10)/10))
	switch {
	case !math.IsInf(t.Rears, 1):
		note += fmt.Sprintf("it rears up under %.1f times its weight", t.Rears)
	case !math.IsInf(t.Dips, 1):
		note += fmt.Sprintf("it goes over its front wheels under %.1f times its weight", t.Dips)
	default:
		note += "it never rears up"
	}
	note += fmt.Sprintf("; with its wheels held, it goes over under %.1f times", t.Blocked)
	if said && t.Rears < pullLeast {
		cord := r.m.Toy.Cord
		piece := r.m.Find(cord.From.Piece)[0]
		mind = &Finding{Check: "balance", About: "pull", Verdict: Mind, Value: t.Rears, Limit: pullLeast, Source: practice, known: true, Margin: t.Rears,
			Says:   fmt.Sprintf("a pull at its cord of %.1f times its weight rears it up over its rear wheels: tie the cord higher, up to %s above the floor, or put the rear wheels further back", t.Rears, r.len(math.Round(p.Height*10)/10)),
			Places: []Place{r.place(piece, cord.From.Feature, at, cord.At)}}
	}
	return note, mind
}

// wheelbase returns how far a centre of mass is ahead of the rearmost and behind the
// foremost wheel of some pieces; ok is false if it is not between them.
func (r *run) wheelbase(ids []int, c r3.Vec, s support) (behind, ahead float64, ok bool) {
	in := map[int]bool{}
	for _, i := range ids {
		in[i] = true
	}
	along := r3.X.Sub(s.n.Scale(s.n.X)).Unit()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range s.points {
		if x := p.at.Dot(along); in[p.piece] {
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	behind, ahead = c.Dot(along)-lo, hi-c.Dot(along)
	return behind, ahead, behind > 0 && ahead > 0
}

// cordAt is where it is pulled: the hole of the cord, or the middle of the front end of
// what the foremost axle is in.
func (r *run) cordAt(car []int) (at r3.Vec, where string, said bool) {
	if c := r.m.Toy.Cord; c != nil {
		for _, i := range r.m.Find(c.From.Piece) {
			for k, b := range r.m.Pieces[i].Made.Bores {
				if b.Name == c.From.Feature {
					b := r.m.Pieces[i].Bore(k)
					lo, hi := math.Max(b.Lo, -1e3), math.Min(b.Hi, 1e3)
					return b.Point.Add(b.Dir.Scale((lo + hi) / 2)), "at its cord", true
				}
			}
		}
	}
	front, host := math.Inf(-1), car[0]
	in := map[int]bool{}
	for _, i := range car {
		in[i] = true
	}
	for _, a := range r.m.Axles {
		if x := a.Centre.X; in[a.Rod] && x > front {
			front, host = x, a.Hosts[0].Piece
		}
	}
	box := r.m.Pieces[host].Body.Bounds()
	at = box.Center()
	at.X = box.Max.X
	return at, "at the middle of its front end (no cord is said)", false
}
