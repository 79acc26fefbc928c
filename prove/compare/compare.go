// Package compare tells what changed between two editions of a toy, for someone who has cut and
// built the old one: which pieces have to be made anew and why, which of the old ones serve as they
// are or with a further cut, and what else is different. [Toys] is the whole of it.
//
// Pieces are matched in this order, each time the first that are left, in the order of the builds:
//
//  1. the same id and the same solid of the same wood;
//  2. the same solid of the same wood, of a part of the same name and then of any: it is called
//     something else, or was the second of its name and is now the first;
//  3. the same id and the same kind of blank: it has changed;
//  4. the same part: it has changed, and is called something else;
//  5. solids that are mirror images of each other.
//
// Solids are the same if one, turned in a way that leaves the grain where it was, lies within
// tol.Touch of the other (solids.go). So a piece that is only turned over, moved or called
// something else is never one to remake, and one that differs by more than that always is.
//
// match.go matches, changes.go says how two solids differ, work.go what of the work does,
// build.go and design.go what else the file says, findings.go what the proof does. All lengths are
// mm, volumes mm³; what is said is in the units that are asked for.
package compare

import (
	"cmp"
	"fmt"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/prove"
)

// State is what becomes of an old piece.
type State string

// The states. Cut is a piece that can be made from the old one by taking wood away.
const (
	Unchanged State = "unchanged"
	Cut       State = "cut"
	Remake    State = "remake"
	New       State = "new"
	Gone      State = "gone"
)

// Change is one thing that is different. Kind is a word of its own for each sort, About names the
// hole, hinge or other thing; By is how much, in mm, where one number says it, else 0.
type Change struct {
	Kind  string  `json:"kind"`
	About string  `json:"about"`
	By    float64 `json:"by_mm"`
	Says  string  `json:"says"`
}

// Piece is some pieces of which the same can be said: Was and Now are their ids in the old toy and
// in the new, in the same order; one is empty for what is new or gone.
type Piece struct {
	State   State      `json:"state"`
	PartWas string     `json:"part_was"`
	PartNow string     `json:"part_now"`
	Was     []string   `json:"was"`
	Now     []string   `json:"now"`
	Changes []Change   `json:"changes"`
	Moved   [3]float64 `json:"moved_mm"` // forward, left, up, in the toy
	Turned  bool       `json:"turned"`
	Sits    string     `json:"sits"`     // both in words, "" where it sits as it did
	Less    float64    `json:"less_mm3"` // wood of the old one that the new has not
	More    float64    `json:"more_mm3"` // and the other way round
	GluedTo []string   `json:"glued_to"` // in the old toy, where it does not serve as it is

	// PieceWas and PieceNow are the first of them in the models, -1 for none; Align carries the old
	// blank to where it lies over the new one.
	PieceWas int     `json:"-"`
	PieceNow int     `json:"-"`
	Align    r3.Pose `json:"-"`
	Holes    []Hole  `json:"-"`
}

// Hole is a hole of a changed piece that is another, both in the frame of the new blank; nil where
// there is none.
type Hole struct {
	Was, Now *assembly.Bore
	Says     string
}

// Renamed tells whether an old piece is called something else.
func (p *Piece) Renamed() bool {
	return len(p.Was) > 0 && len(p.Now) > 0 && !slices.Equal(p.Was, p.Now)
}

// Displaced tells whether a piece sits elsewhere in the toy, or another way round.
func (p *Piece) Displaced() bool { return p.Turned || p.Moved != [3]float64{} }

// Result is all that changed.
type Result struct {
	Was      string    `json:"was"` // the names of the toys
	Now      string    `json:"now"`
	Units    string    `json:"units"`
	Same     bool      `json:"same"` // nothing changed but what things are called
	Pieces   []Piece   `json:"pieces"`
	Build    []Change  `json:"build"`
	Stock    []Change  `json:"stock"`
	Musts    []Change  `json:"musts"`
	Ages     []Change  `json:"ages"`
	Other    []Change  `json:"other"`
	Findings []Finding `json:"findings"`
}

// Edition is a toy with its proof.
type Edition struct {
	Model  *assembly.Model
	Report *prove.Report
}

// differ is the state of a comparison.
type differ struct {
	was, now *assembly.Model
	unit     measure.Unit
	pairs    []pair
	toNow    map[string]string // ids of the old toy as the new one calls them
	hinge    map[string]string // and hinges
	ofWas    map[int]int       // old piece to its pair
	ofNow    map[int]int
	seen     map[[2]*assembly.Made]*relation
}

// Toys compares two editions. What is said is in unit.
func Toys(was, now Edition, unit measure.Unit) *Result {
	d := &differ{was: was.Model, now: now.Model, unit: unit, toNow: map[string]string{}, hinge: map[string]string{}, ofWas: map[int]int{}, ofNow: map[int]int{}, seen: map[[2]*assembly.Made]*relation{}}
	d.match()
	d.name()
	out := &Result{Was: d.was.Toy.Name, Now: d.now.Toy.Name, Units: unit.String(), Pieces: d.pieces(),
		Build: d.build(), Stock: d.stock(), Musts: d.musts(), Ages: d.ages(), Other: d.other(), Findings: d.findings(was.Report, now.Report)}
	out.Same = len(out.Build)+len(out.Stock)+len(out.Musts)+len(out.Ages)+len(out.Other)+len(out.Findings) == 0 &&
		!slices.ContainsFunc(out.Pieces, func(p Piece) bool { return p.State != Unchanged || p.Displaced() })
	return out
}

