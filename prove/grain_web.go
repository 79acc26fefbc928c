package prove

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Webs: the wood between the hole of an axle or a pin and the edge, where the pull of a
// hand presses the rod against it. Across the grain it splits, along the grain a plug
// tears out. On the glued-up piece: what is glued over the edge helps.

// around is in how many directions about a hole the wood is measured.
const around = 16

// webs judges the holes of axles, pins and standing pegs: of an axle each end, where a hand
// pulls at a wheel, and that half of its holes bears; of a pin or a peg all its holes in one
// body.
func (r *run) webs(out []judged) []judged {
	pull := r.loads().pull
	stands := map[int]bool{}
	for _, c := range r.standing() {
		stands[c.bonds[0].a] = true
	}
	for _, rod := range r.rods() {
		role := rod.fits[0].Role
		if !slices.ContainsFunc(rod.fits, func(f assembly.Fit) bool {
			return r.wants("strength.grain", r.m.Pieces[f.Piece].ID+"/"+r.m.Pieces[f.Piece].Made.Bores[f.Bore].Name)
		}) {
			continue
		}
		if role == "wheel" || role == "peg" && !stands[rod.piece] {
			continue
		}
		by := map[int][]bearing{}
		var order []int
		for _, f := range rod.fits {
			if f.Role == "wheel" || r.open(f) {
				continue // fit.dowel says so
			}
			b := r.m.Rigid[f.Piece]
			if by[b] == nil {
				order = append(order, b)
			}
			for _, s := range r.stretches(f.Rod, assembly.Hole{Piece: f.Piece, Bore: f.Bore}) {
				by[b] = append(by[b], bearing{f, s[0], s[1]})
			}
		}
		for _, b := range order {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, f := range by[b] {
				lo, hi = math.Min(lo, f.lo), math.Max(hi, f.hi)
			}
			mid := (lo + hi) / 2
			spans := [][2]float64{{lo, hi}}
			if role == "axle" {
				spans = [][2]float64{{lo, mid}, {mid, hi}}
			}
			for _, s := range spans {
				if j := r.web(rod.piece, by[b], s, pull); j.says != "" {
					out = append(out, j)
				}
			}
		}
	}
	return out
}

// bearing is a stretch of a rod with wood round it, along the rod from its middle.
type bearing struct {
	assembly.Fit
	lo, hi float64
}

// web judges the weakest way in which a rod is pressed sideways against its holes in one
// body, over a stretch of it.
func (r *run) web(rod int, fits []bearing, over [2]float64, pull load) judged {
	c, dir, radius := r.m.Pieces[rod].Axis()
	u, v := basis(dir)
	best := judged{f: factor{math.Inf(1), 1}, told: true}
	var ways []float64
	for k := 0; k < around; k++ {
		s, co := trig.Sincos(2 * math.Pi * float64(k) / around)
		d := u.Scale(co).Add(v.Scale(s))
		var sum capacity
		told, edge, at := true, math.Inf(1), -1
		for n, f := range fits {
			lo, hi := math.Max(f.lo, over[0]), math.Min(f.hi, over[1])
			if hi-lo <= tol.Touch {
				continue
			}
			w, ok := r.carries(f.Piece)
			told = told && ok
			wall := c.Add(dir.Scale((lo + hi) / 2)).Add(d.Scale(radius))
			e := r.depth(f.Fit, wall, d)
			if e <= tol.Touch {
				continue // open that way
			}
			if e < edge {
				edge, at = e, n
			}
			grain, face := r.cosines(f.Piece, d)
			_, through := r.cosines(f.Piece, dir)
			sum.add(w.Web(hi-lo, e, grain, face, through))
		}
		ways = append(ways, 1)
		if at >= 0 {
			ways[k] = spare(sum.against(pull.N))
		}
		if j := (judged{f: sum.against(pull.N), told: told}); at < 0 || !j.worse(best) {
			continue
		}
		f := fits[at]
		p := r.m.Pieces[f.Piece]
		w, _ := r.carries(f.Piece)
		hole := p.ID + "/" + p.Made.Bores[f.Bore].Name
		best = judged{f: sum.against(pull.N), told: told, source: pull.From, about: hole, off: []int{f.Piece}, from: []int{rod}, notes: w.Notes,
			mend: "drill it farther in: " + r.enough(float64(edge*sum.short(pull.N))) + " of wood would do",
			says: fmt.Sprintf("the wood beside %s, %s to the edge, holds a pull of %s on %s", hole, r.len(edge), r.force(pull.N), r.m.Pieces[rod].ID),
			at:   r.place(f.Piece, p.Made.Bores[f.Bore].Name, c.Add(dir.Scale((over[0]+over[1])/2)).Add(d.Scale(radius+edge/2)), p.Bore(f.Bore).At)}
	}
	best.ways = ways
	return best
}

// depth is how far wood goes on from the surface of a rod, through the piece and what is
// glued on it, less the gap to the wall.
func (r *run) depth(f assembly.Fit, from, d r3.Vec) float64 {
	gap := math.Max(0, r.m.Slack(f)/2)
	at := gap
	for again := true; again; {
		again = false
		for i, p := range r.m.Pieces {
			if i == f.Rod || r.m.Rigid[i] != r.m.Rigid[f.Piece] || !p.Body.Bounds().Grow(assembly.GlueMost).Meets(r3.Around(from, from.Add(d.Scale(farGap)))) {
				continue
			}
			for _, s := range assembly.Spans(p.Bored(), from, d) {
				if s[0] <= at+assembly.GlueMost && s[1] > at+tol.Touch {
					at, again = s[1], true
				}
			}
		}
	}
	return at - gap
}