// pieces gathers what is said of pairs, those that are alike together: what is to be done first.
func (d *differ) pieces() []Piece {
	out := []Piece{}
	add := func(p Piece) {
		for i := range out {
			o := &out[i]
			if o.State == p.State && o.PartWas == p.PartWas && o.PartNow == p.PartNow && o.Turned == p.Turned && o.Moved == p.Moved &&
				(p.State != Unchanged || o.Renamed() == p.Renamed()) && slices.Equal(o.Changes, p.Changes) {
				o.Was, o.Now = append(o.Was, p.Was...), append(o.Now, p.Now...)
				for _, g := range p.GluedTo {
					if !slices.Contains(o.GluedTo, g) {
						o.GluedTo = append(o.GluedTo, g)
					}
				}
				return
			}
		}
		out = append(out, p)
	}
	base := d.shared()
	for k, p := range d.now.Pieces {
		i, ok := d.ofNow[k]
		if !ok {
			add(Piece{State: New, PartNow: p.Part.Name, Was: []string{}, Now: []string{p.ID}, Changes: []Change{}, GluedTo: []string{},
				More: page(p.Moments().Volume), PieceWas: -1, PieceNow: k, Align: r3.Identity})
			continue
		}
		add(d.pairPiece(&d.pairs[i], base))
	}
	for k, p := range d.was.Pieces {
		if _, ok := d.ofWas[k]; !ok {
			add(Piece{State: Gone, PartWas: p.Part.Name, Was: []string{p.ID}, Now: []string{}, Changes: []Change{}, GluedTo: d.gluedTo(k),
				Less: page(p.Moments().Volume), PieceWas: k, PieceNow: -1, Align: r3.Identity})
		}
	}
	rank := []State{Remake, Cut, New, Gone, Unchanged}
	slices.SortStableFunc(out, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(slices.Index(rank, a.State), slices.Index(rank, b.State)), cmp.Compare(order(a), order(b)))
	})
	return out
}

// order puts what only moved before what did not, among what is unchanged.
func order(p Piece) int {
	switch {
	case p.State != Unchanged:
		return 0
	case p.Displaced():
		return 1
	case p.Renamed():
		return 2
	}
	return 3
}

// pairPiece says what became of an old piece.
func (d *differ) pairPiece(p *pair, base r3.Vec) Piece {
	a, b := d.was.Pieces[p.was], d.now.Pieces[p.now]
	r := d.relate(a, b)
	out := Piece{PartWas: a.Part.Name, PartNow: b.Part.Name, Was: []string{a.ID}, Now: []string{b.ID}, Changes: []Change{}, GluedTo: []string{},
		PieceWas: p.was, PieceNow: p.now, Align: r.align}
	if r.same || grown(a, b) == (r3.Vec{}) { // else it is a matter of taste which end of it has moved
		by := d.shift(p).Sub(base)
		for axis := range 3 {
			if c := by.At(axis); c > tol.Spare || c < -tol.Spare {
				out.Moved[axis] = page(c)
			}
		}
	}
	out.Turned = r.same && turned(a, b, r)
	out.Sits = d.sits(out.Moved, out.Turned)
	if w := d.material(a, b); w != "" {
		out.Changes = append(out.Changes, Change{Kind: "wood", Says: w})
	}
	if r.same {
		out.State = Unchanged
	} else {
		out.Less, out.More = page(r.less), page(r.more)
		out.State = Remake
		if r.fits && d.workable(a, b) {
			out.State = Cut
		}
		if r.mirror {
			out.Changes = append(out.Changes, Change{Kind: "mirrored", Says: "it is now the mirror image of the old one"})
		} else {
			changes, holes := d.changes(a, b, r)
			out.Changes, out.Holes = append(out.Changes, changes...), holes
		}
	}
	if arrises, further := d.arrises(a, b, r); len(arrises) > 0 {
		out.Changes = append(out.Changes, arrises...)
		switch {
		case !further:
			out.State = Remake
		case out.State == Unchanged:
			out.State = Cut
		}
	}
	if d.material(a, b) != "" {
		out.State = Remake
	}
	if out.State != Unchanged {
		out.GluedTo = d.gluedTo(p.was)
	}
	return out
}

// material says in words where the wood is another.
func (d *differ) material(a, b *assembly.Piece) string {
	s, _ := d.was.Toy.StockNamed(a.Part.Stock)
	t, _ := d.now.Toy.StockNamed(b.Part.Stock)
	switch {
	case s.Wood == t.Wood && s.Form == t.Form:
		return ""
	case s.Wood == t.Wood:
		return fmt.Sprintf("from a %s instead of a %s", t.Form, s.Form)
	}
	return fmt.Sprintf("of %s instead of %s", t.Wood, s.Wood)
}
